package field

import (
	"math"

	"duskboard/internal/kit"
)

// body is the slowest-cooling part of an instrument. Its time constant is
// modelled from sizes, good to about 40 per cent either way, unless the club
// measured it.
type body struct {
	Mirror    bool      // an open mirror, whose film depends on how warm it still is
	Diameter  float64   // m
	Thickness float64   // m
	Glass     kit.Glass // of an open mirror
	Fan       bool      // a fan is running
	Slow      float64   // factor on the time of an open mirror without fan: 1.3 in a closed-bottom tube
	Steady    float64   // time constant of any other body, hours
	Measured  bool      // Steady was measured
	What      string    // "primary mirror", "objective"
	spread    float64   // either way, as a share
}

const (
	modelSpread    = 0.40 // of a modelled time constant, an engineering choice
	measuredSpread = 0.15 // of a measured one: wind and start differ between nights

	closedBottom = 1.3 // a solid tube with a closed bottom cools that much slower

	// Air along the mirror with a rear fan, m/s.
	fanBack, fanFront = 1.5, 0.5
	// Radiation of a mirror's back to the tube and of its coated face, W m^-2 K^-1.
	backRadiation, faceRadiation = 3.5, 0.5

	// Closed tubes: films inside and outside with radiation, and the factor of
	// a fan that draws air through vents.
	innerFilm, outerFilm = 4.3, 9.0
	ventFan              = 0.46

	// Lenses: conductance over the face area from face, rear and cell, and how
	// much heat glass and cell hold against the glass alone.
	lensFilm, lensCell = 25.0, 1.7

	// reference is the difference at which a time constant is quoted, K.
	reference = 5.0
)

// bodyOf models the body of an instrument. fan says whether a fan runs.
func bodyOf(inst kit.Instrument, fan bool) body {
	d := inst.Aperture / 1000
	b := body{Diameter: d, Thickness: glassThickness(inst), Glass: inst.Glass, Fan: fan, Slow: 1, spread: modelSpread, What: string(Primary)}
	switch {
	case hasCorrector(inst):
		b.Steady = closedTube(inst, b.Thickness)
		if fan {
			b.Steady *= ventFan
		}
	case hasLens(inst):
		b.What = string(Objective)
		b.Steady = lensCell * heatOf(inst.Glass, kit.Crown) * b.Thickness / lensFilm / 3600
	default:
		b.Mirror = true
		if inst.ClosedTube {
			b.Slow = closedBottom
		}
	}
	return b
}

// closedTube is the time constant in hours of the primary of a closed
// Cassegrain: its heat and the baffle's go to the air inside and through the
// wall. The inner film rules.
func closedTube(inst kit.Instrument, thickness float64) float64 {
	d := inst.Aperture / 1000
	length := inst.TubeLength
	if length <= 0 {
		length = 2 * d
	}
	glass := 2*area(d) + math.Pi*d*thickness
	tube := math.Pi * 1.13 * d * length
	g := 1 / (1/(innerFilm*glass) + 1/(outerFilm*tube))
	heat := area(d)*thickness*heatOf(inst.Glass, kit.Borosilicate) + 7640*d*d // baffle and cell
	return heat / g / 3600
}

// glassThickness is the club's own, or typical for the design, m.
func glassThickness(inst kit.Instrument) float64 {
	d := inst.Aperture / 1000
	switch {
	case inst.Thickness > 0:
		return inst.Thickness / 1000
	case inst.Design == kit.SchmidtCassegrain:
		return d / 10
	case inst.Design == kit.MaksutovCassegrain, hasLens(inst):
		return d / 5
	default:
		return 0.012 + 0.085*d
	}
}

// Tau is the time constant in hours while the body is delta kelvin from the
// air.
func (b body) Tau(delta float64) float64 {
	if !b.Mirror || b.Measured {
		return b.Steady
	}
	if math.Abs(delta) < 0.1 {
		delta = 0.1 // natural convection dies out with the difference; draughts do not
	}
	front, back := FilmUp(delta, b.Diameter), FilmDown(delta, b.Diameter)
	slow := b.Slow
	if b.Fan {
		front = math.Max(front, FilmFan(fanFront, b.Diameter))
		back = math.Max(back, FilmFan(fanBack, b.Diameter))
		slow = 1
	}
	return slow * DiscTau(heatOf(b.Glass, kit.Borosilicate), conductivityOf(b.Glass), b.Thickness, b.Diameter, front+faceRadiation, back+backRadiation)
}

func conductivityOf(g kit.Glass) float64 {
	if k, ok := conductivity[g]; ok {
		return k
	}
	return conductivity[kit.Borosilicate]
}

// DiscTau is the time constant in hours of a plain disc of thickness and
// diameter in m, with volumeHeat in J m^-3 K^-1, k in W m^-1 K^-1 and films of
// its two faces. It is the lumped body with a correction for the gradient in
// the glass, right to 0.2 per cent up to a Biot number of 0.3, and with the
// edge at the mean film.
func DiscTau(volumeHeat, k, thickness, diameter, front, back float64) float64 {
	bi := (front + back) / 2 * (thickness / 2) / k
	return volumeHeat * thickness / (front + back) * (1 + bi/3) / (1 + 2*thickness/diameter) / 3600
}

// measured replaces the model by the club's time constant in hours. When that
// was taken with the fan in the other state, it is scaled by what the model
// says of the fan.
func (b body) measured(tau float64, withFan bool) body {
	m := b
	m.Measured, m.Steady, m.spread = true, tau, measuredSpread
	if withFan != b.Fan {
		other := b
		other.Fan = withFan
		if b.Mirror {
			m.Steady *= b.Tau(reference) / other.Tau(reference)
		} else if b.Fan {
			m.Steady *= ventFan
		} else {
			m.Steady /= ventFan
		}
		m.spread = modelSpread
	}
	return m
}

// LagTime is how many hours a body with time constant tau hours, delta kelvin
// above air that falls by rate kelvin an hour, needs to come within limit
// kelvin; false when it never does because the air runs away from it.
func LagTime(tau, delta, rate, limit float64) (float64, bool) {
	lag := rate * tau
	switch {
	case delta <= limit:
		return 0, true
	case limit <= lag:
		return 0, false
	}
	return tau * math.Log((delta-lag)/(limit-lag)), true
}
