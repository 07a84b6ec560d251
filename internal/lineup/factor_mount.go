package lineup

import (
	"fmt"

	"duskboard/internal/kit"
)

// usableDrift is the share of the crossing time between two nudges: start near
// one edge, stop before the other.
const usableDrift = 0.7

// hardToFind is the magnitude from which a pushed mount needs a practised
// finder.
const hardToFind = 6.5

// mountFactor judges how long the target stays in the field if nobody tracks.
// drift is the time from edge to edge in seconds, look the seconds per guest.
func mountFactor(inst kit.Instrument, drift, look, magnitude float64, say bool) Factor {
	f := Factor{Key: Mount, Number: drift, Unit: "s", Value: 1}
	if inst.Tracking {
		if say {
			f.Sentence = "The mount follows the sky."
		}
		return f
	}
	usable := usableDrift * drift
	looks := usable / look
	if say {
		f.Wanted = fmt.Sprintf("%.0f s or more", look/usableDrift)
	}
	if looks < 1 {
		return veto(f, say, "It crosses the field in %.0f s and %s does not follow: of that %.0f s are usable, a look takes %.0f s.", drift, inst.Name, usable, look)
	}
	// The time lost to nudging is counted in the flow of guests; here only the
	// look itself counts, with the target on its way out of the field.
	f.Value = ramp(looks, 1, 4, 0.8, 0.97)
	if !inst.GoTo && magnitude > hardToFind {
		f.Value *= 0.93
	}
	if say {
		f.Sentence = fmt.Sprintf("It crosses the field in %s: %s, then a nudge.", seconds(drift), plural(int(looks), "look"))
	}
	return f
}

func seconds(s float64) string {
	if s >= 120 {
		return fmt.Sprintf("%.0f min", s/60)
	}
	return fmt.Sprintf("%.0f s", s)
}

var numberWords = [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}

// plural writes "one look", "four looks", "12 looks".
func plural(n int, word string) string {
	w := fmt.Sprint(n)
	if n >= 0 && n < len(numberWords) {
		w = numberWords[n]
	}
	if n != 1 {
		word += "s"
	}
	return w + " " + word
}
