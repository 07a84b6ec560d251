package sky

import (
	"math"
	"slices"
	"time"
)

// moment is an instant of the night with all that depends on the instant alone.
type moment struct {
	s        float64 // seconds since From
	theta    float64 // local apparent sidereal time in radians, not reduced
	sin, cos float64 // of theta
}

func (n *Night) moment(s float64) moment {
	m := moment{s: s, theta: n.sidereal + n.turning*s}
	m.sin, m.cos = math.Sincos(m.theta)
	return m
}

// momentTable remembers the moments of one list of times.
type momentTable struct {
	times   []time.Time
	moments []moment
}

// moments returns the moments of the times. A page asks for the same times
// again and again, object after object: the last list is remembered, and
// compared in full, so that nobody need promise not to touch it.
func (n *Night) moments(times []time.Time) []moment {
	if t := n.tracked.Load(); t != nil && slices.Equal(t.times, times) {
		return t.moments
	}
	t := &momentTable{slices.Clone(times), make([]moment, len(times))}
	for i := range times {
		t.moments[i] = n.moment(n.seconds(times[i]))
	}
	n.tracked.Store(t)
	return t.moments
}
