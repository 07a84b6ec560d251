package sky

import (
	"math"
	"sort"
	"time"
)

// HorizonRefraction is the refraction at the horizon by which almanacs define
// rising and setting: 34 arcminutes, in degrees.
const HorizonRefraction = 34.0 / 60

// Events are an object's risings, settings and upper transits within one
// night, in order. An event outside From..To is never among them.
type Events struct {
	Rises, Sets, Transits []time.Time // UTC
	// State is Happens when the object rises or sets at least once; otherwise it
	// says on which side of the horizon it stays all night.
	State EventState
}

// Crossing is one passage through an altitude.
type Crossing struct {
	Time   time.Time // UTC
	Rising bool
}

// Events returns when the object rises, sets and crosses the meridian. Rising
// and setting are those of almanacs, for a level horizon at the eye's height:
// the upper limb of the Sun and the Moon, the centre of everything else, 34
// arcminutes under the geometric horizon.
func (n *Night) Events(obj Object) Events {
	p := n.path(obj)
	var e Events
	crossings, state := n.crossings(p, standardAltitude(obj))
	e.State = state
	for _, c := range crossings {
		if c.Rising {
			e.Rises = append(e.Rises, c.Time)
		} else {
			e.Sets = append(e.Sets, c.Time)
		}
	}
	e.Transits = n.transits(p)
	return e
}

// Crossings returns when the object's centre passes an altitude in degrees:
// the geometric altitude, or the refracted one. Without any crossing the state
// says whether it stays above or below.
func (n *Night) Crossings(obj Object, altitudeDeg float64, refracted bool) ([]Crossing, EventState) {
	if refracted {
		altitudeDeg = unrefracted(altitudeDeg)
	}
	return n.crossings(n.path(obj), level{sin: math.Sin(altitudeDeg * radian)})
}

// level is the altitude to be crossed.
type level struct {
	sin  float64 // of the geometric altitude
	limb bool    // of the upper limb instead of the centre
}

func standardAltitude(obj Object) level {
	return level{
		sin:  math.Sin(-HorizonRefraction * radian),
		limb: obj == Sun || obj == Moon,
	}
}

// unrefracted returns the geometric altitude that is seen at an apparent one.
func unrefracted(apparent float64) float64 {
	h := apparent
	for range 20 {
		h = apparent - Refraction(h)
	}
	return h
}

// above returns the sine of the altitude over the level. It is the function
// whose zeros are the events: smooth, and without an arctangent.
func (n *Night) above(p *path, l level, m moment) float64 {
	o := &n.observer
	v := p.fixed
	if p.curve != nil {
		v = p.curve.at(m.s)
	}
	x := m.cos*v.X + m.sin*v.Y
	if p.curve == nil {
		return o.cosLat*x + o.sinLat*v.Z - l.sin
	}
	y := m.sin*v.X - m.cos*v.Y
	x -= o.rhoCos
	z := v.Z - o.rhoSin
	d := math.Sqrt(x*x + y*y + z*z)
	up := (o.cosLat*x + o.sinLat*z) / d
	if l.limb {
		// Near the horizon the sine of a sum of small angles is their sum, to
		// a part in ten thousand of a semidiameter.
		up += p.radiusAU / d
	}
	return up - l.sin
}

func (n *Night) crossings(p *path, l level) ([]Crossing, EventState) {
	at := make([]float64, len(n.grid))
	value := make([]float64, len(n.grid))
	for i, g := range n.grid {
		at[i] = g.s
		value[i] = n.above(p, l, g)
	}
	f := func(s float64) float64 { return n.above(p, l, n.moment(s)) }
	var crossings []Crossing
	for _, r := range findRoots(at, value, 1e-4, f) {
		if t := n.instant(r.s); n.Contains(t) {
			crossings = append(crossings, Crossing{t, r.rising})
		}
	}
	switch {
	case len(crossings) > 0:
		return crossings, Happens
	case f(n.length()/2) >= 0:
		return nil, AlwaysAbove
	}
	return nil, AlwaysBelow
}

// transits returns the upper transits: where the object passes the meridian
// from east to west on the side of the zenith.
func (n *Night) transits(p *path) []time.Time {
	west := func(m moment) (y, x float64) {
		v := p.fixed
		if p.curve != nil {
			v = p.curve.at(m.s).unit()
		}
		return m.sin*v.X - m.cos*v.Y, m.cos*v.X + m.sin*v.Y
	}
	f := func(s float64) float64 {
		y, _ := west(n.moment(s))
		return y
	}
	var times []time.Time
	y0, _ := west(n.grid[0])
	for i := 1; i < len(n.grid); i++ {
		g := n.grid[i]
		y, x := west(g)
		if y0 < 0 && y >= 0 && x > 0 {
			if t := n.instant(bracketed(n.grid[i-1].s, y0, g.s, y, f)); n.Contains(t) {
				times = append(times, t)
			}
		}
		y0 = y
	}
	return times
}

// Twilights are the Sun's events of a night. Sunset and sunrise are those of
// the upper limb with 34 arcminutes of refraction; the twilights are those of
// the centre at 6, 12 and 18 degrees under the geometric horizon.
//
// Sunset and the dusks are the first of the night; sunrise and the dawns the
// first after them. An event that does not happen says on which side the Sun
// then is: AlwaysAbove at a dusk is a night that does not get that dark,
// AlwaysBelow a day on which the Sun stays under. When only one of a pair
// happens (the last sunset before the polar night), the other says AlwaysBelow,
// for the Sun is below from there to the end of the night, or from its
// beginning.
type Twilights struct {
	Sunset, Sunrise                    Event
	CivilDusk, CivilDawn               Event
	NauticalDusk, NauticalDawn         Event
	AstronomicalDusk, AstronomicalDawn Event
}

// Twilights returns the Sun's events of the night.
func (n *Night) Twilights() Twilights {
	var t Twilights
	p := n.path(Sun)
	t.Sunset, t.Sunrise = n.duskAndDawn(p, standardAltitude(Sun))
	at := func(deg float64) (Event, Event) {
		return n.duskAndDawn(p, level{sin: math.Sin(deg * radian)})
	}
	t.CivilDusk, t.CivilDawn = at(-6)
	t.NauticalDusk, t.NauticalDawn = at(-12)
	t.AstronomicalDusk, t.AstronomicalDawn = at(-18)
	return t
}

func (n *Night) duskAndDawn(p *path, l level) (dusk, dawn Event) {
	crossings, state := n.crossings(p, l)
	if state != Happens {
		return Event{State: state}, Event{State: state}
	}
	dusk, dawn = Event{State: AlwaysBelow}, Event{State: AlwaysBelow}
	for _, c := range crossings {
		if !c.Rising && dusk.State != Happens {
			dusk = Event{Happens, c.Time}
		}
	}
	for _, c := range crossings {
		if c.Rising && (dusk.State != Happens || c.Time.After(dusk.Time)) {
			return dusk, Event{Happens, c.Time}
		}
	}
	// The Sun rose before it set: a zone far from its meridian.
	i := sort.Search(len(crossings), func(i int) bool { return crossings[i].Rising })
	if i < len(crossings) && crossings[i].Rising {
		dawn = Event{Happens, crossings[i].Time}
	}
	return dusk, dawn
}
