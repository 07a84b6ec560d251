package chart

import (
	"fmt"
	"math"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// EyepieceOf computes the view on a target at an instant, without its size on
// paper and its labels.
func EyepieceOf(n *sky.Night, t catalog.Target, at time.Time, tr *optics.Train) Eyepiece {
	p := n.At(catalog.ObjectOf(t), at)
	v := Eyepiece{Middle: Point{p.RA, p.Dec}, Field: tr.Static().TrueField, Tracked: tr.Instrument.Tracking, Faintest: 8.2, Subject: SubjectOf(n, t, at)}
	v.Orientation = tr.Orientation(sky.ParallacticAngle(n.Place.Lat, p.Dec, p.HourAngle))
	if v.Field > 0 {
		v.Stars = starsAround(n, v.Middle, v.Field*0.52+0.02, 8.2, 80, at)
	}
	if s := v.Subject; s.Pair != nil && s.Pair.Separation/3600 < v.Field/14 {
		v.Inset = s.Pair.Separation / 3600 * 3.6
	}
	return v
}

// Labels are the few words that stand on a drawing, in the card's language.
type Labels struct {
	North, East string            // letters at the rim
	Compass     [8]string         // letters on the horizon, from north through east
	Title, Desc string            // for screen readers
	Moons       map[string]string // names of moons and planets, where they differ
}

// letter sizes on charts of a card, pt: none is smaller than the card allows.
const (
	small = 10.0
	rim   = 12.0 // room around a field for the letters at its rim
)

// Eyepiece is the view in a train at one moment. Places are of date.
type Eyepiece struct {
	ID          string
	W, H        float64 // pt
	Middle      Point
	Field       float64 // true field, degrees
	Orientation optics.Orientation
	Tracked     bool // the mount follows: no drift to speak of
	Stars       []Star
	Faintest    float64 // magnitude down to which stars are given
	Subject     Subject
	Inset       float64 // true field of a magnified inset in the corner, degrees; 0 for none
	Labels      Labels
}

// DrawEyepiece draws the view: the rim of the true field, stars, the subject
// to its size, north and east at the rim and an arrow to where a star leaves
// the field when nothing follows it.
func DrawEyepiece(v Eyepiece) SVG {
	var c canvas
	c.sheet(v.ID, "chart eyepiece", v.W, v.H, v.Labels.Title, v.Labels.Desc)
	r := min(v.W, v.H)/2 - rim
	d := disc{middle: v.Middle, o: v.Orientation, cx: v.W / 2, cy: v.H / 2, scale: r / (v.Field / 2)}
	p := &placer{bounds: box{0, 0, v.W, v.H}, within: func(b box) bool { return inCircle(b, d.cx, d.cy, r-2) }}

	c.clip(v.ID+"-c", d.cx, d.cy, r)
	c.open("g", a("clip-path", "url(#"+v.ID+"-c)"))
	c.drawSubject(d, v.Subject, p)
	named := c.drawStars(d, v.Stars, v.Faintest, r, v.Subject, p)
	c.end()
	c.void("circle", a("class", "rim"), a("cx", d.cx), a("cy", d.cy), a("r", r))
	c.rimLetters(d, r, v.Labels)
	c.drift(d, r, p)
	if v.Inset > 0 {
		c.inset(d, r, v)
	}
	for _, s := range named {
		c.label(p, s.name, s.x, s.y, s.r, small, "text")
	}
	return c.finish()
}

// sheet opens a drawing at its natural size in points.
func (c *canvas) sheet(id, class string, w, h float64, title, desc string) {
	c.open("svg", a("xmlns", "http://www.w3.org/2000/svg"), a("class", class), a("width", num(w)+"pt"), a("height", num(h)+"pt"), a("viewBox", fmt.Sprintf("0 0 %s %s", num(w), num(h))),
		a("role", "img"), a("aria-labelledby", id+"-t "+id+"-d"))
	c.text("title", title, a("id", id+"-t"))
	c.text("desc", desc, a("id", id+"-d"))
}

func (c *canvas) clip(id string, cx, cy, r float64) {
	c.open("clipPath", a("id", id))
	c.void("circle", a("cx", cx), a("cy", cy), a("r", r))
	c.end()
}

func inCircle(b box, cx, cy, r float64) bool {
	dx, dy := math.Max(math.Abs(b.x1-cx), math.Abs(b.x2-cx)), math.Max(math.Abs(b.y1-cy), math.Abs(b.y2-cy))
	return math.Hypot(dx, dy) <= r
}

// drawStars draws the stars in a round field and returns those with a name.
// What the subject itself shows is not drawn twice.
func (c *canvas) drawStars(d disc, stars []Star, faintest, r float64, s Subject, p *placer) (named []spotlight) {
	for _, st := range stars {
		x, y, ok := d.at(st.Point)
		rd := dot(st.Mag, faintest)
		if !ok || math.Hypot(x-d.cx, y-d.cy) > r+rd || s.covers(d, x, y) {
			continue
		}
		c.gather(x, y, rd)
		p.take(around(x, y, rd+0.5))
		if st.Name != "" && math.Hypot(x-d.cx, y-d.cy) < r {
			named = append(named, spotlight{x, y, rd, st.Name})
		}
	}
	c.scatter()
	return named
}

// covers reports whether a star of the catalogue is the subject itself.
func (s Subject) covers(d disc, x, y float64) bool {
	const touch = 2.0
	away := math.Hypot(x-d.cx, y-d.cy)
	switch {
	case s.Pair != nil:
		return away < touch+s.Pair.Separation/3600*d.scale
	case s.Disc != nil:
		return away < touch+s.Disc.Diameter/120*d.scale
	case s.Kind == catalog.KindCarbon || s.Kind == catalog.KindVariable || s.Kind == catalog.KindStar:
		return away < touch
	}
	return false
}

// rimLetters marks north and east outside the rim.
func (c *canvas) rimLetters(d disc, r float64, l Labels) {
	for _, m := range []struct {
		angle float64
		word  string
	}{{d.o.North, l.North}, {d.o.East, l.East}} {
		x1, y1 := d.ray(m.angle, r)
		x2, y2 := d.ray(m.angle, r+3)
		c.line(x1, y1, x2, y2, "tick")
		x, y := d.ray(m.angle, r+7.5)
		c.text("text", m.word, a("class", "strong"), a("x", x), a("y", y+small*0.35), a("text-anchor", "middle"), a("font-size", small))
	}
}

// drift draws the arrow at the rim by which a star leaves the field.
func (c *canvas) drift(d disc, r float64, p *placer) {
	from, to := r*0.62, r-2.5
	x1, y1 := d.ray(d.o.Drift, from)
	x2, y2 := d.ray(d.o.Drift, to)
	x3, y3 := d.ray(d.o.Drift-7, to-6)
	x4, y4 := d.ray(d.o.Drift+7, to-6)
	c.void("path", a("class", "drift"), a("d", fmt.Sprintf("M%s %sL%s %sM%s %sL%s %sL%s %s", num(x1), num(y1), num(x2), num(y2), num(x3), num(y3), num(x2), num(y2), num(x4), num(y4))))
	p.take(box{min(x1, x2, x3, x4) - 1, min(y1, y2, y3, y4) - 1, max(x1, x2, x3, x4) + 1, max(y1, y2, y3, y4) + 1})
}

// inset draws the subject magnified in the corner that is farthest from the
// letters and the arrow: a close pair cannot be told apart at the scale of a
// field.
func (c *canvas) inset(d disc, r float64, v Eyepiece) {
	best, room := 0.0, -1.0
	for _, corner := range []float64{135, 225, 45, 315} {
		away := 360.0
		for _, a := range []float64{d.o.North, d.o.East} {
			away = min(away, math.Abs(math.Remainder(corner-a, 360)))
		}
		if away > room+1 {
			best, room = corner, away
		}
	}
	diagonal := math.Sqrt2 * d.cx
	ri := (diagonal - r - 2) / (1 + math.Sqrt2)
	in := disc{middle: v.Middle, o: v.Orientation, scale: ri / (v.Inset / 2)}
	in.cx, in.cy = d.ray(best, r+2+ri)
	c.void("circle", a("class", "rim inset"), a("cx", in.cx), a("cy", in.cy), a("r", ri))
	c.drawSubject(in, v.Subject, nil)
}

// drawSubject draws the subject to its size around the middle.
func (c *canvas) drawSubject(d disc, s Subject, p *placer) {
	switch {
	case s.Disc != nil:
		c.drawDisc(d, s.Disc, p)
	case s.Pair != nil:
		c.drawPair(d, s.Pair, p)
	case s.Major > 0:
		c.drawCloud(d, s, p)
	default:
		c.dot(d.cx, d.cy, 2.6)
		if p != nil {
			p.take(around(d.cx, d.cy, 3))
		}
	}
}

// drawPair puts the brighter star in the middle. Dots shrink until the two
// stand apart where the scale allows it at all.
func (c *canvas) drawPair(d disc, s *Pair, p *placer) {
	sin, cos := math.Sincos(d.o.PositionAngle(s.Angle) * degree)
	away := s.Separation / 3600 * d.scale
	ra := min(max(2.6-0.25*(s.MagA-3), 1.1), 3.4)
	rb := min(max(ra-0.3*(s.MagB-s.MagA), 0.6), ra)
	if away > 2.2 && ra+rb > away-0.8 {
		f := (away - 0.8) / (ra + rb)
		ra, rb = ra*f, rb*f
	}
	c.dot(d.cx, d.cy, ra)
	c.void("circle", a("class", "star second"), a("cx", d.cx+away*sin), a("cy", d.cy-away*cos), a("r", rb))
	if p != nil {
		p.take(around(d.cx, d.cy, ra+1))
		p.take(around(d.cx+away*sin, d.cy-away*cos, rb+1))
	}
}
