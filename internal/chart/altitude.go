package chart

import (
	"fmt"
	"strings"
	"time"
)

// Curve is the altitude of one target over the night.
type Curve struct {
	Name string
	Alts []float64 // degrees, one for each of the drawing's times
}

// AltitudeDrawing is what the altitude curves are drawn from.
type AltitudeDrawing struct {
	ID         string
	From, To   time.Time
	Zone       *time.Location
	Times      []time.Time
	Curves     []Curve
	Bands      []Band
	PublicFrom time.Time
	PublicTo   time.Time
	MinAlt     float64 // degrees; drawn as a line with its name
}

// dashes tell curves apart without colour; with more curves they repeat, and
// the name at the curve's end does the rest.
var dashes = []string{"", "8 4", "2 4", "10 3 2 3", "4 2"}

// Altitudes draws altitude curves over the night, from the horizon to the
// zenith, with the light of the sky on top and the public hours marked.
func Altitudes(d AltitudeDrawing) SVG {
	const w, h, left, right, top, bottom = 960.0, 380.0, 44.0, 850.0, 34.0, 350.0
	var c canvas
	c.begin(d.ID, "drawing altitudes", w, h, "Altitudes over the night", altitudeWords(d))
	x := Axis{From: d.From, To: d.To, Zone: d.Zone, Left: left, Right: right}
	y := func(alt float64) float64 { return bottom - min(max(alt, 0), 90)/90*(bottom-top) }
	c.drawSky(x, d.Bands, 0, 24)
	if p1, p2 := x.X(d.PublicFrom), x.X(d.PublicTo); p2 > p1 {
		c.void("rect", a("class", "public"), a("x", p1), a("y", top), a("width", p2-p1), a("height", bottom-top))
		c.text("text", "public hours", a("class", "note"), a("x", p1+5), a("y", top+14), a("font-size", 12))
	}
	for alt := 0.0; alt <= 90; alt += 30 {
		c.line(left, y(alt), right, y(alt), "grid")
		c.text("text", fmt.Sprintf("%.0f°", alt), a("class", "hour"), a("x", left-6), a("y", y(alt)+4), a("text-anchor", "end"), a("font-size", 12))
	}
	c.drawHours(x, top, bottom, bottom+18)
	if d.MinAlt > 0 {
		c.line(left, y(d.MinAlt), right, y(d.MinAlt), "limit")
		c.text("text", fmt.Sprintf("least altitude %.0f°", d.MinAlt), a("class", "note"), a("x", left+6), a("y", y(d.MinAlt)-4), a("font-size", 12))
	}
	var ends []label
	for i, curve := range d.Curves {
		path, lastY, seen := curvePath(x, y, d.Times, curve.Alts)
		if !seen {
			continue
		}
		c.void("path", a("class", "curve"), a("d", path), a("stroke-dasharray", dashes[i%len(dashes)]))
		ends = append(ends, label{curve.Name, lastY})
	}
	for _, l := range spread(ends, 14, top+6, bottom) {
		c.text("text", fitText(l.name, 13, w-right-8), a("class", "name"), a("x", right+8), a("y", l.y+4), a("font-size", 13))
	}
	return c.finish()
}

// curvePath draws the part of a curve above the horizon. lastY is the height
// of its last point, for the label.
func curvePath(x Axis, y func(float64) float64, times []time.Time, alts []float64) (path string, lastY float64, seen bool) {
	var b strings.Builder
	pen := false
	for i, t := range times {
		if i >= len(alts) || alts[i] < 0 || !x.holds(t) {
			pen = false
			continue
		}
		op := "L"
		if !pen {
			op = "M"
		}
		fmt.Fprintf(&b, "%s%s %s", op, num(x.X(t)), num(y(alts[i])))
		pen, seen, lastY = true, true, y(alts[i])
	}
	return b.String(), lastY, seen
}

type label struct {
	name string
	y    float64
}

// spread moves labels apart so that none lies on another, keeping their order
// from top to bottom.
func spread(ls []label, gap, top, bottom float64) []label {
	sortLabels(ls)
	for i := 1; i < len(ls); i++ {
		ls[i].y = max(ls[i].y, ls[i-1].y+gap)
	}
	for i := len(ls) - 1; i >= 0; i-- {
		limit := bottom
		if i < len(ls)-1 {
			limit = ls[i+1].y - gap
		}
		ls[i].y = max(min(ls[i].y, limit), top)
	}
	return ls
}

func sortLabels(ls []label) {
	for i := 1; i < len(ls); i++ {
		for j := i; j > 0 && ls[j].y < ls[j-1].y; j-- {
			ls[j], ls[j-1] = ls[j-1], ls[j]
		}
	}
}

// altitudeWords says in words what the drawing shows, for those who cannot
// see it.
func altitudeWords(d AltitudeDrawing) string {
	var parts []string
	for _, curve := range d.Curves {
		best, at := -90.0, time.Time{}
		for i, t := range d.Times {
			if i < len(curve.Alts) && curve.Alts[i] > best {
				best, at = curve.Alts[i], t
			}
		}
		if best < 0 {
			parts = append(parts, curve.Name+" stays below the horizon")
			continue
		}
		parts = append(parts, fmt.Sprintf("%s is highest at %s, %.0f degrees", curve.Name, at.In(d.Zone).Format("15:04"), best))
	}
	if len(parts) == 0 {
		return "No target is drawn."
	}
	return strings.Join(parts, "; ") + "."
}
