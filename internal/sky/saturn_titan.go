package sky

import "math"

const epochB1950 = 2433282.4235 // Julian date of B1950.0

// titan returns Titan's place from the middle of Saturn in the ICRS, in
// equatorial radii of Saturn (60,268 km), at a Julian date in TT.
//
// Source: Meeus, Astronomical Algorithms, 2nd ed., chapter 46 (theory of
// G. Dourneau 1987, terms as in the MIT port soniakeys/meeus/v3/saturnmoons).
// The mean distance is not the theory's 20.2162 but 1,221,870 km, since Meeus's
// radius of Saturn is larger. Good to about 0.02 radii, 0.2 arcseconds.
func titan(tt float64) vec3 {
	const d = radian
	t := tt - 2411368
	century := (tt - 2415020) / 36525
	w3 := 42*d - 0.5118*d*t/365.25
	w4 := 276.59*d + 0.5118*d*t/365.25
	w5 := 267.2635*d + 1222.1136*d*century // Sun's mean longitude seen from Saturn
	w6 := 175.4762*d + 1221.5515*d*century // Saturn's mean anomaly
	w7 := 2.4891*d + 0.002435*d*century    // inclination of Saturn's orbit
	w8 := 113.35*d - 0.2597*d*century      // and its node
	saturnE := 0.05589 - 0.000346*century

	l := 261.1582*d + 22.57697855*d*t + 0.074025*d*math.Sin(w3)
	incl := 27.45141*d + 0.295999*d*math.Cos(w3)
	node := 168.66925*d + 0.628808*d*math.Sin(w3)

	// The orbit's plane against Saturn's own orbit.
	si, ci := math.Sincos(incl)
	s8, c8 := math.Sincos(node - w8)
	s7, c7 := math.Sincos(w7)
	psi := math.Atan2(s7*s8, c7*si-s7*ci*c8)
	s := math.Hypot(s7*s8, c7*si-s7*ci*c8)

	const g0 = 102.8623 * d
	g := w4 - node - psi
	var apse float64
	for range 3 { // each round gains three digits
		apse = w4 + 0.37515*d*(math.Sin(2*g)-math.Sin(2*g0))
		g = apse - node - psi
	}
	e0 := 0.029092 + 0.00019048*(math.Cos(2*g)-math.Cos(2*g0))
	q := 2 * (w5 - apse)
	theta := math.Atan2(si*s8, c7*si*c8-s7*ci) + w8
	e := e0 + 0.002778797*e0*math.Cos(q)
	apse += 0.159215 * d * math.Sin(q)
	u := 2*w5 - 2*theta + psi
	h := 0.9375*e0*e0*math.Sin(q) + 0.1875*s*s*math.Sin(2*(w5-theta))
	l -= 0.254744 * d * (saturnE*math.Sin(w6) + 0.75*saturnE*saturnE*math.Sin(2*w6) + h)
	incl += 0.031843 * d * s * math.Cos(u)
	node += 0.031843 * d * s * math.Sin(u) / si

	m := l - apse
	centre := (2*e-e*e*e/4)*math.Sin(m) + 1.25*e*e*math.Sin(2*m) + 13.0/12*e*e*e*math.Sin(3*m)
	r := 1221870.0 / 60268 * (1 - e*e) / (1 + e*math.Cos(m+centre))
	return meanEcliptic(epochB1950).transposed().mul(onOrbit(l+centre-node, node, incl).scale(r))
}

// onOrbit returns the direction at an angle from the node of an orbit, in the
// frame that node and inclination belong to. Radians.
func onOrbit(fromNode, node, incl float64) vec3 {
	su, cu := math.Sincos(fromNode)
	sn, cn := math.Sincos(node)
	si, ci := math.Sincos(incl)
	return vec3{cu*cn - su*ci*sn, cu*sn + su*ci*cn, su * si}
}

// meanEcliptic turns the ICRS into the mean ecliptic and equinox of a date.
func meanEcliptic(tt float64) mat3 {
	f := frameOf(tt)
	return rotZ(f.nutLon).times(rotX(f.obliquity)).times(f.fromICRS)
}
