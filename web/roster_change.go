package web

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// proposeRoster fills the roster and keeps what is pinned.
func (s *server) proposeRoster(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	x.scene.Unanswered = r.PostFormValue("unanswered") == "1"
	ctx, cancel := context.WithTimeout(r.Context(), proposeTime)
	defer cancel()
	p, err := crew.Propose(ctx, x.scene, x.Duties)
	if err != nil {
		return err
	}
	if _, err := s.store.SaveDuties(r.Context(), x.Night.ID, x.RosterVersion, p.Duties, "propose a roster"); err != nil {
		return err
	}
	return redirect(w, r, rosterPath(x.Night.ID), views.Flash{Text: proposalWords(x, p), Undo: rosterPath(x.Night.ID) + "/undo"})
}

func proposalWords(x roster, p crew.Proposal) string {
	people := map[int64]bool{}
	for _, d := range p.Duties {
		people[d.VolunteerID] = true
	}
	words := fmt.Sprintf("%s for %s, within %.1f %% of the best possible.", plural(len(p.Duties), "duty", "duties"), plural(len(people), "person", "people"), 100*p.Short())
	if len(p.Duties) == 0 {
		words = "Nobody could be put on a duty: see below what is missing."
	} else if n := len(p.Gaps); n > 0 {
		words += " " + plural(n, "gap is", "gaps are") + " left."
	}
	for _, d := range p.Lost {
		words += fmt.Sprintf(" The pinned duty of %s %s could not be kept.", x.volunteer(d.VolunteerID).Name, span(x.Sheet, d.From, d.To()))
	}
	if p.Stopped {
		words += " The search was cut short."
	}
	return words
}

// clearRoster takes away what is not pinned.
func (s *server) clearRoster(w http.ResponseWriter, r *http.Request) error {
	return s.changeRoster(w, r, func(x roster) ([]crew.Duty, string, error) {
		return slices.DeleteFunc(slices.Clone(x.Duties), func(d crew.Duty) bool { return !d.Pinned }), "clear the roster", nil
	})
}

// restoreRoster brings an earlier roster back.
func (s *server) restoreRoster(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	entry, ok := number64(r.PostFormValue("entry"))
	if !ok {
		return fault.New(fault.NotFound, "There is no such earlier roster.")
	}
	if _, err := s.store.RestoreRoster(r.Context(), x.Night.ID, x.RosterVersion, entry); err != nil {
		return err
	}
	return redirect(w, r, rosterPath(x.Night.ID), views.Flash{Text: "The earlier roster is back.", Undo: rosterPath(x.Night.ID) + "/undo"})
}

// pinDuty pins a duty, or lets it go.
func (s *server) pinDuty(w http.ResponseWriter, r *http.Request) error {
	return s.changeDuty(w, r, func(x roster, ds []crew.Duty, i int) ([]crew.Duty, string, error) {
		ds[i].Pinned = r.PostFormValue("pinned") == "1"
		if ds[i].Pinned {
			return ds, "pin a duty", nil
		}
		return ds, "let go of a duty", nil
	})
}

// removeDuty takes one duty away.
func (s *server) removeDuty(w http.ResponseWriter, r *http.Request) error {
	return s.changeDuty(w, r, func(x roster, ds []crew.Duty, i int) ([]crew.Duty, string, error) {
		return slices.Delete(ds, i, i+1), "take a duty away", nil
	})
}

// takeDuty lets somebody take a duty over, as offered on its page. An offer
// that is not good any more is refused.
func (s *server) takeDuty(w http.ResponseWriter, r *http.Request) error {
	return s.changeDuty(w, r, func(x roster, ds []crew.Duty, i int) ([]crew.Duty, string, error) {
		who, _ := number64(r.PostFormValue("person"))
		for _, o := range x.scene.Offers(ds, ds[i], x.gone(ds[i])) {
			if o.VolunteerID == who {
				return crew.Take(ds, ds[i], o), fmt.Sprintf("%s takes over from %s", x.volunteer(who).Name, x.volunteer(ds[i].VolunteerID).Name), nil
			}
		}
		return nil, "", fault.New(fault.Conflict, "This exchange is not possible any more; somebody has changed the roster meanwhile.")
	})
}

// gone reports whether the person of a duty cannot come.
func (x roster) gone(d crew.Duty) bool {
	_, present := x.scene.Present(x.volunteer(d.VolunteerID))
	return !present
}

func (s *server) changeDuty(w http.ResponseWriter, r *http.Request, change func(roster, []crew.Duty, int) ([]crew.Duty, string, error)) error {
	return s.changeRoster(w, r, func(x roster) ([]crew.Duty, string, error) {
		i, err := x.dutyIndex(r)
		if err != nil {
			return nil, "", err
		}
		return change(x, slices.Clone(x.Duties), i)
	})
}

// changeRoster loads, changes and saves the roster of the night in the address.
func (s *server) changeRoster(w http.ResponseWriter, r *http.Request, change func(roster) ([]crew.Duty, string, error)) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	if err := freshRoster(r, x); err != nil {
		return err
	}
	ds, label, err := change(x)
	if err != nil {
		return err
	}
	if _, err := s.store.SaveDuties(r.Context(), x.Night.ID, x.RosterVersion, ds, label); err != nil {
		return err
	}
	return s.answerRoster(w, r, x.Night.ID, first(label)+": done.")
}

// dutyIndex finds the duty of the address.
func (x roster) dutyIndex(r *http.Request) (int, error) {
	id, err := idParam(r, "duty")
	if err != nil {
		return 0, err
	}
	i := slices.IndexFunc(x.Duties, func(d crew.Duty) bool { return d.ID == id })
	if i < 0 {
		return 0, fault.New(fault.NotFound, "This duty is no longer on the roster; somebody may have proposed a new one.")
	}
	return i, nil
}
