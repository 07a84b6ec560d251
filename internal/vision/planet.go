package vision

import (
	"fmt"
	"math"

	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// Planet is how a planet, or the Moon, stands at a moment.
type Planet struct {
	Body      sky.Body
	Diameter  float64 // of the disc, arcseconds (Saturn: the globe)
	Lit       float64 // share of the disc, 0 to 1
	RingTilt  float64 // Saturn, degrees; its sign does not matter
	SpotAfter float64 // Jupiter: minutes since the red spot crossed the middle of the disc, negative before; NaN unknown
	Shadows   int     // Jupiter: shadows of moons on the disc
	Crossing  int     // Jupiter: moons in front of the disc
}

// Detail is one thing to see on a planet and how easily this train shows it.
type Detail struct {
	Name     string
	Grade    Grade
	Least    float64 // magnification from which it shows at all, times
	Good     float64 // and from which most see it, times
	Sentence string
}

// want is the common practice for one detail, from memory: magnifications
// and smallest aperture in mm.
type want struct {
	name        string
	least, good float64
	aperture    float64
	finest      float64 // size in arcseconds that the seeing must let through; 0 any
}

// Magnification that makes the disc look as large as the Moon to the naked
// eye: 1865 over its diameter in arcseconds.
const moonLike = 31.1 * 60

// MoonLikePower returns the magnification at which a disc of that diameter in
// arcseconds looks as large as the Moon to the naked eye.
func MoonLikePower(diameter float64) float64 { return moonLike / diameter }

// FeaturePower returns the magnification at which a feature of that width in
// arcseconds looks 4 arcminutes wide, enough for an untrained eye.
func FeaturePower(width float64) float64 { return 240 / width }

// Details returns what the train shows of the planet in a seeing FWHM of
// arcseconds (0 or less: an average night), in the order in which an operator
// would mention it; nil for a body without any.
func Details(p Planet, o optics.Optics, seeing float64) []Detail {
	if !(seeing > 0) {
		seeing = optics.AverageSeeing
	}
	var out []Detail
	for _, w := range p.wants() {
		out = append(out, w.judge(o, seeing))
	}
	return out
}

func (p Planet) wants() []want {
	switch p.Body {
	case sky.Venus, sky.Mercury:
		return []want{{"the phase", math.Max(25, 480/p.Diameter), math.Max(40, 1200/p.Diameter), 50, 0}}
	case sky.Mars:
		return p.marsWants()
	case sky.Jupiter:
		return p.jupiterWants()
	case sky.Saturn:
		return p.saturnWants()
	case sky.Uranus, sky.Neptune:
		return []want{{"a tiny disc", FeaturePower(p.Diameter), 2 * FeaturePower(p.Diameter), 100, p.Diameter}}
	}
	return nil
}

func (p Planet) marsWants() []want {
	var w []want
	if p.Diameter >= 8 {
		w = append(w, want{"the polar cap", 150, 200, 100, 2})
	}
	if p.Diameter >= 10 {
		w = append(w, want{"dark markings", 150, 200, 100, 3})
	}
	return append(w, want{"an orange disc", FeaturePower(p.Diameter), 2 * FeaturePower(p.Diameter), 60, p.Diameter})
}

func (p Planet) jupiterWants() []want {
	w := []want{{"the four moons", 10, 20, 30, 0}, {"two cloud belts", 40, 60, 60, 4}}
	if p.Shadows > 0 {
		w = append(w, want{"a moon's shadow on the clouds", 100, 140, 90, 1.5})
	}
	if p.Crossing > 0 {
		w = append(w, want{"a moon in front of the disc", 150, 200, 120, 1.3})
	}
	// The planet turns 36 degrees an hour: within 50 minutes of the middle
	// the spot stands well on the disc.
	if math.Abs(p.SpotAfter) <= 50 {
		w = append(w, want{"the red spot", 120, 150, 100, 3})
	}
	return w
}

func (p Planet) saturnWants() []want {
	if math.Abs(p.RingTilt) < 1 {
		return []want{{"the ring as a thin line", 80, 150, 80, 1.5}}
	}
	w := []want{{"the ring", 30, 50, 50, 0}, {"its largest moon", 30, 60, 60, 0}}
	if math.Abs(p.RingTilt) >= 8 {
		// The gap is 0.7 arcseconds wide at the ring's ends, but a line
		// shows finer than a dot.
		w = append(w, want{"the gap in the ring", 150, 180, 80, 2})
	}
	return w
}

// judge grades one detail. Seeing counts by its share of the detail's size;
// in calm moments the air lets through half of its FWHM.
func (w want) judge(o optics.Optics, seeing float64) Detail {
	d := Detail{Name: w.name, Least: w.least, Good: w.good, Grade: Obvious}
	reason := ""
	lower := func(g Grade, why string) {
		if g.rank() < d.Grade.rank() {
			d.Grade, reason = g, why
		}
	}
	switch m := o.Magnification; {
	case m < w.least:
		lower(NotShown, fmt.Sprintf("wants %.0f×", math.Ceil(w.least)))
	case m < w.good:
		lower(Patience, fmt.Sprintf("easier from %.0f×", math.Ceil(w.good)))
	case m < 1.5*w.good:
		lower(ByMost, "")
	}
	switch {
	case o.Aperture < 0.8*w.aperture:
		lower(NotShown, fmt.Sprintf("wants %.0f mm of aperture", w.aperture))
	case o.Aperture < w.aperture:
		lower(Patience, fmt.Sprintf("easier from %.0f mm of aperture", w.aperture))
	}
	if w.finest > 0 {
		switch {
		case seeing > 2*w.finest:
			lower(NotShown, fmt.Sprintf("the air (%.1f″) blurs it away", seeing))
		case seeing > w.finest:
			lower(Patience, fmt.Sprintf("in moments of calm, the air blurs %.1f″", seeing))
		}
	}
	d.Sentence = upper(w.name) + ": " + string(d.Grade)
	if reason != "" {
		d.Sentence += ", " + reason
	}
	d.Sentence += "."
	return d
}

// upper makes the first letter, which is ASCII here, a capital.
func upper(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
