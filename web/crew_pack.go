package web

import (
	"fmt"
	"net/http"
	"slices"

	"duskboard/internal/crew"
	"duskboard/internal/departure"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// packing adds what somebody brings to a night of their own page, and what
// nobody brings yet, once they have said that they come.
func (x roster) packing(v crew.Volunteer, m *views.OwnNight) {
	if a := x.answer(v.ID).Answer; a != crew.Yes && a != crew.Maybe {
		return
	}
	check := departure.Build(x.Sheet)
	p, ok := check.Person(v.ID)
	if !ok {
		return
	}
	for _, it := range p.Items {
		t := views.OwnThing{Name: it.Name, Note: it.Detail}
		if it.Kind != departure.Own {
			t.Key = it.Key
		}
		if it.Fetch != "" {
			t.Note = "fetch it from " + it.Fetch
		}
		m.Bring = append(m.Bring, t)
	}
	for _, it := range check.Items {
		if len(it.By) == 0 {
			m.Free = append(m.Free, views.OwnThing{Key: it.Key, Name: it.Name, Note: it.Detail})
		}
	}
}

// packLink is a volunteer's own word, through their link, that they bring a
// thing or cannot. The departure check follows it.
func (s *server) packLink(w http.ResponseWriter, r *http.Request) error {
	v, token, err := s.guest(w, r, false)
	if err != nil {
		return err
	}
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(x.Volunteers, func(y crew.Volunteer) bool { return y.ID == v.ID }) || x.answer(v.ID).Answer == crew.No {
		return fault.New(fault.NotFound, "Say first that you come, then what you bring.")
	}
	it, err := itemOf(departure.Build(x.Sheet), r.PostFormValue("item"))
	if err != nil {
		return err
	}
	said := night.Packing{Item: it.Key, VolunteerID: v.ID, Brings: r.PostFormValue("brings") == "1"}
	if err := s.store.SavePacking(r.Context(), x.Night.ID, said); err != nil {
		return err
	}
	words := "You bring " + it.Name + "."
	if !said.Brings {
		words = it.Name + " is off your list; whoever is next in line has it on theirs."
	}
	return redirect(w, r, linkPath(token)+fmt.Sprintf("#night-%d", x.Night.ID), views.Flash{Text: words})
}
