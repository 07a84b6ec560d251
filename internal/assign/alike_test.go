package assign_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"duskboard/internal/assign"
)

// TestChangesThatCostAlike: where every change of class costs the same the
// solver takes a shorter way. A price that differs by a billionth for one pair
// of classes takes it off that way and must not change what is best. One
// agent alone is solved to the optimum either way, and staying in a class may
// cost less than the rest.
func TestChangesThatCostAlike(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 3))
		classes, blocks := 2+r.IntN(7), 4+r.IntN(9)
		a := assign.Agent{MinRun: 1 + r.IntN(2), RunCost: float64(r.IntN(2)), MaxRuns: r.IntN(5)}
		cost, stay := r.Float64()*3, r.Float64()
		for p := range classes {
			a.Change = append(a.Change, make([]float64, classes))
			for c := range classes {
				if a.Change[p][c] = cost; p == c {
					a.Change[p][c] = cost * stay * float64(r.IntN(2))
				}
			}
			a.Resume = append(a.Resume, r.Float64())
		}
		for range 3 * classes {
			o := assign.Option{Class: r.IntN(classes), Topic: r.IntN(6), MaxRun: r.IntN(3) * 2, Setup: r.Float64(), Value: make([]float64, blocks)}
			for b := range o.Value {
				if o.Value[b] = 4*r.Float64() - 0.5; r.IntN(8) == 0 {
					o.Value[b] = math.Inf(-1)
				}
			}
			a.Options = append(a.Options, o)
		}
		alike := assign.Problem{Blocks: blocks, Agents: []assign.Agent{a}}
		odd := alike
		odd.Agents = []assign.Agent{a}
		odd.Agents[0].Change = nil
		for p := range classes {
			row := append([]float64(nil), a.Change[p]...)
			row[(p+1)%classes] += 1e-9
			odd.Agents[0].Change = append(odd.Agents[0].Change, row)
		}
		short, err1 := assign.Solve(context.Background(), alike, assign.Options{})
		long, err2 := assign.Solve(context.Background(), odd, assign.Options{})
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if math.Abs(short.Score-long.Score) > 1e-6 || math.Abs(short.Bound-long.Bound) > 1e-3 {
			t.Errorf("seed %d: %.9f (bound %.6f) by the short way, %.9f (bound %.6f) by the long", seed, short.Score, short.Bound, long.Score, long.Bound)
		}
	}
}
