package night

import (
	"time"

	"duskboard/internal/sky"
)

// Light is a stretch of the night with one kind of light.
type Light struct {
	From, To time.Time
	Level    int // 0 Sun up, 1 civil, 2 nautical, 3 astronomical twilight, 4 dark
	Name     string
}

// lightNames are what a time axis prints over the stretches.
var lightNames = [...]string{"Sun", "civil", "nautical", "astronomical", "dark"}

// lightLevel tells the kind of light by the Sun's geometric altitude, degrees.
func lightLevel(sunAlt float64) int {
	switch {
	case sunAlt > -0.833:
		return 0
	case sunAlt > -6:
		return 1
	case sunAlt > -12:
		return 2
	case sunAlt > -18:
		return 3
	}
	return 4
}

// LightOf returns the light between two instants, to the minute, whatever the
// latitude: a night without darkness simply has no stretch of level 4.
func LightOf(n *sky.Night, from, to time.Time) []Light {
	var times []time.Time
	for t := from; t.Before(to); t = t.Add(time.Minute) {
		times = append(times, t)
	}
	var out []Light
	for i, p := range n.Track(sky.Sun, times) {
		level := lightLevel(p.Alt)
		if len(out) > 0 && out[len(out)-1].Level == level {
			continue
		}
		if len(out) > 0 {
			out[len(out)-1].To = times[i]
		}
		out = append(out, Light{From: times[i], To: to, Level: level, Name: lightNames[level]})
	}
	return out
}

// Span returns the stretch of time that the night's drawings cover: from well
// before the gate opens, with the sunset when it is near, to half an hour
// after it closes, on whole half hours.
func (s *Sheet) Span() (from, to time.Time) {
	const half = 30 * time.Minute
	from = s.Night.PublicFrom.Add(-time.Hour)
	if set := s.Twilights.Sunset; set.State == sky.Happens {
		if early := set.Time.Add(-half); early.Before(from) && s.Night.PublicFrom.Sub(early) < 4*time.Hour {
			from = early
		}
	}
	to = s.Night.PublicTo().Add(half)
	return from.Truncate(half), to.Add(half - 1).Truncate(half)
}
