package sky

import "math"

// Separation returns the angle between two directions, all in degrees. It
// keeps its precision for the smallest angles and for opposite directions.
func Separation(ra1, dec1, ra2, dec2 float64) float64 {
	a := direction(ra1*radian, dec1*radian)
	b := direction(ra2*radian, dec2*radian)
	return math.Atan2(a.cross(b).norm(), a.dot(b)) * degree
}

// PositionAngle returns the direction from the first place to the second, in
// degrees from north through east (0..360). It is 0 when they coincide.
func PositionAngle(ra1, dec1, ra2, dec2 float64) float64 {
	sd1, cd1 := math.Sincos(dec1 * radian)
	sd2, cd2 := math.Sincos(dec2 * radian)
	s, c := math.Sincos((ra2 - ra1) * radian)
	return positive(math.Atan2(cd2*s, sd2*cd1-cd2*sd1*c)) * degree
}

// ParallacticAngle returns the angle at the object between the direction of
// the celestial pole and that of the zenith, in degrees, positive west of the
// meridian (Meeus, Astronomical Algorithms, 2nd ed., formula 14.1). Arguments
// in degrees; hourAngle positive west.
func ParallacticAngle(lat, dec, hourAngle float64) float64 {
	sl, cl := math.Sincos(lat * radian)
	sd, cd := math.Sincos(dec * radian)
	s, c := math.Sincos(hourAngle * radian)
	// Multiplied by cos(lat) against Meeus, so that the poles need no tangent.
	return math.Atan2(s*cl, sl*cd-sd*cl*c) * degree
}
