package web

import (
	"fmt"
	"net/http"
	"sort"
	"strings"
	"time"

	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/weather"
	"duskboard/web/views"
)

func weatherPath(id int64) string { return nightPath(id) + "/weather" }

// weatherForm is what stands in the boxes of the weather page.
type weatherForm struct {
	open      string // "lines" or "file"
	lines     []weather.Line
	faults    weather.Faults
	csv       string
	zone      string // "site" or "utc"
	made      string
	read      weather.Series // of the file, when it was read without fault
	looked    bool
	fetchWhy  string
	fileFault string // about the file as a whole
}

func (s *server) showWeather(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	f := weatherForm{lines: blankLines(sh)}
	if sh.Weather.Empty() {
		f.open = "lines"
	}
	return s.weatherPage(w, r, http.StatusOK, sh, f)
}

// mostLines is how many lines the form offers.
const mostLines = 5

// blankLines offers the three named instants and two free lines.
func blankLines(sh *night.Sheet) []weather.Line {
	out := make([]weather.Line, mostLines)
	out[0].When, out[1].When, out[2].When = "sunset", "midnight", "dawn"
	at := anchors(sh)
	if at.Sunset.IsZero() {
		out[0].When = siteClock(sh, sh.Night.PublicFrom)
	}
	if at.Dawn.IsZero() {
		out[2].When = siteClock(sh, sh.Night.PublicTo())
	}
	return out
}

// anchors ties the words of typed lines to the night. Dawn is the first light,
// or sunrise on a night that never turns dark.
func anchors(sh *night.Sheet) weather.Anchors {
	d := sh.Night.Date
	a := weather.Anchors{Evening: time.Date(d.Year, d.Month, d.Day, 18, 0, 0, 0, sh.Zone), Zone: sh.Zone}
	if e := sh.Twilights.Sunset; e.State == sky.Happens {
		a.Sunset = e.Time
	}
	for _, e := range []sky.Event{sh.Twilights.AstronomicalDawn, sh.Twilights.CivilDawn, sh.Twilights.Sunrise} {
		if e.State == sky.Happens {
			a.Dawn = e.Time
			break
		}
	}
	return a
}

func (s *server) weatherPage(w http.ResponseWriter, r *http.Request, status int, sh *night.Sheet, f weatherForm) error {
	x := sh.Weather
	m := views.WeatherModel{
		Over: overline(sh), Title: "Weather", Tabs: nightTabs(sh.Night.ID, "weather"), Action: weatherPath(sh.Night.ID), Has: !x.Empty(), Version: x.Mark(),
		Stale: x.AgeWarning(s.now()), Notes: x.Notes, Attribution: x.Attribution, Rule: weather.Rule, TypedRule: weather.TypedRule,
		Next: views.Link{Text: "What it does to the glass", Href: glassPath(sh.Night.ID)}, Open: f.open,
		Lines: lineFields(f), CSV: views.Field{Name: "csv", Label: "Paste it here", Value: f.csv, Rows: 8, Error: f.fileFault, Placeholder: "time,temp,dew point,cloud,wind\n18:00,9.5,4.0,10,2"},
		Zone:    views.Choice{Name: "zone", Label: "Times without an offset are in", Value: f.zone, Width: "short", Options: []views.Option{{Value: "site", Text: "the site's zone, " + sh.Site.Zone}, {Value: "utc", Text: "UTC"}}},
		Made:    views.Field{Name: "made", Label: "The forecast is of", Value: f.made, Width: "short", Hint: "time of day when it was made, such as 14:00; empty when nobody knows"},
		Columns: headingRows(),
	}
	s.fetchWords(&m, f)
	if m.Has {
		m.Source, m.Age, m.Gaps = sourceWords(sh), s.ageWords(sh), gapWords(sh)
		m.Charts = []string{string(airChart(sh)), string(skyWeatherChart(sh)), string(windChart(sh))}
		m.Hours = hoursTable(sh, x)
	}
	switch {
	case f.open == "file" && len(f.faults) > 0:
		m.Rows, m.RowsTitle = faultRows(f.csv, f.faults), "Row by row"
		m.Faults = []views.FieldError{{Name: "csv", Label: "The file", Message: plural(len(f.faults), "fault", "faults") + ", listed below; nothing was changed"}}
	case f.open == "file" && f.fileFault != "":
		m.Faults = []views.FieldError{{Name: "csv", Label: "The file", Message: f.fileFault}}
	case f.open == "file" && f.looked:
		m.Rows, m.RowsTitle, m.Ready = hoursTable(sh, f.read), "Read without a fault", true
	case f.open == "lines":
		m.Faults = lineFaults(f.faults)
	}
	return s.show(w, r, status, views.Head{Title: "Weather · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.Weather(m))
}

func (s *server) fetchWords(m *views.WeatherModel, f weatherForm) {
	m.FetchWhy, m.FetchFailed = f.fetchWhy, f.fetchWhy != ""
	switch {
	case s.forecast != nil:
		m.CanFetch, m.Service = true, s.forecast.Name()
	case s.demo && !m.FetchFailed:
		m.FetchWhy = "The demo asks no forecast service: it must work without a network."
	case !m.FetchFailed:
		m.FetchWhy = "No forecast service is switched on; whoever runs this server can do so with --forecast."
	}
}

// sourceWords says where the weather comes from and which hours it covers.
func sourceWords(sh *night.Sheet) string {
	hs := sh.Weather.Hours
	return fmt.Sprintf("%s: %s from %s to %s.", first(sh.Weather.Source), plural(len(hs), "hour", "hours"), dayClock(sh, hs[0].Time), dayClock(sh, hs[len(hs)-1].Time))
}

func (s *server) ageWords(sh *night.Sheet) string {
	age, ok := sh.Weather.Age(s.now())
	if !ok {
		return ""
	}
	made := "Made " + dayClock(sh, sh.Weather.IssuedAt)
	switch {
	case age < time.Minute:
		return made + ", just now."
	case age < 2*time.Hour:
		return made + ", " + plural(int(age.Minutes()), "minute", "minutes") + " ago."
	}
	return fmt.Sprintf("%s, %d hours ago.", made, int(age.Hours()))
}

// gapWords lists the stretches from two hours before the gate to the end that
// have no weather.
func gapWords(sh *night.Sheet) []string {
	const step = 15 * time.Minute
	from, to := sh.Night.PublicFrom.Add(-2*time.Hour), sh.Night.PublicTo()
	var out []string
	var open time.Time
	closeAt := func(t time.Time) {
		if !open.IsZero() {
			out = append(out, fmt.Sprintf("Nobody knows the weather from %s to %s.", siteClock(sh, open), siteClock(sh, t)))
			open = time.Time{}
		}
	}
	for t := from; !t.After(to); t = t.Add(step) {
		_, ok := sh.Weather.At(t)
		switch {
		case !ok && open.IsZero():
			open = t
		case ok:
			closeAt(t)
		}
	}
	closeAt(to)
	var missing []string
	for _, f := range []struct {
		field weather.Fields
		name  string
	}{{weather.Cloud, "cloud"}, {weather.Wind, "wind"}, {weather.PrecipProb, "rain chance"}} {
		known := false
		for _, h := range sh.Weather.Sample(from, to, step) {
			known = known || h.Has(f.field)
		}
		if !known {
			missing = append(missing, f.name)
		}
	}
	if len(missing) > 0 {
		out = append(out, first(strings.Join(missing, ", "))+": not given for this night.")
	}
	return out
}

// hoursTable lists the hours of a series, with its gaps between them.
func hoursTable(sh *night.Sheet, x weather.Series) views.Table {
	t := views.Table{Caption: "The weather hour by hour", Columns: []views.Column{
		{Label: "Time"}, {Label: "Air", Number: true}, {Label: "Dew point", Number: true}, {Label: "Humidity", Number: true},
		{Label: "Cloud", Number: true}, {Label: "Wind, gusts", Number: true}, {Label: "Rain", Number: true},
	}}
	for i, h := range x.Hours {
		if i > 0 {
			if prev := x.Hours[i-1].Time; h.Time.Sub(prev) > weather.MaxGap {
				t.Rows = append(t.Rows, []views.Cell{{Text: dayClock(sh, prev) + " to " + dayClock(sh, h.Time)}, {Text: "not known"}, {}, {}, {}, {}, {}})
			}
		}
		cloud := views.Cell{Text: cloudWords(h)}
		if h.CloudLow+h.CloudMid+h.CloudHigh > 0 {
			cloud.Note = fmt.Sprintf("low %.0f, middle %.0f, high %.0f", h.CloudLow, h.CloudMid, h.CloudHigh)
		}
		t.Rows = append(t.Rows, []views.Cell{
			{Text: dayClock(sh, h.Time), Mark: estimatedMark(h)}, {Text: celsius(h.Temp)}, {Text: celsius(h.DewPoint)}, {Text: fmt.Sprintf("%.0f %%", h.RH)},
			cloud, {Text: windWords(h)}, {Text: rainWords(h)},
		})
	}
	return t
}

// faultRows shows each faulty line of a file as it was written, with what is
// wrong beside it.
func faultRows(csv string, faults weather.Faults) views.Table {
	t := views.Table{Caption: "What is wrong in the file", Columns: []views.Column{{Label: "Line"}, {Label: "As written"}, {Label: "What is wrong"}}}
	lines := strings.Split(strings.ReplaceAll(csv, "\r\n", "\n"), "\n")
	byLine := map[int][]string{}
	var order []int
	for _, f := range faults {
		if _, ok := byLine[f.Line]; !ok {
			order = append(order, f.Line)
		}
		why := f.Reason
		if f.Column != "" {
			why = f.Column + ": " + why
		}
		byLine[f.Line] = append(byLine[f.Line], first(why)+".")
	}
	sort.Ints(order)
	for _, n := range order {
		row := []views.Cell{{Text: "the whole file"}, {}, {Text: strings.Join(byLine[n], " ")}}
		if n > 0 {
			row[0].Text = fmt.Sprint(n)
			if n <= len(lines) {
				row[1].Text = lines[n-1]
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// headingRows lists the accepted headings of a file.
func headingRows() []views.Row {
	var out []views.Row
	names := weather.CSVColumns()
	for _, c := range lineColumns {
		out = append(out, views.Row{Label: c.label, Value: strings.Join(names[c.column][:min(4, len(names[c.column]))], ", ")})
	}
	return out
}
