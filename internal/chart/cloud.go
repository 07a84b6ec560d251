package chart

import (
	"math"
	"strings"

	"duskboard/internal/catalog"
)

// How a soft object's dots lie: evenly, or drawn to the middle, as an engraver
// would dot it. Where the catalogue's stars show a cluster themselves, only its
// edge is drawn.
var grain = map[catalog.Kind]float64{
	catalog.KindGlobular: 0.95, catalog.KindGalaxy: 0.85, catalog.KindNebula: 0.6, catalog.KindRemnant: 0.55, catalog.KindCloud: 0.55, catalog.KindComet: 1.1,
}

// drawCloud draws an extended object to its size: its edge, and dots inside.
func (c *canvas) drawCloud(d disc, s Subject, p *placer) {
	ra, rb := s.Major/120*d.scale, s.Minor/120*d.scale
	rb = max(rb, min(ra, 1.2))
	if ra < 1.6 {
		ra, rb = 1.6, 1.6
	}
	angle := 0.0
	if !math.IsNaN(s.Angle) {
		angle = d.o.PositionAngle(s.Angle)
	} else if s.Minor < s.Major {
		// An oval whose direction nobody noted is not given one.
		rb = math.Sqrt(ra * rb)
		ra = rb
	}
	sin, cos := math.Sincos(angle * degree)
	at := func(u, v float64) (float64, float64) { // u along the major axis
		return d.cx + ra*u*sin + rb*v*cos, d.cy - ra*u*cos + rb*v*sin
	}
	edge := "edge"
	if s.Kind == catalog.KindOpen || s.Kind == catalog.KindAsterism || s.Kind == catalog.KindDark || s.Kind == catalog.KindOther {
		edge = "edge loose"
	}
	c.void("path", a("class", edge), a("d", oval(at)))
	if power, ok := grain[s.Kind]; ok {
		c.void("path", a("class", "grain"), a("d", dots(at, ra*rb, power, 0)))
	}
	if s.Kind == catalog.KindPlanetary {
		c.void("path", a("class", "grain"), a("d", dots(at, ra*rb, 0.5, 0.45)))
	}
	if p != nil && max(ra, rb) < 20 {
		p.take(around(d.cx, d.cy, max(ra, rb)*0.8))
	}
}

func oval(at func(u, v float64) (float64, float64)) string {
	var b strings.Builder
	const steps = 48
	for i := range steps {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / steps)
		x, y := at(cos, sin)
		if i == 0 {
			b.WriteByte('M')
		} else {
			b.WriteByte('L')
		}
		b.WriteString(num(x) + " " + num(y))
	}
	return b.String() + "Z"
}

// dots spreads dots over a disc by the golden angle, so that they lie evenly
// without a pattern: radius from hole to 1, drawn to the middle by power over
// one half. area is the product of the half axes in pt.
func dots(at func(u, v float64) (float64, float64), area, power, hole float64) string {
	n := int(min(max(area/3.2, 10), 150))
	var b strings.Builder
	for i := range n {
		f := (float64(i) + 0.5) / float64(n)
		r := hole + (1-hole)*math.Pow(f, power)
		sin, cos := math.Sincos(float64(i) * 2.399963)
		x, y := at(r*0.94*cos, r*0.94*sin)
		b.WriteString("M" + num(x) + " " + num(y) + "h0")
	}
	return b.String()
}
