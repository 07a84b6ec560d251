package web

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"duskboard/internal/chart"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

func lineUpPath(nightID int64) string { return nightPath(nightID) + "/line-up" }

func showingPath(nightID, showingID int64) string {
	return lineUpPath(nightID) + "/showings/" + strconv.FormatInt(showingID, 10)
}

// showLineUp is the board with the showings behind it as a table, what breaks
// a rule, what was left out and where an instrument stands idle.
func (s *server) showLineUp(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Line-up · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.LineUp(lineUpModel(sh)))
}

func nightCrumbs(sh *night.Sheet) []views.Link {
	return []views.Link{{Text: "Nights", Href: "/nights"}, {Text: sh.Night.Name, Href: nightPath(sh.Night.ID)}}
}

func lineUpModel(sh *night.Sheet) views.LineUpModel {
	base := lineUpPath(sh.Night.ID)
	m := views.LineUpModel{
		Over: overline(sh), Tabs: nightTabs(sh.Night.ID, "line-up"), Base: base, Version: sh.LineUpVersion,
		Ready: len(sh.Kit.Instruments) > 0 && len(sh.Targets) > 0, ChooseHref: nightPath(sh.Night.ID) + "/choose",
		CanUndo: sh.CanUndo, CanRedo: sh.CanRedo,
	}
	if !m.Ready {
		return m
	}
	fits := sh.Fits()
	m.Board = string(chart.DrawBoard(board(sh)))
	m.Any = len(sh.Showings) > 0
	m.Table = showingTable(sh, fits)
	for _, c := range sh.Input.Check(fits, sh.Showings) {
		m.Conflicts = append(m.Conflicts, c.Words)
	}
	for _, p := range sh.Input.Parked(fits, sh.Showings) {
		row := views.ParkedRow{Instrument: sh.Input.InstrumentName(p.InstrumentID), Span: span(sh, p.From, p.To), Reason: p.Reason}
		row.Href = fmt.Sprintf("%s/new?instrument=%d&from=%d", base, p.InstrumentID, p.From.Unix())
		m.Parked = append(m.Parked, row)
	}
	m.Absent = absent(sh, fits)
	m.Crowd = crowdWords(sh, sh.Input.CrowdingOf(fits, sh.Showings))
	return m
}

func span(sh *night.Sheet, from, to time.Time) string {
	return siteClock(sh, from) + " to " + siteClock(sh, to)
}

func showingTable(sh *night.Sheet, fits *lineup.Matrix) views.Table {
	t := views.Table{Caption: "Showings", Columns: []views.Column{
		{Label: "Instrument"}, {Label: "Time"}, {Label: "Target"}, {Label: "Eyepiece"}, {Label: "Power", Number: true},
		{Label: "True field", Number: true}, {Label: "Altitude", Number: true}, {Label: "Fit", Number: true}, {Label: "Weakest point"},
	}}
	for _, inst := range sh.Kit.Instruments {
		for _, s := range sh.Showings {
			if s.InstrumentID != inst.ID {
				continue
			}
			v := sh.Input.ViewOf(fits, s)
			name := s.TargetID
			if x, ok := sh.Target(s.TargetID); ok {
				name = x.Name
			}
			c := views.Cell{Text: name, Href: showingPath(sh.Night.ID, s.ID)}
			if s.Pinned {
				c.Mark = "Pinned"
			}
			weak := ""
			if v.Fit < 0.9 {
				weak = v.Weakest.Sentence
			}
			t.Rows = append(t.Rows, []views.Cell{
				{Text: inst.Name}, {Text: span(sh, s.From, s.To())}, c, {Text: v.Gear()}, {Text: fmt.Sprintf("%.0f×", v.Optics.Magnification)},
				{Text: v.Field()}, {Text: fmt.Sprintf("%.0f° to %.0f°", v.AtStart.AltRefracted, v.AtEnd.AltRefracted)}, {Text: fmt.Sprintf("%.2f", v.Fit)}, {Text: weak},
			})
		}
	}
	return t
}

// absent lists the targets that nobody shows, each with the reason.
func absent(sh *night.Sheet, fits *lineup.Matrix) []views.Row {
	if len(sh.Showings) == 0 {
		return nil
	}
	shown := map[string]bool{}
	for _, s := range sh.Showings {
		shown[s.TargetID] = true
	}
	var out []views.Row
	for ti, t := range sh.Targets {
		if !shown[t.ID] {
			out = append(out, views.Row{Label: t.Name, Value: fits.WhyNowhere(ti)})
		}
	}
	return out
}

func crowdWords(sh *night.Sheet, c lineup.Crowding) string {
	if c.Looks == 0 || sh.Night.Guests == 0 {
		return ""
	}
	words := fmt.Sprintf("About %.0f looks for %d guests: %.1f looks each. If everybody came at once, the last in line would wait %.0f minutes.",
		c.Looks, sh.Night.Guests, c.PerGuest, c.LongestWait.Minutes())
	if c.Short {
		words += " That is short: add an instrument, or choose quicker targets."
	}
	return words
}
