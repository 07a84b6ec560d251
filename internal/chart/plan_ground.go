package chart

import (
	"fmt"
	"math"

	"duskboard/internal/ground"
)

// planFeature draws one thing that stands on the ground.
func (c *canvas) planFeature(d Plan, v planView, i int, f ground.Feature) {
	if len(f.At) == 0 {
		return
	}
	x, y := v.x(f.At[0]), v.y(f.At[0])
	c.open("g", a("class", "feature "+string(f.Kind)), a("data-feature", i))
	switch f.Kind {
	case ground.Path:
		w := clampUnit(f.Width*v.scale, 4)
		c.void("polyline", a("class", "path-edge"), a("points", v.points(f.At)), a("stroke-width", w+2))
		class := "path-bed"
		if f.Wheels {
			class += " wheels"
		}
		c.void("polyline", a("class", class), a("points", v.points(f.At)), a("stroke-width", w))
		if f.Wheels {
			c.void("polyline", a("class", "path-wheels"), a("points", v.points(f.At)))
		}
	case ground.Tree:
		r := clampUnit(f.Radius*v.scale, 5)
		c.void("path", a("class", "crown"), a("d", crown(x, y, r)))
		c.dot(x, y, 2)
	case ground.Hedge:
		w := clampUnit(f.Width*v.scale, 4)
		c.void("polyline", a("class", "hedge-body"), a("points", v.points(f.At)), a("stroke-width", w))
	case ground.Building:
		c.void("polygon", a("class", "house"), a("points", v.points(f.At)), a("fill", "url(#"+d.ID+"-hatch)"))
	case ground.KeepOut:
		c.void("polygon", a("class", "keep"), a("points", v.points(f.At)))
	case ground.Lamp:
		for k := range 8 {
			s, cos := math.Sincos(float64(k) * math.Pi / 4)
			c.line(x+6*s, y-6*cos, x+10*s, y-10*cos, "beam")
		}
		c.void("circle", a("class", "bulb"), a("cx", x), a("cy", y), a("r", 4.5))
	case ground.RedLamp:
		c.redLamp(x, y, d.Type)
	case ground.Power:
		c.void("rect", a("class", "socket"), a("x", x-6), a("y", y-6), a("width", 12), a("height", 12))
		c.void("path", a("class", "bolt"), a("d", fmt.Sprintf("M%s %sl-3 5h5l-3 5", num(x+1), num(y-5))))
	case ground.Cable:
		c.void("polyline", a("class", "cable-line"), a("points", v.points(f.At)))
	case ground.Gate:
		c.void("rect", a("class", "post"), a("x", x-9), a("y", y-3), a("width", 5), a("height", 6))
		c.void("rect", a("class", "post"), a("x", x+4), a("y", y-3), a("width", 5), a("height", 6))
	}
	c.end()
}

// crown is a tree from above: a wavy circle.
func crown(x, y, r float64) string {
	const lobes = 9
	d := ""
	for k := range lobes {
		s0, c0 := math.Sincos(2 * math.Pi * float64(k) / lobes)
		s1, c1 := math.Sincos(2 * math.Pi * float64(k+1) / lobes)
		if k == 0 {
			d = fmt.Sprintf("M%s %s", num(x+r*s0), num(y-r*c0))
		}
		d += fmt.Sprintf("A%s %s 0 0 1 %s %s", num(r*0.38), num(r*0.38), num(x+r*s1), num(y-r*c1))
	}
	return d + "z"
}

// redLamp is a filled diamond.
func (c *canvas) redLamp(x, y, size float64) {
	r := size * 0.36
	c.void("path", a("class", "lamp-red"), a("d", fmt.Sprintf("M%s %sl%s %sl%s %sl%s %sz", num(x), num(y-r), num(r), num(r), num(-r), num(r), num(-r), num(-r))))
}

// planLabels names what stands on the ground where there is room; heights
// stand with what hides the sky.
func (c *canvas) planLabels(d Plan, v planView, p *placer) {
	for _, f := range d.Layout.Ground.Features {
		if len(f.At) == 0 || f.Kind == ground.RedLamp || f.Kind == ground.Cable && f.Name == "" {
			continue
		}
		at := middle(f)
		words := f.Name
		switch {
		case words == "" && f.Kind == ground.Gate:
			words = d.Tags.Gate
		case words == "" && f.Kind == ground.Power:
			words = d.Tags.Power
		}
		if f.Height > 0 && f.Kind != ground.Lamp {
			high := fmt.Sprintf("%.3g %s", f.Height, d.Tags.Metres)
			if words != "" {
				words += ", "
			}
			words += high
		}
		r := 9.0
		switch f.Kind {
		case ground.Path, ground.Hedge:
			r = clampUnit(f.Width*v.scale, 4)/2 + 1
		case ground.Tree:
			r = clampUnit(f.Radius*v.scale, 5) + 2
		case ground.Building, ground.KeepOut:
			if c.planWithin(d, v, f, words) {
				continue
			}
			low, high := ground.Bounds(f.At)
			r = (high.Y - low.Y) * v.scale / 2
		}
		c.label(p, words, v.x(at), v.y(at), r, d.Type, "thing")
	}
}

// planWithin names an area in its middle, when it is wide enough.
func (c *canvas) planWithin(d Plan, v planView, f ground.Feature, words string) bool {
	low, high := ground.Bounds(f.At)
	if Width(words, d.Type, Text) > (high.X-low.X)*v.scale-4 {
		return false
	}
	at := middle(f)
	c.text("text", words, a("class", "thing"), a("x", v.x(at)), a("y", v.y(at)+d.Type*0.35), a("text-anchor", "middle"), a("font-size", d.Type))
	return true
}

// occupy takes the room of a feature, so that no name is written over it.
func (v planView) occupy(p *placer, f ground.Feature) {
	switch f.Kind {
	case ground.Building:
		low, high := ground.Bounds(f.At)
		p.take(box{v.x(low), v.y(high), v.x(high), v.y(low)})
	case ground.Path, ground.Hedge:
		r := clampUnit(f.Width*v.scale, 4) / 2
		for i := 1; i < len(f.At); i++ {
			a, b := f.At[i-1], f.At[i]
			n := math.Max(1, math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y)*v.scale/(2*r)))
			for k := 0.0; k <= n; k++ {
				at := ground.Point{X: a.X + (b.X-a.X)*k/n, Y: a.Y + (b.Y-a.Y)*k/n}
				p.take(around(v.x(at), v.y(at), r*0.9))
			}
		}
	default:
		if len(f.At) == 1 {
			r := 6.0
			if f.Kind == ground.Tree {
				r = clampUnit(f.Radius*v.scale, 5) * 0.85
			}
			p.take(around(v.x(f.At[0]), v.y(f.At[0]), r))
		}
	}
}

// middle is where a feature's name goes.
func middle(f ground.Feature) ground.Point {
	if f.Kind.Shape() == ground.Spot {
		return f.At[0]
	}
	if f.Kind.Shape() == ground.Area {
		low, high := ground.Bounds(f.At)
		return ground.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}
	}
	i := (len(f.At) - 1) / 2
	b := f.At[min(i+1, len(f.At)-1)]
	return ground.Point{X: (f.At[i].X + b.X) / 2, Y: (f.At[i].Y + b.Y) / 2}
}
