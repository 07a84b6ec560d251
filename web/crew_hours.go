package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// term is the stretch over which hours are counted: a season of the club, or
// from one day to another.
type term struct {
	season   crew.Season
	from, to sky.Date
	chosen   bool   // from and to were given
	wrong    string // why what was given does not count
}

// termOf reads the season (its year) or the days in the address. Nights that
// have not been yet do not count.
func (s *server) termOf(r *http.Request, rules crew.Rules) term {
	today := sky.DateOf(s.now(), time.UTC)
	t := term{season: crew.SeasonOf(today.Year, today.Month, rules.SeasonMonth)}
	if year, err := strconv.Atoi(r.FormValue("year")); err == nil && year >= 1980 && year <= 2100 {
		t.season.Year = year
	}
	t.from, t.to = datesOf(t.season)
	if a, b := r.FormValue("from"), r.FormValue("to"); a != "" || b != "" {
		from, errA := sky.ParseDate(a)
		to, errB := sky.ParseDate(b)
		switch {
		case errA != nil || errB != nil:
			t.wrong = "Write both days, as 2026-09-01."
		case to.String() < from.String():
			t.wrong = "The last day is before the first one."
		default:
			t.from, t.to, t.chosen = from, to, true
		}
	}
	return t
}

func datesOf(s crew.Season) (from, to sky.Date) {
	from.Year, from.Month, from.Day = s.First()
	to.Year, to.Month, to.Day = s.Last()
	return from, to
}

// served are the hours of a term; only of nights that have been.
func (s *server) served(r *http.Request, t term) ([]crew.Served, error) {
	to := t.to
	if yesterday := sky.DateOf(s.now(), time.UTC).AddDays(-1); yesterday.String() < to.String() {
		to = yesterday
	}
	return s.store.Served(r.Context(), t.from, to)
}

// name is the season, or the days.
func (t term) name() string {
	if t.chosen {
		return t.from.String() + " to " + t.to.String()
	}
	return t.season.Name()
}

// query is the term as it stands in an address.
func (t term) query() string {
	if t.chosen {
		return url.Values{"from": {t.from.String()}, "to": {t.to.String()}}.Encode()
	}
	return fmt.Sprintf("year=%d", t.season.Year)
}

// showHours is who served how long in a season.
func (s *server) showHours(w http.ResponseWriter, r *http.Request) error {
	rules, err := s.store.CrewRules(r.Context())
	if err != nil {
		return err
	}
	t := s.termOf(r, rules)
	served, err := s.served(r, t)
	if err != nil {
		return err
	}
	m := views.HoursModel{
		Title: "Hours in " + t.name(), File: "/crew/hours.csv?" + t.query(), Duties: "/crew/hours.csv?by=duty&" + t.query(), Season: "/crew/rules",
		From: views.Field{Name: "from", Label: "From", Value: t.from.String(), Type: "date", Width: "mid"},
		To:   views.Field{Name: "to", Label: "To", Value: t.to.String(), Type: "date", Width: "mid", Error: t.wrong},
	}
	for _, d := range []int{-1, 0, 1} {
		x := crew.Season{Year: t.season.Year + d, Month: t.season.Month}
		if first, _ := datesOf(x); first.String() <= sky.DateOf(s.now(), time.UTC).String() {
			m.Years = append(m.Years, views.Link{Text: x.Name(), Href: fmt.Sprintf("/crew/hours?year=%d", x.Year), Current: d == 0 && !t.chosen})
		}
	}
	m.Table = views.Table{Caption: "Hours served", Columns: []views.Column{{Label: "Name"}, {Label: "Nights", Number: true}, {Label: "Hours", Number: true}}}
	for _, role := range hourRoles {
		m.Table.Columns = append(m.Table.Columns, views.Column{Label: first(crew.RoleName(role)), Number: true})
	}
	for _, h := range crew.Sum(served) {
		row := []views.Cell{{Text: h.Name}, {Text: strconv.Itoa(h.Nights)}, {Text: number(h.Total.Hours(), 2)}}
		for _, role := range hourRoles {
			text := ""
			if d := h.ByRole[role]; d > 0 {
				text = number(d.Hours(), 2)
			}
			row = append(row, views.Cell{Text: text})
		}
		m.Table.Rows = append(m.Table.Rows, row)
	}
	status := http.StatusOK
	if t.wrong != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.show(w, r, status, views.Head{Title: m.Title, Section: inCrew, Crumbs: []views.Link{{Text: "Crew", Href: "/crew"}}}, views.Hours(m))
}

var hourRoles = append(append([]crew.Role(nil), crew.Roles...), crew.Companion, crew.Helped)

// exportHours is each person's hours in the season as CSV; with by=duty, every
// duty.
func (s *server) exportHours(w http.ResponseWriter, r *http.Request) error {
	rules, err := s.store.CrewRules(r.Context())
	if err != nil {
		return err
	}
	t := s.termOf(r, rules)
	served, err := s.served(r, t)
	if err != nil {
		return err
	}
	hours := func(d time.Duration) string { return strconv.FormatFloat(d.Hours(), 'f', 2, 64) }
	if r.FormValue("by") == "duty" {
		rows := [][]string{{"date", "night", "name", "duty", "hours"}}
		for _, d := range served {
			rows = append(rows, []string{d.Date, d.Night, d.Name, string(d.Role), hours(d.Length)})
		}
		return sendCSV(w, "duties-"+fileName(t.name())+".csv", crew.WriteCSV(rows))
	}
	head := []string{"season", "name", "nights", "hours"}
	for _, role := range hourRoles {
		head = append(head, string(role)+" hours")
	}
	rows := [][]string{head}
	for _, h := range crew.Sum(served) {
		row := []string{t.name(), h.Name, strconv.Itoa(h.Nights), hours(h.Total)}
		for _, role := range hourRoles {
			row = append(row, hours(h.ByRole[role]))
		}
		rows = append(rows, row)
	}
	return sendCSV(w, "hours-"+fileName(t.name())+".csv", crew.WriteCSV(rows))
}

// fileName keeps what every system takes in the name of a file.
func fileName(text string) string {
	out := []rune(text)
	for i, r := range out {
		if !(r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r == '-') {
			out[i] = '-'
		}
	}
	return string(out)
}

func sendCSV(w http.ResponseWriter, name string, b []byte) error {
	h := w.Header()
	h.Set("Content-Type", "text/csv; charset=utf-8")
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	h.Set("Cache-Control", "no-store")
	_, err := w.Write(b)
	return err
}
