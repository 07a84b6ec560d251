package chart

import (
	"fmt"
	"strings"
	"time"
)

// Bar is one showing, or a stretch in which an instrument is parked.
type Bar struct {
	From, To time.Time
	First    int     // block in which it begins; for scripts
	End      int     // block behind its last one
	Title    string  // target
	Detail   string  // "30 mm · 40× · 105′"
	Fit      float64 // 0 to 1: the length of the line at the bar's foot
	Pinned   bool
	Parked   bool
	Free     bool   // nothing is planned: Href leads to where something can be
	Clash    bool   // it breaks a rule; Detail says the word
	Href     string // where the bar leads; "" for nowhere
	Key      string // identifies the showing for scripts
	Words    string // full sentence for screen readers
}

// Stretch is a stretch of time with what it means in words.
type Stretch struct {
	From, To time.Time
	Words    string
}

// Mark is an instant that the axis names: sunset, the gate's opening.
type Mark struct {
	At   time.Time
	Name string
}

// BoardRow is one instrument.
type BoardRow struct {
	Title   string
	Detail  string
	Key     string // identifies the instrument for scripts
	Bars    []Bar
	Windows []Stretch // when the selected target is possible here
}

// Board is the line-up: instruments down, time across.
type Board struct {
	ID         string // unique on the page
	From, To   time.Time
	Zone       *time.Location
	Bands      []Band
	Moon       []Stretch // when the Moon is up; Words is drawn in it
	Marks      []Mark    // the more important first: a label without room is left out
	PublicFrom time.Time
	PublicTo   time.Time
	Blocks     []time.Time // starts of the blocks and the end of the last; empty: nothing can be moved
	Selected   string      // key of the bar that is selected, or ""
	Narrow     bool        // for a phone: the name above each lane, lanes as wide as the drawing
	Rows       []BoardRow
}

// boardPlan is where things stand on a board, in drawing units.
type boardPlan struct {
	w, who, name    float64 // width; column of names; line above a lane
	lane, gap, head float64
	x               Axis
}

func planOf(d Board) boardPlan {
	p := boardPlan{w: 1080, who: 190, lane: 48, gap: 10, head: 84}
	if d.Narrow {
		p = boardPlan{w: 354, name: 24, lane: 50, gap: 10, head: 84}
	}
	p.x = Axis{From: d.From, To: d.To, Zone: d.Zone, Left: p.who, Right: p.w - 1}
	return p
}

// top is the upper edge of a lane's bars.
func (p boardPlan) top(row int) float64 {
	return p.head + float64(row)*(p.name+p.lane+p.gap) + p.name + p.gap/2
}

func (p boardPlan) height(rows int) float64 { return p.top(rows) - p.name - p.gap/2 + 4 }

// DrawBoard draws the line-up. Pinned bars have a double frame, parked ones a
// broken one, those that break a rule a dotted one; the fit is the length of
// the line at the foot, never a colour. Scripts find what they need in data
// attributes: the blocks' edges on the drawing, each lane, each bar's blocks.
func DrawBoard(d Board) SVG {
	p := planOf(d)
	h := p.height(len(d.Rows))
	var c canvas
	class := "drawing board"
	if d.Narrow {
		class += " narrow"
	}
	attrs := []attr{a("xmlns", "http://www.w3.org/2000/svg"), a("class", class), a("viewBox", fmt.Sprintf("0 0 %s %s", num(p.w), num(h))),
		a("role", "group"), a("aria-labelledby", d.ID+"-t "+d.ID+"-d")}
	if n := len(d.Blocks) - 1; n > 0 {
		var clocks []string
		for _, t := range d.Blocks {
			clocks = append(clocks, t.In(d.Zone).Format("15:04"))
		}
		attrs = append(attrs, a("data-left", p.x.X(d.Blocks[0])), a("data-right", p.x.X(d.Blocks[n])), a("data-blocks", n), a("data-clocks", strings.Join(clocks, " ")))
	}
	c.open("svg", attrs...)
	c.text("title", "Line-up", a("id", d.ID+"-t"))
	c.text("desc", boardWords(d), a("id", d.ID+"-d"))
	c.drawBoardHead(d, p, h)
	for i, row := range d.Rows {
		c.drawLane(d, p, row, p.top(i))
	}
	c.line(0, h-4, p.w, h-4, "rule")
	// The selected bar is drawn last: its handles lie over its neighbours.
	for i, row := range d.Rows {
		for _, b := range row.Bars {
			if d.Selected != "" && b.Key == d.Selected {
				c.drawBar(p.x, b, p.top(i), p.lane, true)
			}
		}
	}
	return c.finish()
}

// drawBoardHead draws the sky, the Moon, the named instants, the hours and the
// ground on which guests are here.
func (c *canvas) drawBoardHead(d Board, p boardPlan, h float64) {
	if x1, x2 := p.x.X(d.PublicFrom), p.x.X(d.PublicTo); x2 > x1 && !d.PublicFrom.IsZero() {
		c.void("rect", a("class", "public"), a("x", x1), a("y", 62), a("width", x2-x1), a("height", h-66))
	}
	if p.who > 0 {
		c.text("text", "Sky", a("class", "row-detail"), a("x", 0), a("y", 16), a("font-size", 12))
		c.text("text", "Moon", a("class", "row-detail"), a("x", 0), a("y", 38), a("font-size", 12))
	}
	c.drawSky(p.x, d.Bands, 0, 24)
	c.line(p.x.Left, 34, p.x.Right, 34, "moon-down")
	for _, s := range d.Moon {
		x1, x2 := p.x.X(s.From), p.x.X(s.To)
		c.void("rect", a("class", "moon-up"), a("x", x1), a("y", 27), a("width", x2-x1), a("height", 14))
		c.text("text", fitText(s.Words, 11, x2-x1-8), a("class", "moon-name"), a("x", x1+5), a("y", 38), a("font-size", 11))
	}
	foot := h - 4
	if d.Narrow {
		foot = 62 // the lines would cross the names over the lanes
	}
	c.drawMarks(p.x, d.Marks, 45, foot)
	c.drawHours(p.x, 64, foot, 76)
}

// drawMarks names instants on the axis; a label that would lie on another is
// left out, its line stays.
func (c *canvas) drawMarks(x Axis, marks []Mark, y, bottom float64) {
	type room struct{ from, to float64 }
	var taken []room
	for _, m := range marks {
		if !x.holds(m.At) {
			continue
		}
		px := x.X(m.At)
		c.line(px, y, px, bottom, "mark")
		label := m.Name + " " + m.At.In(x.Zone).Format("15:04")
		w := textWidth(label, 12) + 10
		from, anchor, tx := px, "", px+4
		if px+w > x.Right {
			from, anchor, tx = px-w, "end", px-4
		}
		free := from >= x.Left
		for _, r := range taken {
			free = free && (from+w <= r.from || from >= r.to)
		}
		if !free {
			continue
		}
		taken = append(taken, room{from, from + w})
		c.text("text", label, a("class", "mark-name"), a("x", tx), a("y", y+12), a("text-anchor", anchor), a("font-size", 12))
	}
}

func (c *canvas) drawLane(d Board, p boardPlan, row BoardRow, y float64) {
	up := y - p.gap/2
	c.line(0, up-p.name, p.w, up-p.name, "rule")
	if d.Narrow {
		title := fitText(row.Title, 15, p.w*0.5)
		c.text("text", title, a("class", "row-title"), a("x", 0), a("y", up-7), a("font-size", 15))
		from := textWidth(title, 15) + 14
		c.text("text", fitText(row.Detail, 12, p.w-from), a("class", "row-detail"), a("x", p.w), a("y", up-7), a("text-anchor", "end"), a("font-size", 12))
	} else {
		c.text("text", fitText(row.Title, 15, p.who-10), a("class", "row-title"), a("x", 0), a("y", y+17), a("font-size", 15))
		c.text("text", fitText(row.Detail, 12, p.who-10), a("class", "row-detail"), a("x", 0), a("y", y+35), a("font-size", 12))
	}
	c.void("rect", a("class", "lane"), a("x", p.x.Left), a("y", up), a("width", p.x.Right-p.x.Left), a("height", p.lane+p.gap), a("data-instrument", row.Key))
	for _, s := range row.Windows {
		x1, x2 := p.x.X(s.From), p.x.X(s.To)
		c.open("g", a("class", "window"))
		c.text("title", s.Words)
		c.void("rect", a("x", x1), a("y", up+0.5), a("width", x2-x1), a("height", 4))
		c.end()
	}
	for _, b := range row.Bars {
		if d.Selected == "" || b.Key != d.Selected {
			c.drawBar(p.x, b, y, p.lane, false)
		}
	}
}

func (c *canvas) drawBar(x Axis, b Bar, y, h float64, selected bool) {
	x1, x2 := x.X(b.From), x.X(b.To)
	bw := x2 - x1 - 2
	if bw < 2 {
		return
	}
	if b.Href != "" {
		attrs := []attr{a("href", b.Href), a("class", "bar-link"), a("data-key", b.Key), a("data-from", b.First), a("data-to", b.End)}
		if b.Free {
			attrs = []attr{a("href", b.Href), a("class", "free-link")}
		}
		if selected {
			attrs = append(attrs, a("aria-current", "true"))
		}
		c.open("a", attrs...)
		// The name is a title, not a label: what is written on the bar is cut to
		// its width, and a label would have to begin with that.
		c.text("title", b.Words)
	} else {
		c.open("g", a("role", "img"), a("aria-label", b.Words))
	}
	class := "bar"
	switch {
	case b.Clash:
		class = "bar clash"
	case b.Free:
		class = "bar free"
	case b.Parked:
		class = "bar parked"
	case b.Pinned:
		class = "bar pinned"
	}
	dash := ""
	switch {
	case b.Parked:
		dash = "5 4"
	case b.Clash:
		dash = "2 3"
	}
	c.void("rect", a("class", class), a("x", x1+1), a("y", y), a("width", bw), a("height", h), a("stroke-dasharray", dash))
	if b.Pinned && bw > 10 {
		c.void("rect", a("class", "bar-inner"), a("x", x1+4), a("y", y+3), a("width", bw-6), a("height", h-6))
	}
	if t := fitText(b.Title, 14, bw-14); t != "" {
		c.text("text", t, a("class", "bar-title"), a("aria-hidden", "true"), a("x", x1+8), a("y", y+19), a("font-size", 14))
	}
	if t := fitText(b.Detail, 12, bw-14); t != "" {
		c.text("text", t, a("class", "bar-detail"), a("aria-hidden", "true"), a("x", x1+8), a("y", y+35), a("font-size", 12))
	}
	if b.Fit > 0 {
		c.void("rect", a("class", "fit"), a("x", x1+1), a("y", y+h-4), a("width", bw*min(b.Fit, 1)), a("height", 4))
	}
	if selected {
		for _, g := range []struct {
			edge string
			x    float64
		}{{"from", x1 + 1}, {"to", x1 + 1 + bw}} {
			c.void("rect", a("class", "grip-mark"), a("x", g.x-3), a("y", y+h/2-11), a("width", 6), a("height", 22))
			c.void("rect", a("class", "grip"), a("data-edge", g.edge), a("x", g.x-13), a("y", y-2), a("width", 26), a("height", h+4))
		}
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
			if b.Free {
				b.Title = "free"
			}
			bars = append(bars, fmt.Sprintf("%s to %s %s", b.From.In(d.Zone).Format("15:04"), b.To.In(d.Zone).Format("15:04"), b.Title))
		}
		parts = append(parts, r.Title+": "+strings.Join(bars, ", "))
	}
	if len(parts) == 0 {
		return "No instrument is in the line-up yet."
	}
	return strings.Join(parts, "; ") + "."
}
