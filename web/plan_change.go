package web

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"

	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// planPage is the adapter for what changes the field: like boardPage, a script
// gets a refusal as a sentence to show beside the drawing.
func (s *server) planPage(a action) http.HandlerFunc { return s.partPage("field", planPath, a) }

// suggestPlaces gives every instrument a place; pinned ones stay.
func (s *server) suggestPlaces(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	if sh.Ground.Empty() {
		return fault.New(fault.Invalid, "Describe the ground of %s first: nothing is known of it.", sh.Site.Name)
	}
	l := sh.Field()
	places := l.Suggest(sh.Places)
	said := fmt.Sprintf("%s suggested.", plural(len(places), "place", "places"))
	if n := pinnedCount(places); n > 0 {
		said += fmt.Sprintf(" %s stayed where pinned.", plural(n, "instrument", "instruments"))
	}
	return s.keepPlaces(w, r, sh, places, "suggest places", said)
}

func pinnedCount(places []ground.Place) int {
	n := 0
	for _, p := range places {
		if p.Pinned {
			n++
		}
	}
	return n
}

// movePlace moves one instrument: X and Y in metres, Queue in degrees; what is
// not sent stays. Pinned is "1" or "0".
func (s *server) movePlace(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	id, err := idParam(r, "instrument")
	if err != nil {
		return err
	}
	places := slices.Clone(sh.Places)
	i := slices.IndexFunc(places, func(p ground.Place) bool { return p.InstrumentID == id })
	if i < 0 {
		return fault.New(fault.NotFound, "This instrument has no place on the field.")
	}
	p := &places[i]
	name := sh.Input.InstrumentName(id)
	label, said := "move "+name, name+" is moved."
	for _, x := range []struct {
		field     string
		to        *float64
		low, high float64
	}{{"X", &p.At.X, -ground.Widest, ground.Widest}, {"Y", &p.At.Y, -ground.Widest, ground.Widest}, {"Queue", &p.Queue, 0, 359.99}} {
		raw := r.PostFormValue(x.field)
		if raw == "" {
			continue
		}
		v, err := kit.ParseNumber(raw)
		if err != nil || !(v >= x.low && v <= x.high) {
			return fault.New(fault.Invalid, "A place lies within %.0f m, a direction is 0 to 359 degrees.", ground.Widest)
		}
		*x.to = math.Round(v*10) / 10
	}
	p.Queue = math.Mod(p.Queue, 360) // 359.96 is rounded to a full turn
	if q := sh.Places[i].Queue; p.At == sh.Places[i].At && q != p.Queue {
		label, said = "turn the line of "+name, fmt.Sprintf("The line of %s goes %s.", name, directionWord(p.Queue))
	}
	switch r.PostFormValue("Pinned") {
	case "1":
		p.Pinned, label, said = true, "pin "+name, name+" is pinned: it stays when places are suggested."
	case "0":
		p.Pinned, label, said = false, "let "+name+" go", name+" may go elsewhere when places are suggested."
	}
	return s.keepPlaces(w, r, sh, places, label, said)
}

// savePlaces saves the table; what cannot be is shown as typed.
func (s *server) savePlaces(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	f := readPlaceForm(r, sh)
	places, faults := f.parse(sh)
	if len(faults) > 0 {
		m := planModel(sh, f, 0)
		if wantsFragment(r) {
			return s.fragment(w, r, http.StatusUnprocessableEntity, views.PlanBody(m))
		}
		return s.showPlanModel(w, r, http.StatusUnprocessableEntity, sh, m)
	}
	return s.keepPlaces(w, r, sh, places, "change the table of places", "The places are saved.")
}

// keepPlaces saves places and answers with the field as it is then, saying
// what came of it.
func (s *server) keepPlaces(w http.ResponseWriter, r *http.Request, sh *night.Sheet, places []ground.Place, label, said string) error {
	refused := fault.New(fault.Conflict, "Somebody else has changed this field since you opened it. Not done: “%s” Look at the field as it is now, then decide again.", said)
	if v := r.FormValue("version"); v != "" && v != strconv.FormatInt(sh.FieldVersion, 10) {
		return refused
	}
	_, err := s.store.SavePlaces(r.Context(), sh.Night.ID, sh.FieldVersion, places, label)
	if fault.KindOf(err) == fault.Conflict {
		return refused
	} else if err != nil {
		return err
	}
	return s.answerPlan(w, r, sh.Night.ID, said)
}

// undoPlaces and redoPlaces step through the changes of the places.
func (s *server) undoPlaces(w http.ResponseWriter, r *http.Request) error {
	return s.stepPlan(w, r, s.store.UndoPlaces, "Taken back")
}

func (s *server) redoPlaces(w http.ResponseWriter, r *http.Request) error {
	return s.stepPlan(w, r, s.store.RedoPlaces, "Done again")
}

func (s *server) stepPlan(w http.ResponseWriter, r *http.Request, step stepFunc, word string) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	label, err := step(r.Context(), id)
	if err != nil {
		return err
	}
	return s.answerPlan(w, r, id, word+": "+label+".")
}

// answerPlan ends a change: with the new field for a script, with a redirect
// and a message otherwise.
func (s *server) answerPlan(w http.ResponseWriter, r *http.Request, nightID int64, said string) error {
	sh, err := s.sheet(r.Context(), nightID)
	if err != nil {
		return err
	}
	if !sh.Ground.Empty() {
		if n := len(sh.Field().Check(sh.Places)); n > 0 {
			said += fmt.Sprintf(" %s to look at.", plural(n, "thing", "things"))
		} else if len(sh.Places) > 0 {
			said += " Nothing is in the way."
		}
	}
	if !wantsFragment(r) {
		f := views.Flash{Text: said}
		if sh.CanUndoPlaces {
			f.Undo = planPath(nightID) + "/undo"
		}
		return redirect(w, r, planPath(nightID), f)
	}
	pick, _ := strconv.ParseInt(r.FormValue("show"), 10, 64)
	m := planModel(sh, placeFormOf(sh), pick)
	m.Says = said
	return s.fragment(w, r, http.StatusOK, views.PlanBody(m))
}
