package web

import (
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/chart"
	"duskboard/internal/ground"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// planRoutes are the pages on the layout of the field, below one night.
func (s *server) planRoutes(r chi.Router) {
	r.Route("/field", func(r chi.Router) {
		r.Get("/", s.page(s.showPlan))
		r.Get("/sheet", s.page(s.showPlanSheet))
		r.Post("/suggest", s.planPage(s.suggestPlaces))
		r.Post("/undo", s.planPage(s.undoPlaces))
		r.Post("/redo", s.planPage(s.redoPlaces))
		r.Post("/places", s.planPage(s.savePlaces))
		r.Post("/places/{instrument}", s.planPage(s.movePlace))
	})
}

func planPath(nightID int64) string { return nightPath(nightID) + "/field" }

// showPlan is the field of a night: the drawing, what is wrong with it, the
// places as a table. A script gets the part that changes.
func (s *server) showPlan(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	pick, _ := strconv.ParseInt(r.FormValue("show"), 10, 64)
	m := planModel(sh, placeFormOf(sh), pick)
	if wantsFragment(r) {
		return s.fragment(w, r, http.StatusOK, views.PlanBody(m))
	}
	return s.showPlanModel(w, r, http.StatusOK, sh, m)
}

func (s *server) showPlanModel(w http.ResponseWriter, r *http.Request, status int, sh *night.Sheet, m views.PlanModel) error {
	return s.show(w, r, status, views.Head{Title: "Field · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.PlanPage(m))
}

// planModel is the page; the form is what was typed, which may be refused.
func planModel(sh *night.Sheet, f placeForm, pick int64) views.PlanModel {
	m := views.PlanModel{
		Over: overline(sh), Tabs: nightTabs(sh.Night.ID, "field"), Base: planPath(sh.Night.ID), Version: sh.FieldVersion, Show: pick,
		GroundHref: groundPath(sh.Site.ID), Site: sh.Site.Name, NoGround: sh.Ground.Empty(), ChooseHref: nightPath(sh.Night.ID) + "/choose",
		NoKit: len(sh.Kit.Instruments) == 0, Any: len(sh.Places) > 0, CanUndo: sh.CanUndoPlaces, CanRedo: sh.CanRedoPlaces,
		NoLineUp: len(sh.Showings) == 0, LineUpHref: lineUpPath(sh.Night.ID),
	}
	if m.NoGround || m.NoKit {
		return m
	}
	l := sh.Field()
	faults := l.Check(sh.Places)
	faulty := map[int64]bool{}
	for _, x := range faults {
		m.Wrong = append(m.Wrong, views.PlanFault{Words: x.Words, Hazard: x.Hazard})
		for _, id := range x.Places {
			faulty[id] = true
		}
	}
	d := planDrawing(sh, l)
	d.ID, d.W, d.MaxH, d.Type, d.Selected, d.Faulty = "plan-wide", 1080, 900, 15, pick, faulty
	m.Wide = string(chart.DrawPlan(d))
	d.ID, d.W, d.MaxH, d.Type = "plan-narrow", 354, 620, 12.5
	m.Narrow = string(chart.DrawPlan(d))
	m.Lamps = plural(len(d.Lamps), "red lamp", "red lamps")
	m.Key = planKey(sh, l)
	m.Rows, m.Faults = f.view(sh, l)
	return m
}

// planDrawing is the field as it is drawn everywhere.
func planDrawing(sh *night.Sheet, l *ground.Layout) chart.Plan {
	d := chart.Plan{
		Title: "The field at " + sh.Site.Name, Words: planWords(sh, l), Layout: l, Places: sh.Places, Lamps: l.Lamps(sh.Places), Tags: chart.EnglishPlan,
		Labels: map[int64]string{},
	}
	if best, ok := l.Best(); ok {
		d.Labels[best.ID] = "seated"
	}
	return d
}

// planWords is the drawing for those who do not see it.
func planWords(sh *night.Sheet, l *ground.Layout) string {
	words := groundWords(sh.Ground)
	for _, p := range sh.Places {
		if s, ok := standOf(l, p.InstrumentID); ok {
			words += fmt.Sprintf(" Place %d, %s, %s; its line goes %s.", p.Number, s.Name, whereWords(l, p), directionWord(p.Queue))
		}
	}
	return words
}

func standOf(l *ground.Layout, id int64) (ground.Stand, bool) {
	for _, s := range l.Stands {
		if s.ID == id {
			return s, true
		}
	}
	return ground.Stand{}, false
}

// whereWords says where a place is: "by the north hedge", "in the east".
func whereWords(l *ground.Layout, p ground.Place) string {
	switch w := l.Where(p.At); {
	case w.By != "" && w.Long && w.Outward:
		return "by " + w.By + ", in the " + directionWord(w.Toward)
	case w.By != "":
		return "by " + w.By
	case w.Outward:
		return "in the " + directionWord(w.Toward)
	}
	return "in the middle"
}

// planKey explains the signs that are on the drawing.
func planKey(sh *night.Sheet, l *ground.Layout) []string {
	key := []string{"Firm circle: legs or base, to scale. Broken circle: room for those at the eyepiece.", "Small circles: the line, for as many as wait on the average; the arrow is its end."}
	ladder, cable, wheels := false, false, false
	for _, s := range l.Stands {
		ladder = ladder || s.Step == ground.Ladder
		cable = cable || s.Mains
	}
	for _, f := range sh.Ground.Features {
		wheels = wheels || f.Kind == ground.Path && f.Wheels
		cable = cable || f.Kind == ground.Cable
	}
	if ladder {
		key = append(key, "Box with rungs: the ladder.")
	}
	if wheels {
		key = append(key, "Path with a line in its middle: carries a wheelchair.")
	}
	if cable {
		key = append(key, "Line of dashes and dots: a cable.")
	}
	return append(key, "Filled diamond: a red lamp, low and dim.")
}
