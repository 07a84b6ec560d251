package lineup

import (
	"context"
	"fmt"

	"duskboard/internal/assign"
)

// Judged weighs showings that somebody else put together by the same measure
// as [Propose]: score with bonuses and costs, the bound of the night, what is
// parked and how guests flow. Showings that break a rule count as far as they
// go; [Input.Check] names them.
func (in *Input) Judged(ctx context.Context, m *Matrix, shows []Showing) (Result, error) {
	best, err := Propose(ctx, in, m)
	if err != nil {
		return Result{}, fmt.Errorf("judge a line-up: %w", err)
	}
	r := Result{Showings: shows, Score: in.Worth(m, shows), Bound: best.Bound, Stopped: best.Stopped}
	mo := &model{in: in, m: m}
	mo.missedMusts(&r)
	r.Parked = in.Parked(m, shows)
	r.Crowding = in.CrowdingOf(m, shows)
	return r, nil
}

// Worth is what a set of showings is worth in good looks, with the bonuses and
// costs of the model: the measure of [Result.Score]. It serves to say what a
// change by hand costs.
func (in *Input) Worth(m *Matrix, shows []Showing) float64 {
	mo := build(in, m.Including(shows...))
	choice := mo.choiceOf(shows)
	for ii := range mo.problem.Agents {
		mo.finishAgent(ii)
	}
	return assign.Evaluate(mo.problem, choice).Score
}

// choiceOf writes showings as a plan of assign. A train that is not among an
// instrument's options becomes one; what the kit cannot build stays idle.
func (mo *model) choiceOf(shows []Showing) [][]int {
	choice := make([][]int, len(mo.in.Kit.Instruments))
	for ii := range choice {
		choice[ii] = make([]int, len(mo.m.Blocks))
		for b := range choice[ii] {
			choice[ii][b] = assign.Idle
		}
	}
	for _, s := range shows {
		ii := mo.in.instrument(s.InstrumentID)
		if ii < 0 {
			continue
		}
		oi := mo.optionOf(ii, s)
		if oi < 0 {
			continue
		}
		from, to := mo.m.span(s)
		for b := from; b < to; b++ {
			choice[ii][b] = oi
		}
	}
	return choice
}

// optionOf finds the option of a showing with its very gear, or adds it; -1
// when the kit cannot build it or no block allows it.
func (mo *model) optionOf(ii int, s Showing) int {
	ti := mo.in.target(s.TargetID)
	if ti < 0 {
		return -1
	}
	r := mo.m.train(ii, s)
	if r < 0 {
		return -1
	}
	for i, o := range mo.options[ii] {
		if o.target == ti && o.train == r {
			return i
		}
	}
	return mo.addOption(ii, ti, mo.m.track(ii, ti, r))
}
