package assign_test

import (
	"context"
	"math"
	"testing"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

// TestReoptimise: the past stays, an agent that drops out is idle, and the
// dearer a change, the fewer there are.
func TestReoptimise(t *testing.T) {
	p := assigntest.LineUp(6, assigntest.Shape{Agents: 8, Topics: 60, Blocks: 12, PerTopic: 2, Shared: 3, Pins: 1, MaxRuns: 4})
	first, err := assign.Solve(context.Background(), p, assign.Options{})
	if err != nil {
		t.Fatal(err)
	}
	const from, gone = 5, 2
	p.Pins = nil
	p.Agents[gone].Out = []assign.Span{{From: from, To: p.Blocks}}
	last := math.MaxInt
	for _, keep := range []float64{0, 0.5, 2, 1000} {
		plan, err := assign.Reoptimise(context.Background(), p, assign.Replan{Current: first.Choice, From: from, Keep: keep}, assign.Options{})
		if err != nil {
			t.Fatal(err)
		}
		q := p
		q.From, q.Past = from, first.Choice
		checkPlan(t, 6, q, plan)
		changed := 0
		for i, row := range plan.Choice {
			for b := range row {
				if b < from && row[b] != first.Choice[i][b] {
					t.Fatalf("keep %v: agent %d changed in block %d, which is past", keep, i, b)
				}
				if b >= from && i == gone && row[b] != assign.Idle {
					t.Errorf("keep %v: agent %d is out and busy in block %d", keep, i, b)
				}
				if i != gone && row[b] != first.Choice[i][b] {
					changed++
				}
			}
		}
		if changed > last {
			t.Errorf("keep %v: %d blocks changed, with a lower price %d", keep, changed, last)
		}
		last = changed
		if plan.Gap > 0.01 {
			t.Errorf("keep %v: gap %v", keep, plan.Gap)
		}
	}
	if last != 0 {
		t.Errorf("%d blocks of others changed at any price", last)
	}
}

// TestReoptimiseNothingNew: a plan made again without anything new and with
// any price on changes is at least as good.
func TestReoptimiseNothingNew(t *testing.T) {
	for seed := range uint64(200) {
		p := assigntest.Random(seed)
		if p.From > 0 {
			continue
		}
		first, err := assign.Solve(context.Background(), p, assign.Options{Work: 500_000})
		if err != nil {
			t.Fatal(err)
		}
		if len(first.Broken) > 0 {
			continue
		}
		again, err := assign.Reoptimise(context.Background(), p,
			assign.Replan{Current: first.Choice, From: p.Blocks / 2, Keep: 0.25}, assign.Options{Work: 500_000})
		if err != nil {
			t.Fatal(err)
		}
		if again.Score-again.Kept < first.Score-1e-9 {
			t.Errorf("seed %d: %v less %v after %v", seed, again.Score, again.Kept, first.Score)
		}
	}
}
