package lineup

import (
	"duskboard/internal/catalog"
)

// delightFactor is how much this audience likes the target, early or late in
// the night. early runs from 1 at the gate's opening to 0 at the end.
func delightFactor(t catalog.Target, c Crowd, early, delight float64, say bool) Factor {
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
