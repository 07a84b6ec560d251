package assign_test

import (
	"context"
	"testing"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

// FuzzSolve: no problem makes the solver panic or break a rule that it does
// not own up to, however little work it may do; nor does a plan for another
// problem make Evaluate or Reoptimise panic.
func FuzzSolve(f *testing.F) {
	for seed := range uint64(100) {
		f.Add(seed+5000, int64(seed*seed*seed), 0.5)
	}
	f.Fuzz(func(t *testing.T, seed uint64, work int64, keep float64) {
		p := assigntest.Random(seed)
		plan, err := assign.Solve(context.Background(), p, assign.Options{Work: work % 1_000_000})
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, seed, p, plan)
		other := assigntest.Random(seed + 1)
		assign.Evaluate(&other, plan.Choice)
		again, err := assign.Reoptimise(context.Background(), other,
			assign.Replan{Current: plan.Choice, From: other.Blocks / 2, Keep: keep}, assign.Options{Work: 10_000})
		if err == nil && len(again.Choice) != len(other.Agents) {
			t.Fatal("a plan without all agents")
		}
	})
}
