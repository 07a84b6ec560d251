package lineup

import (
	"fmt"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
)

// safetyFactor keeps everybody's eyes safe; no weight touches it. The Sun is
// shown only through an instrument whose record says that a certified filter
// over the whole front is fitted and inspected, and nothing else near the Sun
// while it is up. Local rules, the operator and the site come on top.
//
// sunAlt is the Sun's altitude at the block's highest, distance the angle
// between target and Sun, both in degrees.
func safetyFactor(t catalog.Target, inst kit.Instrument, sunAlt, distance, limit float64, say bool) Factor {
	f := Factor{Key: Safety, Number: distance, Unit: "°", Value: 1}
	up := sunAlt > -1
	if t.Kind == catalog.KindSun {
		switch s := inst.SolarFilter; {
		case !s.FullAperture || !s.Fitted:
			return veto(f, say, "No solar filter over the whole front of %s is recorded as fitted: the Sun blinds. Never without one, and the finder capped.", inst.Name)
		case !s.Certified:
			return veto(f, say, "The solar filter of %s is not recorded as certified: not for the Sun.", inst.Name)
		case s.Inspected.IsZero():
			return veto(f, say, "The solar filter of %s has no inspection date: check it for holes and scratches before it is offered.", inst.Name)
		}
		if say {
			f.Sentence = "Certified filter over the whole front, inspected; look through it again before use, cap the finder, never leave the instrument alone."
		}
		return f
	}
	if up && distance < limit {
		return veto(f, say, "%s is %.0f° from the Sun while the Sun is up: a slip would blind. Wait until it has set.", t.Name, distance)
	}
	if up && inst.SolarFilter.Fitted {
		// A filter that is on shows nothing but the Sun.
		return veto(f, say, "The solar filter is on %s while the Sun is up: it shows nothing else.", inst.Name)
	}
	if say {
		f.Sentence = fmt.Sprintf("%.0f° from the Sun.", distance)
		if !up {
			f.Sentence = "The Sun is down."
		}
	}
	return f
}
