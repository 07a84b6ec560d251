package chart

import "math"

// box is a rectangle that is taken, or wanted, by something on a drawing.
type box struct{ x1, y1, x2, y2 float64 }

func (b box) hits(o box) bool { return b.x1 < o.x2 && o.x1 < b.x2 && b.y1 < o.y2 && o.y1 < b.y2 }

func (b box) inside(o box) bool {
	return b.x1 >= o.x1 && b.y1 >= o.y1 && b.x2 <= o.x2 && b.y2 <= o.y2
}

func around(x, y, r float64) box { return box{x - r, y - r, x + r, y + r} }

// placer finds room for labels: each in turn takes the first of a ring of
// places around its point that nothing else has; without one it is left out.
// The most important labels must therefore be asked for first.
type placer struct {
	bounds box
	taken  []box
	within func(box) bool // further condition, such as a round field; nil for none
}

func (p *placer) take(b box) { p.taken = append(p.taken, b) }

func (p *placer) free(b box) bool {
	if !b.inside(p.bounds) || p.within != nil && !p.within(b) {
		return false
	}
	for _, t := range p.taken {
		if t.hits(b) {
			return false
		}
	}
	return true
}

// find returns the left end of the base line for a label of width w beside a
// point with radius r, and takes the room. ok is false when there is none.
func (p *placer) find(x, y, r, w, size float64) (lx, ly float64, ok bool) {
	const gap = 2.0
	for _, far := range []float64{0, 6, 13} {
		d := r + gap + far
		s := d * math.Sqrt2 / 2
		for _, c := range [][2]float64{ // left end and base line
			{x + d, y + size*0.35}, {x - d - w, y + size*0.35},
			{x - w/2, y - d}, {x - w/2, y + d + size*0.75},
			{x + s, y - s}, {x - s - w, y - s}, {x + s, y + s + size*0.75}, {x - s - w, y + s + size*0.75},
		} {
			b := box{c[0] - 1, c[1] - size*0.78, c[0] + w + 1, c[1] + size*0.24}
			if p.free(b) {
				p.take(b)
				return c[0], c[1], true
			}
		}
	}
	return 0, 0, false
}

// label draws a text where there is room for it.
func (c *canvas) label(p *placer, text string, x, y, r, size float64, class string) bool {
	if text == "" {
		return false
	}
	f := Text
	if class == "strong" {
		f = Bold
	}
	lx, ly, ok := p.find(x, y, r, Width(text, size, f), size)
	if ok {
		c.text("text", text, a("class", class), a("x", lx), a("y", ly), a("font-size", size))
	}
	return ok
}
