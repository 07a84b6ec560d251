package lineup

import (
	"context"
	"fmt"

	"duskboard/internal/assign"
)

// solve runs the search. A fault in it must not take a night's page down an
// hour before the gate opens: the search is then run once more without longest
// showings, which is the simpler problem, and the result says so.
func solve(ctx context.Context, p assign.Problem) (plan assign.Plan, note string, err error) {
	plan, err = guarded(ctx, p)
	if err == nil || ctx.Err() != nil {
		return plan, "", err
	}
	first := err
	for i := range p.Agents {
		for o := range p.Agents[i].Options {
			p.Agents[i].Options[o].MaxRun = 0
		}
	}
	if plan, err = guarded(ctx, p); err != nil {
		return plan, "", err
	}
	return plan, fmt.Sprintf("The search failed (%v) and was repeated without a limit on the length of a showing.", first), nil
}

// guarded turns a panic of the search into an error.
func guarded(ctx context.Context, p assign.Problem) (plan assign.Plan, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the search broke down: %v", r)
		}
	}()
	return assign.Solve(ctx, p, assign.Options{})
}
