package ground

import "math"

// The search pays for what Check complains of (find.go) and for wishes
// (wish.go). Costs have no unit; weights stand in rules.go.

// alone is what a place costs by itself.
func (l *Layout) alone(i int, f Footprint) float64 { return l.spotCost(i, f) + l.lineCost(i, f) }

func (l *Layout) spotCost(i int, f Footprint) float64 {
	c := l.wishSpot(i, f)
	l.spot(l.Stands[i], f, func(x finding) { c += x.cost() })
	if i == l.best && len(l.wheels) > 0 {
		if d := l.fromWheels(f); d > nearPath {
			c += finding{key: Access, much: (d - nearPath) / farAway}.cost()
		}
	}
	return c
}

func (l *Layout) lineCost(i int, f Footprint) float64 {
	c := l.wishLine(i, f)
	l.line(f, func(x finding) { c += x.cost() })
	return c
}

// pair is what two places cost each other.
func pair(f, g Footprint) float64 {
	// Most pairs are far apart: two circles around all that each takes.
	reachF, reachG := f.reach(), g.reach()
	if f.At.distance(g.At) > reachF+reachG+ladderRoom {
		return 0
	}
	c := wishBetween(f, g)
	add := func(x finding) { c += x.cost() }
	mutual(f, g, add)
	between(f, g, add)
	between(g, f, add)
	return c
}

// reach is how far anything of a footprint is from its middle, m.
func (f Footprint) reach() float64 {
	r := math.Max(f.Room+openRoom, f.At.distance(f.QueueTo)+halfLine+touching)
	if f.HasCable {
		r = math.Max(r, f.cable.length())
	}
	return r
}

// Cost of places: lower is better. Only differences mean something, and only
// on the same ground. Instruments without a place cost nothing here.
func (l *Layout) Cost(places []Place) float64 {
	feet := make([]Footprint, 0, len(places))
	c := 0.0
	for _, p := range places {
		i := l.index(p.InstrumentID)
		if i < 0 {
			continue
		}
		f := l.Footprint(l.Stands[i], p)
		c += l.alone(i, f)
		for _, g := range feet {
			c += pair(f, g)
		}
		feet = append(feet, f)
	}
	return c
}

func (l *Layout) index(id int64) int {
	for i, s := range l.Stands {
		if s.ID == id {
			return i
		}
	}
	return -1
}
