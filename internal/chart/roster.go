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
	Step       time.Duration // by which a script moves a duty; 0: nothing can be moved
	Narrow     bool          // for a phone: the name over each lane, lanes as wide as the drawing
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

// rosterPlan is where things stand on the drawing, in its units.
type rosterPlan struct {
	w, who, name, lane, head float64 // width; column of names; line over a lane; lane; axis
	x                        Axis
}

func rosterPlanOf(d Roster) rosterPlan {
	p := rosterPlan{w: 1080, who: 170, lane: 46, head: 48}
	if d.Narrow {
		p = rosterPlan{w: 354, name: 22, lane: 48, head: 48}
	}
	p.x = Axis{From: d.From, To: d.To, Zone: d.Zone, Left: p.who, Right: p.w - 1}
	return p
}

// top is the upper edge of a person's lane, under the name where that is over
// it.
func (p rosterPlan) top(row int) float64 {
	return p.head + float64(row)*(p.name+p.lane) + p.name
}

// DrawRoster draws the roster. Pinned duties have a double frame, those that
// break a rule a thick one with an exclamation mark; hours in which somebody
// is not there are hatched by a broken line. Scripts find what they need in
// data attributes: the drawing's span and step in seconds since 1970, each
// lane's person, each duty's time.
func DrawRoster(d Roster) SVG {
	p := rosterPlanOf(d)
	h := p.top(len(d.Rows)) - p.name + 4
	class := "drawing board roster-board"
	if d.Narrow {
		class += " narrow"
	}
	attrs := []attr{a("xmlns", "http://www.w3.org/2000/svg"), a("class", class), a("viewBox", fmt.Sprintf("0 0 %s %s", num(p.w), num(h))),
		a("role", "group"), a("aria-labelledby", d.ID+"-t "+d.ID+"-d")}
	if d.Step > 0 && d.Zone != nil {
		attrs = append(attrs, a("data-left", p.x.Left), a("data-right", p.x.Right), a("data-start", d.From.Unix()), a("data-end", d.To.Unix()),
			a("data-step", int(d.Step.Seconds())), a("data-zone", d.Zone.String()))
	}
	var c canvas
	c.open("svg", attrs...)
	c.text("title", "Roster", a("id", d.ID+"-t"))
	c.text("desc", rosterWords(d), a("id", d.ID+"-d"))
	c.drawSky(p.x, d.Bands, 0, 24)
	if from, to := p.x.X(d.PublicFrom), p.x.X(d.PublicTo); to > from {
		c.void("rect", a("class", "public"), a("x", from), a("y", 28), a("width", to-from), a("height", h-32))
	}
	foot := h - 4
	if d.Narrow {
		foot = p.head - 4 // the lines would cross the names over the lanes
	}
	c.drawHours(p.x, 28, foot, 42)
	for i, row := range d.Rows {
		y := p.top(i)
		c.line(0, y-p.name, p.w, y-p.name, "rule")
		c.drawWho(row, p, y)
		c.void("rect", a("class", "lane"), a("x", p.x.Left), a("y", y), a("width", p.x.Right-p.x.Left), a("height", p.lane), a("data-person", row.Key))
		for _, b := range row.Away {
			c.drawAway(p.x, b, y+p.lane/2)
		}
		for _, b := range row.Bars {
			c.drawDuty(p.x, b, y+4, p.lane-8)
		}
	}
	c.line(0, h-4, p.w, h-4, "rule")
	return c.finish()
}

// drawWho writes a name at its lane: left of it, or over it on a phone.
func (c *canvas) drawWho(row RosterRow, p rosterPlan, y float64) {
	if row.Href != "" {
		c.open("a", a("href", row.Href), a("class", "row-link"), a("data-person", row.Key))
	} else {
		c.open("g", a("data-person", row.Key))
	}
	if p.name > 0 {
		title := fitName(row.Title, p.w*0.55)
		c.text("text", title, a("class", "row-title"), a("x", 0), a("y", y-6), a("font-size", 15))
		c.text("text", fitText(row.Detail, 12, p.w*0.4), a("class", "row-detail"), a("x", p.w), a("y", y-6), a("text-anchor", "end"), a("font-size", 12))
	} else {
		c.text("text", fitName(row.Title, p.who-10), a("class", "row-title"), a("x", 0), a("y", y+20), a("font-size", 15))
		c.text("text", fitText(row.Detail, 12, p.who-10), a("class", "row-detail"), a("x", 0), a("y", y+36), a("font-size", 12))
	}
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
		c.open("a", a("href", b.Href), a("class", "bar-link"), a("data-key", b.Key), a("data-from", b.From.Unix()), a("data-to", b.To.Unix()))
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
	// Handles to make it longer or shorter; wide bars only, or nothing is left
	// to take hold of.
	if bw >= 60 && b.Href != "" {
		for _, g := range []struct {
			edge string
			x    float64
		}{{"from", x1 + 1}, {"to", x1 + bw - 11}} {
			c.void("rect", a("class", "grip"), a("data-edge", g.edge), a("x", g.x), a("y", y), a("width", 12), a("height", h))
		}
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
