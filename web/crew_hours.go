package web

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// season reads the year in the address; a season is a calendar year. Nights
// that have not been yet do not count.
func (s *server) season(r *http.Request) (year int, from, to sky.Date) {
	today := sky.DateOf(s.now(), time.UTC)
	year, err := strconv.Atoi(r.FormValue("year"))
	if err != nil || year < 1980 || year > 2100 {
		year = today.Year
	}
	from, to = sky.Date{Year: year, Month: time.January, Day: 1}, sky.Date{Year: year, Month: time.December, Day: 31}
	if yesterday := today.AddDays(-1); yesterday.String() < to.String() {
		to = yesterday
	}
	return year, from, to
}

// showHours is who served how long in a season.
func (s *server) showHours(w http.ResponseWriter, r *http.Request) error {
	year, from, to := s.season(r)
	served, err := s.store.Served(r.Context(), from, to)
	if err != nil {
		return err
	}
	m := views.HoursModel{Title: fmt.Sprintf("Hours in %d", year), File: fmt.Sprintf("/crew/hours.csv?year=%d", year),
		Years: []views.Link{{Text: strconv.Itoa(year - 1), Href: fmt.Sprintf("/crew/hours?year=%d", year-1)}, {Text: strconv.Itoa(year), Href: fmt.Sprintf("/crew/hours?year=%d", year), Current: true}}}
	if year < s.now().UTC().Year() {
		m.Years = append(m.Years, views.Link{Text: strconv.Itoa(year + 1), Href: fmt.Sprintf("/crew/hours?year=%d", year+1)})
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
	return s.show(w, r, http.StatusOK, views.Head{Title: m.Title, Section: inCrew, Crumbs: []views.Link{{Text: "Crew", Href: "/crew"}}}, views.Hours(m))
}

var hourRoles = append(append([]crew.Role(nil), crew.Roles...), crew.Companion)

// exportHours is every duty of the season as CSV.
func (s *server) exportHours(w http.ResponseWriter, r *http.Request) error {
	year, from, to := s.season(r)
	served, err := s.store.Served(r.Context(), from, to)
	if err != nil {
		return err
	}
	rows := [][]string{{"date", "night", "name", "duty", "hours"}}
	for _, d := range served {
		rows = append(rows, []string{d.Date, d.Night, d.Name, string(d.Role), strconv.FormatFloat(d.Length.Hours(), 'f', 2, 64)})
	}
	return sendCSV(w, fmt.Sprintf("hours-%d.csv", year), crew.WriteCSV(rows))
}

func sendCSV(w http.ResponseWriter, name string, b []byte) error {
	h := w.Header()
	h.Set("Content-Type", "text/csv; charset=utf-8")
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	h.Set("Cache-Control", "no-store")
	_, err := w.Write(b)
	return err
}
