package web

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"duskboard/internal/chart"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

func lineUpPath(nightID int64) string { return nightPath(nightID) + "/line-up" }

func showingPath(nightID, showingID int64) string {
	return lineUpPath(nightID) + "/showings/" + strconv.FormatInt(showingID, 10)
}

// showLineUp is the board with one showing selected (show=ID), its view and
// reasons; the showings as a table; what breaks a rule, what was left out, how
// the guests flow and where an instrument stands idle. A script gets the part
// of the page that changes.
func (s *server) showLineUp(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	pick, _ := strconv.ParseInt(r.FormValue("show"), 10, 64)
	m := lineUpModel(sh, pick, views.May(r.Context(), http.MethodPost, lineUpPath(sh.Night.ID)+"/propose"))
	if wantsFragment(r) {
		return s.fragment(w, r, http.StatusOK, views.LineUpBody(m))
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Line-up · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.LineUp(m))
}

func nightCrumbs(sh *night.Sheet) []views.Link {
	return []views.Link{{Text: "Nights", Href: "/nights"}, {Text: sh.Night.Name, Href: nightPath(sh.Night.ID)}}
}

// lineUpCrumbs is the way back from the pages behind the line-up.
func lineUpCrumbs(sh *night.Sheet) []views.Link {
	return append(nightCrumbs(sh), views.Link{Text: "Line-up", Href: lineUpPath(sh.Night.ID)})
}

func lineUpModel(sh *night.Sheet, pick int64, may bool) views.LineUpModel {
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
	clashes := map[int64]bool{}
	for _, c := range sh.Input.Check(fits, sh.Showings) {
		row := views.ConflictRow{Words: c.Words}
		for _, x := range c.Showings {
			clashes[x.ID] = true
			row.Links = append(row.Links, views.Link{Text: sh.Input.InstrumentName(x.InstrumentID) + ", " + siteClock(sh, x.From), Href: showHref(sh.Night.ID, x.ID)})
		}
		m.Conflicts = append(m.Conflicts, row)
	}
	m.Conflicts = append(m.Conflicts, unstaffed(sh)...)
	m.Picked = pickedModel(sh, pick)
	if m.Picked == nil {
		pick = 0
	}
	wide := boardOf(sh, pick, clashes)
	if !may {
		withoutPlaces(wide)
	}
	m.Wide, m.Narrow = string(chart.DrawBoard(wide)), string(chart.DrawBoard(narrowBoard(sh, wide)))
	m.Sky = skyLine(sh)
	m.Any = len(sh.Showings) > 0
	m.Score = fmt.Sprintf("%.0f", sh.Input.Worth(fits, sh.Showings))
	m.Table = showingTable(sh, fits)
	for _, p := range sh.Input.Parked(fits, sh.Showings) {
		row := views.ParkedRow{Instrument: sh.Input.InstrumentName(p.InstrumentID), Span: span(sh, p.From, p.To), Reason: p.Reason}
		row.Href = fmt.Sprintf("%s/new?instrument=%d&from=%d", base, p.InstrumentID, p.From.Unix())
		m.Parked = append(m.Parked, row)
	}
	for _, p := range sh.Forbidden {
		m.Forbidden = append(m.Forbidden, views.ForbiddenRow{Instrument: p.InstrumentID, Target: p.TargetID, Words: fmt.Sprintf("%s in %s", targetName(sh, p.TargetID), sh.Input.InstrumentName(p.InstrumentID))})
	}
	m.Absent = absent(sh, fits)
	m.Flow = flowModel(sh, fits)
	return m
}

func span(sh *night.Sheet, from, to time.Time) string {
	return siteClock(sh, from) + " to " + siteClock(sh, to)
}

// skyLine says in words what stands at the top of the board.
func skyLine(sh *night.Sheet) string {
	tw := sh.Twilights
	words := "Sunset " + event(sh, tw.Sunset, "not tonight, the Sun stays up", "not tonight, the Sun stays down")
	words += " · " + event2("nautical dusk ", sh, tw.NauticalDusk, "no nautical dusk tonight", "deep twilight or night all day")
	words += " · " + event2("dark from ", sh, tw.AstronomicalDusk, "no full darkness tonight", "dark all day")
	moon := sh.Sky.Moon(sh.Night.PublicFrom)
	return words + fmt.Sprintf(" · Moon %.0f %% lit, %s", 100*moon.Illuminated, moonTimes(sh))
}

// event2 puts a word before the time of an event that happens.
func event2(word string, sh *night.Sheet, e sky.Event, above, below string) string {
	if e.State == sky.Happens {
		return word + siteClock(sh, e.Time)
	}
	return event(sh, e, above, below)
}

// weakBelow is the value below which a factor is a weakness. From here on the
// sentences praise ("Guests like it."), so the lowest is told by its number.
const weakBelow = 0.7

// weakWords tells the lowest factor of a view: what is wrong with it, or that
// nothing is, with the name and number of what comes nearest.
func weakWords(f lineup.Factor) string {
	if f.Value < weakBelow {
		return f.Sentence
	}
	return fmt.Sprintf("nothing weak (least: %s, %.2f)", lowerFirst(f.Key.String()), f.Value)
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
			c := views.Cell{Text: targetName(sh, s.TargetID), Href: showHref(sh.Night.ID, s.ID)}
			if s.Pinned {
				c.Mark = "Pinned"
			}
			t.Rows = append(t.Rows, []views.Cell{
				{Text: inst.Name}, {Text: span(sh, s.From, s.To())}, c, {Text: v.Gear()}, {Text: fmt.Sprintf("%.0f×", v.Optics.Magnification)},
				{Text: v.Field()}, {Text: fmt.Sprintf("%.0f° to %.0f°", v.AtStart.AltRefracted, v.AtEnd.AltRefracted)}, {Text: fmt.Sprintf("%.2f", v.Fit)}, {Text: weakWords(v.Weakest)},
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
