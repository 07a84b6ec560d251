package lineup

import "fmt"

// glass is the state of an instrument's optics in a block.
type glass struct {
	known     bool    // false without weather
	warm      float64 // mirror or lens minus air, K; what is colder does no harm
	warmMax   float64 // the most that this magnification bears, K
	dewed     bool    // a surface is at or under the dew point and nothing is done about it
	dewMaybe  bool    // within the margin of doubt
	surface   string  // which surface dews first
	aligned   bool    // alignment of a go-to mount, or of the optics, can be done by now
	edge      float64 // apparent blur at the edge of the field, arcminutes
	edgeWhole bool    // the target fills the field, so that the edge counts
}

// Blur at the edge of the field: most people do not notice 2.5 arcminutes, and
// over 5 stars look like comets (science sheet of optics, 1.9).
const (
	edgeClean = 2.5
	edgeBad   = 5.0
)

// stateFactor judges warm glass, dew, alignment and the edge of the field.
func stateFactor(g glass, power float64, say bool) Factor {
	f := Factor{Key: State, Number: g.warm, Unit: "K", Value: 1}
	note := ""
	if !g.aligned {
		return veto(f, say, "The mount cannot be aligned yet: no stars are out to align it on.")
	}
	tell := func(format string, args ...any) {
		if say {
			note += fmt.Sprintf(format, args...)
		}
	}
	if g.known {
		if say {
			f.Wanted = fmt.Sprintf("at most %.1f K", g.warmMax)
		}
		if g.warm > g.warmMax {
			f.Value *= ramp(g.warm/g.warmMax, 1, 3, 1, 0.35)
			tell("The glass is still %.1f K warmer than the air, too warm for %.0f×. ", g.warm, power)
		}
		switch {
		case g.dewed:
			f.Value *= 0.3
			tell("Dew is likely on the %s by now. ", g.surface)
		case g.dewMaybe:
			f.Value *= 0.8
			tell("Dew is possible on the %s. ", g.surface)
		}
	}
	if g.edgeWhole && g.edge > edgeClean {
		f.Value *= ramp(g.edge, edgeClean, 2*edgeBad, 1, 0.6)
		tell("Stars at the edge are drawn out to %.0f′. ", g.edge)
	}
	if say {
		f.Sentence = note
		switch {
		case note == "" && g.known:
			f.Sentence = "Cooled down and dry."
		case note == "":
			f.Sentence = "No weather is known: cool-down and dew are not judged."
		default:
			f.Sentence = note[:len(note)-1]
		}
	}
	return f
}
