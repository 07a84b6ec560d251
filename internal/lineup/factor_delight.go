package lineup

import (
	"duskboard/internal/catalog"
)

// onePoint is what a single star keeps of its delight in an aperture in mm: it
// is a point in any instrument, so a stopgap for a small one and not what a
// large mirror is brought for; a coloured one bears more than a white one
// (common practice; the shares are a judgement).
func onePoint(t catalog.Target, aperture float64) float64 {
	switch t.Kind {
	case catalog.KindStar:
		return ramp(aperture, 100, 250, 0.6, 0.35)
	case catalog.KindCarbon, catalog.KindVariable:
		return ramp(aperture, 100, 250, 1, 0.55)
	}
	return 1
}

// delightFactor is how much this audience likes the target, early or late in
// the night, in an aperture in mm. early runs from 1 at the gate's opening to 0
// at the end.
func delightFactor(t catalog.Target, c Crowd, early, delight, aperture float64, say bool) Factor {
	f := Factor{Key: Delight, Unit: "of 1", Value: 0.25 + 0.75*delight}
	easy := t.Kind == catalog.KindMoon || t.Kind == catalog.KindPlanet && t.Magnitude < 2 || t.Showpiece && t.Kind == catalog.KindDouble
	quiet := t.Kind == catalog.KindGalaxy || t.Kind == catalog.KindRemnant || t.Kind == catalog.KindNebula && !t.Showpiece ||
		t.Kind == catalog.KindDouble && t.Double != nil && t.Double.Separation < 3.5
	note := ""
	switch {
	case c.BrightFirst && easy && early > 0.5:
		f.Value = min(1, f.Value*1.1)
		note = " Bright and easy, right while children are here."
	case quiet && early > 0.5:
		f.Value *= 0.8
		note = " Better kept for the quiet end."
	}
	if share := onePoint(t, aperture); share < 1 {
		f.Value *= share
		note += " One point of light: no more to see in a larger instrument."
	}
	f.Number = f.Value
	if say {
		switch {
		case delight >= 0.85:
			f.Sentence = "A favourite of guests."
		case delight >= 0.6:
			f.Sentence = "Guests like it."
		default:
			f.Sentence = "For guests who know a little already."
		}
		f.Sentence += note
	}
	return f
}
