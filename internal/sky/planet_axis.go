package sky

import "math"

// pole returns the direction of a planet's north pole in the ICRS at a Julian
// date in TT, for the planets whose axis this package needs; the zero vector
// for the others.
//
// Source: IAU Working Group on Cartographic Coordinates and Rotational
// Elements 2015 (Archinal et al. 2018), main terms; what is left out moves the
// poles by less than 0.01 degrees. Uranus's north is the IAU's: the pole north
// of the invariable plane, about which it turns backwards.
func (b Body) pole(tt float64) vec3 {
	t := julianCentury(tt)
	switch b {
	case Mars:
		return direction((317.681-0.106*t)*radian, (52.887-0.061*t)*radian)
	case Jupiter:
		return direction((268.057-0.006*t)*radian, (64.495+0.002*t)*radian)
	case Saturn:
		return direction((40.589-0.036*t)*radian, (83.537-0.004*t)*radian)
	case Uranus:
		return direction(257.311*radian, -15.175*radian)
	}
	return vec3{}
}

// subLatitude returns the planetocentric latitude in degrees of a body seen
// along the vector from it to the planet.
func subLatitude(pole, toPlanet vec3) float64 {
	return -math.Asin(pole.dot(toPlanet.unit())) * degree
}

// axisAngle returns the position angle of a direction (such as a pole) on the
// sky at the place v, degrees from north through east, 0 to 360. Both are
// vectors of the same equatorial frame: of date for the north of date.
func axisAngle(axis, v vec3) float64 {
	u := v.unit()
	east := vec3{-u.Y, u.X, 0}
	north := u.cross(east)
	return positive(math.Atan2(axis.dot(east), axis.dot(north))) * degree
}
