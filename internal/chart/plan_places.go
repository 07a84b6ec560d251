package chart

import (
	"fmt"
	"math"
	"strconv"

	"duskboard/internal/ground"
)

// leastGrip is what a cold thumb can hit, drawing units.
const leastGrip = 20.0

// planPlaces draws every instrument with its circle, line, ladder and cable.
func (c *canvas) planPlaces(d Plan, v planView, p *placer) {
	type laid struct {
		s ground.Stand
		p ground.Place
		f ground.Footprint
	}
	var all []laid
	for _, s := range d.Layout.Stands {
		for _, x := range d.Places {
			if x.InstrumentID == s.ID {
				all = append(all, laid{s, x, d.Layout.Footprint(s, x)})
			}
		}
	}
	for _, x := range all {
		if x.f.HasCable {
			c.void("polyline", a("class", "cable-line"), a("data-cable", strconv.FormatInt(x.s.ID, 10)), a("points", v.points([]ground.Point{x.f.CableFrom, x.p.At})))
		}
	}
	for _, x := range all {
		p.take(around(v.x(x.p.At), v.y(x.p.At), clampUnit(x.f.Radius*v.scale, d.Type*0.75)))
		for t := 0.0; t <= 1; t += 0.25 {
			q := ground.Point{X: x.f.QueueFrom.X + t*(x.f.QueueTo.X-x.f.QueueFrom.X), Y: x.f.QueueFrom.Y + t*(x.f.QueueTo.Y-x.f.QueueFrom.Y)}
			p.take(around(v.x(q), v.y(q), 3))
		}
	}
	// The selected one is drawn last, so that nothing lies over it.
	for _, last := range []bool{false, true} {
		for _, x := range all {
			if (x.s.ID == d.Selected) == last {
				c.planPlace(d, v, x.s, x.p, x.f)
			}
		}
	}
	for _, x := range all {
		name := x.s.Name
		if l := d.Labels[x.s.ID]; l != "" {
			name += ", " + l
		}
		c.label(p, name, v.x(x.p.At), v.y(x.p.At), clampUnit(x.f.Radius*v.scale, d.Type*0.75)+1, d.Type, "strong")
	}
}

func (c *canvas) planPlace(d Plan, v planView, s ground.Stand, p ground.Place, f ground.Footprint) {
	x, y := v.x(p.At), v.y(p.At)
	class := "place"
	if p.Pinned {
		class += " pinned"
	}
	if d.Faulty[s.ID] {
		class += " faulty"
	}
	attrs := []attr{a("class", class)}
	if !d.Paper {
		words := fmt.Sprintf("Place %d, %s: %s, line toward %.0f degrees", p.Number, s.Name, metresWords(p.At), p.Queue)
		attrs = append(attrs, a("tabindex", "0"), a("role", "button"), a("aria-label", words), a("data-key", strconv.FormatInt(s.ID, 10)),
			a("data-x", strconv.FormatFloat(p.At.X, 'f', 3, 64)), a("data-y", strconv.FormatFloat(p.At.Y, 'f', 3, 64)), a("data-queue", strconv.FormatFloat(p.Queue, 'f', 2, 64)))
		if s.ID == d.Selected {
			attrs = append(attrs, a("aria-current", "true"))
		}
	}
	c.open("g", attrs...)
	c.void("circle", a("class", "room"), a("cx", x), a("cy", y), a("r", f.Room*v.scale))
	c.planLine(v, p, f)
	if f.HasLadder {
		c.planLadder(v, f, p.Queue)
	}
	r := clampUnit(f.Radius*v.scale, 3)
	c.void("circle", a("class", "legs"), a("cx", x), a("cy", y), a("r", r))
	if p.Pinned {
		c.void("circle", a("class", "pin"), a("cx", x), a("cy", y), a("r", r+3))
	}
	if d.Faulty[s.ID] {
		c.void("circle", a("class", "wrong"), a("cx", x), a("cy", y), a("r", math.Max(f.Room*v.scale, r+6)))
	}
	c.text("text", strconv.Itoa(p.Number), a("class", "strong number"), a("x", x), a("y", y+d.Type*0.36), a("text-anchor", "middle"), a("font-size", d.Type*1.1))
	if !d.Paper {
		c.void("circle", a("class", "grip"), a("cx", x), a("cy", y), a("r", math.Max(f.Room*v.scale, leastGrip)))
		c.void("circle", a("class", "turn-grip"), a("data-turn", "1"), a("cx", v.x(f.QueueTo)), a("cy", v.y(f.QueueTo)), a("r", leastGrip*0.7))
	}
	c.end()
}

// planLine draws the queue: a guest every step, an arrow at its end where the
// next one stands.
func (c *canvas) planLine(v planView, p ground.Place, f ground.Footprint) {
	long := math.Hypot(f.QueueTo.X-f.QueueFrom.X, f.QueueTo.Y-f.QueueFrom.Y)
	const each = 0.8
	n := int(math.Round(long / each))
	c.line(v.x(f.QueueFrom), v.y(f.QueueFrom), v.x(f.QueueTo), v.y(f.QueueTo), "queue")
	for k := range n {
		t := (float64(k) + 0.5) / float64(n)
		at := ground.Point{X: f.QueueFrom.X + t*(f.QueueTo.X-f.QueueFrom.X), Y: f.QueueFrom.Y + t*(f.QueueTo.Y-f.QueueFrom.Y)}
		c.void("circle", a("class", "guest"), a("cx", v.x(at)), a("cy", v.y(at)), a("r", clampUnit(0.24*v.scale, 1.6)))
	}
	sin, cos := math.Sincos(p.Queue * math.Pi / 180)
	x, y := v.x(f.QueueTo), v.y(f.QueueTo)
	c.void("path", a("class", "queue-end"), a("d", fmt.Sprintf("M%s %sL%s %sL%s %s",
		num(x-4*cos-5*sin), num(y-4*sin+5*cos), num(x), num(y), num(x+4*cos-5*sin), num(y+4*sin+5*cos))))
}

// planLadder draws rails and rungs at the foot of the ladder.
func (c *canvas) planLadder(v planView, f ground.Footprint, queue float64) {
	x, y := v.x(f.LadderAt), v.y(f.LadderAt)
	w, h := clampUnit(0.5*v.scale, 6), clampUnit(0.9*v.scale, 10)
	c.open("g", a("class", "steps"), a("transform", fmt.Sprintf("rotate(%s %s %s)", num(queue+45), num(x), num(y))))
	c.void("rect", a("class", "rails"), a("x", x-w/2), a("y", y-h/2), a("width", w), a("height", h))
	for _, t := range []float64{-0.25, 0, 0.25} {
		c.line(x-w/2, y+t*h, x+w/2, y+t*h, "rails")
	}
	c.end()
}
