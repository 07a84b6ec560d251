package lineup

import (
	"fmt"

	"duskboard/internal/assign"
)

// solve runs the search. A fault in it must not take a night's page down an
// hour before the gate opens: the search is then run once more without longest
// showings, which is the simpler problem, and the result says so.
func solve(p *assign.Problem, run func(assign.Options) (assign.Plan, error)) (plan assign.Plan, note string, err error) {
	opt := effort(*p)
	plan, err = guarded(func() (assign.Plan, error) { return run(opt) })
	if err == nil {
		return plan, "", nil
	}
	first := err
	for i := range p.Agents {
		for o := range p.Agents[i].Options {
			p.Agents[i].Options[o].MaxRun = 0
		}
	}
	if plan, err = guarded(func() (assign.Plan, error) { return run(opt) }); err != nil {
		return plan, "", err
	}
	return plan, fmt.Sprintf("The search failed (%v) and was repeated without a limit on the length of a showing.", first), nil
}

// guarded turns a panic of the search into an error.
func guarded(run func() (assign.Plan, error)) (plan assign.Plan, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the search broke down: %v", r)
		}
	}()
	return run()
}

// effort gives a large club the longer search that its many showings need: two
// million steps, about 25 ms, for each instrument beyond a dozen.
func effort(p assign.Problem) assign.Options {
	if n := len(p.Agents); n > 12 {
		return assign.Options{Work: int64(n) * 2_000_000}
	}
	return assign.Options{}
}
