package web

import (
	"context"
	"net/http"
	"strconv"
	"sync"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// LineUpStore keeps the showings of a night.
type LineUpStore interface {
	SaveShowings(ctx context.Context, nightID, lineUpVersion int64, shows []lineup.Showing, label string) (int64, error)
	// SaveLineUp changes showings and forbidden pairs in one step of undo and
	// sets the ids of new showings in the slice.
	SaveLineUp(ctx context.Context, nightID, lineUpVersion int64, shows []lineup.Showing, pairs []lineup.Pair, label string) (int64, error)
	Undo(ctx context.Context, nightID int64) (string, error)
	Redo(ctx context.Context, nightID int64) (string, error)
}

// sheets keeps the newest computed sheets, so that the pages of one night do
// not compute it again and again. A sheet is only ever read.
type sheets struct {
	mu   sync.Mutex
	kept map[int64]keptSheet
}

type keptSheet struct {
	print string // of the whole plan
	rest  string // of the plan without its line-up
	sheet *night.Sheet
}

// most is how many nights are kept; the newest few are what people look at.
const most = 8

// sheet loads a night and computes it, or returns the one computed before when
// nothing has changed since.
func (s *server) sheet(ctx context.Context, id int64) (*night.Sheet, error) {
	p, err := s.store.Plan(ctx, id)
	if err != nil {
		return nil, err
	}
	cat, own, err := s.ownCatalogue(ctx)
	if err != nil {
		return nil, err
	}
	print := fingerprint(p, own)
	s.sheets.mu.Lock()
	k, ok := s.sheets.kept[id]
	s.sheets.mu.Unlock()
	if ok && print != "" && k.print == print {
		return k.sheet, nil
	}
	rest := fingerprint(p.WithoutLineUp(), own)
	var sh *night.Sheet
	if ok && rest != "" && k.rest == rest {
		// Only the line-up changed, as it does with every move on the board.
		sh, ok = k.sheet.Relined(p)
	} else {
		ok = false
	}
	if !ok {
		if sh, err = night.Build(p, cat); err != nil {
			return nil, err
		}
	}
	s.sheets.mu.Lock()
	defer s.sheets.mu.Unlock()
	if s.sheets.kept == nil || len(s.sheets.kept) >= most {
		s.sheets.kept = map[int64]keptSheet{}
	}
	s.sheets.kept[id] = keptSheet{print, rest, sh}
	return sh, nil
}

// idParam reads a number from the address.
func idParam(r *http.Request, name string) (int64, error) {
	id, err := strconv.ParseInt(chi.URLParam(r, name), 10, 64)
	if err != nil || id <= 0 {
		return 0, fault.New(fault.NotFound, "There is no page at this address.")
	}
	return id, nil
}
