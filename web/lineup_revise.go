package web

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// revision is a line-up as it shall be next.
type revision struct {
	shows     []lineup.Showing
	forbidden []lineup.Pair
	label     string // what undo calls it: "move Saturn"
	done      string // what was done, in a sentence
	at        int    // index of the showing to select afterwards; -1 none
}

// revise checks a revision, saves it and answers with the line-up as it is
// then, saying what the change costs and which rules it breaks. With the form
// value try=1 nothing is saved and only that sentence is answered.
func (s *server) revise(w http.ResponseWriter, r *http.Request, sh *night.Sheet, rev revision) error {
	if err := fresh(r, sh, rev.done); err != nil {
		return err
	}
	m := sh.Fits()
	says := rev.done + " " + costWords(sh.Input.Worth(m, sh.Showings), sh.Input.Worth(m, rev.shows)) + conflictWords(sh, m, rev.shows)
	if r.FormValue("try") == "1" {
		return s.fragment(w, r, http.StatusOK, views.Says(views.SaysModel{Text: says}))
	}
	_, err := s.store.SaveLineUp(r.Context(), sh.Night.ID, sh.LineUpVersion, rev.shows, rev.forbidden, rev.label)
	if fault.KindOf(err) == fault.Conflict {
		return stale(rev.done)
	} else if err != nil {
		return err
	}
	pick := int64(0)
	if rev.at >= 0 && rev.at < len(rev.shows) {
		pick = rev.shows[rev.at].ID // the store gave new ones theirs
	}
	return s.answerLineUp(w, r, sh.Night.ID, says, pick)
}

// fresh refuses a change that was decided on before an older line-up.
func fresh(r *http.Request, sh *night.Sheet, done string) error {
	if v := r.FormValue("version"); v != "" && v != strconv.FormatInt(sh.LineUpVersion, 10) {
		return stale(done)
	}
	return nil
}

func stale(done string) error {
	return fault.New(fault.Conflict, "Somebody else has changed this line-up since you opened it. Not done: “%s” Look at the new line-up, then decide again.", strings.TrimSpace(done))
}

// costWords says what a change does to the worth of the line-up, in good looks.
func costWords(before, after float64) string {
	switch d := math.Round(after - before); {
	case d <= -1:
		return fmt.Sprintf("This costs %s.", plural(int(-d), "look", "looks"))
	case d >= 1:
		return fmt.Sprintf("This gains %s.", plural(int(d), "look", "looks"))
	}
	return "It costs no look."
}

// conflictWords names the conflicts that a change brings, and says when it
// ends some.
func conflictWords(sh *night.Sheet, m *lineup.Matrix, after []lineup.Showing) string {
	had := map[string]bool{}
	for _, c := range sh.Input.Check(m, sh.Showings) {
		had[c.Words] = true
	}
	words, left := "", 0
	for _, c := range sh.Input.Check(m, after) {
		if had[c.Words] {
			left++
		} else {
			words += " Conflict: " + c.Words
		}
	}
	if words == "" && left < len(had) {
		words = fmt.Sprintf(" That ends %s.", plural(len(had)-left, "conflict", "conflicts"))
	}
	return words
}

// answerLineUp ends a change: with the new line-up for a script, with a
// redirect and a message otherwise. pick is the showing to select; 0 keeps the
// one that was selected.
func (s *server) answerLineUp(w http.ResponseWriter, r *http.Request, nightID int64, says string, pick int64) error {
	if pick == 0 {
		pick, _ = strconv.ParseInt(r.FormValue("show"), 10, 64)
	}
	if !wantsFragment(r) {
		to := lineUpPath(nightID)
		if pick != 0 {
			to = showHref(nightID, pick)
		}
		return redirect(w, r, to, views.Flash{Text: says, Undo: lineUpPath(nightID) + "/undo"})
	}
	sh, err := s.sheet(r.Context(), nightID)
	if err != nil {
		return err
	}
	m := lineUpModel(sh, pick, true)
	m.Says = says
	return s.fragment(w, r, http.StatusOK, views.LineUpBody(m))
}

// boardPage is the adapter for what the board asks: a script gets a refusal as
// a sentence to show beside the board, which stays as it was; a visitor
// without one gets a page that leads back to the line-up.
func (s *server) boardPage(a action) http.HandlerFunc { return s.partPage("line-up", lineUpPath, a) }

// partPage is boardPage for any part of a night that is changed by script: the
// word for it, and the address at which it stands.
func (s *server) partPage(part string, path func(nightID int64) string, a action) http.HandlerFunc {
	return s.page(func(w http.ResponseWriter, r *http.Request) error {
		err := a(w, r)
		var own *fault.Error
		if err == nil || !errors.As(err, &own) || own.Kind == fault.Internal {
			return err
		}
		id, _ := idParam(r, "night")
		m := views.SaysModel{Bad: true, Title: errorTitle[own.Kind], Text: own.Message, Part: part, Href: path(id)}
		if own.Kind == fault.Invalid {
			m.Title = "Not done"
		}
		recordOf(r).err = err
		if wantsFragment(r) {
			return s.fragment(w, r, statusOf[own.Kind], views.Says(m))
		}
		if own.Kind == fault.NotFound && r.Method == http.MethodGet {
			return err
		}
		return s.show(w, r, statusOf[own.Kind], views.Head{Title: m.Title, Section: inNights}, views.Refused(m))
	})
}

// undoLineUp and redoLineUp step through the changes of the line-up.
func (s *server) undoLineUp(w http.ResponseWriter, r *http.Request) error {
	return s.step(w, r, s.store.Undo, "Taken back")
}

func (s *server) redoLineUp(w http.ResponseWriter, r *http.Request) error {
	return s.step(w, r, s.store.Redo, "Done again")
}

// stepFunc undoes or does again, and returns the label of what it did.
type stepFunc func(ctx context.Context, nightID int64) (string, error)

func (s *server) step(w http.ResponseWriter, r *http.Request, move stepFunc, word string) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	if err := fresh(r, sh, word+"."); err != nil {
		return err
	}
	label, err := move(r.Context(), id)
	if err != nil {
		return err
	}
	now, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	m := now.Fits()
	says := fmt.Sprintf("%s: %s. %s", word, label, costWords(sh.Input.Worth(m, sh.Showings), now.Input.Worth(m, now.Showings)))
	return s.answerLineUp(w, r, id, says, 0)
}

// give puts a showing into a line-up: the one it replaces goes, and others at
// the same instrument are cut back or go where they overlap, which the second
// result says. A pinned one does not give way: that is an Invalid error.
func give(sh *night.Sheet, x lineup.Showing, old int64) (out []lineup.Showing, said string, err error) {
	for _, s := range sh.Showings {
		if old != 0 && s.ID == old {
			continue
		}
		if s.InstrumentID != x.InstrumentID || !s.From.Before(x.To()) || !x.From.Before(s.To()) {
			out = append(out, s)
			continue
		}
		name := targetName(sh, s.TargetID)
		if s.Pinned {
			return nil, "", fault.New(fault.Invalid, "%s is pinned in %s from %s. Let it go first, or swap the two.", name, sh.Input.InstrumentName(s.InstrumentID), span(sh, s.From, s.To()))
		}
		kept := 0
		if s.From.Before(x.From) {
			before := s
			before.Length = x.From.Sub(s.From)
			out, kept = append(out, before), kept+1
			said += fmt.Sprintf(" %s ends at %s now.", name, siteClock(sh, x.From))
		}
		if s.To().After(x.To()) {
			after := s
			after.From, after.Length = x.To(), s.To().Sub(x.To())
			if kept > 0 {
				after.ID = 0
			}
			out, kept = append(out, after), kept+1
			said += fmt.Sprintf(" %s begins at %s now.", name, siteClock(sh, x.To()))
		}
		if kept == 0 {
			said += fmt.Sprintf(" %s gives way.", name)
		}
	}
	out = append(out, x)
	sortShowings(out)
	return out, said, nil
}

func sortShowings(all []lineup.Showing) {
	slices.SortStableFunc(all, func(a, b lineup.Showing) int {
		if a.InstrumentID != b.InstrumentID {
			return int(a.InstrumentID - b.InstrumentID)
		}
		return a.From.Compare(b.From)
	})
}

// indexOf finds a showing again by its place.
func indexOf(all []lineup.Showing, x lineup.Showing) int {
	return slices.IndexFunc(all, func(y lineup.Showing) bool {
		return y.InstrumentID == x.InstrumentID && y.TargetID == x.TargetID && y.From.Equal(x.From)
	})
}
