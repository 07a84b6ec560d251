package chart

import (
	"fmt"
	"math"
	"strings"
)

// body places a disc's own coordinates (equatorial radii; x west across the
// axis, y north along it) on a drawing.
type body struct {
	disc
	axis float64 // picture angle of the north pole
	west float64 // picture angle of the way to the west along the equator
	r    float64 // equatorial radius, pt
}

func (d disc) body(b *Disc) body {
	return body{d, d.o.PositionAngle(b.Axis), d.o.PositionAngle(b.Axis - 90), b.Diameter / 2 / 60 * d.scale}
}

func (b body) xy(x, y float64) (px, py float64) {
	sw, cw := math.Sincos(b.west * degree)
	sa, ca := math.Sincos(b.axis * degree)
	return b.cx + b.r*(x*sw+y*sa), b.cy - b.r*(x*cw+y*ca)
}

// ellipse is a path around the middle of the body: half axes in radii along
// the equator and along the pole, over the angles from..to in degrees, 0 in
// the west and 90 in the north.
func (b body) ellipse(along, across, from, to float64) string {
	var s strings.Builder
	steps := int(math.Ceil(math.Abs(to-from) / 6))
	for i := range steps + 1 {
		sin, cos := math.Sincos((from + (to-from)*float64(i)/float64(steps)) * degree)
		x, y := b.xy(along*cos, across*sin)
		op := "L"
		if i == 0 {
			op = "M"
		}
		fmt.Fprintf(&s, "%s%s %s", op, num(x), num(y))
	}
	return s.String()
}

// drawDisc draws a body with phase, ring and moons to its size; small ones as
// a dot that can still be seen. Labels of moons go through p; nil leaves them.
func (c *canvas) drawDisc(d disc, s *Disc, p *placer) {
	b := d.body(s)
	if b.r < 1.2 && s.Ring == nil {
		c.dot(b.cx, b.cy, 1.2)
	} else {
		c.globe(b, s)
	}
	for _, m := range s.Moons {
		c.drawMoon(b, m, p)
	}
	if p != nil {
		p.take(around(b.cx, b.cy, b.r))
	}
}

func (c *canvas) globe(b body, s *Disc) {
	if s.Ring != nil {
		c.ring(b, s.Ring, true)
	}
	c.void("path", a("class", "lit"), a("d", b.ellipse(1, s.Flat, 0, 360)+"Z"))
	if dark := b.night(s); dark != "" {
		c.void("path", a("class", "dark"), a("d", dark))
	}
	c.void("path", a("class", "limb"), a("d", b.ellipse(1, s.Flat, 0, 360)+"Z"))
	if s.Ring != nil {
		c.ring(b, s.Ring, false)
	}
}

// night is the unlit part: from the far limb back along the terminator, a
// half ellipse whose short axis is the cosine of the phase angle. "" when
// next to nothing is dark.
func (b body) night(s *Disc) string {
	if s.PhaseAngle < 12 {
		return ""
	}
	limb := b.o.PositionAngle(s.BrightLimb)
	var path strings.Builder
	put := func(i int, u, v float64) { // u towards the Sun, v across
		su, cu := math.Sincos(limb * degree)
		x, y := b.cx+b.r*(u*su+v*cu), b.cy-b.r*(u*cu-v*su)
		op := "L"
		if i == 0 {
			op = "M"
		}
		fmt.Fprintf(&path, "%s%s %s", op, num(x), num(y))
	}
	const steps = 30
	for i := range steps + 1 {
		sin, cos := math.Sincos((90 + 180*float64(i)/steps) * degree)
		put(i, cos, sin)
	}
	k := -math.Cos(s.PhaseAngle * degree)
	for i := range steps + 1 {
		sin, cos := math.Sincos((-90 + 180*float64(i)/steps) * degree)
		put(1, k*cos, sin)
	}
	return path.String() + "Z"
}

// ring draws the half of Saturn's ring that lies behind the globe, or the one
// before it. North of the globe lies the far half while we look at the ring
// from the north.
func (c *canvas) ring(b body, r *Ring, behind bool) {
	sin := math.Abs(math.Sin(r.Tilt * degree))
	north := r.Tilt > 0
	from, to := 0.0, 180.0
	if north != behind {
		from, to = 180, 360
	}
	path := b.ellipse(r.Outer, r.Outer*sin, from, to) + "L" + strings.TrimPrefix(b.ellipse(r.Inner, r.Inner*sin, to, from), "M") + "Z"
	c.void("path", a("class", "ring"), a("d", path))
}

func (c *canvas) drawMoon(b body, m DiscMoon, p *placer) {
	if m.Before || m.Behind || m.Dark {
		return
	}
	x, y := b.xy(m.X, m.Y)
	if p != nil && !p.bounds.hits(around(x, y, 0.5)) {
		return
	}
	c.void("circle", a("class", "star moon"), a("cx", x), a("cy", y), a("r", 1.1), a("data-name", m.Name))
	if p != nil {
		p.take(around(x, y, 1.6))
	}
}
