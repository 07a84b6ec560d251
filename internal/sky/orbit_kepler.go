package sky

import "math"

// gaussK is Gauss's gravitational constant: the square root of the Sun's mass in
// au^1.5 a day.
const gaussK = 0.01720209895

// fromPerihelion returns the place (au) on an orbit, in its own plane with x to
// the perihelion, days after the perihelion. q is the
// perihelion distance, e the eccentricity: ellipse, parabola and hyperbola in
// one, by universal variables (Battin, An Introduction to the Mathematics and
// Methods of Astrodynamics, chapter 4), without the loss of digits that
// Kepler's equation suffers near e = 1. Motion of two bodies only.
func fromPerihelion(q, e, days float64) (x, y float64) {
	alpha := (1 - e) / q // 1/semimajor axis; 0 for the parabola
	if alpha > 0 {
		// Whole turns come off, or far from the epoch the root would lie among
		// oscillations.
		period := 2 * math.Pi / (gaussK * math.Sqrt(alpha*alpha*alpha))
		days = math.Remainder(days, period)
	}
	if days < 0 {
		x, y = fromPerihelion(q, e, -days)
		return x, -y
	}

	// k t = q s + e s^3 S(alpha s^2) grows with s; the root lies under k t/q.
	target := gaussK * days
	low, high := 0.0, target/q
	if alpha > 0 {
		high = math.Min(high, math.Pi/math.Sqrt(alpha)*1.0000001) // half a turn
	}
	s := math.Min(high, math.Cbrt(6*target/e1(e))) // the parabola's far end as a start
	var c, sn float64
	for range 200 {
		c, sn = stumpff(alpha * s * s)
		f := q*s + e*s*s*s*sn - target
		if f > 0 {
			high = s
		} else {
			low = s
		}
		next := s - f/(q+e*s*s*c)
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-s) <= 1e-15*math.Abs(s) || next == s {
			break
		}
		s = next
	}
	c, sn = stumpff(alpha * s * s)
	speed := gaussK * math.Sqrt((1+e)/q) // at the perihelion
	f := 1 - s*s*c/q
	g := days - s*s*s*sn/gaussK
	return q * f, g * speed
}

// e1 keeps the start of the iteration finite for circles.
func e1(e float64) float64 { return math.Max(e, 0.1) }

// stumpff returns the functions C(z) and S(z): (1-cos sqrt z)/z and
// (sqrt z - sin sqrt z)/sqrt(z)^3 for z > 0, their continuations for z <= 0.
func stumpff(z float64) (c, s float64) {
	switch {
	case z > 0.1:
		r := math.Sqrt(z)
		return (1 - math.Cos(r)) / z, (r - math.Sin(r)) / (r * z)
	case z < -0.1:
		r := math.Sqrt(-z)
		return (math.Cosh(r) - 1) / -z, (math.Sinh(r) - r) / (r * -z)
	}
	// Series where the closed forms cancel; the next terms are under 1e-17.
	c = (1 - z/12*(1-z/30*(1-z/56*(1-z/90*(1-z/132*(1-z/182)))))) / 2
	s = (1 - z/20*(1-z/42*(1-z/72*(1-z/110*(1-z/156*(1-z/210)))))) / 6
	return c, s
}
