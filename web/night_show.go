package web

import (
	"fmt"
	"net/http"
	"slices"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/chart"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// showNight is the first page of a night: what to do next, the line-up, what
// is up and when.
func (s *server) showNight(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	papers, err := s.store.NightPapers(r.Context())
	if err != nil {
		return err
	}
	m := views.NightModel{
		Publish: publishModel(id, papers[id].Published), Word: s.wordOf(sh),
		Over: overline(sh), Title: sh.Night.Name, Tabs: nightTabs(id, "night"), Facts: nightFacts(sh),
		Todo: nightTodo(sh), Times: skyTimes(sh), Up: upTable(sh), Weather: weatherWords(sh),
	}
	if len(sh.Showings) > 0 {
		m.Board = string(chart.DrawBoard(board(sh)))
	}
	if len(sh.Targets) > 0 {
		m.Altitudes = string(chart.Altitudes(altitudes(sh)))
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: sh.Night.Name, Section: inNights, Crumbs: []views.Link{{Text: "Nights", Href: "/nights"}}}, views.Night(m))
}

// nightPages are the pages of one night, in the order in which the work is
// done: a key for nightTabs, the word, and the address behind the night's own.
var nightPages = []struct{ key, text, path string }{
	{"night", "First page", ""},
	{"choose", "What to use", "/choose"},
	{"sky", "Sky", "/sky"},
	{"fits", "What fits what", "/fits"},
	{"line-up", "Line-up", "/line-up"},
	{"roster", "Roster", "/roster"},
	{"field", "Field", "/field"},
	{"cards", "Cards", "/cards"},
	{"weather", "Weather", "/weather"},
	{"glass", "Dew and cool-down", "/glass"},
	{"decision", "Go or no-go", "/decision"},
	{"departure", "Departure check", "/departure"},
}

// nightTabs are links to the pages of one night, the current one marked.
func nightTabs(id int64, current string) []views.Link {
	var tabs []views.Link
	for _, p := range nightPages {
		tabs = append(tabs, views.Link{Text: p.text, Href: nightPath(id) + p.path, Current: p.key == current})
	}
	return tabs
}

// overline is the quiet line over a night's title.
func overline(sh *night.Sheet) string {
	return fmt.Sprintf("%s · %s · times in %s", longDate(sh), sh.Site.Name, zoneName(sh))
}

func longDate(sh *night.Sheet) string {
	d := sh.Night.Date
	return time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC).Format("Monday 2 January 2006")
}

// zoneName names the clock of the site, both when it changes in the night.
func zoneName(sh *night.Sheet) string {
	a, _ := sh.Night.PublicFrom.In(sh.Zone).Zone()
	b, _ := sh.Night.PublicTo().In(sh.Zone).Zone()
	if a != b {
		return a + ", then " + b
	}
	return a
}

// siteClock prints an instant on the site's clock.
func siteClock(sh *night.Sheet, t time.Time) string { return t.In(sh.Zone).Format("15:04") }

func nightFacts(sh *night.Sheet) string {
	n := sh.Night
	return fmt.Sprintf("Public %s to %s · about %d guests · %d instruments · %d crew asked · %d targets to choose from",
		siteClock(sh, n.PublicFrom), siteClock(sh, n.PublicTo()), n.Guests, len(sh.Kit.Instruments), len(sh.Volunteers), len(sh.Targets))
}

// nightTodo is what to do next, in order; the first open step has the button.
func nightTodo(sh *night.Sheet) []views.Todo {
	base := nightPath(sh.Night.ID)
	steps := []views.Todo{
		{Text: "Choose kit, targets and crew", Why: fmt.Sprintf("%d instruments, %d eyepieces, %d targets so far.", len(sh.Kit.Instruments), len(sh.Kit.Eyepieces), len(sh.Targets)),
			Action: "Choose", Href: base + "/choose", Done: len(sh.Kit.Instruments) > 0 && len(sh.Targets) > 0},
		{Text: "Propose a line-up", Why: "Who shows what when, with which eyepiece. Change and pin what you like.", Action: "Propose", Href: base + "/line-up", Done: len(sh.Showings) > 0},
		{Text: "Enter the weather", Why: "Typed, from a file or from a forecast: dew, cool-down and the verdict follow.", Action: "Weather", Href: base + "/weather", Done: !sh.Weather.Empty()},
		{Text: "Decide: go or no-go", Why: fmt.Sprintf("At %s on the day, posted by %s.", clock(sh.GoRules.Decide), clock(sh.GoRules.Post)), Action: "Decide", Href: base + "/decision", Done: len(sh.Decisions) > 0},
		{Text: "Send out the departure check", Why: "Who packs what, and when each leaves home.", Action: "Check", Href: base + "/departure"},
		{Text: "Staff the night", Why: fmt.Sprintf("%s for %s asked.", plural(len(sh.Duties), "duty", "duties"), plural(len(sh.Volunteers), "volunteer", "volunteers")), Action: "Roster", Href: base + "/roster", Done: len(sh.Duties) > 0},
		{Text: fmt.Sprintf("Print %d cards", cardCount(sh)), Why: "One sheet an instrument, to read by a red torch.", Action: "Print", Href: base + "/cards"},
	}
	markFirstOpen(steps)
	steps[0].Action = "Choose"
	// What is still to do comes first; what is done stays in order below.
	slices.SortStableFunc(steps, func(a, b views.Todo) int {
		switch {
		case a.Done == b.Done:
			return 0
		case a.Done:
			return 1
		}
		return -1
	})
	return steps
}

// cardCount is how many instruments show something.
func cardCount(sh *night.Sheet) int {
	at := map[int64]bool{}
	for _, s := range sh.Showings {
		at[s.InstrumentID] = true
	}
	return len(at)
}

// event prints an event of the sky in words: a time, or that there is none.
func event(sh *night.Sheet, e sky.Event, above, below string) string {
	switch e.State {
	case sky.AlwaysAbove:
		return above
	case sky.AlwaysBelow:
		return below
	}
	return siteClock(sh, e.Time)
}

// skyTimes lists the evening's times and the Moon.
func skyTimes(sh *night.Sheet) []views.Row {
	tw := sh.Twilights
	rows := []views.Row{
		{Label: "Sunset", Value: event(sh, tw.Sunset, "the Sun does not set", "the Sun does not rise")},
		{Label: "Civil dusk (Sun 6° down)", Value: event(sh, tw.CivilDusk, "does not come tonight", "twilight all day")},
		{Label: "Nautical dusk (12° down)", Value: event(sh, tw.NauticalDusk, "does not come tonight", "dark all day")},
		{Label: "Astronomical dusk (18° down)", Value: event(sh, tw.AstronomicalDusk, "no full darkness tonight", "dark all day")},
	}
	if tw.AstronomicalDusk.State == sky.Happens {
		rows = append(rows, views.Row{Label: "First light of dawn", Value: event(sh, tw.AstronomicalDawn, "—", "—")})
	}
	moon := sh.Sky.Moon(sh.Night.PublicFrom)
	rows = append(rows, views.Row{Label: "Moon", Value: fmt.Sprintf("%.0f %% lit, %s", moon.Illuminated*100, moon.PhaseName), Note: moonTimes(sh)})
	return rows
}

func moonTimes(sh *night.Sheet) string {
	ev := sh.Sky.Events(sky.Moon)
	switch ev.State {
	case sky.AlwaysAbove:
		return "up all night"
	case sky.AlwaysBelow:
		return "below the horizon all night"
	}
	words := ""
	for _, t := range ev.Rises {
		words += "rises " + siteClock(sh, t) + " "
	}
	for _, t := range ev.Sets {
		words += "sets " + siteClock(sh, t) + " "
	}
	return words
}

func weatherWords(sh *night.Sheet) string {
	if len(sh.Weather.Hours) == 0 {
		return ""
	}
	h, ok := sh.Weather.At(sh.Night.PublicFrom)
	if !ok {
		return ""
	}
	e, ok := sh.Weather.At(sh.Night.PublicTo())
	if !ok {
		return ""
	}
	return fmt.Sprintf("%.0f °C at the gate's opening, %.0f °C at the end, dew point %.0f °C (%s).", h.Temp, e.Temp, e.DewPoint, sh.Weather.Source)
}

// bands are the stretches of light as a drawing wants them.
func bands(sh *night.Sheet, from, to time.Time) []chart.Band {
	var out []chart.Band
	for _, l := range night.LightOf(sh.Sky, from, to) {
		out = append(out, chart.Band{From: l.From, To: l.To, Name: l.Name, Level: l.Level})
	}
	return out
}

// altitudes draws the Moon and the targets of the line-up; without a line-up
// the first targets chosen.
func altitudes(sh *night.Sheet) chart.AltitudeDrawing {
	from, to := sh.Span()
	d := chart.AltitudeDrawing{ID: "altitudes", From: from, To: to, Zone: sh.Zone, Bands: bands(sh, from, to), PublicFrom: sh.Night.PublicFrom, PublicTo: sh.Night.PublicTo(), MinAlt: sh.Club.MinAltitude}
	for t := from; !t.After(to); t = t.Add(5 * time.Minute) {
		d.Times = append(d.Times, t)
	}
	for _, t := range drawnTargets(sh) {
		c := chart.Curve{Name: t.Name, Alts: make([]float64, len(d.Times))}
		for i, p := range sh.Sky.Track(catalog.ObjectOf(t), d.Times) {
			c.Alts[i] = p.AltRefracted
		}
		d.Curves = append(d.Curves, c)
	}
	return d
}

// mostCurves keeps the drawing readable.
const mostCurves = 10

func drawnTargets(sh *night.Sheet) []catalog.Target {
	var out []catalog.Target
	seen := map[string]bool{}
	add := func(id string) {
		if t, ok := sh.Target(id); ok && !seen[id] && len(out) < mostCurves {
			seen[id] = true
			out = append(out, t)
		}
	}
	for _, s := range sh.Showings {
		add(s.TargetID)
	}
	for _, t := range sh.Targets {
		if len(sh.Showings) == 0 {
			add(t.ID)
		}
	}
	return out
}

// upTable lists the targets with what the night gives them.
func upTable(sh *night.Sheet) views.Table {
	t := views.Table{Caption: "Targets of the night", Columns: []views.Column{
		{Label: "Target"}, {Label: "Kind"}, {Label: "At the start", Number: true}, {Label: "At the end", Number: true},
		{Label: "Highest", Number: true}, {Label: "Rises", Number: true}, {Label: "Sets", Number: true}, {Label: "Brightness", Number: true},
	}}
	for _, target := range sh.Targets {
		obj := catalog.ObjectOf(target)
		ev := sh.Sky.Events(obj)
		a, z := sh.Sky.At(obj, sh.Night.PublicFrom), sh.Sky.At(obj, sh.Night.PublicTo())
		highest := ""
		if len(ev.Transits) > 0 {
			highest = siteClock(sh, ev.Transits[0])
		}
		t.Rows = append(t.Rows, []views.Cell{
			{Text: target.Name, Note: firstDesignation(target)}, {Text: string(target.Kind)}, {Text: altitudeWord(a)}, {Text: altitudeWord(z)},
			{Text: highest}, {Text: eventList(sh, ev.Rises, ev.State)}, {Text: eventList(sh, ev.Sets, ev.State)}, {Text: magnitudeWord(sh, target)},
		})
	}
	return t
}

func firstDesignation(t catalog.Target) string {
	if len(t.Designations) > 0 && t.Designations[0] != t.Name {
		return t.Designations[0]
	}
	return ""
}

func altitudeWord(p sky.Position) string {
	if p.AltRefracted < 0 {
		return "down"
	}
	return fmt.Sprintf("%.0f°", p.AltRefracted)
}

func eventList(sh *night.Sheet, ts []time.Time, st sky.EventState) string {
	switch {
	case len(ts) > 0:
		return siteClock(sh, ts[0])
	case st == sky.AlwaysAbove:
		return "always up"
	case st == sky.AlwaysBelow:
		return "never up"
	}
	return "not tonight"
}

func magnitudeWord(sh *night.Sheet, t catalog.Target) string {
	m := t.Magnitude
	if t.Moves && t.Body != sky.Moon && t.Body != sky.Sun {
		m = sh.Sky.Planet(t.Body, sh.Night.PublicFrom).Magnitude
	}
	if t.Moves && (t.Body == sky.Moon || t.Body == sky.Sun) {
		return ""
	}
	return fmt.Sprintf("%.1f mag", m)
}
