package chart

import (
	"fmt"
	"math"
	"sort"
)

// CloseUp is a body larger than the field would show it, turned as seen: a
// planet with its moons named, the Moon with the features at its terminator.
type CloseUp struct {
	ID     string
	W, H   float64 // pt
	View   Eyepiece
	Labels Labels
}

// DrawCloseUp draws the body. Names of moons stand in place, those of lunar
// features beside the disc with a line to where they are.
func DrawCloseUp(v CloseUp) SVG {
	var c canvas
	c.sheet(v.ID, "chart closeup", v.W, v.H, v.Labels.Title, v.Labels.Desc)
	s := v.View.Subject
	if s.Disc.Globe != nil {
		c.moonMap(v)
		return c.finish()
	}
	half := s.Span() / 2 / 60 * 1.08
	d := disc{o: v.View.Orientation, cx: v.W / 2, cy: v.H / 2}
	d.scale = fitScale(d, s.Disc, half, v.W, v.H)
	p := &placer{bounds: box{0, 0, v.W, v.H}}
	c.drawDisc(d, s.Disc, p)
	b := d.body(s.Disc)
	if s.Disc.Ring != nil {
		sin := math.Abs(math.Sin(s.Disc.Ring.Tilt * degree))
		for i := -10; i <= 10; i++ {
			x, y := b.xy(s.Disc.Ring.Outer*float64(i)/10, 0)
			p.take(around(x, y, b.r*max(sin, 0.05)))
		}
	}
	for _, m := range s.Disc.Moons {
		if m.Before || m.Behind || m.Dark {
			continue
		}
		x, y := b.xy(m.X, m.Y)
		name := m.Name
		if w := v.Labels.Moons[name]; w != "" {
			name = w
		}
		c.label(p, name, x, y, 1.6, small, "text")
	}
	return c.finish()
}

// fitScale is the scale at which all that belongs to a body finds room in the
// width and height of a drawing, whichever way its moons lie, with a margin
// for their names.
func fitScale(d disc, s *Disc, half, w, h float64) float64 {
	const edge = 16.0
	reachX, reachY := s.Diameter/120, s.Diameter/120 // degrees
	d.scale, d.cx, d.cy = 1, 0, 0
	b := d.body(s)
	grow := func(x, y float64) {
		px, py := b.xy(x, y)
		reachX, reachY = max(reachX, math.Abs(px)), max(reachY, math.Abs(py))
	}
	if s.Ring != nil {
		sin := math.Abs(math.Sin(s.Ring.Tilt * degree))
		for i := range 36 {
			sn, cs := math.Sincos(float64(i) * 10 * degree)
			grow(s.Ring.Outer*cs, s.Ring.Outer*sin*sn)
		}
	} else {
		for _, m := range s.Moons {
			if !m.Before && !m.Behind && !m.Dark {
				grow(m.X, m.Y)
			}
		}
	}
	scale := min((w/2-edge)/reachX, (h/2-edge)/reachY)
	if len(s.Moons) == 0 {
		// A bare disc fills two thirds, so that a small one still looks small
		// beside the Moon's.
		scale = min(w, h) / 3 / reachX
	}
	return scale
}

// moonMap draws the Moon's face with its phase and the names of features.
func (c *canvas) moonMap(v CloseUp) {
	s := v.View.Subject
	g := s.Disc.Globe
	d := disc{o: v.View.Orientation, cx: v.W / 2, cy: v.H / 2}
	features := roomFor(g.Features, v.W/2-9-min(v.H/2-3, leastMoon*v.W))
	d.scale = min(v.H/2-3, (v.W/2-9-longestName(features))) / (s.Disc.Diameter / 120)
	b := d.body(s.Disc)
	c.void("path", a("class", "lit"), a("d", b.ellipse(1, 1, 0, 360)+"Z"))
	for _, sea := range g.Seas {
		if path := b.spot(g, sea, 1); path != "" {
			c.void("path", a("class", "edge loose"), a("d", path))
		}
	}
	if dark := b.night(s.Disc); dark != "" {
		c.void("path", a("class", "dark"), a("d", dark))
	}
	c.void("path", a("class", "limb"), a("d", b.ellipse(1, 1, 0, 360)+"Z"))
	var left, right []moonLabel
	for _, f := range features {
		x0, y0, z := g.turn(f.Lon, f.Lat)
		if z <= 0.1 {
			continue
		}
		x, y := b.xy(x0, y0)
		if f.Ring {
			c.void("path", a("class", "crater"), a("d", b.spot(g, f, 1.15)), a("data-name", f.Name))
		} else {
			c.void("circle", a("class", "star feature"), a("cx", x), a("cy", y), a("r", 1.3), a("data-name", f.Name))
		}
		l := moonLabel{f.Name, x, y, y}
		if x < d.cx {
			left = append(left, l)
		} else {
			right = append(right, l)
		}
	}
	for len(left) > len(right)+1 {
		left, right = moveOver(left, right, -1)
	}
	for len(right) > len(left)+1 {
		right, left = moveOver(right, left, 1)
	}
	c.moonNames(b, left, -1, v.H)
	c.moonNames(b, right, 1, v.H)
}

// leastMoon is the least radius of the Moon's disc in widths of the drawing.
const leastMoon = 0.19

// roomFor are the features whose names fit beside the disc: on a narrow drawing
// a long name would leave no room for the Moon itself.
func roomFor(fs []Spot, width float64) []Spot {
	var out []Spot
	for _, f := range fs {
		if Width(f.Name, small, Text)+4 <= width {
			out = append(out, f)
		}
	}
	return out
}

func longestName(fs []Spot) float64 {
	w := 0.0
	for _, f := range fs {
		w = max(w, Width(f.Name, small, Text)+4)
	}
	return w
}

type moonLabel struct {
	name string
	x, y float64 // of the feature
	at   float64 // height of the label
}

// moveOver takes the label nearest to the middle over to the other side.
func moveOver(from, to []moonLabel, side float64) ([]moonLabel, []moonLabel) {
	best := 0
	for i, l := range from {
		if side*l.x < side*from[best].x {
			best = i
		}
	}
	to = append(to, from[best])
	return append(from[:best:best], from[best+1:]...), to
}

// moonNames writes the names in a column beside the disc, in order of height.
func (c *canvas) moonNames(b body, ls []moonLabel, side, h float64) {
	sort.Slice(ls, func(i, j int) bool { return ls[i].y < ls[j].y })
	const gap = small * 1.25
	for i := range ls {
		ls[i].at = max(ls[i].y, small)
		if i > 0 {
			ls[i].at = max(ls[i].at, ls[i-1].at+gap)
		}
	}
	for i := len(ls) - 1; i >= 0; i-- {
		limit := h - 3
		if i < len(ls)-1 {
			limit = ls[i+1].at - gap
		}
		ls[i].at = min(ls[i].at, limit)
	}
	x := b.cx + side*(b.r+9)
	anchor := map[bool]string{true: "start", false: "end"}[side > 0]
	for _, l := range ls {
		c.void("path", a("class", "leader"), a("d", fmt.Sprintf("M%s %sL%s %sL%s %s", num(x-side*2), num(l.at-3), num(b.cx+side*(b.r+3)), num(l.at-3), num(l.x), num(l.y))))
		c.text("text", l.name, a("class", "text"), a("x", x), a("y", l.at), a("text-anchor", anchor), a("font-size", small))
	}
}

// spot is the outline of a round place on the globe, foreshortened as seen;
// "" when its middle lies behind the edge. factor widens it.
func (b body) spot(g *Globe, f Spot, factor float64) string {
	x0, y0, z := g.turn(f.Lon, f.Lat)
	if z <= 0.05 {
		return ""
	}
	r := math.Max(f.Size/2/moonRadius*factor, 1.6/b.r)
	// Half axes: full across the line to the middle, shortened along it.
	away := math.Hypot(x0, y0)
	ux, uy := 1.0, 0.0
	if away > 1e-6 {
		ux, uy = x0/away, y0/away
	}
	return oval(func(u, v float64) (float64, float64) {
		return b.xy(x0+r*(u*z*ux-v*uy), y0+r*(u*z*uy+v*ux))
	})
}
