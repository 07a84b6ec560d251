package chart

import (
	"math"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// Finder is the way from a bright star to the target as a finder shows it:
// turned and mirrored like the finder, its own field drawn as a ring at the
// start, at the target and as often between as it must be moved.
type Finder struct {
	ID          string
	W, H        float64 // pt
	Target      Point   // of date
	Name        string
	Start       *Star   // nil: the target is bright enough to point at itself
	Field       float64 // of the finder, degrees; 0 for a sight without magnification
	Orientation optics.Orientation
	Stars       []Star
	Faintest    float64
	Labels      Labels
}

// mostHop is the longest way that a finder chart shows, degrees.
const mostHop = 22

// StartStar finds the star from which to hop: bright, with a name, near; one
// magnitude weighs as much as two degrees, as in the words of the catalogue.
// It must stand above minAlt degrees. ok is false when none is near enough.
func StartStar(n *sky.Night, t catalog.Target, at time.Time, minAlt float64) (Star, bool) {
	p := n.At(catalog.ObjectOf(t), at)
	ra, dec := toJ2000(n, Point{p.RA, p.Dec}, at)
	best, cost, found := catalog.StarRow{}, math.Inf(1), false
	for _, r := range catalog.StarsNear(ra, dec, mostHop, 2.9) {
		d := sky.Separation(ra, dec, r.RA, r.Dec)
		if r.Name == "" || d+2*r.Mag >= cost {
			continue
		}
		if n.At(sky.Star{RA: r.RA, Dec: r.Dec}, at).AltRefracted < minAlt {
			continue
		}
		best, cost, found = r, d+2*r.Mag, true
	}
	if !found {
		return Star{}, false
	}
	return ofDate(n, []catalog.StarRow{best}, at)[0], true
}

// FinderOf computes the chart of a target at an instant.
func FinderOf(n *sky.Night, t catalog.Target, at time.Time, path optics.Path, field, minAlt float64) Finder {
	p := n.At(catalog.ObjectOf(t), at)
	f := Finder{Target: Point{p.RA, p.Dec}, Name: t.Name, Field: field}
	f.Orientation = path.Orientation(sky.ParallacticAngle(n.Place.Lat, p.Dec, p.HourAngle))
	start, ok := StartStar(n, t, at, minAlt)
	if ok && sky.Separation(start.Lon, start.Lat, p.RA, p.Dec) > 0.05 {
		f.Start = &start
	}
	middle, half := f.extent()
	f.Faintest = 7.5 - math.Log2(max(half, 3)/3)*0.9
	f.Stars = starsAround(n, middle, min(half*1.5, 40), f.Faintest, 90, at)
	return f
}

// ringField is the width of the rings on a chart, degrees; a sight without
// magnification is given one of four degrees to aim with.
func (f Finder) ringField() float64 {
	if f.Field > 0 {
		return f.Field
	}
	return 4
}

// extent is the middle of the chart and half its height in degrees.
func (f Finder) extent() (middle Point, half float64) {
	ring := f.ringField()
	if f.Start == nil {
		return f.Target, max(ring*0.56, 3)
	}
	away := sky.Separation(f.Start.Lon, f.Start.Lat, f.Target.Lon, f.Target.Lat)
	if away < ring*0.45 {
		return f.Target, ring * 0.56 // both in one field, the target in its middle
	}
	return between(f.Start.Point, f.Target, 0.5), away/2 + ring*0.55
}

// between returns the place a fraction of the way along the great circle.
func between(p, q Point, f float64) Point {
	x1, y1, z1 := unit(p)
	x2, y2, z2 := unit(q)
	angle := math.Acos(min(max(x1*x2+y1*y2+z1*z2, -1), 1))
	if angle < 1e-9 {
		return p
	}
	a, b := math.Sin((1-f)*angle)/math.Sin(angle), math.Sin(f*angle)/math.Sin(angle)
	x, y, z := a*x1+b*x2, a*y1+b*y2, a*z1+b*z2
	return Point{math.Mod(math.Atan2(y, x)/degree+360, 360), math.Asin(min(max(z, -1), 1)) / degree}
}

func unit(p Point) (x, y, z float64) {
	sb, cb := math.Sincos(p.Lat * degree)
	sl, cl := math.Sincos(p.Lon * degree)
	return cb * cl, cb * sl, sb
}

// DrawFinder draws the chart.
func DrawFinder(f Finder) SVG {
	var c canvas
	c.sheet(f.ID, "chart finder", f.W, f.H, f.Labels.Title, f.Labels.Desc)
	middle, half := f.extent()
	d := disc{middle: middle, o: f.Orientation, cx: f.W / 2, cy: f.H / 2, scale: min(f.W, f.H) / 2 / half}
	p := &placer{bounds: box{0, 0, f.W, f.H}}
	tx, ty, _ := d.at(f.Target)
	p.take(around(tx, ty, 5))

	var named []spotlight
	if f.Start != nil {
		x, y, _ := d.at(f.Start.Point)
		named = append(named, spotlight{x, y, dot(f.Start.Mag, f.Faintest), f.Start.Name})
	}
	for _, s := range f.Stars {
		x, y, ok := d.at(s.Point)
		r := dot(s.Mag, f.Faintest)
		if !ok || !around(x, y, r).inside(p.bounds) {
			continue
		}
		c.gather(x, y, r)
		p.take(around(x, y, r))
		if s.Name != "" && s.Mag < 4 && (f.Start == nil || s.Name != f.Start.Name) {
			named = append(named, spotlight{x, y, r, s.Name})
		}
	}
	c.scatter()
	c.hop(d, f, p)
	c.aim(tx, ty)
	for i, s := range named {
		class := "text"
		if i == 0 && f.Start != nil {
			class = "strong"
		}
		c.label(p, s.name, s.x, s.y, s.r, small, class)
	}
	return c.finish()
}

// spotlight is a star on the drawing that should get its name.
type spotlight struct {
	x, y, r float64
	name    string
}

// hop draws the rings of the finder's field along the way and the way itself.
func (c *canvas) hop(d disc, f Finder, p *placer) {
	ring := f.ringField()
	r := ring / 2 * d.scale
	x2, y2, _ := d.at(f.Target)
	class := "rim"
	if f.Field == 0 {
		class = "rim sight"
	}
	c.void("circle", a("class", class), a("cx", x2), a("cy", y2), a("r", min(r, min(f.W, f.H)/2-0.8)))
	if f.Start == nil {
		return
	}
	away := sky.Separation(f.Start.Lon, f.Start.Lat, f.Target.Lon, f.Target.Lat)
	x1, y1, _ := d.at(f.Start.Point)
	if away > ring*0.45 {
		c.void("circle", a("class", class), a("cx", x1), a("cy", y1), a("r", r))
		steps := int(math.Ceil(away / (ring * 0.8)))
		for i := 1; i < steps && steps < 7; i++ {
			x, y, _ := d.at(between(f.Start.Point, f.Target, float64(i)/float64(steps)))
			c.void("circle", a("class", "rim between"), a("cx", x), a("cy", y), a("r", r))
		}
	}
	long := math.Hypot(x2-x1, y2-y1)
	if long < 16 {
		return
	}
	ux, uy := (x2-x1)/long, (y2-y1)/long
	c.arrow(x1+6*ux, y1+6*uy, x2-8*ux, y2-8*uy, "hop")
	for i := 1.0; i < long/8; i++ {
		p.take(around(x1+8*i*ux, y1+8*i*uy, 3))
	}
}

// aim marks the target: four strokes around an open middle.
func (c *canvas) aim(x, y float64) {
	for _, s := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		c.line(x+3*s[0], y+3*s[1], x+7.5*s[0], y+7.5*s[1], "aim")
	}
}

func (c *canvas) arrow(x1, y1, x2, y2 float64, class string) {
	long := math.Hypot(x2-x1, y2-y1)
	if long < 1 {
		return
	}
	ux, uy := (x2-x1)/long, (y2-y1)/long
	c.void("path", a("class", class), a("d", "M"+num(x1)+" "+num(y1)+"L"+num(x2)+" "+num(y2)+
		"M"+num(x2-5*ux-2.6*uy)+" "+num(y2-5*uy+2.6*ux)+"L"+num(x2)+" "+num(y2)+"L"+num(x2-5*ux+2.6*uy)+" "+num(y2-5*uy-2.6*ux)))
}
