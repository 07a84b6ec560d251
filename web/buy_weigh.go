package web

import (
	"context"
	"sync"
	"time"

	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// weighTime bounds how long one night may be planned again and again.
const weighTime = time.Minute

// weighings are the answers to "which one more eyepiece helps most", by night.
// Each takes some seconds, so it runs beside the requests, one at a time for
// the whole server; who asked sees how far it is.
type weighings struct {
	mu   sync.Mutex
	kept map[int64]weighing
	turn chan struct{} // holds whoever computes
}

// weighing is one answer, or how far it is.
type weighing struct {
	print     string // fingerprint of the night that it is about
	done, all int    // candidates
	ready     bool
	counsel   lineup.Counsel
	err       error
}

func newWeighings() *weighings {
	return &weighings{kept: map[int64]weighing{}, turn: make(chan struct{}, 1)}
}

// of returns what is known for a night; false when nobody asked yet.
func (w *weighings) of(nightID int64) (weighing, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	x, ok := w.kept[nightID]
	return x, ok
}

// set keeps how far the computing is, unless the night has been asked about
// anew since.
func (w *weighings) set(nightID int64, x weighing) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if now, ok := w.kept[nightID]; ok && now.print == x.print {
		w.kept[nightID] = x
	}
}

// begin starts to compute for a night, unless the same is under way or known.
// What is computed does not hang on the request: whoever leaves the page finds
// the answer later.
func (w *weighings) begin(sh *night.Sheet, print string) {
	x, ok := w.of(sh.Night.ID)
	if ok && x.print == print && x.err == nil && !x.counsel.Stopped {
		return
	}
	all := len(lineup.Candidates())
	w.mu.Lock()
	if len(w.kept) >= most && !ok { // the newest few are what people look at
		w.kept = map[int64]weighing{}
	}
	w.kept[sh.Night.ID] = weighing{print: print, all: all}
	w.mu.Unlock()
	go w.run(sh, print)
}

func (w *weighings) run(sh *night.Sheet, print string) {
	w.turn <- struct{}{}
	defer func() { <-w.turn }()
	ctx, cancel := context.WithTimeout(context.Background(), weighTime)
	defer cancel()
	c, err := lineup.Advice(ctx, sh.Input, sh.Fits(), func(done, all int) {
		w.set(sh.Night.ID, weighing{print: print, done: done, all: all})
	})
	w.set(sh.Night.ID, weighing{print: print, done: len(lineup.Candidates()), all: len(lineup.Candidates()), ready: true, counsel: c, err: err})
}
