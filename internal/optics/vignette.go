package optics

// Lit is how a baffle or drawtube lights the focal plane: diameters in mm of
// the circle that gets all the light, half of it, and any at all.
type Lit struct{ Full, Half, Any float64 }

// LitBy returns the circles lit through an opening of the given diameter in
// mm, distance mm in front of the focal plane, in a telescope of focal ratio
// ratio whose exit pupil (the image of its stop) lies pupil mm in front of the
// focus. By similar triangles; for whoever wants to measure the kit's
// MaxFieldStop, which is the Half circle.
func LitBy(opening, distance, ratio, pupil float64) Lit {
	cone := distance / ratio
	spread := 1 - distance/pupil
	return Lit{
		Full: (opening - cone) / spread,
		Half: opening / spread,
		Any:  (opening + cone) / spread,
	}
}
