package ground

import "math"

// Wishes are what makes one faultless place better than another. Each is a
// cost; those of one place stay below the least that any fault costs, so that
// comfort never buys a fault.
const (
	wishFree   = 2.0 // for a low target without freeSky above what stands there, each
	mostFree   = 5.0
	wishAccess = 0.1  // for each m that the accessible instrument is from the path
	wishLadder = 3.0  // for a ladder nearer than farFromPath to a path
	wishCable  = 0.03 // for each m of cable
	wishWalk   = 0.01 // for each m from the gate
	wishBehind = 1.0  // for a line that stands in front of its low targets
	wishOpen   = 1.0  // for each neighbour nearer than openRoom
)

const (
	farFromPath = 8.0 // m; children run along paths (cp)
	openRoom    = 4.0 // m more than the rule between two circles: guests pass, dew and voices spread
	farAway     = 40.0
)

// wishSpot costs a place whichever way the queue goes.
func (l *Layout) wishSpot(i int, f Footprint) float64 {
	s, c := l.Stands[i], 0.0
	for _, t := range s.Sights {
		least := math.Inf(1)
		for _, k := range t.Looks {
			if k.Alt >= lowSky {
				continue
			}
			over, _ := l.overhead(f.At, s.Eye, k.Az)
			least = min(least, k.Alt-over)
		}
		if least >= 0 && least < freeSky {
			c += wishFree * short(least, freeSky)
		}
	}
	c = min(c, mostFree)
	if i == l.best && len(l.wheels) > 0 {
		c += wishAccess * min(max(0, l.fromWheels(f)), farAway)
	}
	if s.Step == Ladder {
		near := farFromPath
		for _, p := range l.paths {
			near = min(near, p.from(f.At))
		}
		c += wishLadder * short(near, farFromPath)
	}
	if f.HasCable {
		c += wishCable * min(f.cable.length(), farAway)
	}
	c += wishWalk * min(l.fromGate(f.At), 2*farAway)
	return c
}

// wishLine costs the direction of a queue.
func (l *Layout) wishLine(i int, f Footprint) float64 {
	az, ok := l.Stands[i].low()
	if !ok {
		return 0
	}
	return wishBehind * max(0, math.Cos(apartDegrees(az, f.queueAngle)*math.Pi/180))
}

// wishBetween costs two neighbours that are closer than they need be.
func wishBetween(f, g Footprint) float64 {
	free := f.At.distance(g.At) - f.Room - g.Room
	if free >= openRoom {
		return 0
	}
	return wishOpen * short(max(0, free), openRoom)
}

// fromGate is the way from the nearest gate, or from the middle of the ground
// when it has none.
func (l *Layout) fromGate(p Point) float64 {
	d := math.Inf(1)
	for _, g := range l.gates {
		d = min(d, g.At[0].distance(p))
	}
	if math.IsInf(d, 1) {
		return p.distance(l.centre)
	}
	return d
}
