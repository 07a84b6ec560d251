package lineup

import (
	"time"

	"duskboard/internal/catalog"
)

// GoneAt returns when a target sinks behind the site's outline or under the
// least altitude of its kind, to the minute, looking from one instant to
// another; false when it stays well placed.
func (in *Input) GoneAt(t catalog.Target, from, to time.Time) (time.Time, bool) {
	var times []time.Time
	for x := from; !x.After(to); x = x.Add(time.Minute) {
		times = append(times, x)
	}
	least := in.Rules.least(t)
	for i, p := range in.Sky.Track(catalog.ObjectOf(t), times) {
		if p.AltRefracted < least || p.AltRefracted < in.Horizon.AltAt(p.Az) {
			return times[i], i > 0
		}
	}
	return time.Time{}, false
}
