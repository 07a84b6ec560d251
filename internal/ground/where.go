package ground

import (
	"math"
	"strings"
)

// nearBy is how near a named thing must be to say "by the oak", m, and longOne
// from which length a thing is everywhere, so that a direction is said too.
const (
	nearBy  = 9.0
	longOne = 15.0
)

// Spoken is a place in words: by a named thing, or a direction from the
// middle of the ground, or neither in the middle itself.
type Spoken struct {
	By      string  // name of the nearest named thing; "" when none is near
	Long    bool    // it is a long one: say the direction, too
	Toward  float64 // degrees from north through east
	Outward bool    // far enough from the middle for the direction to mean something
}

// Where says where a place is.
func (l *Layout) Where(p Point) Spoken {
	var s Spoken
	d := math.Inf(1)
	for _, f := range l.Ground.Features {
		if strings.TrimSpace(f.Name) == "" || len(f.At) == 0 {
			continue
		}
		long := 0.0
		for _, e := range sides(f.At, false) {
			long += e.length()
		}
		x := f.from(p)
		if x >= nearBy {
			continue
		}
		if long > longOne {
			x += nearBy / 2 // what has one place says more
		}
		if x < d {
			d, s.By, s.Long = x, strings.TrimSpace(f.Name), long > longOne
		}
	}
	size, _ := area(l.Ground.Outline)
	s.Toward = l.centre.bearing(p)
	s.Outward = p.distance(l.centre) > 0.2*math.Sqrt(size)
	return s
}

// Red is a red lamp to lay out, and what for.
type Red struct {
	At  Point
	Why string
}

// Lamps are the red lamps that the field needs: at the gate, along every path,
// at every ladder and where a cable begins (common practice; the light must be
// dim, below the eye, and not shine toward the instruments). Those that the
// ground has already are not counted again.
func (l *Layout) Lamps(places []Place) []Red {
	var out []Red
	add := func(p Point, why string) {
		for _, f := range l.Ground.Features {
			if f.Kind == RedLamp && len(f.At) > 0 && f.At[0].distance(p) < lampEvery/2 {
				return
			}
		}
		for _, r := range out {
			if r.At.distance(p) < lampEvery/4 {
				return
			}
		}
		out = append(out, Red{p, why})
	}
	for _, p := range places {
		i := l.index(p.InstrumentID)
		if i < 0 {
			continue
		}
		if f := l.Footprint(l.Stands[i], p); f.HasLadder {
			add(f.LadderAt, "ladder of "+l.Stands[i].Name)
		}
	}
	for _, f := range l.gates {
		add(f.At[0], "gate")
	}
	for _, f := range l.paths {
		for _, e := range sides(f.At, false) {
			n := max(1, math.Round(e.length()/lampEvery))
			side := toward(e.a.bearing(e.b) + 90).times(f.Width / 2)
			for k := 0.0; k <= n; k++ {
				add(e.a.plus(e.b.minus(e.a).times(k/n)).plus(side), "path")
			}
		}
	}
	for _, p := range places {
		if i := l.index(p.InstrumentID); i >= 0 {
			if f := l.Footprint(l.Stands[i], p); f.HasCable {
				add(f.CableFrom, "cable")
			}
		}
	}
	return out
}
