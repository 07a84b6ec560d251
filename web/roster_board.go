package web

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// The board can be taken hold of: a duty is dragged to another person or time,
// or moved by keys. Each such move is one of the forms below, checked like the
// form of a duty.

// rosterEdit is a roster as it shall be next, by a move on the board.
type rosterEdit struct {
	duties []crew.Duty
	label  string   // what undo calls it: "move Noor's duty"
	done   string   // what was done, in a sentence
	breaks []string // rules that it would break and that were kept before
	never  string   // why it cannot be, whatever the coordinator knows; "" if it can
}

// moveDuty gives a duty to another person, or another time. With try=1 nothing
// is saved: the answer says what the move would break.
func (s *server) moveDuty(w http.ResponseWriter, r *http.Request) error {
	return s.editBoard(w, r, func(x roster) (rosterEdit, error) {
		i, err := x.dutyIndex(r)
		if err != nil {
			return rosterEdit{}, err
		}
		was := x.Duties[i]
		f := readDutyForm(r)
		f.ID, f.Post, f.Pinned = was.ID, postValue(postOf(was)), was.Pinned
		d, rest, faults := f.parse(x)
		if len(faults) > 0 {
			return rosterEdit{}, fault.New(fault.Invalid, "%s", faults[0].Message)
		}
		e := rosterEdit{duties: append(rest, d), label: "move a duty of " + x.volunteer(was.VolunteerID).Name}
		e.done = fmt.Sprintf("%s, %s: %s.", shortName(x.volunteer(d.VolunteerID).Name), span(x.Sheet, d.From, d.To()), x.postName(postOf(d)))
		var never bool
		if e.breaks, never = x.breaks(d, rest); never {
			e.never = x.busyWords(d, rest)
		}
		return e, nil
	})
}

// busyWords says with what a duty would be in two places at once.
func (x roster) busyWords(d crew.Duty, rest []crew.Duty) string {
	for _, e := range rest {
		if e.VolunteerID == d.VolunteerID && e.From.Before(d.To()) && d.From.Before(e.To()) {
			return fmt.Sprintf("%s has %s then, %s.", shortName(x.volunteer(d.VolunteerID).Name), x.postName(postOf(e)), span(x.Sheet, e.From, e.To()))
		}
	}
	return "Nobody can be in two places."
}

// swapDuties lets two people exchange two duties.
func (s *server) swapDuties(w http.ResponseWriter, r *http.Request) error {
	return s.editBoard(w, r, func(x roster) (rosterEdit, error) {
		i, err := x.dutyIndex(r)
		if err != nil {
			return rosterEdit{}, err
		}
		with, _ := number64(r.PostFormValue("with"))
		j := slices.IndexFunc(x.Duties, func(d crew.Duty) bool { return d.ID == with })
		if j < 0 || x.Duties[i].VolunteerID == x.Duties[j].VolunteerID {
			return rosterEdit{}, fault.New(fault.Invalid, "Choose a duty of somebody else to exchange with.")
		}
		a, b := x.Duties[i], x.Duties[j]
		var rest []crew.Duty
		for k, d := range x.Duties {
			if k != i && k != j {
				rest = append(rest, d)
			}
		}
		a.VolunteerID, b.VolunteerID = b.VolunteerID, a.VolunteerID
		one, other := x.volunteer(b.VolunteerID).Name, x.volunteer(a.VolunteerID).Name
		e := rosterEdit{duties: append(rest, a, b), label: "exchange duties of " + one + " and " + other}
		e.done = fmt.Sprintf("%s and %s have exchanged: %s for %s.", shortName(one), shortName(other), x.postName(postOf(a)), x.postName(postOf(b)))
		e.breaks = newWords(x.scene.Check(x.Duties), x.scene.Check(e.duties))
		for _, d := range []crew.Duty{a, b} {
			if _, never := x.breaks(d, rest); never {
				e.never = x.busyWords(d, rest)
			}
		}
		return e, nil
	})
}

// newWords are the conflicts that were not there before.
func newWords(before, after []crew.Conflict) []string {
	had := map[string]bool{}
	for _, c := range before {
		had[c.Words] = true
	}
	var out []string
	for _, c := range after {
		if !had[c.Words] {
			out = append(out, c.Words)
		}
	}
	return out
}

// editBoard checks an edit and saves it: one that breaks a rule is answered
// with the reasons and a button to do it all the same.
func (s *server) editBoard(w http.ResponseWriter, r *http.Request, edit func(roster) (rosterEdit, error)) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	if err := freshRoster(r, x); err != nil {
		return err
	}
	e, err := edit(x)
	if err != nil {
		return err
	}
	if r.PostFormValue("try") == "1" {
		return s.fragment(w, r, http.StatusOK, views.Says(views.SaysModel{Text: strings.TrimSpace(e.done + " " + e.verdict())}))
	}
	if e.never != "" {
		return fault.New(fault.Invalid, "%s", e.never)
	}
	if len(e.breaks) > 0 && r.PostFormValue("force") != "1" {
		return s.askAllTheSame(w, r, x, e)
	}
	crew.Sort(e.duties)
	if _, err := s.store.SaveDuties(r.Context(), x.Night.ID, x.RosterVersion, e.duties, e.label); err != nil {
		return err
	}
	return s.answerRoster(w, r, x.Night.ID, strings.TrimSpace(e.done+" "+e.verdict()))
}

// verdict says what an edit breaks.
func (e rosterEdit) verdict() string {
	switch {
	case e.never != "":
		return "Not possible: " + e.never
	case len(e.breaks) > 0:
		return "Breaks a rule: " + strings.Join(e.breaks, " ")
	}
	return "Breaks no rule."
}

// askAllTheSame answers an edit that breaks rules: the same form again, with a
// button that insists.
func (s *server) askAllTheSame(w http.ResponseWriter, r *http.Request, x roster, e rosterEdit) error {
	m := views.InsistModel{Done: e.done, Breaks: e.breaks, Action: r.URL.Path, Back: rosterPath(x.Night.ID), Fields: [][2]string{{"force", "1"}}}
	for _, name := range []string{"version", "person", "from", "to", "with"} {
		if v := r.PostFormValue(name); v != "" {
			m.Fields = append(m.Fields, [2]string{name, v})
		}
	}
	if wantsFragment(r) {
		return s.fragment(w, r, http.StatusUnprocessableEntity, views.Insist(m))
	}
	return s.show(w, r, http.StatusUnprocessableEntity, views.Head{Title: "Not set yet", Section: inNights, Crumbs: nightCrumbs(x.Sheet)}, views.InsistPage(m))
}

// freshRoster refuses a change that was decided on before an older roster.
func freshRoster(r *http.Request, x roster) error {
	if v := r.PostFormValue("version"); v != "" && v != strconv.FormatInt(x.RosterVersion, 10) {
		return fault.New(fault.Conflict, "Somebody has changed this roster since you opened it. Nothing was done; look at it as it is now, then decide again.")
	}
	return nil
}

// answerRoster ends a change: with the new board for the script, with a
// redirect and a message otherwise.
func (s *server) answerRoster(w http.ResponseWriter, r *http.Request, nightID int64, says string) error {
	if !wantsFragment(r) {
		return redirect(w, r, rosterPath(nightID), views.Flash{Text: says, Undo: rosterPath(nightID) + "/undo"})
	}
	x, err := s.roster(r.Context(), nightID)
	if err != nil {
		return err
	}
	m, err := s.rosterModel(r, x)
	if err != nil {
		return err
	}
	m.Says = says
	return s.fragment(w, r, http.StatusOK, views.RosterBody(m))
}

// rosterPage is the adapter for what the board asks: a script gets a refusal as
// words to show beside the board, which stays as it was.
func (s *server) rosterPage(a action) http.HandlerFunc {
	return s.page(func(w http.ResponseWriter, r *http.Request) error {
		err := a(w, r)
		var own *fault.Error
		if err == nil || !wantsFragment(r) || !errors.As(err, &own) || own.Kind == fault.Internal {
			return err
		}
		id, _ := idParam(r, "night")
		m := views.InsistModel{Title: errorTitle[own.Kind], Done: own.Message, Back: rosterPath(id)}
		if own.Kind == fault.Invalid {
			m.Title = "Not done"
		}
		recordOf(r).err = err
		return s.fragment(w, r, statusOf[own.Kind], views.Insist(m))
	})
}
