package web

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// proposeTime is how long a proposal may take; after it the best so far is
// shown and the page says so.
const proposeTime = 5 * time.Second

// proposeLineUp fills the night and keeps what is pinned.
func (s *server) proposeLineUp(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	if err := fresh(r, sh, "Propose a line-up."); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(r.Context(), proposeTime)
	defer cancel()
	res, err := lineup.Propose(ctx, sh.Input, sh.Fits())
	if err != nil {
		return err
	}
	_, err = s.store.SaveShowings(r.Context(), sh.Night.ID, sh.LineUpVersion, res.Showings, "propose a line-up")
	if fault.KindOf(err) == fault.Conflict {
		return stale("Propose a line-up.")
	} else if err != nil {
		return err
	}
	return s.answerLineUp(w, r, sh.Night.ID, proposedWords(sh, res), 0)
}

func proposedWords(sh *night.Sheet, res lineup.Result) string {
	words := fmt.Sprintf("%s proposed: about %.0f good looks, within %.1f %% of the best possible.", plural(len(res.Showings), "showing", "showings"), res.Score, 100*res.Gap())
	if res.Stopped {
		words += " The search was cut short."
	}
	for i, l := range res.Left {
		if i == 3 {
			words += fmt.Sprintf(" And %d more were left out.", len(res.Left)-3)
			break
		}
		words += fmt.Sprintf(" Left out: %s (%s).", targetName(sh, l.TargetID), l.Reason)
	}
	return words
}

// clearLineUp takes away what is not pinned.
func (s *server) clearLineUp(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	var kept []lineup.Showing
	for _, x := range sh.Showings {
		if x.Pinned {
			kept = append(kept, x)
		}
	}
	done := "Everything is cleared."
	if len(kept) > 0 {
		done = fmt.Sprintf("Cleared, but for %s.", plural(len(kept), "pinned showing", "pinned showings"))
	}
	return s.revise(w, r, sh, revision{shows: kept, forbidden: sh.Forbidden, label: "clear what is not pinned", done: done, at: -1})
}

// pinShowing pins a showing, or lets it go.
func (s *server) pinShowing(w http.ResponseWriter, r *http.Request) error {
	sh, i, err := s.showingOf(r)
	if err != nil {
		return err
	}
	all, name := slices.Clone(sh.Showings), targetName(sh, sh.Showings[i].TargetID)
	all[i].Pinned = r.PostFormValue("pinned") == "1"
	rev := revision{shows: all, forbidden: sh.Forbidden, label: "let " + name + " go", done: name + " may move again.", at: i}
	if all[i].Pinned {
		rev.label, rev.done = "pin "+name, name+" is pinned: it stays when the night is proposed again."
	}
	return s.revise(w, r, sh, rev)
}

// removeShowing clears one showing; undo brings it back.
func (s *server) removeShowing(w http.ResponseWriter, r *http.Request) error {
	sh, i, err := s.showingOf(r)
	if err != nil {
		return err
	}
	x := sh.Showings[i]
	name := targetName(sh, x.TargetID)
	return s.revise(w, r, sh, revision{
		shows: slices.Delete(slices.Clone(sh.Showings), i, i+1), forbidden: sh.Forbidden, at: -1, label: "clear " + name,
		done: fmt.Sprintf("%s is cleared from %s.", name, sh.Input.InstrumentName(x.InstrumentID)),
	})
}

// forbidShowing clears every showing of this target at this instrument and
// keeps the two apart in later proposals.
func (s *server) forbidShowing(w http.ResponseWriter, r *http.Request) error {
	sh, i, err := s.showingOf(r)
	if err != nil {
		return err
	}
	pair := lineup.Pair{InstrumentID: sh.Showings[i].InstrumentID, TargetID: sh.Showings[i].TargetID}
	all := slices.DeleteFunc(slices.Clone(sh.Showings), func(x lineup.Showing) bool {
		return x.InstrumentID == pair.InstrumentID && x.TargetID == pair.TargetID
	})
	forbidden := slices.Clone(sh.Forbidden)
	if !slices.Contains(forbidden, pair) {
		forbidden = append(forbidden, pair)
	}
	name, inst := targetName(sh, pair.TargetID), sh.Input.InstrumentName(pair.InstrumentID)
	return s.revise(w, r, sh, revision{
		shows: all, forbidden: forbidden, at: -1, label: fmt.Sprintf("never %s in %s", name, inst),
		done: fmt.Sprintf("%s will not be proposed in %s any more.", name, inst),
	})
}

// allowPair takes a "never here" back.
func (s *server) allowPair(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	inst, _ := strconv.ParseInt(r.FormValue("instrument"), 10, 64)
	pair := lineup.Pair{InstrumentID: inst, TargetID: r.FormValue("target")}
	i := slices.Index(sh.Forbidden, pair)
	if i < 0 {
		return fault.New(fault.NotFound, "These two are not kept apart any more.")
	}
	name, at := targetName(sh, pair.TargetID), sh.Input.InstrumentName(inst)
	return s.revise(w, r, sh, revision{
		shows: slices.Clone(sh.Showings), forbidden: slices.Delete(slices.Clone(sh.Forbidden), i, i+1), at: -1,
		label: fmt.Sprintf("allow %s in %s", name, at), done: fmt.Sprintf("%s may be proposed in %s again.", name, at),
	})
}

// placeShowing moves, lengthens or shortens a showing: span is "from-to" in
// blocks, instrument where it shall be.
func (s *server) placeShowing(w http.ResponseWriter, r *http.Request) error {
	sh, i, err := s.showingOf(r)
	if err != nil {
		return err
	}
	m, x := sh.Fits(), sh.Showings[i]
	from, to := m.BlocksOf(x)
	if v := r.FormValue("span"); v != "" {
		var ok bool
		if from, to, ok = parseBlocks(v, len(m.Blocks)); !ok {
			return fault.New(fault.Invalid, "A showing lies within the public hours and lasts at least one block.")
		}
	} else if from >= to {
		return fault.New(fault.Invalid, "This showing lies outside the public hours; give it a time first.")
	}
	inst := x.InstrumentID
	if v := r.FormValue("instrument"); v != "" {
		inst, _ = strconv.ParseInt(v, 10, 64)
	}
	rest := slices.Delete(slices.Clone(sh.Showings), i, i+1)
	moved, err := placed(sh, m, x, inst, from, to, rest)
	if err != nil {
		return err
	}
	all, gave, err := give(sh, moved, x.ID)
	if err != nil {
		return err
	}
	name := targetName(sh, x.TargetID)
	verb := "move "
	if inst == x.InstrumentID && moved.Length != x.Length {
		verb = "change the length of "
	}
	done := fmt.Sprintf("%s is in %s from %s.%s", name, sh.Input.InstrumentName(inst), span(sh, moved.From, moved.To()), gave)
	return s.revise(w, r, sh, revision{shows: all, forbidden: sh.Forbidden, label: verb + name, done: done, at: indexOf(all, moved)})
}

// parseBlocks reads "3-5": the blocks 3 and 4 of n.
func parseBlocks(v string, n int) (from, to int, ok bool) {
	a, b, found := strings.Cut(v, "-")
	from, err1 := strconv.Atoi(a)
	to, err2 := strconv.Atoi(b)
	return from, to, found && err1 == nil && err2 == nil && from >= 0 && from < to && to <= n
}

// placed is a showing at another place. In its own instrument it keeps its
// gear; in another it gets the best train that takes nothing from the rest.
func placed(sh *night.Sheet, m *lineup.Matrix, x lineup.Showing, inst int64, from, to int, rest []lineup.Showing) (lineup.Showing, error) {
	moved := x
	moved.From = m.Blocks[from].From
	moved.Length = m.Blocks[to-1].To.Sub(moved.From)
	if inst == x.InstrumentID {
		return moved, nil
	}
	ii, ti := sh.Input.Instrument(inst), sh.Input.TargetIndex(x.TargetID)
	if ii < 0 || ti < 0 {
		return moved, fault.New(fault.NotFound, "This instrument or target is not part of the night any more.")
	}
	if len(m.Trains[ii]) == 0 {
		return moved, fault.New(fault.Invalid, "No eyepiece of the night fits %s.", sh.Input.InstrumentName(inst))
	}
	best := -1
	for n, o := range m.TrainOffers(ii, ti, from, to) {
		if n == 6 || n > 0 && o.Fit == 0 {
			break // what comes now is no better than a conflict
		}
		y := m.Show(ii, ti, o.Train, from, to)
		y.ID, y.Pinned, y.BackupID = x.ID, x.Pinned, x.BackupID
		if c := len(sh.Input.Check(m, append(slices.Clone(rest), y))); best < 0 || c < best {
			best, moved = c, y
		}
	}
	return moved, nil
}

// swapShowings lets two showings change places. Two that follow each other at
// one instrument keep their lengths and change their order.
func (s *server) swapShowings(w http.ResponseWriter, r *http.Request) error {
	sh, i, err := s.showingOf(r)
	if err != nil {
		return err
	}
	with, _ := strconv.ParseInt(r.FormValue("with"), 10, 64)
	j := showingIndex(sh, with)
	if j < 0 || j == i {
		return fault.New(fault.Invalid, "Choose another showing of the line-up to swap with.")
	}
	m, a, b := sh.Fits(), sh.Showings[i], sh.Showings[j]
	var rest []lineup.Showing
	for n, x := range sh.Showings {
		if n != i && n != j {
			rest = append(rest, x)
		}
	}
	a2, b2 := a, b
	switch {
	case a.InstrumentID == b.InstrumentID && a.To().Equal(b.From):
		b2.From, a2.From = a.From, a.From.Add(b.Length)
	case a.InstrumentID == b.InstrumentID && b.To().Equal(a.From):
		a2.From, b2.From = b.From, b.From.Add(a.Length)
	default:
		af, at := m.BlocksOf(a)
		bf, bt := m.BlocksOf(b)
		if af >= at || bf >= bt {
			return fault.New(fault.Invalid, "One of the two lies outside the public hours; give it a time first.")
		}
		if a2, err = placed(sh, m, a, b.InstrumentID, bf, bt, rest); err != nil {
			return err
		}
		if b2, err = placed(sh, m, b, a.InstrumentID, af, at, append(slices.Clone(rest), a2)); err != nil {
			return err
		}
	}
	all := append(rest, a2, b2)
	sortShowings(all)
	an, bn := targetName(sh, a.TargetID), targetName(sh, b.TargetID)
	done := fmt.Sprintf("%s is in %s from %s, %s in %s from %s.", an, sh.Input.InstrumentName(a2.InstrumentID), span(sh, a2.From, a2.To()),
		bn, sh.Input.InstrumentName(b2.InstrumentID), span(sh, b2.From, b2.To()))
	return s.revise(w, r, sh, revision{shows: all, forbidden: sh.Forbidden, label: fmt.Sprintf("swap %s and %s", an, bn), done: done, at: indexOf(all, a2)})
}

// nightSheet is the computed night of the address.
func (s *server) nightSheet(r *http.Request) (*night.Sheet, error) {
	id, err := idParam(r, "night")
	if err != nil {
		return nil, err
	}
	return s.sheet(r.Context(), id)
}

// showingOf finds the night and the showing of the address.
func (s *server) showingOf(r *http.Request) (*night.Sheet, int, error) {
	showing, err := idParam(r, "showing")
	if err != nil {
		return nil, 0, err
	}
	sh, err := s.nightSheet(r)
	if err != nil {
		return nil, 0, err
	}
	if i := showingIndex(sh, showing); i >= 0 {
		return sh, i, nil
	}
	return nil, 0, fault.New(fault.NotFound, "This showing is no longer in the line-up; somebody may have changed it. Look at the new line-up.")
}

// unixParam reads an instant in seconds from a query or form value.
func unixParam(v string) (time.Time, bool) {
	n, err := strconv.ParseInt(v, 10, 64)
	if err != nil || n <= 0 || n > 1<<40 {
		return time.Time{}, false
	}
	return time.Unix(n, 0).UTC(), true
}
