package ground

import "math"

// Layout is a ground with the instruments that want a place on it.
type Layout struct {
	Ground Ground
	Stands []Stand

	gates, paths, solids, opaques, lamps, powers, cables []Feature
	wheels                                               []Feature // paths for wheelchairs
	best                                                 int       // index of the stand that guests in wheelchairs can use longest, -1 none
	centre                                               Point
}

// NewLayout sorts the features by what they mean for a place. The ground is
// one that [Ground.Check] has nothing against.
func NewLayout(g Ground, stands []Stand) *Layout {
	l := &Layout{Ground: g, Stands: stands, best: -1}
	for _, f := range g.Features {
		if len(f.At) == 0 {
			continue
		}
		if f.Kind.solid() {
			l.solids = append(l.solids, f)
		}
		if f.Kind.opaque() {
			l.opaques = append(l.opaques, f)
		}
		switch f.Kind {
		case Gate:
			l.gates = append(l.gates, f)
		case Path:
			l.paths = append(l.paths, f)
			if f.Wheels {
				l.wheels = append(l.wheels, f)
			}
		case Lamp:
			l.lamps = append(l.lamps, f)
		case Power:
			l.powers = append(l.powers, f)
		case Cable:
			l.cables = append(l.cables, f)
		}
	}
	for i, s := range stands {
		if s.Access > 0 && (l.best < 0 || s.serves() > stands[l.best].serves()) {
			l.best = i
		}
	}
	_, l.centre = area(g.Outline)
	return l
}

// Best is the instrument that guests in wheelchairs can use longest tonight;
// false when there is none.
func (l *Layout) Best() (Stand, bool) {
	if l.best < 0 {
		return Stand{}, false
	}
	return l.Stands[l.best], true
}

// Footprint is all the ground that an instrument takes at its place.
type Footprint struct {
	At         Point
	Radius     float64 // of legs or base
	Room       float64 // with those at the eyepiece
	QueueFrom  Point
	QueueTo    Point
	HasLadder  bool
	LadderAt   Point
	HasCable   bool
	CableFrom  Point
	queue      segment
	cable      segment
	queueHalf  float64
	queueAngle float64
}

// Footprint lays an instrument out at a place.
func (l *Layout) Footprint(s Stand, p Place) Footprint {
	f := Footprint{At: p.At, Radius: s.Radius, Room: s.room(), queueHalf: halfLine, queueAngle: p.Queue}
	dir := toward(p.Queue)
	f.QueueFrom = p.At.plus(dir.times(f.Room))
	f.QueueTo = f.QueueFrom.plus(dir.times(s.lineLength()))
	f.queue = segment{f.QueueFrom, f.QueueTo}
	if s.Step == Ladder {
		// Beside the head of the line, so that who comes down does not meet who
		// goes up.
		f.HasLadder = true
		f.LadderAt = p.At.plus(toward(p.Queue + 45).times(s.Radius + ladderFoot))
	}
	if at, ok := l.nearestPower(p.At); ok && s.Mains {
		f.HasCable, f.CableFrom, f.cable = true, at, segment{at, p.At}
	}
	return f
}

func (l *Layout) nearestPower(p Point) (at Point, ok bool) {
	d := math.Inf(1)
	for _, f := range l.powers {
		if x := f.At[0].distance(p); x < d {
			d, at, ok = x, f.At[0], true
		}
	}
	return at, ok
}

// fromWheels is how far the edge of a legs' circle is from the nearest path
// for wheelchairs; infinite when there is none.
func (l *Layout) fromWheels(f Footprint) float64 {
	d := math.Inf(1)
	for _, p := range l.wheels {
		d = min(d, p.from(f.At)-f.Radius)
	}
	return d
}
