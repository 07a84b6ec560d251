package sky

import (
	"math"
	"slices"
	"time"
)

// path is an object's apparent geocentric place through a night: one direction
// for a Star, a curve of vectors in au for whatever moves.
type path struct {
	curve    *curve
	fixed    vec3 // unit vector, used when curve is nil
	ra, dec  float64
	radiusAU float64
}

// nodes of the curves over a night. TestCurves holds them to 0.01 arcseconds of
// the theories themselves.
const (
	nodesPlanet = 4
	nodesMoon   = 8
	nodesOther  = 9
)

// path returns an object's path, from the night's store for a Body.
func (n *Night) path(obj Object) *path {
	switch o := obj.(type) {
	case Body:
		slot := &n.bodies[o]
		slot.once.Do(func() {
			nodes := nodesPlanet
			if o == Moon {
				nodes = nodesMoon
			}
			slot.path = path{curve: n.fit(o, nodes), radiusAU: o.radiusKM() / auKM}
		})
		return &slot.path
	case Star:
		p := &path{fixed: o.direction(n.middleTT, n.earthVelocity, n.middleFrame)}
		p.ra, p.dec = p.fixed.spherical()
		return p
	}
	return &path{curve: n.fit(obj, nodesOther)}
}

func (n *Night) fit(obj Object, nodes int) *curve {
	return fitCurve(-margin, n.length()+margin, nodes, func(s float64) vec3 {
		g := obj.apparent(ttOf(n.instant(s)))
		return g.dir.scale(g.dist)
	})
}

// At returns where the object is seen at t. It also serves instants outside
// the night, more slowly.
func (n *Night) At(obj Object, t time.Time) (pos Position) {
	s := n.seconds(t)
	switch obj.(type) {
	case Body, Star:
		if n.covers(s) {
			p := n.path(obj)
			return n.position(p, s)
		}
	}
	tt := ttOf(t)
	g := obj.apparent(tt)
	m := moment{s: s, theta: siderealTime(jdOf(t), tt, frameOf(tt)) + n.Place.Lon*radian}
	m.sin, m.cos = math.Sincos(m.theta)
	if g.dist == 0 {
		p := path{fixed: g.dir}
		p.ra, p.dec = g.equatorial()
		n.observer.fixed(&pos, &p, m)
		return pos
	}
	radius := 0.0
	if b, ok := obj.(Body); ok {
		radius = b.radiusKM() / auKM
	}
	n.observer.moving(&pos, g.dir.scale(g.dist), radius, m)
	return pos
}

// Track returns the object's positions at many times, fast within the night: it
// computes the apparent place once (Star) or interpolates it (anything else).
func (n *Night) Track(obj Object, times []time.Time) []Position {
	return n.AppendTrack(make([]Position, 0, len(times)), obj, times)
}

// AppendTrack appends the object's positions at many times to a list. It is
// Track for the caller who goes through many objects with one buffer: making
// the lists takes as long as filling them.
func (n *Night) AppendTrack(to []Position, obj Object, times []time.Time) []Position {
	if len(times) == 0 {
		return to
	}
	p := n.path(obj)
	start := len(to)
	to = slices.Grow(to, len(times))[:start+len(times)]
	filled := to[start:]
	for i, m := range n.moments(times) {
		if n.covers(m.s) {
			n.place(&filled[i], p, m)
		} else {
			filled[i] = n.At(obj, times[i])
		}
	}
	return to
}

func (n *Night) position(p *path, s float64) (pos Position) {
	n.place(&pos, p, n.moment(s))
	return pos
}

// place fills in a position. In place: copying eight numbers about takes a
// fifth of the time of computing them.
func (n *Night) place(pos *Position, p *path, m moment) {
	if p.curve == nil {
		n.observer.fixed(pos, p, m)
	} else {
		n.observer.moving(pos, p.curve.at(m.s), p.radiusAU, m)
	}
}

// fixed places a direction without parallax.
func (o *observer) fixed(pos *Position, p *path, m moment) {
	v := &p.fixed
	x := m.cos*v.X + m.sin*v.Y
	y := m.sin*v.X - m.cos*v.Y - o.aberration
	o.horizontal(pos, x, y, v.Z)
	pos.RA, pos.Dec = p.ra*degree, p.dec*degree
	pos.HourAngle = nearZero(m.theta-p.ra) * degree
	pos.Distance, pos.SemiDiameter = 0, 0
}

// moving places a geocentric vector (au).
func (o *observer) moving(pos *Position, v vec3, radius float64, m moment) {
	// Axes of the hour angle: x to the meridian, y to the west, z to the pole;
	// the observer stands in the plane of x and z.
	x := m.cos*v.X + m.sin*v.Y - o.rhoCos
	y := m.sin*v.X - m.cos*v.Y
	z := v.Z - o.rhoSin
	d := math.Sqrt(x*x + y*y + z*z)
	y -= o.aberration * d
	o.horizontal(pos, x, y, z)
	h := math.Atan2(y, x)
	pos.HourAngle = h * degree
	pos.RA = nearZero(m.theta-h-math.Pi)*degree + 180
	pos.Dec = math.Atan2(z, math.Sqrt(x*x+y*y)) * degree
	pos.Distance = d
	pos.SemiDiameter = math.Asin(radius/d) * degree
}

// horizontal turns a vector of the hour angle's axes into altitude and azimuth.
func (o *observer) horizontal(p *Position, x, y, z float64) {
	up := o.cosLat*x + o.sinLat*z
	north := o.cosLat*z - o.sinLat*x
	p.Alt = math.Atan2(up, math.Sqrt(north*north+y*y)) * degree
	p.Az = math.Atan2(-y, north) * degree
	if p.Az < 0 {
		p.Az += 360
	}
	p.AltRefracted = p.Alt + tabulatedRefraction(o.refraction, p.Alt)
}

// nearZero is halfTurn for the few turns that occur here, without the division.
func nearZero(a float64) float64 {
	return a - 2*math.Pi*math.Floor(a/(2*math.Pi)+0.5)
}
