package sky

import "math"

// elementTerm is amplitude, phase (radians) and frequency (radians a day).
type elementTerm struct{ amplitude, phase, frequency float64 }

// galilean is one moon's orbit in the theory: its elements as sums of terms.
type galilean struct {
	longitude [2]float64    // mean longitude at 1950.0 and its rate, radians
	axis      []elementTerm // semimajor axis, au
	libration []elementTerm // what the longitude differs by
	excentric []elementTerm // k + ih = e exp(i longitude of perijove)
	inclined  []elementTerm // q + ip = sin(i/2) exp(i longitude of node)
}

// theoryToICRS leads from the theory's frame, a fixed equator of Jupiter counted
// from its node on the Earth's equator of J2000, to the ICRS: astronomy-engine's
// matrix, which is a turn about x by 25.501 and about z by 358.070 degrees.
var theoryToICRS = mat3{
	{0.999432765338654, 0.0303959428906285, -0.0144994559663353},
	{-0.0336771074697641, 0.902057912352809, -0.430299169409101},
	{0, 0.430543388542295, 0.902569881273754},
}

// at returns the moon's place from Jupiter's middle, ICRS, au, at a Julian date
// in TT at Jupiter.
func (m *galilean) at(tt float64) vec3 {
	t := tt - 2433282.5

	var axis, k, h, q, p float64
	for _, e := range m.axis {
		axis += e.amplitude * math.Cos(e.phase+t*e.frequency)
	}
	longitude := m.longitude[0] + t*m.longitude[1]
	for _, e := range m.libration {
		longitude += e.amplitude * math.Sin(e.phase+t*e.frequency)
	}
	for _, e := range m.excentric {
		s, c := math.Sincos(e.phase + t*e.frequency)
		k += e.amplitude * c
		h += e.amplitude * s
	}
	for _, e := range m.inclined {
		s, c := math.Sincos(e.phase + t*e.frequency)
		q += e.amplitude * c
		p += e.amplitude * s
	}

	// Kepler's equation in equinoctial elements. Eccentricities are under
	// 0.01: each round gains four digits.
	l := positive(longitude)
	ecc := l
	for range 4 {
		s, c := math.Sincos(ecc)
		ecc += (l - ecc + k*s - h*c) / (1 - k*c - h*s)
	}
	s, c := math.Sincos(ecc)
	d := h*c - k*s
	psi := 1 / (1 + math.Sqrt(1-k*k-h*h))
	x := axis * (c - k - psi*h*d)
	y := axis * (s - h + psi*k*d)
	f := 2 * math.Sqrt(1-q*q-p*p)
	return theoryToICRS.mul(vec3{
		x*(1-2*p*p) + y*2*p*q,
		x*2*p*q + y*(1-2*q*q),
		(q*y - x*p) * f,
	})
}

// galileans returns the moons' places from Jupiter's middle in equatorial radii,
// ICRS. tt is the Julian date at Jupiter, away the direction from the observer
// to Jupiter: the light of a moon beyond Jupiter is older, by up to 6 s.
func galileans(tt float64, away vec3) [4]vec3 {
	var out [4]vec3
	for i := range out {
		m := &galileanTheory[i]
		late := m.at(tt).dot(away) * lightDays
		out[i] = m.at(tt - late).scale(auKM / Jupiter.radiusKM())
	}
	return out
}
