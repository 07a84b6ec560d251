package chart

import (
	"math"

	"duskboard/internal/optics"
)

// moonWidth is the full Moon's usual width, degrees.
const moonWidth = 0.52

// DrawSize draws a subject beside the full Moon's width, a ring: north up,
// as the naked eye would see it if it were bright enough. Planets and close
// pairs, points at that scale, are drawn magnified and without the ring.
func DrawSize(id string, s Subject, size float64, title, desc string) SVG {
	var c canvas
	c.sheet(id, "chart size", size, size, title, desc)
	d := disc{o: optics.NakedEye.Orientation(0), cx: size / 2, cy: size / 2}
	r := size/2 - 1
	switch {
	case s.Pair != nil:
		d.scale = r / (s.Pair.Separation / 3600 * 1.6)
	case s.Disc != nil && s.Disc.Globe == nil:
		bare := *s.Disc
		bare.Moons = nil
		s.Disc = &bare
		d.scale = fitScale(d, s.Disc, 0, size+20, size+20)
	default:
		d.scale = size * 0.9 / max(moonWidth, min(s.Major/60, moonWidth*2))
		if s.Disc == nil {
			c.void("circle", a("class", "rim between"), a("cx", d.cx), a("cy", d.cy), a("r", min(moonWidth/2*d.scale, r)))
		}
	}
	c.clip(id+"-c", d.cx, d.cy, math.Hypot(size, size)/2)
	c.open("g", a("clip-path", "url(#"+id+"-c)"))
	c.drawSubject(d, s, nil)
	c.end()
	return c.finish()
}
