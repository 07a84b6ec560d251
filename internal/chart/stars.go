package chart

import (
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

// Star is one star of a drawing. Points are of one kind on one drawing: of
// date, or azimuth and altitude.
type Star struct {
	Point
	Mag  float64
	Name string // "" for the many
}

// dot is the radius of a star's dot in pt, on a drawing whose faintest stars
// are of magnitude faintest.
func dot(mag, faintest float64) float64 {
	return min(max(0.55+0.42*(faintest-mag), 0.5), 4)
}

func (c *canvas) dot(x, y, r float64) {
	c.void("circle", a("class", "star"), a("cx", x), a("cy", y), a("r", r))
}

// gather notes the dot of one star among many; scatter draws what was
// gathered: one path for each size, each star a stroke without length and with
// round ends, which paints a disc. A chart of a hundred stars is a few
// elements that way, and prints in half the time. Places are good to a
// twentieth of a pt.
func (c *canvas) gather(x, y, r float64) {
	size := int(math.Round(20 * r))
	if c.stars == nil {
		c.stars = map[int]*strings.Builder{}
	}
	b, ok := c.stars[size]
	if !ok {
		b = &strings.Builder{}
		c.stars[size] = b
	}
	b.WriteString("M" + num1(x) + " " + num1(y) + "h0")
}

func (c *canvas) scatter() {
	for _, size := range slices.Sorted(maps.Keys(c.stars)) {
		c.void("path", a("class", "stars"), a("stroke-width", float64(size)/10), a("d", c.stars[size].String()))
	}
	c.stars = nil
}

// num1 writes a coordinate with one decimal.
func num1(v float64) string { return num(math.Round(v*10) / 10) }

// ofDate brings stars of the catalogue to the equinox of a night's instant.
func ofDate(n *sky.Night, rows []catalog.StarRow, t time.Time) []Star {
	out := make([]Star, len(rows))
	for i, r := range rows {
		p := n.At(sky.Star{RA: r.RA, Dec: r.Dec}, t)
		out[i] = Star{Point: Point{p.RA, p.Dec}, Mag: r.Mag, Name: r.Name}
	}
	return out
}

// starsAround returns the stars of the catalogue about a place of date.
func starsAround(n *sky.Night, middle Point, radius, faintest float64, most int, t time.Time) []Star {
	// The catalogue is of J2000: the equinox moves a place by up to half a
	// degree in 2060, so a little more is asked for and the drawing cuts it.
	ra, dec := toJ2000(n, middle, t)
	rows := catalog.StarsNear(ra, dec, radius, faintest)
	if len(rows) > most {
		rows = rows[:most]
	}
	return ofDate(n, rows, t)
}

// toJ2000 finds the J2000 place that is seen at a place of date: the shift is
// smooth, so taking it back twice leaves less than a tenth of an arcsecond
// away from the poles, and little anywhere.
func toJ2000(n *sky.Night, p Point, t time.Time) (ra, dec float64) {
	ra, dec = p.Lon, p.Lat
	for range 3 {
		q := n.At(sky.Star{RA: ra, Dec: dec}, t)
		ra += math.Remainder(p.Lon-q.RA, 360)
		dec = min(max(dec+p.Lat-q.Dec, -90), 90)
	}
	return ra, dec
}
