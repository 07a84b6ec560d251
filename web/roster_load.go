package web

import (
	"context"
	"net/http"
	"strconv"

	"duskboard/internal/crew"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// roster is a night with all that its roster is made from.
type roster struct {
	*night.Sheet
	scene crew.Scene
	// ifMay is an address when whoever asks may open it, else "".
	ifMay     func(href string) string
	mayChange bool // whoever asks may move duties
}

func rosterPath(nightID int64) string { return nightPath(nightID) + "/roster" }

func dutyPath(nightID, dutyID int64) string {
	return rosterPath(nightID) + "/duties/" + strconv.FormatInt(dutyID, 10)
}

// rosterOf loads the roster of the night in the address.
func (s *server) rosterOf(r *http.Request) (roster, error) {
	id, err := idParam(r, "night")
	if err != nil {
		return roster{}, err
	}
	return s.roster(r.Context(), id)
}

func (s *server) roster(ctx context.Context, nightID int64) (roster, error) {
	sh, err := s.sheet(ctx, nightID)
	if err != nil {
		return roster{}, err
	}
	x := roster{Sheet: sh, scene: sh.Scene(), mayChange: views.May(ctx, http.MethodPost, rosterPath(nightID)+"/undo"), ifMay: func(href string) string {
		if views.May(ctx, http.MethodGet, href) {
			return href
		}
		return ""
	}}
	if x.scene.Rules, err = s.store.CrewRules(ctx); err != nil {
		return x, err
	}
	if x.scene.Lifts, err = s.store.Lifts(ctx, nightID); err != nil {
		return x, err
	}
	// Fairness looks at the season so far.
	d := sh.Night.Date
	begins, _ := datesOf(crew.SeasonOf(d.Year, d.Month, x.scene.Rules.SeasonMonth))
	x.scene.Served, err = s.store.Served(ctx, begins, d.AddDays(-1))
	return x, err
}

func (x roster) volunteer(id int64) crew.Volunteer {
	for _, v := range x.Volunteers {
		if v.ID == id {
			return v
		}
	}
	return crew.Volunteer{ID: id, Name: "somebody who is not asked any more"}
}

// dutiesOf returns somebody's duties in the order of time.
func (x roster) dutiesOf(volunteer int64) []crew.Duty {
	var out []crew.Duty
	for _, d := range x.Duties {
		if d.VolunteerID == volunteer {
			out = append(out, d)
		}
	}
	crew.Sort(out)
	return out
}

func postOf(d crew.Duty) crew.Post { return crew.Post{Role: d.Role, InstrumentID: d.InstrumentID} }

// postName names a post as a label does.
func (x roster) postName(p crew.Post) string { return capital(x.scene.PostName(p)) }

// with returns the other people on the same post during a duty.
func (x roster) with(d crew.Duty) []string {
	var names []string
	for _, e := range x.Duties {
		same := e.InstrumentID == d.InstrumentID && (d.InstrumentID != 0 || e.Role == d.Role)
		if same && e.VolunteerID != d.VolunteerID && e.From.Before(d.To()) && d.From.Before(e.To()) {
			names = append(names, x.volunteer(e.VolunteerID).Name)
		}
	}
	return names
}
