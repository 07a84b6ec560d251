package chart

import (
	"fmt"
	"math"
	"strings"
)

// SkyCell is one part of a round sky: a stretch of azimuths and altitudes,
// degrees, from north through east.
type SkyCell struct {
	Key            string // identifies it for scripts
	AzFrom, AzTo   float64
	AltFrom, AltTo float64
	Covered        bool
	Words          string // "north-east, 30° to 60°"
}

// SkyDot is something that stands in the sky.
type SkyDot struct {
	Name    string
	Az, Alt float64 // degrees
}

// SkyDrawing is what a round sky is drawn from.
type SkyDrawing struct {
	ID, Title string
	Cells     []SkyCell
	Dots      []SkyDot
}

const (
	skyWide   = 440.0
	skyRadius = 180.0
)

// skyAt is where a direction lies: the zenith in the middle, north above, east
// on the right, as on a map that lies on the ground.
func skyAt(az, alt float64) (x, y float64) {
	r := skyRadius * (90 - min(max(alt, 0), 90)) / 90
	sin, cos := math.Sincos(az * degree)
	return skyWide/2 + r*sin, skyWide/2 - r*cos
}

// RoundSky draws the whole sky in cells, those that are covered hatched, with
// what stands there. Scripts find each cell by its key.
func RoundSky(d SkyDrawing) SVG {
	var c canvas
	c.begin(d.ID, "drawing cloud-sky", skyWide, skyWide, d.Title, roundSkyWords(d))
	for _, cell := range d.Cells {
		c.drawSkyCell(cell)
	}
	mid := skyWide / 2
	for i, name := range []string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"} {
		sin, cos := math.Sincos(float64(i) * 45 * degree)
		const r = skyRadius + 20
		c.text("text", name, a("class", "row-title"), a("x", mid+r*sin), a("y", mid-r*cos+5), a("text-anchor", "middle"), a("font-size", 15))
	}
	for _, alt := range []float64{30, 60} {
		_, y := skyAt(0, alt)
		c.text("text", fmt.Sprintf("%.0f°", alt), a("class", "hour"), a("x", mid), a("y", y+12), a("text-anchor", "middle"), a("font-size", 11))
	}
	p := placer{bounds: box{0, 0, skyWide, skyWide}}
	for _, s := range d.Dots {
		x, y := skyAt(s.Az, s.Alt)
		p.take(around(x, y, 4))
	}
	for _, s := range d.Dots {
		if s.Alt < 0 {
			continue
		}
		x, y := skyAt(s.Az, s.Alt)
		c.void("circle", a("class", "sky-dot"), a("cx", x), a("cy", y), a("r", 4))
		c.label(&p, s.Name, x, y, 4, 12, "sky-dot-name")
	}
	return c.finish()
}

// drawSkyCell draws a cell: its outline, which can be pressed, and the hatching
// that shows when it is covered.
func (c *canvas) drawSkyCell(s SkyCell) {
	class := "cloud-cell"
	if s.Covered {
		class += " covered"
	}
	c.open("g", a("class", class), a("data-cell", s.Key))
	c.text("title", "Cloud in the "+s.Words)
	c.void("path", a("class", "cloud-area"), a("d", arcRing(s)))
	var hatch strings.Builder
	for i := 1; i <= 3; i++ {
		alt := s.AltFrom + (s.AltTo-s.AltFrom)*float64(i)/4
		hatch.WriteString(arc(s.AzFrom+2, s.AzTo-2, alt, "M"))
	}
	c.void("path", a("class", "cloud-hatch"), a("d", hatch.String()))
	c.end()
}

// arc goes along an altitude in steps of a few degrees.
func arc(from, to, alt float64, op string) string {
	var b strings.Builder
	steps := max(1, int(math.Ceil(math.Abs(to-from)/5)))
	for i := 0; i <= steps; i++ {
		x, y := skyAt(from+(to-from)*float64(i)/float64(steps), alt)
		fmt.Fprintf(&b, "%s%s %s", op, num(x), num(y))
		op = "L"
	}
	return b.String()
}

func arcRing(s SkyCell) string {
	outer := arc(s.AzFrom, s.AzTo, s.AltFrom, "M")
	if s.AltTo >= 90 {
		x, y := skyAt(0, 90)
		return outer + fmt.Sprintf("L%s %sZ", num(x), num(y))
	}
	return outer + arc(s.AzTo, s.AzFrom, s.AltTo, "L") + "Z"
}

// roundSkyWords says in words what is covered and what stands where.
func roundSkyWords(d SkyDrawing) string {
	var covered, there []string
	for _, s := range d.Cells {
		if s.Covered {
			covered = append(covered, s.Words)
		}
	}
	for _, s := range d.Dots {
		if s.Alt >= 0 {
			there = append(there, fmt.Sprintf("%s at azimuth %.0f°, altitude %.0f°", s.Name, s.Az, s.Alt))
		}
	}
	words := "No part is covered."
	if len(covered) > 0 {
		words = "Covered: " + strings.Join(covered, "; ") + "."
	}
	if len(there) > 0 {
		words += " " + strings.Join(there, "; ") + "."
	}
	return words
}
