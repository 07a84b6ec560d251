package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/web/views"
)

func (s *server) showCrew(w http.ResponseWriter, r *http.Request) error {
	all, err := s.store.Volunteers(r.Context())
	if err != nil {
		return err
	}
	gear, err := s.store.Kit(r.Context(), true)
	if err != nil {
		return err
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Crew", Section: inCrew}, views.CrewList(crewListModel(all, gear)))
}

func crewListModel(all []crew.Volunteer, gear kit.Kit) views.SiteListModel {
	m := views.SiteListModel{Table: views.Table{
		Caption: "Crew",
		Columns: []views.Column{{Label: "Name"}, {Label: "Operates"}, {Label: "Is glad to do"}, {Label: "To be considered"}, {Label: "Drive", Number: true}},
	}}
	for _, v := range all {
		if v.Forgotten {
			continue
		}
		if v.Retired {
			m.Retired = append(m.Retired, views.RetiredPiece{Name: v.Name, Kind: "Volunteer", Href: crewPath(v.ID), Restore: restorePath(crewPath(v.ID), v.Version)})
			continue
		}
		name := views.Cell{Text: v.Name, Href: crewPath(v.ID)}
		if v.Minor {
			name.Mark = "under age"
		}
		drive := ""
		if v.DriveMinutes > 0 {
			drive = fmt.Sprintf("%d min", v.DriveMinutes)
		}
		m.Table.Rows = append(m.Table.Rows, []views.Cell{name, {Text: operates(v, gear)}, {Text: gladly(v)}, {Text: considered(v.Limits)}, {Text: drive}})
	}
	return m
}

// operates lists in words what a volunteer can run.
func operates(v crew.Volunteer, gear kit.Kit) string {
	var words []string
	for _, s := range v.Skills {
		what := ""
		if s.InstrumentID == 0 {
			what = "any on " + lowerFirst(wordFor(mountWords, s.Mount))
		}
		for _, i := range gear.Instruments {
			if i.ID == s.InstrumentID {
				what = i.Name
			}
		}
		if s.Level != crew.Alone {
			what += " (" + lowerFirst(wordFor(levelWords, s.Level)) + ")"
		}
		words = append(words, what)
	}
	return first(strings.Join(words, ", "))
}

func gladly(v crew.Volunteer) string {
	var words []string
	for _, r := range v.Roles {
		words = append(words, lowerFirst(wordFor(roleWords, r)))
	}
	if len(words) == 0 {
		return "Anything"
	}
	return first(strings.Join(words, ", "))
}

func considered(l crew.Limits) string {
	var words []string
	for _, x := range []struct {
		on   bool
		word string
	}{{l.NoLifting, "no lifting"}, {l.NoLadder, "no ladders"}, {l.MustSit, "needs a seat"}, {l.NoNightDriving, "no driving at night"}} {
		if x.on {
			words = append(words, x.word)
		}
	}
	return first(strings.Join(words, ", "))
}

func crewPath(id int64) string { return "/crew/" + strconv.FormatInt(id, 10) }

func (s *server) showNewVolunteer(w http.ResponseWriter, r *http.Request) error {
	gear, err := s.store.Kit(r.Context(), false)
	if err != nil {
		return err
	}
	return s.showCrewForm(w, r, http.StatusOK, crewForm{}.view(nil, gear), crew.Volunteer{})
}

func (s *server) createVolunteer(w http.ResponseWriter, r *http.Request) error {
	return s.keepVolunteer(w, r, crew.Volunteer{})
}

func (s *server) showVolunteer(w http.ResponseWriter, r *http.Request) error {
	v, err := s.storedVolunteer(r)
	if err != nil {
		return err
	}
	gear, err := s.store.Kit(r.Context(), false)
	if err != nil {
		return err
	}
	return s.showCrewForm(w, r, http.StatusOK, crewFormOf(v).view(nil, gear), v)
}

func (s *server) updateVolunteer(w http.ResponseWriter, r *http.Request) error {
	v, err := s.storedVolunteer(r)
	if err != nil {
		return err
	}
	return s.keepVolunteer(w, r, v)
}

// keepVolunteer parses the form over stored and saves it, or shows it as typed.
func (s *server) keepVolunteer(w http.ResponseWriter, r *http.Request, stored crew.Volunteer) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	gear, err := s.store.Kit(r.Context(), false)
	if err != nil {
		return err
	}
	f := readCrewForm(r, gear)
	v, faults := f.parse(stored, gear)
	if len(faults) > 0 {
		return s.showCrewForm(w, r, http.StatusUnprocessableEntity, f.view(faults, gear), stored)
	}
	if n, err := strconv.ParseInt(f.Version, 10, 64); err == nil {
		v.Version = n
	}
	switch err := s.store.SaveVolunteer(r.Context(), &v); {
	case fault.KindOf(err) == fault.Conflict && stored.ID != 0:
		now, err := s.store.Volunteer(r.Context(), stored.ID)
		if err != nil {
			return err
		}
		m := f.view(nil, gear)
		m.Stale, m.Version, m.Conflict = true, strconv.FormatInt(now.Version, 10), volunteerDifferences(v, now, gear)
		return s.showCrewForm(w, r, http.StatusConflict, m, stored)
	case err != nil:
		return err
	}
	to := "/crew"
	if r.PostForm.Get("then") == "another" {
		to = "/crew/new"
	}
	return redirect(w, r, to, views.Flash{Text: v.Name + " is saved."})
}

// volunteerDifferences says where a volunteer saved meanwhile differs.
func volunteerDifferences(mine, saved crew.Volunteer, gear kit.Kit) []string {
	var out []string
	for _, d := range []struct{ label, mine, saved string }{
		{"Name", mine.Name, saved.Name}, {"E-mail", mine.Email, saved.Email}, {"Phone", mine.Phone, saved.Phone},
		{"Operates", operates(mine, gear), operates(saved, gear)}, {"Is glad to do", gladly(mine), gladly(saved)},
		{"To be considered", considered(mine.Limits), considered(saved.Limits)}, {"Notes", mine.Notes, saved.Notes},
		{"Languages", strings.Join(mine.Languages, ", "), strings.Join(saved.Languages, ", ")},
		{"Drive", strconv.Itoa(mine.DriveMinutes), strconv.Itoa(saved.DriveMinutes)},
		{"Shared", fmt.Sprint(mine.Share), fmt.Sprint(saved.Share)}, {"Under age", fmt.Sprint(mine.Minor), fmt.Sprint(saved.Minor)},
	} {
		if d.mine != d.saved {
			out = append(out, difference(d.label, d.saved, d.mine))
		}
	}
	return out
}

func (s *server) retireVolunteer(w http.ResponseWriter, r *http.Request) error {
	return s.setVolunteerRetired(w, r, true)
}

func (s *server) restoreVolunteer(w http.ResponseWriter, r *http.Request) error {
	return s.setVolunteerRetired(w, r, false)
}

func (s *server) setVolunteerRetired(w http.ResponseWriter, r *http.Request, retired bool) error {
	v, err := s.storedVolunteer(r)
	if err != nil {
		return err
	}
	if v.Version, err = seenVersion(r); err != nil {
		return err
	}
	v.Retired = retired
	if err := s.store.SaveVolunteer(r.Context(), &v); err != nil {
		return err
	}
	f := views.Flash{Text: v.Name + " is back in the crew.", Undo: retirePath(crewPath(v.ID), v.Version)}
	if retired {
		f = views.Flash{Text: v.Name + " has left the crew.", Undo: restorePath(crewPath(v.ID), v.Version)}
	}
	return redirect(w, r, "/crew", f)
}

func (s *server) storedVolunteer(r *http.Request) (crew.Volunteer, error) {
	id, err := idParam(r, "id")
	if err != nil {
		return crew.Volunteer{}, err
	}
	return s.store.Volunteer(r.Context(), id)
}

// showCrewForm completes the view with titles and addresses and shows it.
func (s *server) showCrewForm(w http.ResponseWriter, r *http.Request, status int, m views.CrewForm, v crew.Volunteer) error {
	m.Title, m.Action, m.Another = "Add a volunteer", "/crew", "Save and add another"
	if v.ID != 0 {
		m.Title, m.Action, m.Another = v.Name, crewPath(v.ID), ""
		m.Retire, m.Link, m.Data = retirePath(crewPath(v.ID), v.Version), crewPath(v.ID)+"/link", crewPath(v.ID)+"/data.json"
		if v.Retired {
			m.Retire, m.Restore = "", restorePath(crewPath(v.ID), v.Version)
		}
	}
	head := views.Head{Title: m.Title, Section: inCrew, Crumbs: []views.Link{{Text: "Crew", Href: "/crew"}}}
	return s.show(w, r, status, head, views.CrewPage(m))
}
