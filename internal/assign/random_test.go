package assign_test

import (
	"context"
	"math"
	"testing"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

// TestAgainstExhaustiveSearch solves small problems that use every rule of
// the model and compares with trying all plans. It guards the dynamic
// programme, the bound and the scoring, which is done by other code.
func TestAgainstExhaustiveSearch(t *testing.T) {
	solved, best, pinsBroken := 0, 0, 0
	for seed := range uint64(800) {
		p := assigntest.Random(seed)
		plan, err := assign.Solve(context.Background(), p, assign.Options{Work: 500_000})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		checkPlan(t, seed, p, plan)
		if len(plan.Broken) > 0 {
			// What is left must be as good as if the broken pins had never been.
			pinsBroken++
			p.Pins = keptPins(p, plan.Choice)
		}
		want, ok, tried := assigntest.Exhaustive(p, 200_000)
		if !tried {
			continue
		}
		if !ok {
			t.Errorf("seed %d: no lawful plan although the pins are kept", seed)
			continue
		}
		solved++
		if plan.Score > want+1e-6 {
			t.Errorf("seed %d: score %v above the optimum %v", seed, plan.Score, want)
		}
		if len(plan.Broken) == 0 && plan.Bound < want-1e-6 {
			t.Errorf("seed %d: bound %v below the optimum %v", seed, plan.Bound, want)
		}
		if plan.Score < want-0.01*math.Abs(want)-1e-6 {
			t.Errorf("seed %d: score %v, optimum %v", seed, plan.Score, want)
		} else if plan.Score > want-1e-6 {
			best++
		}
	}
	t.Logf("%d compared, %d of them optimal, %d with broken pins", solved, best, pinsBroken)
	if solved < 700 {
		t.Errorf("only %d problems compared", solved)
	}
}

// checkPlan checks that the plan breaks no rule but the pins it says it
// breaks, and that the bound is no lower than the score.
func checkPlan(t *testing.T, seed uint64, p assign.Problem, plan assign.Plan) {
	t.Helper()
	ev := assign.Evaluate(&p, plan.Choice)
	for _, v := range ev.Violations {
		if v.Kind != assign.PinNotKept {
			t.Errorf("seed %d: %v", seed, v)
			continue
		}
		said := false
		for _, b := range plan.Broken {
			said = said || b.Pin == v.Pin && b.From <= v.From && v.To <= b.To
		}
		if !said {
			t.Errorf("seed %d: %v, not in %v", seed, v, plan.Broken)
		}
	}
	if math.Abs(ev.Score-plan.Score) > 1e-9 {
		t.Errorf("seed %d: plan says %v, evaluation %v", seed, plan.Score, ev.Score)
	}
	if plan.Bound < plan.Score-plan.Kept-1e-9 {
		t.Errorf("seed %d: bound %v below score %v", seed, plan.Bound, plan.Score)
	}
}

// keptPins splits the pins into blocks and returns those that choice keeps.
func keptPins(p assign.Problem, choice [][]int) []assign.Pin {
	var pins []assign.Pin
	for _, pin := range p.Pins {
		for b := max(pin.From, p.From); b < min(pin.To, p.Blocks); b++ {
			if choice[pin.Agent][b] == pin.Option {
				kept := pin
				kept.Span = assign.Span{From: b, To: b + 1}
				pins = append(pins, kept)
			}
		}
	}
	return pins
}
