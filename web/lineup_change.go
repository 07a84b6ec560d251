package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// proposeTime is how long a proposal may take; after it the best so far is
// shown and the page says so.
const proposeTime = 5 * time.Second

// proposeLineUp fills the night and keeps what is pinned.
func (s *server) proposeLineUp(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	words, err := s.propose(r.Context(), sh)
	if err != nil {
		return err
	}
	return redirect(w, r, lineUpPath(id), views.Flash{Text: words})
}

// propose computes and saves a line-up; it returns what to tell.
func (s *server) propose(ctx context.Context, sh *night.Sheet) (string, error) {
	ctx, cancel := context.WithTimeout(ctx, proposeTime)
	defer cancel()
	res, err := lineup.Propose(ctx, sh.Input, sh.Fits())
	if err != nil {
		return "", err
	}
	if _, err := s.store.SaveShowings(context.WithoutCancel(ctx), sh.Night.ID, sh.LineUpVersion, res.Showings, "Proposed"); err != nil {
		return "", err
	}
	words := fmt.Sprintf("%d showings proposed: about %.0f good looks, within %.1f %% of the best possible.", len(res.Showings), res.Score, 100*res.Gap())
	if res.Stopped {
		words += " The search was cut short."
	}
	for i, l := range res.Left {
		if i == 3 {
			words += fmt.Sprintf(" And %d more were left out.", len(res.Left)-3)
			break
		}
		name := l.TargetID
		if t, ok := sh.Target(l.TargetID); ok {
			name = t.Name
		}
		words += fmt.Sprintf(" Left out: %s (%s).", name, l.Reason)
	}
	return words, nil
}

// clearLineUp takes away what is not pinned.
func (s *server) clearLineUp(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	var kept []lineup.Showing
	for _, x := range sh.Showings {
		if x.Pinned {
			kept = append(kept, x)
		}
	}
	if _, err := s.store.SaveShowings(r.Context(), id, sh.LineUpVersion, kept, "Cleared"); err != nil {
		return err
	}
	return redirect(w, r, lineUpPath(id), views.Flash{Text: fmt.Sprintf("Cleared; %d pinned showings stay.", len(kept))})
}

// undoLineUp and redoLineUp step through the changes of the line-up.
func (s *server) undoLineUp(w http.ResponseWriter, r *http.Request) error {
	return s.step(w, r, s.store.Undo, "Taken back")
}

func (s *server) redoLineUp(w http.ResponseWriter, r *http.Request) error {
	return s.step(w, r, s.store.Redo, "Done again")
}

func (s *server) step(w http.ResponseWriter, r *http.Request, move func(context.Context, int64) (string, error), word string) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	label, err := move(r.Context(), id)
	if err != nil {
		return err
	}
	if label != "" {
		word += ": " + label
	}
	return redirect(w, r, lineUpPath(id), views.Flash{Text: word + "."})
}

// pinShowing pins a showing, or lets it go.
func (s *server) pinShowing(w http.ResponseWriter, r *http.Request) error {
	return s.changeShowing(w, r, func(sh *night.Sheet, all []lineup.Showing, i int) ([]lineup.Showing, string, error) {
		all[i].Pinned = r.PostFormValue("pinned") == "1"
		if all[i].Pinned {
			return all, "Pinned", nil
		}
		return all, "Unpinned", nil
	})
}

// removeShowing clears one showing; undo brings it back.
func (s *server) removeShowing(w http.ResponseWriter, r *http.Request) error {
	return s.changeShowing(w, r, func(_ *night.Sheet, all []lineup.Showing, i int) ([]lineup.Showing, string, error) {
		return append(all[:i], all[i+1:]...), "Cleared one", nil
	})
}

// forbidShowing clears a showing and keeps its target away from this
// instrument in later proposals.
func (s *server) forbidShowing(w http.ResponseWriter, r *http.Request) error {
	return s.changeShowing(w, r, func(sh *night.Sheet, all []lineup.Showing, i int) ([]lineup.Showing, string, error) {
		pair := lineup.Pair{InstrumentID: all[i].InstrumentID, TargetID: all[i].TargetID}
		v, err := s.store.SaveForbidden(r.Context(), sh.Night.ID, sh.LineUpVersion, append(append([]lineup.Pair(nil), sh.Forbidden...), pair))
		if err != nil {
			return nil, "", err
		}
		sh.LineUpVersion = v
		return append(all[:i], all[i+1:]...), "Not here", nil
	})
}

// changeShowing loads, changes and saves the line-up around one showing.
func (s *server) changeShowing(w http.ResponseWriter, r *http.Request, change func(*night.Sheet, []lineup.Showing, int) ([]lineup.Showing, string, error)) error {
	sh, i, err := s.showingOf(r)
	if err != nil {
		return err
	}
	copied := *sh // the kept sheet is shared and stays as it is
	all, label, err := change(&copied, append([]lineup.Showing(nil), sh.Showings...), i)
	if err != nil {
		return err
	}
	if _, err := s.store.SaveShowings(r.Context(), sh.Night.ID, copied.LineUpVersion, all, label); err != nil {
		return err
	}
	return redirect(w, r, lineUpPath(sh.Night.ID), views.Flash{Text: label + "."})
}

// showingOf finds the night and the showing of the address.
func (s *server) showingOf(r *http.Request) (*night.Sheet, int, error) {
	id, err := idParam(r, "night")
	if err != nil {
		return nil, 0, err
	}
	showing, err := idParam(r, "showing")
	if err != nil {
		return nil, 0, err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return nil, 0, err
	}
	for i, x := range sh.Showings {
		if x.ID == showing {
			return sh, i, nil
		}
	}
	return nil, 0, fault.New(fault.NotFound, "This showing is no longer in the line-up; somebody may have proposed a new one.")
}

// unixParam reads an instant in seconds from a query or form value.
func unixParam(v string) (time.Time, bool) {
	n, err := strconv.ParseInt(v, 10, 64)
	if err != nil || n <= 0 || n > 1<<40 {
		return time.Time{}, false
	}
	return time.Unix(n, 0).UTC(), true
}
