package chart

import (
	"fmt"
	"math"
	"strings"
)

// Rung is one magnification that an instrument can give.
type Rung struct {
	Power float64 // times
	Pupil float64 // exit pupil, mm
}

// Missing is a stretch of magnifications without a rung.
type Missing struct {
	From, To float64 // times
	Word     string  // what would fill it: "about 15 mm"
}

// LadderRow is the ladder of one instrument.
type LadderRow struct {
	Title, Detail string
	Rungs         []Rung  // by magnification
	Low, High     float64 // ends of what serves tonight, times; equal: not drawn
	Missing       []Missing
}

// LadderDrawing is what ladders of magnifications are drawn from.
type LadderDrawing struct {
	ID   string
	Rows []LadderRow
}

// Ladders draws each instrument's magnifications on a common scale, on which
// equal ratios are equal lengths: rungs with magnification above and exit pupil
// below, what serves tonight as a band, what is missing as a broken frame with
// the word in it.
func Ladders(d LadderDrawing) SVG {
	const w, left, right, head, row = 960.0, 200.0, 950.0, 30.0, 78.0
	h := head + row*float64(len(d.Rows)) + 8
	var c canvas
	c.begin(d.ID, "drawing ladders", w, h, "Magnifications of each instrument", ladderWords(d))
	low, high := ladderSpan(d.Rows)
	x := func(p float64) float64 {
		f := math.Log(p/low) / math.Log(high/low)
		return left + min(max(f, 0), 1)*(right-left)
	}
	for _, p := range powerTicks {
		if p >= low && p <= high {
			c.line(x(p), head-6, x(p), h-8, "grid")
			c.text("text", fmt.Sprintf("%.0f×", p), a("class", "hour"), a("x", x(p)), a("y", head-12), a("text-anchor", "middle"), a("font-size", 12))
		}
	}
	for i, r := range d.Rows {
		c.drawLadder(r, x, head+row*float64(i), left)
	}
	return c.finish()
}

// powerTicks are the magnifications that the scale names.
var powerTicks = []float64{5, 10, 20, 50, 100, 200, 500, 1000}

// ladderSpan is the stretch of magnifications that all rows need.
func ladderSpan(rows []LadderRow) (low, high float64) {
	low, high = math.Inf(1), 0
	take := func(p float64) {
		if p > 0 {
			low, high = min(low, p), max(high, p)
		}
	}
	for _, r := range rows {
		take(r.Low)
		take(r.High)
		for _, s := range r.Rungs {
			take(s.Power)
		}
	}
	if high == 0 {
		return 10, 100
	}
	return low / 1.15, high * 1.15
}

func (c *canvas) drawLadder(r LadderRow, x func(float64) float64, top, left float64) {
	const mid, half = 38.0, 11.0
	y := top + mid
	c.line(0, top, 960, top, "rule")
	c.text("text", fitText(r.Title, 15, left-14), a("class", "row-title"), a("x", 0), a("y", y-2), a("font-size", 15))
	c.text("text", fitText(r.Detail, 12, left-14), a("class", "row-detail"), a("x", 0), a("y", y+15), a("font-size", 12))
	if r.High > r.Low {
		c.void("rect", a("class", "public"), a("x", x(r.Low)), a("y", y-half), a("width", x(r.High)-x(r.Low)), a("height", 2*half))
	}
	for _, m := range r.Missing {
		x1, x2 := x(m.From)+3, x(m.To)-3
		if x2 <= x1 {
			continue
		}
		c.void("rect", a("class", "missing"), a("x", x1), a("y", y-half), a("width", x2-x1), a("height", 2*half))
		if word := fitText(m.Word, 12, x2-x1-8); word != "" {
			c.text("text", word, a("class", "missing-word"), a("x", (x1+x2)/2), a("y", y+4), a("text-anchor", "middle"), a("font-size", 12))
		}
	}
	above, below := math.Inf(-1), math.Inf(-1)
	for _, s := range r.Rungs {
		px := x(s.Power)
		c.line(px, y-half, px, y+half, "step")
		above = c.rungWord(fmt.Sprintf("%.0f×", s.Power), px, y-half-5, above, "bar-title")
		below = c.rungWord(fmt.Sprintf("%.1f mm", s.Pupil), px, y+half+14, below, "hour")
	}
}

// rungWord writes a label at a rung where it finds room behind the one before,
// and returns where the room ends then.
func (c *canvas) rungWord(word string, x, y, taken float64, class string) float64 {
	half := textWidth(word, 12) / 2
	if x-half < taken {
		return taken
	}
	c.text("text", word, a("class", class), a("x", x), a("y", y), a("text-anchor", "middle"), a("font-size", 12))
	return x + half + 5
}

// ladderWords says in words what the drawing shows.
func ladderWords(d LadderDrawing) string {
	if len(d.Rows) == 0 {
		return "No instrument is drawn."
	}
	var parts []string
	for _, r := range d.Rows {
		var powers []string
		for _, s := range r.Rungs {
			powers = append(powers, fmt.Sprintf("%.0f×", s.Power))
		}
		words := r.Title + ": no magnification"
		if len(powers) > 0 {
			words = r.Title + ": " + strings.Join(powers, ", ")
		}
		for _, m := range r.Missing {
			words += fmt.Sprintf("; none between %.0f× and %.0f×", m.From, m.To)
		}
		parts = append(parts, words)
	}
	return strings.Join(parts, ". ") + "."
}
