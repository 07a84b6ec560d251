package lineup

import (
	"context"
	"fmt"
	"math"
	"time"

	"duskboard/internal/assign"
)

// Replanned is a night planned again from some instant on.
type Replanned struct {
	Result
	From    time.Time // of the first block that may change
	Changes []Change  // what is different from there on, by instrument and time
	Night   *Input    // as the happenings leave it
	Fits    *Matrix   // of that night
}

// Replan plans the rest of a running night again. What began before from stays
// as it was; after it the plan keeps to the current showings wherever a change
// would earn little ([Rules.Keep]), and takes account of what happened. It is
// an error when a happening cannot be: an instrument that is not there.
func Replan(ctx context.Context, in *Input, m *Matrix, current []Showing, from time.Time, hs []Happening) (Replanned, error) {
	for _, h := range hs {
		if err := h.Check(in); err != nil {
			return Replanned{}, fmt.Errorf("plan again: %w", err)
		}
	}
	first := m.firstOpen(from)
	begin := in.PublicTo
	if first < len(m.Blocks) {
		begin = m.Blocks[first].From
	}
	night := in.after(begin, hs)
	fits := m
	if refits(hs) {
		fits = night.Fits()
	} else {
		copied := *m
		copied.in = night
		fits = &copied
	}
	mo := build(night, fits)
	choice := mo.choiceOf(current)
	for ii := range mo.problem.Agents {
		mo.finishAgent(ii)
	}
	mo.cover(first, hs)
	again := assign.Replan{Current: choice, From: first, Keep: night.Rules.Keep * night.Block.Minutes() / 15}
	plan, err := assign.Reoptimise(ctx, *mo.problem, again, effort(mo.problem))
	if err != nil {
		return Replanned{}, fmt.Errorf("plan again: %w", err)
	}
	r := Replanned{From: begin, Night: night, Fits: fits}
	r.Result = Result{Score: plan.Score - plan.Kept, Bound: plan.Bound, Left: mo.left, Stopped: plan.Stopped}
	r.Showings = joined(past(current, begin), mo.future(plan.Choice, first))
	mo.keepPins(r.Showings)
	keepIDs(r.Showings, current)
	for i := range r.Showings {
		if r.Showings[i].BackupID == "" || mo.hidden(r.Showings[i].BackupID, r.Showings[i], hs) {
			r.Showings[i].BackupID = mo.backupClear(r.Showings[i], hs)
		}
	}
	r.Parked = night.Parked(fits, r.Showings)
	r.Crowding = night.CrowdingOf(fits, r.Showings)
	r.Changes = changes(mo, current, r.Showings, first, hs)
	return r, nil
}

// firstOpen is the first block that can still be changed at an instant: the
// one that runs counts as past when half of it is over.
func (m *Matrix) firstOpen(t time.Time) int {
	for b, s := range m.Blocks {
		if !s.Middle().Before(t) {
			return b
		}
	}
	return len(m.Blocks)
}

// cover takes out what cloud hides, from a block on.
func (mo *model) cover(first int, hs []Happening) {
	for ii := range mo.problem.Agents {
		for oi := range mo.problem.Agents[ii].Options {
			o := &mo.problem.Agents[ii].Options[oi]
			for b := first; b < len(mo.m.Blocks); b++ {
				if mo.m.clouded(mo.options[ii][oi].target, b, hs) {
					o.Value[b] = math.Inf(-1)
				}
			}
		}
	}
}

// past returns the showings before an instant, cut off there.
func past(shows []Showing, at time.Time) []Showing {
	var out []Showing
	for _, s := range shows {
		if !s.From.Before(at) {
			continue
		}
		if s.To().After(at) {
			s.Length = at.Sub(s.From)
		}
		out = append(out, s)
	}
	return out
}

// future returns the showings of a plan from a block on.
func (mo *model) future(choice [][]int, first int) []Showing {
	var out []Showing
	for ii := range choice {
		for _, run := range assign.Runs(ii, choice[ii]) {
			if run.To <= first {
				continue
			}
			run.From = max(run.From, first)
			out = append(out, mo.showing(ii, run))
		}
	}
	return out
}

// joined puts two lists together; a showing that goes on is one showing.
func joined(before, after []Showing) []Showing {
	out := append([]Showing(nil), before...)
	for _, s := range after {
		merged := false
		for i := range before {
			if same(out[i], s) && out[i].DiagonalID == s.DiagonalID && out[i].To().Equal(s.From) {
				out[i].Length += s.Length
				merged = true
			}
		}
		if !merged {
			out = append(out, s)
		}
	}
	return out
}

// same reports whether two showings are of one target through the same gear.
func same(a, b Showing) bool {
	return a.InstrumentID == b.InstrumentID && a.TargetID == b.TargetID && a.EyepieceID == b.EyepieceID && a.AmplifierID == b.AmplifierID && a.FilterID == b.FilterID
}

// keepIDs gives a showing that begins as before the id it had.
func keepIDs(shows, current []Showing) {
	for i := range shows {
		for _, c := range current {
			if same(shows[i], c) && shows[i].From.Equal(c.From) {
				shows[i].ID, shows[i].BackupID = c.ID, c.BackupID
			}
		}
	}
}

func (mo *model) hidden(target string, s Showing, hs []Happening) bool {
	ti := mo.in.target(target)
	from, to := mo.m.span(s)
	return ti >= 0 && from < to && mo.m.clouded(ti, (from+to-1)/2, hs)
}

// backupClear is a backup that no cloud hides.
func (mo *model) backupClear(s Showing, hs []Happening) string {
	id := mo.backup(s)
	if id != "" && mo.hidden(id, s, hs) {
		return ""
	}
	return id
}
