package sky

import "math"

// lightPath is what a planet's brightness depends on.
type lightPath struct {
	r, delta     float64 // au from the Sun and from the Earth
	phase        float64 // phase angle, degrees
	subEarth     float64 // planetocentric latitude of the Earth, degrees; Saturn, Uranus
	subSun       float64 // planetocentric latitude of the Sun, degrees; Saturn, Uranus
	year         float64 // decimal year; Neptune
	ringsVisible bool    // Saturn's rings count in the brightness
}

// magnitude returns the apparent V magnitude of a planet.
//
// Source: Mallama & Hilton 2018, "Computing apparent planetary magnitudes for
// The Astronomical Almanac", Astronomy and Computing 25, 10 (arXiv 1808.01973),
// equations 2 to 17, for what can be seen from the Earth. Left out: the
// rotation and the seasons of Mars (together up to 0.1 mag). Their own fits
// scatter by 0.04 mag (Mercury 0.07, beyond 2 and 170 degrees of phase angle
// extrapolated). NaN for the Sun and the Moon.
func (p lightPath) magnitude(b Body) float64 {
	a := p.phase
	distance := 5 * math.Log10(p.r*p.delta)

	switch b {
	case Mercury:
		return distance - 0.613 + a*(6.3280e-2+a*(-1.6336e-3+a*(3.3644e-5+a*(-3.4265e-7+a*(1.6893e-9-a*3.0334e-12)))))
	case Venus:
		if a < 163.7 {
			return distance - 4.384 + a*(-1.044e-3+a*(3.687e-4+a*(-2.814e-6+a*8.938e-9)))
		}
		return distance + 236.05828 + a*(-2.81914+a*8.39034e-3)
	case Mars:
		if a <= 50 {
			return distance - 1.601 + a*(2.267e-2-a*1.302e-4)
		}
		return distance - 0.367 + a*(-0.02573+a*3.445e-4)
	case Jupiter:
		return distance - 9.395 + a*(-3.7e-4+a*6.16e-4)
	case Saturn:
		return distance + p.saturnUnit()
	case Uranus:
		return distance - 7.110 - 0.00084*(planetographic(p.subEarth)+planetographic(p.subSun))/2
	case Neptune:
		return distance + math.Max(-7.00, math.Min(-6.89, -6.89-0.0054*(p.year-1980)))
	}
	return math.NaN()
}

// saturnUnit is Saturn's magnitude at one au from the Sun and the Earth. The
// tilt is the geometric mean of the Earth's and the Sun's; on the dark side of
// the ring, with Earth and Sun on opposite sides, the ring gives nothing.
// Equations 10 and 11; the tilt never leaves the fit's 27 degrees by more than
// a twentieth of a degree.
func (p lightPath) saturnUnit() float64 {
	a := p.phase
	if !p.ringsVisible {
		return -8.95 + a*(-3.7e-4+a*6.16e-4)
	}
	var s float64
	if product := p.subEarth * p.subSun; product > 0 {
		s = math.Sin(math.Sqrt(product) * radian)
	}
	return -8.914 - 1.825*s + 0.026*a - 0.378*s*math.Exp(-2.25*a)
}

// planetographic turns a planetocentric latitude on Uranus (flattening 0.0229)
// into the planetographic one that the formula wants, without its sign.
func planetographic(latitude float64) float64 {
	const squash = 1 - 0.0229
	return math.Abs(math.Atan(math.Tan(latitude*radian)/(squash*squash))) * degree
}
