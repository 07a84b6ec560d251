package chart

import (
	"math"

	"duskboard/internal/kit"
)

// LightPath is how light goes through an instrument, drawn from its own
// dimensions in mm. Text is in Labels' stead: each part has its word here.
type LightPath struct {
	ID          string
	W, H        float64 // pt
	Design      kit.Design
	Aperture    float64           // mm
	FocalLength float64           // mm
	Tube        float64           // length of the tube, mm
	Obstruction float64           // of the secondary over the aperture
	Words       map[string]string // "light", "main mirror", "secondary", "front lens", "corrector", "eyepiece", "prisms"
	Title, Desc string
}

// shown is a word, or its key where the language has none.
func (l LightPath) word(key string) string {
	if w := l.Words[key]; w != "" {
		return w
	}
	return key
}

// side of a drawing: the tube lies along it, light comes from the left.
type tubeView struct {
	x0, y0, scale float64 // front middle of the tube; pt for a mm
}

func (v tubeView) x(mm float64) float64 { return v.x0 + mm*v.scale }
func (v tubeView) y(mm float64) float64 { return v.y0 - mm*v.scale }

// DrawLightPath draws the tube cut open along its length, to scale, with the
// two outermost rays that reach the middle of the field. Where a mirror folds
// the light, the rays fold at the place that the focal length asks for.
func DrawLightPath(l LightPath) SVG {
	var c canvas
	c.sheet(l.ID, "chart light-path", l.W, l.H, l.Title, l.Desc)
	d := max(l.Aperture, 1)
	long := l.length()
	v := tubeView{x0: 52, y0: l.H * 0.5}
	v.scale = min((l.W-52-96)/long, (l.H-56)/(d*1.6))
	switch l.Design {
	case kit.Newtonian:
		c.newtonian(l, v, long)
	case kit.SchmidtCassegrain, kit.MaksutovCassegrain, kit.OtherCassegrain:
		c.cassegrain(l, v, long)
	default:
		c.refractor(l, v, long)
	}
	c.text("text", l.word("light"), a("class", "text"), a("x", 2), a("y", l.H*0.5+small*0.35), a("font-size", small))
	return c.finish()
}

// length is that of the tube: the club's, else what the design needs.
func (l LightPath) length() float64 {
	if l.Tube > 0 {
		return l.Tube
	}
	switch l.Design {
	case kit.SchmidtCassegrain, kit.MaksutovCassegrain, kit.OtherCassegrain:
		return 2 * l.Aperture
	}
	return max(l.FocalLength, l.Aperture)
}

func (c *canvas) ray(v tubeView, points ...[2]float64) {
	d := ""
	for i, p := range points {
		op := "L"
		if i == 0 {
			op = "M"
		}
		d += op + num(v.x(p[0])) + " " + num(v.y(p[1]))
	}
	c.void("path", a("class", "ray"), a("d", d))
}

func (c *canvas) walls(v tubeView, from, to, half float64) {
	c.line(v.x(from), v.y(half), v.x(to), v.y(half), "tube")
	c.line(v.x(from), v.y(-half), v.x(to), v.y(-half), "tube")
}

func (c *canvas) say(v tubeView, text string, x, y, dy float64, anchor string) {
	c.text("text", text, a("class", "text"), a("x", v.x(x)), a("y", v.y(y)+dy), a("text-anchor", anchor), a("font-size", small))
}

// newtonian: the mirror at the end throws the light back; the flat stands so
// far before the focus that the focus lies outside the tube by a fifth of it.
func (c *canvas) newtonian(l LightPath, v tubeView, long float64) {
	d, f := l.Aperture, l.FocalLength
	half := d * 0.6
	out := half + d*0.22     // of the focus from the axis
	flat := long - (f - out) // place along the tube, from the front
	if flat < d*0.2 {
		flat = d * 0.2
		f = long - flat + out // a tube that is shorter than the focal length asks for: drawn with what fits
	}
	c.walls(v, 0, long, half)
	mirror := d / 2
	r := mirror * out / f // half the cone where the flat stands
	for _, s := range []float64{1, -1} {
		c.ray(v, [2]float64{-d * 0.25, s * mirror}, [2]float64{long, s * mirror}, [2]float64{flat + s*r, s * r}, [2]float64{flat, out})
	}
	c.glass(v, long, mirror, d*0.05)
	m := max(l.Obstruction*d/2, r)
	c.line(v.x(flat-m), v.y(-m), v.x(flat+m), v.y(m), "mirror")
	c.box(v, flat-d*0.1, half, flat+d*0.1, out+d*0.08)
	c.say(v, l.word("main mirror"), long, -half, 13, "end")
	c.say(v, l.word("secondary"), flat, -half, 13, "middle")
	c.say(v, l.word("eyepiece"), flat+d*0.16, out, 4, "start")
}

// twoMirrors is where the mirrors of a Cassegrain stand and how strongly the
// cone is narrowed where it meets the secondary, all in mm.
type twoMirrors struct {
	apart  float64 // of the two mirrors
	behind float64 // of the focus behind the main mirror
	beam   float64 // of the cone at the secondary over the aperture
	first  float64 // focal length of the main mirror alone
}

// backFocus is how far behind its main mirror a Cassegrain usually comes to a
// focus, mm, and mirrorsInTube the part of the tube between its mirrors: common
// practice of instruments with a diagonal, since clubs measure neither.
const (
	backFocus     = 150.0
	mirrorsInTube = 0.75
)

// mirrorsOf follows from the tube and the focal length, to first order: light
// that leaves the secondary with the cone of the whole instrument is
// beam x aperture wide at a distance beam x focal length from the focus; the
// main mirror alone brings it to that width after apart of its own focal
// length (two thin elements: Hecht, Optics, the combination of separated lenses).
func (l LightPath) mirrorsOf(long float64) twoMirrors {
	m := twoMirrors{apart: mirrorsInTube * long, behind: backFocus}
	f := l.FocalLength
	const widest = 0.6 // more would be no Cassegrain: then the focal length is not to be believed
	if f*widest < m.apart+m.behind {
		f = (m.apart + m.behind) / widest
	}
	m.beam = (m.apart + m.behind) / f
	m.first = m.apart / (1 - m.beam)
	return m
}

// cassegrain: the main mirror has a hole; the convex secondary stretches the
// cone so that it comes to a focus behind it.
func (c *canvas) cassegrain(l LightPath, v tubeView, long float64) {
	d := l.Aperture
	m := l.mirrorsOf(long)
	half, mirror := d*0.56, long*0.97
	at, focus := mirror-m.apart, mirror+m.behind
	cone := m.beam * d / 2
	second := max(l.Obstruction*d/2, cone)
	v.scale = min(v.scale, (l.W-52-84)/(focus+d*0.2))
	c.walls(v, 0, long, half)
	for _, s := range []float64{1, -1} {
		c.ray(v, [2]float64{-d * 0.25, s * d / 2}, [2]float64{mirror, s * d / 2}, [2]float64{at, s * cone}, [2]float64{focus, 0})
	}
	hole := max(cone*m.behind/(m.apart+m.behind)*1.6, d*0.06)
	c.line(v.x(mirror), v.y(d/2), v.x(mirror), v.y(hole), "mirror")
	c.line(v.x(mirror), v.y(-d/2), v.x(mirror), v.y(-hole), "mirror")
	c.line(v.x(at), v.y(second), v.x(at), v.y(-second), "mirror")
	if l.Design != kit.OtherCassegrain {
		c.lens(v, at-d*0.06, half, d*0.05)
		c.say(v, l.word("corrector"), 0, half, -5, "start")
	}
	c.box(v, focus-d*0.06, d*0.09, focus+d*0.2, -d*0.09)
	// In a short tube the words are longer than the glass is apart: the main
	// mirror's begins at the mirror, the secondary's ends before it.
	if short := v.x(at)+textWidth(l.word("secondary"), small) > v.x(mirror)-4; short {
		c.say(v, l.word("secondary"), mirror-4/v.scale, -half, 13, "end")
	} else {
		c.say(v, l.word("secondary"), at, -half, 13, "start")
	}
	c.say(v, l.word("main mirror"), mirror, -half, 13, "start")
	c.say(v, l.word("eyepiece"), focus+d*0.25, 0, 4, "start")
}

func (c *canvas) refractor(l LightPath, v tubeView, long float64) {
	d, f := l.Aperture, l.FocalLength
	if f <= 0 {
		f = d * 4 // binoculars seldom tell theirs: a customary f/4
	}
	long = min(long, f)
	half := d * 0.56
	c.walls(v, 0, long*0.72, half)
	c.walls(v, long*0.72, long*0.97, max(d*0.2, half*0.3))
	for _, s := range []float64{1, -1} {
		c.ray(v, [2]float64{-d * 0.25, s * d / 2}, [2]float64{0, s * d / 2}, [2]float64{long, 0})
	}
	c.lens(v, 0, d/2, d*0.09)
	c.box(v, long-d*0.05, d*0.12, long+d*0.25, -d*0.12)
	c.say(v, l.word("front lens"), 0, half, -5, "start")
	c.say(v, l.word("eyepiece"), long+d*0.3, 0, 4, "start")
	if l.Design == kit.Binoculars {
		c.say(v, l.word("prisms"), long*0.8, -half, 13, "middle")
		c.box(v, long*0.72, d*0.24, long*0.9, -d*0.24)
	}
}

// glass is a mirror seen edge on, hollow towards the front.
func (c *canvas) glass(v tubeView, x, half, thick float64) {
	c.void("path", a("class", "mirror-body"), a("d", "M"+num(v.x(x))+" "+num(v.y(half))+"Q"+num(v.x(x+thick*0.6))+" "+num(v.y(0))+" "+num(v.x(x))+" "+num(v.y(-half))+
		"L"+num(v.x(x+thick*1.6))+" "+num(v.y(-half))+"L"+num(v.x(x+thick*1.6))+" "+num(v.y(half))+"Z"))
}

func (c *canvas) lens(v tubeView, x, half, thick float64) {
	c.void("path", a("class", "lens"), a("d", "M"+num(v.x(x))+" "+num(v.y(half))+"Q"+num(v.x(x-thick))+" "+num(v.y(0))+" "+num(v.x(x))+" "+num(v.y(-half))+
		"Q"+num(v.x(x+thick))+" "+num(v.y(0))+" "+num(v.x(x))+" "+num(v.y(half))+"Z"))
}

func (c *canvas) box(v tubeView, x1, y1, x2, y2 float64) {
	c.void("rect", a("class", "housing"), a("x", v.x(min(x1, x2))), a("y", min(v.y(y1), v.y(y2))), a("width", math.Abs(x2-x1)*v.scale), a("height", math.Abs(y2-y1)*v.scale))
}
