package lineup

import (
	"context"
	"fmt"
	"sort"

	"duskboard/internal/assign"
)

// Result is a line-up with its worth.
type Result struct {
	Showings []Showing
	Score    float64 // good looks
	Bound    float64 // no line-up can have a higher score
	Left     []Left  // pins and wishes that could not be kept, with reasons
	Parked   []Parked
	Crowding Crowding
	Stopped  bool // the search was cut short
}

// Parked is a stretch in which an instrument shows nothing, with the reason.
type Parked struct {
	InstrumentID int64
	Span
}

// Gap is how far the score may be from the best possible, 0 to 1.
func (r Result) Gap() float64 {
	if r.Bound <= 0 {
		return 0
	}
	return max(0, (r.Bound-r.Score)/r.Bound)
}

// Propose finds the line-up. It always returns a result, also without
// instruments, targets or blocks: then an empty one that says why. When ctx
// ends it returns the best found so far.
func Propose(ctx context.Context, in *Input, m *Matrix) (Result, error) {
	mo := build(in, m)
	plan, err := assign.Solve(ctx, *mo.problem, effort(mo.problem))
	if err != nil {
		return Result{}, fmt.Errorf("propose a line-up: %w", err)
	}
	r := Result{Score: plan.Score, Bound: plan.Bound, Left: mo.left, Stopped: plan.Stopped}
	for ii := range in.Kit.Instruments {
		for _, run := range assign.Runs(ii, plan.Choice[ii]) {
			r.Showings = append(r.Showings, mo.showing(ii, run))
		}
	}
	mo.keepPins(r.Showings)
	mo.backups(r.Showings)
	mo.missedMusts(&r)
	r.Parked = in.Parked(m, r.Showings)
	r.Crowding = in.CrowdingOf(m, r.Showings)
	return r, nil
}

func (mo *model) showing(ii int, run assign.Run) Showing {
	return mo.show(ii, mo.options[ii][run.Option], run.From, run.To)
}

// show makes the showing of an option over the blocks from to to-1.
func (mo *model) show(ii int, o option, from, to int) Showing {
	tr := mo.m.Trains[ii][o.train]
	s := Showing{InstrumentID: mo.in.Kit.Instruments[ii].ID, TargetID: mo.in.Targets[o.target].ID, From: mo.m.Blocks[from].From}
	s.Length = mo.m.Blocks[to-1].To.Sub(s.From)
	if tr.Eyepiece != nil {
		s.EyepieceID = tr.Eyepiece.ID
	}
	if tr.Amplifier != nil {
		s.AmplifierID = tr.Amplifier.ID
	}
	if tr.Diagonal != nil {
		s.DiagonalID = tr.Diagonal.ID
	}
	if tr.Filter != nil {
		s.FilterID = tr.Filter.ID
	}
	return s
}

// pins tells assign which showings stay. A pin that the fits veto is left out
// and said.
func (mo *model) pins() {
	for _, s := range mo.in.Pinned {
		ii := mo.in.instrument(s.InstrumentID)
		left := func(format string, args ...any) {
			mo.left = append(mo.left, Left{s.InstrumentID, s.TargetID, fmt.Sprintf(format, args...)})
		}
		if ii < 0 {
			left("the instrument of this pinned showing is not part of the night")
			continue
		}
		from, to := mo.m.span(s)
		if from >= to {
			left("this pinned showing lies outside the public hours")
			continue
		}
		oi := mo.pinnedOption(ii, s)
		if oi < 0 {
			left("%s", mo.pinReason(ii, s))
			continue
		}
		for b := from; b < to; b++ {
			if !mo.problem.Agents[ii].Options[oi].Allowed(b) {
				left("not possible at %s: %s", mo.m.Blocks[b].From.In(mo.in.Sky.Zone).Format("15:04"), mo.pinReason(ii, s))
				to = b
				break
			}
		}
		if to > from {
			mo.problem.Pins = append(mo.problem.Pins, assign.Pin{Agent: ii, Option: oi, Span: assign.Span{From: from, To: to}})
		}
	}
}

// pinnedOption finds the option with the showing's own gear, or adds it: a
// coordinator may pin an eyepiece that is not among the best three. Without
// that gear, the best train on the target keeps the pin's intent.
func (mo *model) pinnedOption(ii int, s Showing) int {
	if oi := mo.optionOf(ii, s); oi >= 0 {
		return oi
	}
	ti := mo.in.target(s.TargetID)
	for i, o := range mo.options[ii] {
		if o.target == ti {
			return i
		}
	}
	return -1
}

func (mo *model) pinReason(ii int, s Showing) string {
	ti := mo.in.target(s.TargetID)
	if ti < 0 {
		return "the target is not among those of the night"
	}
	b, _ := mo.m.span(s)
	w := mo.m.Why(ii, ti, min(b, len(mo.m.Blocks)-1))
	if v, ok := w.Fit.Vetoed(); ok {
		return v.Sentence
	}
	return "no eyepiece of the night serves it there"
}

// keepPins marks the showings that a pin held.
func (mo *model) keepPins(shows []Showing) {
	for i := range shows {
		for _, p := range mo.in.Pinned {
			if p.InstrumentID == shows[i].InstrumentID && p.TargetID == shows[i].TargetID && p.From.Before(shows[i].To()) && shows[i].From.Before(p.To()) {
				shows[i].Pinned = true
			}
		}
	}
}

// backups gives each showing a target in another part of the sky, for when
// cloud covers this one: the best fit at least 60 degrees of azimuth away.
func (mo *model) backups(shows []Showing) {
	for i := range shows {
		shows[i].BackupID = mo.backup(shows[i])
	}
}

// otherSide is how far away in the sky a backup stands, degrees.
const otherSide = 50

func (mo *model) backup(s Showing) string {
	ii, own := mo.in.instrument(s.InstrumentID), mo.in.target(s.TargetID)
	from, to := mo.m.span(s)
	b := (from + to - 1) / 2
	best, id := 0.0, ""
	for ti, t := range mo.in.Targets {
		if ti == own || mo.m.apart(own, ti, b) < otherSide {
			continue
		}
		v := mo.m.Cell(ii, ti).Best(b)
		// Bright things survive thin cloud.
		if bright(t) {
			v *= 1.3
		}
		if v > best {
			best, id = v, t.ID
		}
	}
	return id
}

func (mo *model) missedMusts(r *Result) {
	shown := map[string]bool{}
	for _, s := range r.Showings {
		shown[s.TargetID] = true
	}
	var ids []string
	for id := range mo.in.Must {
		if !shown[id] {
			ids = append(ids, id)
		}
	}
	sort.Strings(ids)
	for _, id := range ids {
		r.Left = append(r.Left, Left{TargetID: id, Reason: mo.m.WhyNowhere(mo.in.target(id))})
	}
}
