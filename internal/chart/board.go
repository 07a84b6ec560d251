package chart

import (
	"fmt"
	"strings"
	"time"
)

// Bar is one showing, or a stretch in which an instrument is parked.
type Bar struct {
	From, To time.Time
	Title    string  // target
	Detail   string  // "30 mm · 40× · 105′"
	Fit      float64 // 0 to 1: the length of the line at the bar's foot
	Pinned   bool
	Parked   bool
	Href     string // where the bar leads; "" for nowhere
	Key      string // identifies the showing for scripts
	Words    string // full sentence for screen readers
}

// BoardRow is one instrument.
type BoardRow struct {
	Title  string
	Detail string
	Bars   []Bar
}

// Board is the line-up: instruments down, time across.
type Board struct {
	ID         string
	From, To   time.Time
	Zone       *time.Location
	Bands      []Band
	PublicFrom time.Time
	PublicTo   time.Time
	Rows       []BoardRow
}

// DrawBoard draws the line-up. Pinned bars have a double frame, parked ones a
// broken one; the fit is the length of the line at the foot, never a colour.
func DrawBoard(d Board) SVG {
	const w, who, rowH, head = 1080.0, 190.0, 58.0, 48.0
	h := head + rowH*float64(len(d.Rows)) + 4
	var c canvas
	c.open("svg", a("xmlns", "http://www.w3.org/2000/svg"), a("class", "drawing board"), a("viewBox", fmt.Sprintf("0 0 %s %s", num(w), num(h))),
		a("role", "group"), a("aria-labelledby", d.ID+"-t "+d.ID+"-d"))
	c.text("title", "Line-up", a("id", d.ID+"-t"))
	c.text("desc", boardWords(d), a("id", d.ID+"-d"))
	x := Axis{From: d.From, To: d.To, Zone: d.Zone, Left: who, Right: w - 1}
	c.drawSky(x, d.Bands, 0, 24)
	c.drawHours(x, 28, h-4, 42)
	for i, row := range d.Rows {
		y := head + rowH*float64(i)
		c.line(0, y, w, y, "rule")
		c.text("text", fitText(row.Title, 15, who-10), a("class", "row-title"), a("x", 0), a("y", y+22), a("font-size", 15))
		c.text("text", fitText(row.Detail, 12, who-10), a("class", "row-detail"), a("x", 0), a("y", y+40), a("font-size", 12))
		for _, b := range row.Bars {
			c.drawBar(x, b, y+5, rowH-10)
		}
	}
	c.line(0, h-4, w, h-4, "rule")
	return c.finish()
}

func (c *canvas) drawBar(x Axis, b Bar, y, h float64) {
	x1, x2 := x.X(b.From), x.X(b.To)
	bw := x2 - x1 - 2
	if bw < 2 {
		return
	}
	if b.Href != "" {
		c.open("a", a("href", b.Href), a("class", "bar-link"), a("data-key", b.Key), a("aria-label", b.Words))
	} else {
		c.open("g", a("role", "img"), a("aria-label", b.Words))
	}
	class := "bar"
	if b.Pinned {
		class = "bar pinned"
	}
	if b.Parked {
		class = "bar parked"
	}
	c.void("rect", a("class", class), a("x", x1+1), a("y", y), a("width", bw), a("height", h), a("stroke-dasharray", map[bool]string{true: "5 4"}[b.Parked]))
	if b.Pinned && bw > 10 {
		c.void("rect", a("class", "bar-inner"), a("x", x1+4), a("y", y+3), a("width", bw-6), a("height", h-6))
	}
	if t := fitText(b.Title, 14, bw-14); t != "" {
		c.text("text", t, a("class", "bar-title"), a("x", x1+8), a("y", y+19), a("font-size", 14))
	}
	if t := fitText(b.Detail, 12, bw-14); t != "" {
		c.text("text", t, a("class", "bar-detail"), a("x", x1+8), a("y", y+35), a("font-size", 12))
	}
	if b.Fit > 0 {
		c.void("rect", a("class", "fit"), a("x", x1+1), a("y", y+h-4), a("width", bw*min(b.Fit, 1)), a("height", 4))
	}
	c.end()
}

func boardWords(d Board) string {
	var parts []string
	for _, r := range d.Rows {
		if len(r.Bars) == 0 {
			parts = append(parts, r.Title+": nothing planned")
			continue
		}
		var bars []string
		for _, b := range r.Bars {
			bars = append(bars, fmt.Sprintf("%s to %s %s", b.From.In(d.Zone).Format("15:04"), b.To.In(d.Zone).Format("15:04"), b.Title))
		}
		parts = append(parts, r.Title+": "+strings.Join(bars, ", "))
	}
	if len(parts) == 0 {
		return "No instrument is in the line-up yet."
	}
	return strings.Join(parts, "; ") + "."
}
