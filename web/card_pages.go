package web

import (
	"math"

	"duskboard/internal/chart"
	"duskboard/web/views"
)

// sheetSize is a paper and how many cards it carries. Lengths in points; the
// same numbers stand in css/cards.css.
type sheetSize struct {
	Paper, Layout string  // "a4" or "letter"; "half", "full" or "compact"
	W, H          float64 // of a card's type area
}

const mm = 72 / 25.4

// sheetSizes by paper and layout. Margins are 10 mm for half sheets and 12 mm
// for full ones, more than any printer's own.
var sheetSizes = map[string]sheetSize{
	"a4-half":     {"a4", "half", (148.5 - 20) * mm, (210 - 20) * mm},
	"a4-full":     {"a4", "full", (210 - 24) * mm, (297 - 24) * mm},
	"a4-compact":  {"a4", "compact", (210 - 24) * mm, (297 - 24) * mm},
	"letter-half": {"letter", "half", (139.7 - 20) * mm, (215.9 - 20) * mm},
	"letter-full": {"letter", "full", (215.9 - 24) * mm, (279.4 - 24) * mm},

	"letter-compact": {"letter", "compact", (215.9 - 24) * mm, (279.4 - 24) * mm},
}

// Type of the cards, pt: size and leading by class of paragraph. The style
// sheet says the same; web/print_test.go finds out when it does not, because
// text then runs out of its card.
type style struct {
	size, leading, indent, gap float64
	face                       chart.Face
}

var cardType = map[string]style{
	"":       {10, 12.4, 0, 1.5, chart.Text},
	"gear":   {12, 14.5, 0, 1.5, chart.Bold},
	"strong": {10, 12.4, 0, 1.5, chart.Bold},
	"say":    {12, 14.5, 9, 3, chart.Text},
	"fact":   {10, 12.4, 9, 1, chart.Text},
	"title":  {16, 18.5, 0, 3, chart.Bold},
	"head":   {22, 26, 0, 2, chart.Title},
	"note":   {10, 11.8, 0, 2, chart.Text},
}

// high is how high a paragraph stands in a column, with the room after it.
func high(class, lead, text string, width float64) float64 {
	t, ok := cardType[class]
	if !ok {
		t = cardType[""]
	}
	const reserve = 0.985 // kerning and hinting may widen a line
	first := 0.0
	if lead != "" {
		first = chart.Width(lead, t.size, chart.Bold)
	}
	n := chart.Lines(text, t.size, (width-t.indent)*reserve, first, t.face)
	if n == 0 {
		return 0
	}
	return float64(n)*t.leading + t.gap
}

func highAll(ps []views.Para, width float64) float64 {
	h := 0.0
	for _, p := range ps {
		h += high(p.Class, p.Lead, p.Text, width)
	}
	return h
}

// columnGap is the room between what to do and what to say on a full sheet,
// and between words and charts on a compact one.
const columnGap = 16.0

// besideCharts is the width of the column of charts on a compact sheet, pt.
const besideCharts = 214.0

// turnHigh is the height of a showing whose charts are charts pt high.
func (z sheetSize) turnHigh(t views.Turn, charts float64) float64 {
	h := 8 + high("title", "", t.Span+"  "+t.Target+" "+t.Designation, z.W)
	below := charts + captionRoom
	switch z.Layout {
	case "half":
		return h + highAll(t.Do, z.W) + highAll(t.Say, z.W) + below
	case "compact":
		column := z.W - columnGap - besideCharts
		return h + math.Max(highAll(t.Do, column)+highAll(t.Say, column), below)
	}
	column := (z.W - columnGap) / 2
	return h + math.Max(highAll(t.Do, column), highAll(t.Say, column)) + below
}

// Rows of charts: least and most height, pt.
func (z sheetSize) chartRange() (least, most float64) {
	switch z.Layout {
	case "half":
		return 88, 160
	case "compact":
		return 100, 100
	}
	return 104, 190
}

// spare is the height that words leave under the charts beside them, pt.
func (z sheetSize) spare(t views.Turn, charts float64) float64 {
	if z.Layout != "compact" {
		return 0
	}
	return z.turnHigh(t, charts) - 8 - high("title", "", t.Span+"  "+t.Target+" "+t.Designation, z.W) - charts - captionRoom
}

// chartWidth is the width of a row of charts, pt.
func (z sheetSize) chartWidth() float64 {
	if z.Layout == "compact" {
		return besideCharts
	}
	return z.W
}

// captionRoom is the height of the captions, three lines, with the gaps around
// the row.
const captionRoom = 3*11.8 + 10

func (z sheetSize) headHigh(c views.Card, again bool) float64 {
	head := cardType["head"]
	h := head.leading + head.gap
	date := chart.Width(c.Date+" · "+c.Zone+" · "+c.Pages, 10, chart.Text)
	if chart.Width(c.Name, head.size, head.face)+8+date > z.W {
		h += 12.4 // the date goes under the name
	}
	if again {
		return h + 4
	}
	return h + high("", "", c.Line, z.W) + high("", "", c.Operators+" "+c.Place, z.W) + 4
}

// tallyLead is the room that the word before the boxes takes, pt.
const tallyLead = 39.0

// footHigh is care, tally and faults.
func (z sheetSize) footHigh(c views.Card) float64 {
	h := 8.0
	for _, l := range c.Care {
		h += high("fact", "", l, z.W)
	}
	return h + float64(chart.BoxRows(views.TallyBoxes, z.W-tallyLead))*15 + 8 + 2*20
}

// face is one side of a card: showings from first on, and whether the foot
// stands here. A side without showings is the cover.
type face struct {
	first, count int
	foot         bool
	charts       float64 // height of each row of charts, pt
}

// faces lays the showings of a card out over as few sides as they need. No
// showing is ever split. The foot stands after the last one; where it finds no
// room it goes to a cover in front, with the evening at a glance. What height
// is left goes to the charts.
func (z sheetSize) faces(c views.Card, turns []views.Turn) []face {
	if len(turns) == 0 {
		return nil
	}
	least, most := z.chartRange()
	foot := z.footHigh(c)
	out, left := z.fill(c, turns, false)
	last := &out[len(out)-1]
	end := last.first + last.count - 1
	alone := z.headHigh(c, true) + z.turnHigh(turns[end], least) + foot
	switch {
	case foot <= left:
		last.foot = true
	case last.count > 1 && alone <= z.H:
		last.count--
		out = append(out, face{first: end, count: 1, foot: true})
	default:
		again, _ := z.fill(c, turns, true)
		out = append([]face{{foot: true}}, again...)
	}
	for i := range out {
		out[i].charts = z.stretch(c, turns, out[i], i > 0, least, most)
	}
	return out
}

// fill puts the showings on sides in order and returns what height is left on
// the last. behind says that a cover comes before them.
func (z sheetSize) fill(c views.Card, turns []views.Turn, behind bool) (out []face, left float64) {
	least, _ := z.chartRange()
	for i, t := range turns {
		need := z.turnHigh(t, least)
		if len(out) == 0 || need > left {
			out = append(out, face{first: i})
			left = z.H - z.headHigh(c, behind || i > 0)
		}
		out[len(out)-1].count++
		left -= need
	}
	return out, left
}

// stretch gives the height that a side leaves over to its charts.
func (z sheetSize) stretch(c views.Card, turns []views.Turn, f face, again bool, least, most float64) float64 {
	if f.count == 0 || least == most {
		return least
	}
	left := z.H - z.headHigh(c, again)
	if f.foot {
		left -= z.footHigh(c)
	}
	for _, t := range turns[f.first : f.first+f.count] {
		left -= z.turnHigh(t, 0)
	}
	return math.Floor(min(max(left/float64(f.count), least), most))
}
