package sky

import (
	"math"
	"time"
)

// Span is a stretch of time.
type Span struct{ From, To time.Time }

// Duration is how long the span lasts.
func (s Span) Duration() time.Duration { return s.To.Sub(s.From) }

// Overlap returns the common part of two spans, and whether there is one.
func (s Span) Overlap(o Span) (Span, bool) {
	if o.From.After(s.From) {
		s.From = o.From
	}
	if o.To.Before(s.To) {
		s.To = o.To
	}
	return s, s.From.Before(s.To)
}

// spanStep is the sampling for questions that a horizon outline, with its
// corners, may be part of.
const spanStep = 300.0 // seconds

// spansWhere returns the parts of from..to, so far as they belong to the night,
// where f is not negative.
func (n *Night) spansWhere(from, to time.Time, bend float64, f func(s float64) float64) []Span {
	whole, ok := (Span{from, to}).Overlap(Span{n.From, n.To})
	if !ok {
		return nil
	}
	a, b := n.seconds(whole.From), n.seconds(whole.To)
	steps := int(math.Ceil((b - a) / spanStep))
	at := make([]float64, steps+1)
	value := make([]float64, steps+1)
	for i := range at {
		at[i] = a + (b-a)*float64(i)/float64(steps)
		value[i] = f(at[i])
	}
	var spans []Span
	open := whole.From
	up := value[0] >= 0
	for _, r := range findRoots(at, value, bend, f) {
		t := n.instant(r.s)
		if up {
			spans = append(spans, Span{open, t})
		}
		up, open = r.rising, t
	}
	if up {
		spans = append(spans, Span{open, whole.To})
	}
	return spans
}

// Above returns when, between from and to, the object is seen at or above an
// altitude (with refraction, degrees). None is an empty list.
func (n *Night) Above(obj Object, altitudeDeg float64, from, to time.Time) []Span {
	return n.ClearOf(obj, Horizon{{0, altitudeDeg}}, from, to)
}

// ClearOf returns when, between from and to, the object is seen above the
// site's horizon outline. None is an empty list.
func (n *Night) ClearOf(obj Object, outline Horizon, from, to time.Time) []Span {
	outline = outline.normal()
	p := n.path(obj)
	return n.spansWhere(from, to, 0.01, func(s float64) float64 {
		pos := n.position(p, s)
		return pos.AltRefracted - outline.AltAt(pos.Az)
	})
}

// InZenithZone returns when, between from and to, the object stands within
// radiusDeg of the zenith, where an alt-azimuth mount cannot follow it well.
func (n *Night) InZenithZone(obj Object, radiusDeg float64, from, to time.Time) []Span {
	return n.Above(obj, 90-radiusDeg, from, to)
}

// DarkerThan returns when, between from and to, the Sun's centre is lower than
// an altitude (geometric, degrees): -18 is astronomical darkness.
func (n *Night) DarkerThan(altitudeDeg float64, from, to time.Time) []Span {
	p := n.path(Sun)
	l := level{sin: math.Sin(altitudeDeg * radian)}
	return n.spansWhere(from, to, 1e-4, func(s float64) float64 {
		return -n.above(p, l, n.moment(s))
	})
}

// BestTime returns when the object is highest between from and to, and where
// it is then. Give it the dark and public part of the night; what lies outside
// the night is cut off.
func (n *Night) BestTime(obj Object, from, to time.Time) (time.Time, Position) {
	if cut, ok := (Span{from, to}).Overlap(Span{n.From, n.To}); ok {
		from, to = cut.From, cut.To
	} else {
		return from, n.At(obj, from)
	}
	p := n.path(obj)
	altitude := func(s float64) float64 { return n.position(p, s).Alt }
	a, b := n.seconds(from), n.seconds(to)
	steps := max(1, int(math.Ceil((b-a)/gridStep)))
	best, highest := a, math.Inf(-1)
	step := (b - a) / float64(steps)
	for i := range steps + 1 {
		if s := a + step*float64(i); altitude(s) > highest {
			best, highest = s, altitude(s)
		}
	}
	if s := peak(max(a, best-step), min(b, best+step), altitude); altitude(s) > highest {
		best = s
	}
	// At the ends of the span the peak is approached, never quite reached.
	switch {
	case best-a < 2*rootTolerance:
		best = a
	case b-best < 2*rootTolerance:
		best = b
	}
	t := n.instant(best)
	return t, n.position(p, n.seconds(t))
}
