package web

import (
	"fmt"
	"net/http"
	"strconv"

	"duskboard/internal/crew"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// showImport is the page to bring in volunteers from a file.
func (s *server) showImport(w http.ResponseWriter, r *http.Request) error {
	return s.importPage(w, r, http.StatusOK, views.ImportModel{})
}

func (s *server) importPage(w http.ResponseWriter, r *http.Request, status int, m views.ImportModel) error {
	return s.show(w, r, status, views.Head{Title: "Import volunteers", Section: inCrew, Crumbs: []views.Link{{Text: "Crew", Href: "/crew"}}}, views.Import(m))
}

// exampleImport is a file to start from.
func (s *server) exampleImport(w http.ResponseWriter, r *http.Request) error {
	return sendCSV(w, "volunteers.csv", []byte(crew.Template))
}

// importCrew shows what a file would bring; sent again with "keep" it is
// brought in, all of it or nothing.
func (s *server) importCrew(w http.ResponseWriter, r *http.Request) error {
	text, wrong, err := sentText(r, "text")
	if err != nil {
		return err
	}
	if wrong != "" {
		return s.importPage(w, r, http.StatusUnprocessableEntity, views.ImportModel{Wrong: wrong})
	}
	known, err := s.store.Volunteers(r.Context())
	if err != nil {
		return err
	}
	gear, err := s.store.Kit(r.Context(), false)
	if err != nil {
		return err
	}
	m := views.ImportModel{Text: text}
	rows, err := crew.ReadCSV(text, known, gear.Instruments)
	if err != nil {
		m.Wrong = first(err.Error()) + "."
		return s.importPage(w, r, http.StatusUnprocessableEntity, m)
	}
	var fresh []crew.Volunteer
	for _, row := range rows {
		m.Rows = append(m.Rows, importRow(row))
		switch {
		case len(row.Faults) > 0:
			m.Bad++
		case row.Same != "":
			m.Known++
		default:
			fresh = append(fresh, row.Volunteer)
		}
	}
	m.Fresh = len(fresh)
	if r.PostFormValue("keep") != "1" || m.Bad > 0 || m.Fresh == 0 {
		status := http.StatusOK
		if m.Bad > 0 {
			status = http.StatusUnprocessableEntity
		}
		return s.importPage(w, r, status, m)
	}
	undo, err := s.saveBatch("volunteers from a table", night.Batch{Volunteers: fresh}, nil)(r.Context())
	if err != nil {
		return err
	}
	words := plural(m.Fresh, "volunteer is", "volunteers are") + " on the list now."
	if m.Known > 0 {
		words += fmt.Sprintf(" %d were there already and stay as they are.", m.Known)
	}
	return redirect(w, r, "/crew", views.Flash{Text: words, Undo: undo})
}

func importRow(row crew.Row) views.ImportRow {
	v := row.Volunteer
	out := views.ImportRow{Line: strconv.Itoa(row.Line), Name: v.Name, Contact: contactOf(v), Faults: row.Faults, State: "New"}
	switch {
	case len(row.Faults) > 0:
		out.State = "Wrong"
	case row.Same != "":
		out.State, out.Note = "Left out", "the same person as "+row.Same
	case row.Like != "":
		out.State, out.Note = "New, look", row.Like
	}
	return out
}
