package sky

import "math"

// lunarTerm is one argument of the Moon's rotation, degrees and degrees a day,
// with its part in the pole's right ascension, declination and the meridian.
type lunarTerm struct{ zero, rate, ra, dec, w float64 }

// lunarRotation is the Moon's orientation after the IAU Working Group on
// Cartographic Coordinates and Rotational Elements (Archinal et al. 2011, table
// 2): selenographic axes (mean Earth and pole) within 0.005 degrees.
var lunarRotation = [...]lunarTerm{
	{125.045, -0.0529921, -3.8787, 1.5419, 3.5610},
	{250.089, -0.1059842, -0.1204, 0.0239, 0.1208},
	{260.008, 13.0120009, 0.0700, -0.0278, -0.0642},
	{176.625, 13.3407154, -0.0172, 0.0068, 0.0158},
	{357.529, 0.9856003, 0, 0, 0.0252},
	{311.589, 26.4057084, 0.0072, -0.0029, -0.0066},
	{134.963, 13.0649930, 0, 0.0009, -0.0047},
	{276.617, 0.3287146, 0, 0, -0.0046},
	{34.226, 1.7484877, 0, 0, 0.0028},
	{15.134, -0.1589763, -0.0052, 0.0008, 0.0052},
	{119.743, 0.0036096, 0, 0, 0.0040},
	{239.961, 0.1643573, 0, 0, 0.0019},
	{25.053, 12.9590088, 0.0043, -0.0009, -0.0044},
}

// selenographic turns the ICRS into the Moon's own axes: x to the middle of the
// near side, y to its east, z to its north pole.
func selenographic(tt float64) mat3 {
	d := tt - 2451545
	t := d / daysPerCentury
	ra := 269.9949 + 0.0031*t
	dec := 66.5392 + 0.0130*t
	w := 38.3213 + 13.17635815*d - 1.4e-12*d*d
	for _, e := range lunarRotation {
		s, c := math.Sincos((e.zero + e.rate*d) * radian)
		ra += e.ra * s
		dec += e.dec * c
		w += e.w * s
	}
	return rotZ(positive(w * radian)).times(rotX((90 - dec) * radian)).times(rotZ((ra + 90) * radian))
}
