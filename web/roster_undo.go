package web

import (
	"net/http"
	"slices"
	"strings"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/night"
)

// Undo walks over the history of the roster, which keeps every state: an entry
// that undo or redo wrote is a step along the others, any other entry is a new
// step behind the present one. So undo needs no list of its own, two people
// undo the same steps, and nothing of the history is lost.

const (
	undoWord = "undo: "
	redoWord = "redo: "
)

// rosterStep is one state with the label of the change that led to it.
type rosterStep struct {
	label  string
	duties []crew.Duty
}

// rosterSteps are the states that undo and redo go through, and which of them
// is the present one. The first is the empty roster that every night begins
// with.
func rosterSteps(entries []night.RosterEntry) (steps []rosterStep, at int) {
	steps = []rosterStep{{}}
	for _, e := range entries {
		switch {
		case strings.HasPrefix(e.What, undoWord) && at > 0 && sameDuties(steps[at-1].duties, e.Duties):
			at--
		case strings.HasPrefix(e.What, redoWord) && at+1 < len(steps) && sameDuties(steps[at+1].duties, e.Duties):
			at++
		default:
			steps = append(steps[:at+1], rosterStep{e.What, e.Duties})
			at++
		}
	}
	return steps, at
}

// sameDuties compares two rosters; they may be in another order.
func sameDuties(a, b []crew.Duty) bool {
	if len(a) != len(b) {
		return false
	}
	byID := func(ds []crew.Duty) []crew.Duty {
		ds = slices.Clone(ds)
		slices.SortFunc(ds, func(x, y crew.Duty) int { return int(x.ID - y.ID) })
		return ds
	}
	a, b = byID(a), byID(b)
	return slices.EqualFunc(a, b, func(x, y crew.Duty) bool {
		return x.ID == y.ID && x.VolunteerID == y.VolunteerID && postOf(x) == postOf(y) && x.From.Equal(y.From) && x.Length == y.Length && x.Pinned == y.Pinned
	})
}

// undoRoster goes back to the roster before the last change.
func (s *server) undoRoster(w http.ResponseWriter, r *http.Request) error {
	return s.stepRoster(w, r, -1)
}

// redoRoster takes the last undo back.
func (s *server) redoRoster(w http.ResponseWriter, r *http.Request) error {
	return s.stepRoster(w, r, +1)
}

func (s *server) stepRoster(w http.ResponseWriter, r *http.Request, by int) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	if err := freshRoster(r, x); err != nil {
		return err
	}
	entries, err := s.store.Rosters(r.Context(), x.Night.ID)
	if err != nil {
		return err
	}
	steps, at := rosterSteps(entries)
	to := at + by
	switch {
	case to < 0:
		return fault.New(fault.Conflict, "There is nothing to undo.")
	case to >= len(steps):
		return fault.New(fault.Conflict, "There is nothing to do again.")
	}
	word, said, label := undoWord, "Taken back: ", steps[at].label
	if by > 0 {
		word, said, label = redoWord, "Done again: ", steps[to].label
	}
	// Without somebody who was forgotten meanwhile: their duties cannot return.
	duties := slices.DeleteFunc(slices.Clone(steps[to].duties), func(d crew.Duty) bool {
		return !slices.ContainsFunc(x.Volunteers, func(v crew.Volunteer) bool { return v.ID == d.VolunteerID && !v.Forgotten })
	})
	if _, err := s.store.SaveDuties(r.Context(), x.Night.ID, x.RosterVersion, duties, word+label); err != nil {
		return err
	}
	return s.answerRoster(w, r, x.Night.ID, said+label+".")
}
