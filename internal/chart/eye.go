package chart

import (
	"fmt"
	"math"
	"strings"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

// Eye is the sky as it stands before somebody who faces the target: the
// ground with the site's outline, the figures, the bright stars, and the way
// up from the ground in fists. Points are azimuth and apparent altitude.
type Eye struct {
	ID      string
	W, H    float64 // pt
	Target  Point
	Name    string
	Dim     bool // the target itself is not seen with the naked eye
	Horizon sky.Horizon
	Stars   []Star // to the naked eye, brightest first
	Lines   [][]Point
	Names   []Star // where the names of constellations would stand
	Bodies  []Star // Moon and planets
	Labels  Labels
}

// eyeFaintest is the faintest star drawn: what shows above a town.
const eyeFaintest = 4.6

// EyeOf computes the chart toward a target at an instant.
func EyeOf(n *sky.Night, t catalog.Target, at time.Time, horizon sky.Horizon, nameOf func(constellation string) string) Eye {
	p := n.At(catalog.ObjectOf(t), at)
	e := Eye{Target: Point{p.Az, p.AltRefracted}, Name: t.Name, Dim: t.Reach != catalog.ReachEye, Horizon: horizon}
	h := horizonOf(n, at)
	for _, r := range catalog.Stars() {
		if r.Mag > eyeFaintest {
			break
		}
		if q := h.see(r.RA, r.Dec); q.Lat > -3 {
			e.Stars = append(e.Stars, Star{Point: q, Mag: r.Mag, Name: r.Name})
		}
	}
	for _, figure := range catalog.Lines() {
		x, y, z, count := 0.0, 0.0, 0.0, 0.0
		for _, line := range figure.Lines {
			var points []Point
			for _, v := range line {
				q := h.see(v[0], v[1])
				points = append(points, q)
				ux, uy, uz := unit(q)
				x, y, z, count = x+ux, y+uy, z+uz, count+1
			}
			e.Lines = append(e.Lines, points)
		}
		if count > 0 {
			l := math.Sqrt(x*x + y*y + z*z)
			e.Names = append(e.Names, Star{Point: Point{math.Mod(math.Atan2(y, x)/degree+360, 360), math.Asin(z/l) / degree}, Name: nameOf(figure.ID)})
		}
	}
	for _, b := range []sky.Body{sky.Moon, sky.Venus, sky.Jupiter, sky.Mars, sky.Saturn} {
		q := n.At(b, at)
		if q.AltRefracted > 0 && !(t.Moves && t.Body == b) {
			e.Bodies = append(e.Bodies, Star{Point: Point{q.Az, q.AltRefracted}, Mag: -2, Name: b.String()})
		}
	}
	return e
}

// turnedSky turns J2000 places to azimuth and altitude at one instant. Three
// directions carry the whole turn; aberration, a third of an arcminute, is
// left out.
type turnedSky struct{ x, y, z [3]float64 }

func horizonOf(n *sky.Night, at time.Time) turnedSky {
	see := func(ra, dec float64) [3]float64 {
		p := n.At(sky.Star{RA: ra, Dec: dec}, at)
		x, y, z := unit(Point{p.Az, p.Alt})
		return [3]float64{x, y, z}
	}
	return turnedSky{see(0, 0), see(90, 0), see(0, 90)}
}

func (h turnedSky) see(ra, dec float64) Point {
	x, y, z := unit(Point{ra, dec})
	v := [3]float64{}
	for i := range v {
		v[i] = x*h.x[i] + y*h.y[i] + z*h.z[i]
	}
	l := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	alt := math.Asin(min(max(v[2]/l, -1), 1)) / degree
	return Point{math.Mod(math.Atan2(v[1], v[0])/degree+360, 360), alt + sky.Refraction(alt)}
}

// scene maps azimuth and altitude to the drawing by stereographic projection,
// which keeps the figures' shapes, with the target's vertical upright.
type scene struct {
	az, alt float64 // of the middle
	cx, cy  float64
	scale   float64 // pt for a radian at the middle
}

func (e Eye) scene(ground float64) scene {
	top := min(max(e.Target.Lat+14, 42), 104)
	// Half the height in the projection's unit, 2 tan(angle/2).
	span := top / 2
	s := scene{az: e.Target.Lon, alt: span, cx: e.W / 2, cy: (e.H - ground) / 2}
	s.scale = (e.H - ground) / 2 / (2 * math.Tan(span/2*degree))
	return s
}

func (s scene) at(p Point) (x, y float64, ok bool) {
	sa, ca := math.Sincos(p.Lat * degree)
	s0, c0 := math.Sincos(s.alt * degree)
	sz, cz := math.Sincos((p.Lon - s.az) * degree)
	front := s0*sa + c0*ca*cz
	if front < -0.3 {
		return 0, 0, false
	}
	k := 2 / (1 + front)
	return s.cx + s.scale*k*ca*sz, s.cy - s.scale*k*(c0*sa-s0*ca*cz), true
}

// groundRoom is the strip under the level horizon for the compass letters, pt.
const groundRoom = 16.0

// DrawEye draws the chart.
func DrawEye(e Eye) SVG {
	var c canvas
	c.sheet(e.ID, "chart eye", e.W, e.H, e.Labels.Title, e.Labels.Desc)
	s := e.scene(groundRoom)
	p := &placer{bounds: box{0, 0, e.W, e.H - groundRoom}}
	tx, ty, _ := s.at(e.Target)
	c.open("clipPath", a("id", e.ID+"-c"))
	c.void("rect", a("x", 0), a("y", 0), a("width", e.W), a("height", e.H))
	c.end()
	c.open("g", a("clip-path", "url(#"+e.ID+"-c)"))
	c.figures(s, e, p.bounds)
	named := c.eyeStars(s, e, p)
	c.ladder(s, e, p)
	c.ground(s, e, p)
	c.end()
	p.take(around(tx, ty, 8))
	if e.Dim {
		c.void("circle", a("class", "rim"), a("cx", tx), a("cy", ty), a("r", 3))
	} else {
		c.dot(tx, ty, 2.6)
	}
	c.aim(tx, ty)
	c.compass(s, e)
	c.label(p, e.Name, tx, ty, 6, small, "strong")
	for i, b := range named {
		if i == mostNames {
			break
		}
		c.label(p, b.name, b.x, b.y, b.r, small, "text")
	}
	for _, n := range e.Names {
		if x, y, ok := s.at(n.Point); ok && around(x, y, 1).inside(p.bounds) {
			c.label(p, n.Name, x-Width(n.Name, small, Text)/2, y, 0, small, "text figure-name")
		}
	}
	c.void("rect", a("class", "frame"), a("x", 1), a("y", 1), a("width", e.W-2), a("height", e.H-2))
	return c.finish()
}

// mostNames is how many stars and planets are named at most.
const mostNames = 6

func (c *canvas) figures(s scene, e Eye, bounds box) {
	var d strings.Builder
	for _, line := range e.Lines {
		pen := false
		for i := 1; i < len(line); i++ {
			x1, y1, ok1 := s.at(line[i-1])
			x2, y2, ok2 := s.at(line[i])
			b := box{min(x1, x2), min(y1, y2), max(x1, x2) + 0.1, max(y1, y2) + 0.1}
			if !ok1 || !ok2 || !b.hits(bounds) {
				pen = false
				continue
			}
			if !pen {
				d.WriteString("M" + num1(x1) + " " + num1(y1))
			}
			d.WriteString("L" + num1(x2) + " " + num1(y2))
			pen = true
		}
	}
	if d.Len() > 0 {
		c.void("path", a("class", "figure"), a("d", d.String()))
	}
}

// eyeStars draws stars and bodies and returns those to name: bodies first,
// then the bright stars with a name.
func (c *canvas) eyeStars(s scene, e Eye, p *placer) (named []spotlight) {
	for _, b := range e.Bodies {
		if x, y, ok := s.at(b.Point); ok && around(x, y, 3).inside(p.bounds) {
			c.void("circle", a("class", "wanderer"), a("cx", x), a("cy", y), a("r", 3))
			p.take(around(x, y, 3))
			name := b.Name
			if w := e.Labels.Moons[name]; w != "" {
				name = w
			}
			named = append(named, spotlight{x, y, 3, name})
		}
	}
	// The higher the target, the more sky on the same paper: fewer stars then.
	faintest := eyeFaintest - 0.028*(2*s.alt-42)
	for _, st := range e.Stars {
		x, y, ok := s.at(st.Point)
		r := dot(st.Mag, faintest) * 0.85
		if st.Mag > faintest || !ok || !around(x, y, r).inside(p.bounds) {
			continue
		}
		c.gather(x, y, r)
		if st.Mag < 3 {
			p.take(around(x, y, r)) // a name may lie over the faint ones
		}
		if st.Name != "" && st.Mag < 2.4 {
			named = append(named, spotlight{x, y, r, st.Name})
		}
	}
	c.scatter()
	return named
}

// ladder is the altitude scale: the target's vertical with a rung for each
// fist of ten degrees, numbered every thirty.
func (c *canvas) ladder(s scene, e Eye, p *placer) {
	x1, y1, _ := s.at(Point{e.Target.Lon, 0})
	top := e.Target.Lat - 2
	x2, y2, _ := s.at(Point{e.Target.Lon, max(top, 0)})
	c.line(x1, y1, x2, y2, "ladder")
	for alt := 10.0; alt < e.Target.Lat-1; alt += 10 {
		x, y, _ := s.at(Point{e.Target.Lon, alt})
		half := 3.0
		if math.Mod(alt, 30) == 0 {
			half = 5
			c.label(p, fmt.Sprintf("%.0f°", alt), x, y, 5, small, "text")
		}
		c.line(x-half, y, x+half, y, "rung")
	}
	for y := y2; y < y1; y += 6 {
		p.take(around(x1, y, 2))
	}
}

// ground fills what stands before the sky: the site's outline, or a line for
// a level horizon.
func (c *canvas) ground(s scene, e Eye, p *placer) {
	var d strings.Builder
	op := "M"
	for az := -150.0; az <= 150; az++ {
		alt := 0.0
		if len(e.Horizon) > 0 {
			alt = max(e.Horizon.AltAt(math.Mod(e.Target.Lon+az+360, 360)), 0)
		}
		x, y, ok := s.at(Point{e.Target.Lon + az, alt})
		if !ok || x < -20 || x > e.W+20 {
			continue
		}
		d.WriteString(op + num1(x) + " " + num1(y))
		op = "L"
		p.take(box{x - 2, y - 2, x + 2, e.H})
	}
	var foot strings.Builder // the lower edge, which also cuts off what has set
	op = "M"
	for az := 150.0; az >= -150; az -= 2 {
		x, y, ok := s.at(Point{e.Target.Lon + az, -0.6})
		if !ok || x < -20 || x > e.W+20 {
			continue
		}
		d.WriteString("L" + num1(x) + " " + num1(y))
		foot.WriteString(op + num1(x) + " " + num1(y))
		op = "L"
	}
	if d.Len() == 0 {
		return
	}
	c.void("path", a("class", "lit"), a("d", foot.String()+"L-30 "+num(e.H+30)+"L"+num(e.W+30)+" "+num(e.H+30)+"Z"))
	c.void("path", a("class", "ground"), a("d", d.String()+"Z"))
}

// compass writes the eight directions under the ground, the one faced first.
func (c *canvas) compass(s scene, e Eye) {
	p := &placer{bounds: box{1, 0, e.W - 1, e.H}}
	for _, off := range []float64{0, -45, 45, -90, 90, -135, 135} {
		i := int(math.Round((e.Target.Lon+off)/45)+16) % 8
		az := float64(i) * 45
		x, _, ok := s.at(Point{az, 0})
		if !ok {
			continue
		}
		w := Width(e.Labels.Compass[i], small, Bold)
		b := box{x - w/2 - 3, e.H - groundRoom, x + w/2 + 3, e.H - 1}
		if !p.free(b) {
			continue
		}
		p.take(b)
		c.text("text", e.Labels.Compass[i], a("class", "strong"), a("x", x), a("y", e.H-4), a("text-anchor", "middle"), a("font-size", small))
	}
}
