package chart

import (
	"fmt"
	"strings"
	"time"
)

// Roster is who does what when: people down, time across.
type Roster struct {
	ID         string
	From, To   time.Time
	Zone       *time.Location
	Bands      []Band
	PublicFrom time.Time
	PublicTo   time.Time
	Rows       []RosterRow
}

// RosterRow is one person.
type RosterRow struct {
	Title, Detail string
	Href          string // where the name leads; "" for nowhere
	Key           string // identifies the person for scripts
	Bars          []RosterBar
	Away          []Bar // stretches in which they are not there, only From and To count
}

// RosterBar is one duty.
type RosterBar struct {
	From, To      time.Time
	Title, Detail string
	Key           string // identifies the duty for scripts
	Href          string // "" for nowhere
	Words         string // full sentence for screen readers
	Pinned        bool
	Wrong         bool // breaks a rule: marked by a sign and a thick frame, never by colour alone
}

// DrawRoster draws the roster. Pinned duties have a double frame, those that
// break a rule a thick one with an exclamation mark; hours in which somebody
// is not there are hatched by a broken line.
func DrawRoster(d Roster) SVG {
	const w, who, rowH, head = 1080.0, 170.0, 46.0, 48.0
	h := head + rowH*float64(len(d.Rows)) + 4
	var c canvas
	c.open("svg", a("xmlns", "http://www.w3.org/2000/svg"), a("class", "drawing board roster-board"), a("viewBox", fmt.Sprintf("0 0 %s %s", num(w), num(h))),
		a("role", "group"), a("aria-labelledby", d.ID+"-t "+d.ID+"-d"))
	c.text("title", "Roster", a("id", d.ID+"-t"))
	c.text("desc", rosterWords(d), a("id", d.ID+"-d"))
	x := Axis{From: d.From, To: d.To, Zone: d.Zone, Left: who, Right: w - 1}
	c.drawSky(x, d.Bands, 0, 24)
	if from, to := x.X(d.PublicFrom), x.X(d.PublicTo); to > from {
		c.void("rect", a("class", "public"), a("x", from), a("y", 28), a("width", to-from), a("height", h-32))
	}
	c.drawHours(x, 28, h-4, 42)
	for i, row := range d.Rows {
		y := head + rowH*float64(i)
		c.line(0, y, w, y, "rule")
		c.drawWho(row, y, who)
		for _, b := range row.Away {
			c.drawAway(x, b, y+rowH/2)
		}
		for _, b := range row.Bars {
			c.drawDuty(x, b, y+4, rowH-8)
		}
	}
	c.line(0, h-4, w, h-4, "rule")
	return c.finish()
}

func (c *canvas) drawWho(row RosterRow, y, who float64) {
	if row.Href != "" {
		c.open("a", a("href", row.Href), a("class", "row-link"), a("data-person", row.Key))
	} else {
		c.open("g", a("data-person", row.Key))
	}
	c.text("text", fitName(row.Title, who-10), a("class", "row-title"), a("x", 0), a("y", y+20), a("font-size", 15))
	c.text("text", fitText(row.Detail, 12, who-10), a("class", "row-detail"), a("x", 0), a("y", y+36), a("font-size", 12))
	c.end()
}

// drawAway is a broken line through the hours in which somebody is not there.
func (c *canvas) drawAway(x Axis, b Bar, y float64) {
	x1, x2 := x.X(b.From), x.X(b.To)
	if x2-x1 > 2 {
		c.void("line", a("class", "away-line"), a("x1", x1+2), a("y1", y), a("x2", x2-2), a("y2", y), a("stroke-dasharray", "2 6"))
	}
}

func (c *canvas) drawDuty(x Axis, b RosterBar, y, h float64) {
	x1, x2 := x.X(b.From), x.X(b.To)
	bw := x2 - x1 - 2
	if bw < 2 {
		return
	}
	if b.Href != "" {
		c.open("a", a("href", b.Href), a("class", "bar-link"), a("data-key", b.Key))
	} else {
		c.open("g", a("data-key", b.Key))
	}
	c.text("title", b.Words)
	class, title := "bar", b.Title
	if b.Wrong {
		class, title = "bar wrong", "! "+title
	}
	c.void("rect", a("class", class), a("x", x1+1), a("y", y), a("width", bw), a("height", h))
	if b.Pinned && bw > 10 {
		c.void("rect", a("class", "bar-inner"), a("x", x1+4), a("y", y+3), a("width", bw-6), a("height", h-6))
	}
	if t := fitText(title, 14, bw-12); t != "" {
		c.text("text", t, a("class", "bar-title"), a("aria-hidden", "true"), a("x", x1+8), a("y", y+16), a("font-size", 14))
	}
	if t := fitText(b.Detail, 12, bw-12); t != "" {
		c.text("text", t, a("class", "bar-detail"), a("aria-hidden", "true"), a("x", x1+8), a("y", y+31), a("font-size", 12))
	}
	c.end()
}

// fitName shortens a name. Letters from the scripts of East Asia on are as wide
// as high, twice what fitText takes for a letter.
func fitName(name string, width float64) string {
	for _, r := range name {
		if r >= 0x2e80 {
			return fitText(name, 15*1.9, width)
		}
	}
	return fitText(name, 15, width)
}

func rosterWords(d Roster) string {
	var people []string
	for _, r := range d.Rows {
		if len(r.Bars) == 0 {
			people = append(people, r.Title+": no duty")
			continue
		}
		var bars []string
		for _, b := range r.Bars {
			bars = append(bars, fmt.Sprintf("%s to %s %s", b.From.In(d.Zone).Format("15:04"), b.To.In(d.Zone).Format("15:04"), b.Title))
		}
		people = append(people, r.Title+": "+strings.Join(bars, ", "))
	}
	if len(people) == 0 {
		return "Nobody is asked for this night yet."
	}
	return strings.Join(people, "; ") + "."
}
