package web

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/chart"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// board is the line-up as a drawing, for pages that only show it.
func board(sh *night.Sheet) chart.Board { return boardOf(sh, 0, nil) }

// boardOf is the line-up as a drawing, with one showing selected (0 for none)
// and those that break a rule marked.
func boardOf(sh *night.Sheet, selected int64, clashes map[int64]bool) chart.Board {
	from, to := boardSpan(sh)
	b := chart.Board{
		ID: "board", From: from, To: to, Zone: sh.Zone, Bands: bands(sh, from, to),
		Moon: moonUp(sh, from, to), Marks: marksOf(sh), PublicFrom: sh.Night.PublicFrom, PublicTo: sh.Night.PublicTo(),
	}
	m := sh.Fits()
	for i, slot := range m.Blocks {
		if i == 0 {
			b.Blocks = append(b.Blocks, slot.From)
		}
		b.Blocks = append(b.Blocks, slot.To)
	}
	target := -1
	if i := showingIndex(sh, selected); i >= 0 {
		b.Selected = strconv.FormatInt(selected, 10)
		target = sh.Input.TargetIndex(sh.Showings[i].TargetID)
	}
	parked := sh.Input.Parked(m, sh.Showings)
	for ii, inst := range sh.Kit.Instruments {
		row := chart.BoardRow{Title: inst.Name, Detail: instrumentLine(inst), Key: strconv.FormatInt(inst.ID, 10)}
		for _, s := range sh.Showings {
			if s.InstrumentID == inst.ID {
				row.Bars = append(row.Bars, bar(sh, m, s, clashes[s.ID]))
			}
		}
		for _, p := range parked {
			switch {
			case p.InstrumentID != inst.ID:
			case p.Reason == "free":
				row.Bars = append(row.Bars, chart.Bar{From: p.From, To: p.To, Title: "+", Detail: "free", Free: true,
					Href:  fmt.Sprintf("%s/new?instrument=%d&from=%d", lineUpPath(sh.Night.ID), inst.ID, p.From.Unix()),
					Words: fmt.Sprintf("%s is free from %s: add a showing", inst.Name, span(sh, p.From, p.To))})
			default:
				row.Bars = append(row.Bars, chart.Bar{From: p.From, To: p.To, Title: "Parked", Detail: p.Reason, Parked: true,
					Words: fmt.Sprintf("%s is parked from %s to %s: %s", inst.Name, siteClock(sh, p.From), siteClock(sh, p.To), p.Reason)})
			}
		}
		if target >= 0 {
			row.Windows = windowsOf(sh, m, ii, target)
		}
		b.Rows = append(b.Rows, row)
	}
	return b
}

// withoutPlaces takes the links to add a showing off a board, for those who may
// only look: a free stretch is said and leads nowhere.
func withoutPlaces(b chart.Board) {
	for i := range b.Rows {
		for j := range b.Rows[i].Bars {
			if x := &b.Rows[i].Bars[j]; x.Free {
				x.Free, x.Parked, x.Href = false, true, ""
				x.Title, x.Words = "Free", strings.TrimSuffix(x.Words, ": add a showing")
			}
		}
	}
}

// narrowBoard is the same for a phone: only the public hours, lanes as wide as
// the screen.
func narrowBoard(sh *night.Sheet, wide chart.Board) chart.Board {
	b := wide
	b.ID, b.Narrow = wide.ID+"-narrow", true
	if n := len(b.Blocks); n > 0 {
		b.From, b.To = b.Blocks[0], b.Blocks[n-1]
		b.Bands, b.Moon = bands(sh, b.From, b.To), moonUp(sh, b.From, b.To)
	}
	b.Rows = slices.Clone(wide.Rows)
	for i := range b.Rows {
		b.Rows[i].Bars = slices.Clone(b.Rows[i].Bars)
		for j := range b.Rows[i].Bars {
			// There is no room for the eyepiece; the time is more use.
			if x := &b.Rows[i].Bars[j]; x.Key != "" && !x.Clash {
				x.Detail = siteClock(sh, x.From)
				if x.Pinned {
					x.Detail += " pinned"
				}
			}
		}
	}
	return b
}

// boardSpan is the stretch that the board covers: from the sunset when it is
// near, to the end of the public hours, on whole half hours.
func boardSpan(sh *night.Sheet) (from, to time.Time) {
	const half = 30 * time.Minute
	from = sh.Night.PublicFrom.Add(-20 * time.Minute)
	if set := sh.Twilights.Sunset; set.State == sky.Happens && set.Time.Before(from) && sh.Night.PublicFrom.Sub(set.Time) < 3*time.Hour {
		from = set.Time.Add(-5 * time.Minute)
	}
	return from.Truncate(half), sh.Night.PublicTo().Add(half).Truncate(half)
}

// marksOf are the instants that the axis names, the more important first.
func marksOf(sh *night.Sheet) []chart.Mark {
	marks := []chart.Mark{{At: sh.Night.PublicFrom, Name: "Gate"}, {At: sh.Night.PublicTo(), Name: "End"}}
	if t := sh.Twilights.Sunset; t.State == sky.Happens {
		marks = append(marks, chart.Mark{At: t.Time, Name: "Sunset"})
	}
	if t := sh.Twilights.Sunrise; t.State == sky.Happens {
		marks = append(marks, chart.Mark{At: t.Time, Name: "Sunrise"})
	}
	if t := sh.Twilights.AstronomicalDusk; t.State == sky.Happens {
		marks = append(marks, chart.Mark{At: t.Time, Name: "Dark"})
	}
	return marks
}

// moonUp are the stretches in which the Moon is over a flat horizon.
func moonUp(sh *night.Sheet, from, to time.Time) []chart.Stretch {
	lit := fmt.Sprintf("%.0f %% lit", 100*sh.Sky.Moon(sh.Night.PublicFrom).Illuminated)
	ev := sh.Sky.Events(sky.Moon)
	type edge struct {
		at   time.Time
		rise bool
	}
	var edges []edge
	for _, t := range ev.Rises {
		edges = append(edges, edge{t, true})
	}
	for _, t := range ev.Sets {
		edges = append(edges, edge{t, false})
	}
	slices.SortFunc(edges, func(a, b edge) int { return a.at.Compare(b.at) })
	up := sh.Sky.At(sky.Moon, from).AltRefracted > 0
	if len(edges) > 0 { // rising and setting count the upper limb, the altitude the centre
		up = !edges[0].rise
	}
	var out []chart.Stretch
	at := sh.Sky.From
	add := func(a, b time.Time, words string) {
		if a.Before(from) {
			a = from
		}
		if b.After(to) {
			b = to
		}
		if b.After(a) {
			out = append(out, chart.Stretch{From: a, To: b, Words: "Moon up, " + lit + words})
		}
	}
	for _, e := range edges {
		if up && !e.rise {
			add(at, e.at, ", sets "+siteClock(sh, e.at))
		}
		up, at = e.rise, e.at
	}
	if up {
		add(at, sh.Sky.To, "")
	}
	return out
}

// windowsOf are the stretches in which a target is possible at an instrument.
func windowsOf(sh *night.Sheet, m *lineup.Matrix, ii, ti int) []chart.Stretch {
	var out []chart.Stretch
	for b, slot := range m.Blocks {
		if m.Cell(ii, ti).Best(b) <= 0 {
			continue
		}
		if n := len(out); n > 0 && out[n-1].To.Equal(slot.From) {
			out[n-1].To = slot.To
			continue
		}
		out = append(out, chart.Stretch{From: slot.From, To: slot.To})
	}
	for i := range out {
		out[i].Words = fmt.Sprintf("%s is possible in %s from %s", sh.Targets[ti].Name, sh.Kit.Instruments[ii].Name, span(sh, out[i].From, out[i].To))
	}
	return out
}

func bar(sh *night.Sheet, m *lineup.Matrix, s lineup.Showing, clash bool) chart.Bar {
	v := sh.Input.ViewOf(m, s)
	b := chart.Bar{From: s.From, To: s.To(), Title: targetName(sh, s.TargetID), Detail: v.Short(), Fit: v.Fit, Pinned: s.Pinned, Clash: clash,
		Href: showHref(sh.Night.ID, s.ID), Key: strconv.FormatInt(s.ID, 10)}
	b.First, b.End = m.BlocksOf(s)
	b.Words = fmt.Sprintf("%s, %s: %s, %s, fit %.2f", sh.Input.InstrumentName(s.InstrumentID), span(sh, s.From, s.To()), b.Title, v.Short(), v.Fit)
	if s.Pinned {
		b.Words += ", pinned"
		b.Detail += " · pinned"
	}
	if clash {
		b.Words += ", breaks a rule"
		b.Detail = "Conflict · " + b.Detail
	}
	return b
}

// targetName is the name of a target of the night; its id when it is unknown.
func targetName(sh *night.Sheet, id string) string {
	if t, ok := sh.Target(id); ok {
		return t.Name
	}
	return id
}

// showHref is the line-up with one showing selected.
func showHref(nightID, showingID int64) string {
	return fmt.Sprintf("%s?show=%d#picked", lineUpPath(nightID), showingID)
}

// showingIndex finds a showing by its id, or returns -1.
func showingIndex(sh *night.Sheet, id int64) int {
	return slices.IndexFunc(sh.Showings, func(x lineup.Showing) bool { return id != 0 && x.ID == id })
}
