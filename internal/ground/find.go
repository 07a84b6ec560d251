package ground

import "math"

// finding is one thing wrong with a place, before anybody puts it into words.
type finding struct {
	key     Key
	much    float64  // how bad, 0 to 1
	feature *Feature // concerned, or nil
	sight   int      // index of the showing that is hidden
	a, b    float64  // the two numbers that are told, with units as the words say
}

// cost of a finding in the search: half for its being there, half by degree,
// so that a fault never pays and the search still feels the way out.
func (f finding) cost() float64 { return weights[f.key] * (0.5 + 0.5*min(max(f.much, 0), 1)) }

// short is how much of a distance wanted is missing, 0 to 1.
func short(have, want float64) float64 { return (want - have) / want }

// spot finds what is wrong with standing somewhere, whichever way the queue
// goes.
func (l *Layout) spot(s Stand, f Footprint, out func(finding)) {
	if !inside(f.At, l.Ground.Outline) {
		out(finding{key: Outside, much: 1})
	} else if d := l.fromOutline(f.At) - f.Radius; d < edgeRoom {
		out(finding{key: Outside, much: short(d, edgeRoom) / 2, a: d, b: edgeRoom})
	}
	for i := range l.solids {
		if d := l.solids[i].from(f.At) - f.Radius; d < solidRoom {
			out(finding{key: InWay, much: short(d, solidRoom), feature: &l.solids[i], a: d, b: solidRoom})
		}
	}
	for i := range l.gates {
		if d := l.gates[i].from(f.At) - f.Radius; d < gateRoom {
			out(finding{key: AtGate, much: short(d, gateRoom), feature: &l.gates[i], a: d, b: gateRoom})
		}
	}
	for i := range l.paths {
		if d := l.paths[i].from(f.At) - f.Radius; d < pathRoom {
			out(finding{key: OnPath, much: short(d, pathRoom+f.Radius), feature: &l.paths[i], a: d, b: pathRoom})
		}
	}
	for i := range l.cables {
		if d := l.cables[i].from(f.At) - f.Radius; d < cableRoom {
			out(finding{key: CableLegs, much: short(d, cableRoom+f.Radius), feature: &l.cables[i]})
		}
	}
	for i := range l.lamps {
		if d := l.lamps[i].At[0].distance(f.At); d < lampRoom && !l.screened(l.lamps[i].At[0], f.At) {
			out(finding{key: Glare, much: short(d, lampRoom), feature: &l.lamps[i], a: d, b: lampRoom})
		}
	}
	l.hidden(s, f.At, out)
	l.cabled(s, f, out)
}

// hidden finds the showings that something on the field stands before.
func (l *Layout) hidden(s Stand, at Point, out func(finding)) {
	for n, t := range s.Sights {
		var worst finding
		blocked := 0
		for _, k := range t.Looks {
			over, by := l.overhead(at, s.Eye, k.Az)
			if over <= k.Alt {
				continue
			}
			blocked++
			if worst.feature == nil || over-k.Alt > worst.b-worst.a {
				worst = finding{key: Hidden, feature: by, sight: n, a: k.Alt, b: over}
			}
		}
		if blocked > 0 {
			worst.much = float64(blocked) / float64(len(t.Looks))
			out(worst)
		}
	}
}

// overhead is the highest that anything on the field stands in a direction,
// degrees, and what it is.
func (l *Layout) overhead(at Point, eye, az float64) (over float64, by *Feature) {
	for i := range l.opaques {
		if o := l.opaques[i].Over(at, eye, az); o > over {
			over, by = o, &l.opaques[i]
		}
	}
	return over, by
}

// screened reports whether something opaque stands between two points.
func (l *Layout) screened(a, b Point) bool {
	for _, o := range l.opaques {
		if o.fromLine(segment{a, b}) == 0 {
			return true
		}
	}
	return false
}

// cabled finds what is wrong with the cable to a place.
func (l *Layout) cabled(s Stand, f Footprint, out func(finding)) {
	if !s.Mains {
		return
	}
	if !f.HasCable {
		out(finding{key: CableLong, much: 1})
		return
	}
	if d := f.cable.length(); d > longCable {
		out(finding{key: CableLong, much: min(1, d/longCable-1), a: d, b: longCable})
	}
	for i := range l.paths {
		if l.paths[i].fromLine(f.cable) == 0 {
			out(finding{key: CablePath, much: 1, feature: &l.paths[i]})
		}
	}
}

// line finds what is wrong with the queue and the ladder of a place.
func (l *Layout) line(f Footprint, out func(finding)) {
	if !inside(f.QueueTo, l.Ground.Outline) || l.leaves(f.queue) {
		out(finding{key: QueueRoom, much: 1})
	}
	for i := range l.solids {
		if d := l.solids[i].fromLine(f.queue); d < f.queueHalf {
			out(finding{key: QueueRoom, much: 0.5 + short(d, f.queueHalf)/2, feature: &l.solids[i]})
		}
	}
	for i := range l.gates {
		if d := l.gates[i].fromLine(f.queue); d < gateRoom-1 {
			out(finding{key: AtGate, much: short(d, gateRoom-1), feature: &l.gates[i], a: d, b: gateRoom - 1})
		}
	}
	for i := range l.paths {
		if d := l.paths[i].fromLine(f.queue); d < f.queueHalf {
			out(finding{key: QueuePath, much: 0.5 + short(d, f.queueHalf)/2, feature: &l.paths[i]})
		}
		if f.HasLadder {
			if d := l.paths[i].from(f.LadderAt); d < ladderRoom {
				out(finding{key: LadderRoom, much: short(d, ladderRoom), feature: &l.paths[i], a: d, b: ladderRoom})
			}
		}
	}
	for i := range l.cables {
		if l.cables[i].fromLine(f.queue) < f.queueHalf {
			out(finding{key: QueueCable, much: 1, feature: &l.cables[i]})
		}
		if f.HasLadder {
			if d := l.cables[i].from(f.LadderAt); d < ladderRoom {
				out(finding{key: LadderRoom, much: short(d, ladderRoom), feature: &l.cables[i], a: d, b: ladderRoom})
			}
		}
	}
}

// leaves reports whether a segment crosses the outline.
func (l *Layout) leaves(s segment) bool {
	for _, e := range sides(l.Ground.Outline, true) {
		if e.meets(s) {
			return true
		}
	}
	return false
}

func (l *Layout) fromOutline(p Point) float64 {
	d := math.Inf(1)
	for _, e := range sides(l.Ground.Outline, true) {
		d = min(d, e.nearest(p))
	}
	return d
}

// between finds what two places do to each other; told in one direction: what
// f does to g is found when they change places (see both).
func between(f, g Footprint, out func(finding)) {
	apart := f.At.distance(g.At)
	if d := g.queue.nearest(f.At) - f.Radius - g.queueHalf; d < touching {
		out(finding{key: QueueRoom, much: 0.5 + min(0.5, (touching-d)/2)})
	}
	if f.HasLadder {
		if d := f.LadderAt.distance(g.At) - g.Radius; d < ladderRoom {
			out(finding{key: LadderRoom, much: short(d, ladderRoom), a: d, b: ladderRoom})
		}
		if d := g.queue.nearest(f.LadderAt) - g.queueHalf; d < ladderRoom {
			out(finding{key: LadderRoom, much: short(d, ladderRoom), a: d, b: ladderRoom})
		}
	}
	if f.HasCable && apart > 0 {
		if f.cable.apart(g.queue) < g.queueHalf {
			out(finding{key: QueueCable, much: 1})
		}
		if f.cable.nearest(g.At) < g.Radius+cableRoom {
			out(finding{key: CableLegs, much: 1})
		}
		if g.HasLadder && f.cable.nearest(g.LadderAt) < ladderRoom {
			out(finding{key: LadderRoom, much: 1, a: f.cable.nearest(g.LadderAt), b: ladderRoom})
		}
	}
}

// mutual finds what two places do to each other that has no direction.
func mutual(f, g Footprint, out func(finding)) {
	if d := f.At.distance(g.At); d < f.Room+g.Room {
		out(finding{key: Overlap, much: short(d, f.Room+g.Room), a: d, b: f.Room + g.Room})
	}
	if d := f.queue.apart(g.queue); d < f.queueHalf+g.queueHalf {
		out(finding{key: QueueCross, much: 0.5 + short(d, f.queueHalf+g.queueHalf)/2, a: d})
	}
}
