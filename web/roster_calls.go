package web

import (
	"net/http"

	"duskboard/internal/crew"
	"duskboard/web/views"
)

// showCalls is the call list for the table at the gate: who comes, when, and
// how to reach those who allow it. Whoever is under age stands there without a
// contact.
func (s *server) showCalls(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	m := views.CallList{Over: overline(x.Sheet), Title: "Call list", Contact: x.Club.Contact, Back: rosterPath(x.Night.ID)}
	for _, v := range x.Volunteers {
		ds := x.dutiesOf(v.ID)
		if _, present := x.scene.Present(v); !present && len(ds) == 0 {
			continue
		}
		row := views.CallRow{Name: v.Name, Note: x.answerWords(v)}
		if v.Share && !v.Minor {
			row.Contact = contactOf(v)
		}
		for _, d := range ds {
			row.Duties = append(row.Duties, span(x.Sheet, d.From, d.To())+"  "+x.postName(crew.Post{Role: d.Role, InstrumentID: d.InstrumentID}))
		}
		m.Rows = append(m.Rows, row)
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Call list · " + x.Night.Name, Section: inNights, Crumbs: append(nightCrumbs(x.Sheet), views.Link{Text: "Roster", Href: m.Back})}, views.Calls(m))
}
