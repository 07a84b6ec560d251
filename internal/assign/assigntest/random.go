// Package assigntest makes problems for the tests of package assign: small
// random ones that use every part of the model, larger ones shaped like a
// real line-up or roster, and an exhaustive search to compare with.
package assigntest

import (
	"math"
	"math/rand/v2"

	"duskboard/internal/assign"
)

// Random returns a small problem with a bit of everything; the same seed
// gives the same problem.
func Random(seed uint64) assign.Problem {
	r := rand.New(rand.NewPCG(seed, 7))
	p := assign.Problem{Blocks: 2 + r.IntN(4)}
	agents, options := 1+r.IntN(3), 1+r.IntN(3)
	for c := range r.IntN(4) {
		k := assign.Capacity{Units: r.IntN(3)}
		if c == 1 {
			k.PerBlock = ints(r, p.Blocks, 3)
		}
		p.Capacities = append(p.Capacities, k)
	}
	for range r.IntN(3) {
		p.Goals = append(p.Goals, assign.Goal{Bonus: float64(r.IntN(8))})
	}
	for range r.IntN(3) {
		c := assign.Cover{Bonus: float64(r.IntN(5)), Units: r.IntN(3)}
		if r.IntN(3) == 0 {
			c.UnitsPerBlock = ints(r, p.Blocks, 3)
		}
		p.Covers = append(p.Covers, c)
	}
	for range agents {
		p.Agents = append(p.Agents, randomAgent(r, &p, options))
	}
	addRules(r, &p)
	if r.IntN(3) == 0 {
		addPast(r, &p)
	}
	return p
}

func randomAgent(r *rand.Rand, p *assign.Problem, options int) assign.Agent {
	a := assign.Agent{
		RunCost: float64(r.IntN(2)), Repeat: float64(r.IntN(3) * r.IntN(3)),
		MinRun: r.IntN(3), MaxRun: r.IntN(4), MaxRuns: r.IntN(4),
	}
	if a.MaxRun > 0 && a.MaxRun < a.MinRun {
		a.MaxRun = 0
	}
	if r.IntN(3) == 0 {
		a.MaxBusy, a.MinBreak = 1+r.IntN(3), r.IntN(3)
	}
	if r.IntN(2) == 0 {
		a.Change = [][]float64{{0, float64(r.IntN(4))}, {float64(r.IntN(4)), float64(r.IntN(2))}}
		a.Resume = []float64{float64(r.IntN(3)), float64(r.IntN(3))}
		if r.IntN(2) == 0 {
			a.First = []float64{float64(r.IntN(5)), float64(r.IntN(5))}
		}
		if r.IntN(4) == 0 {
			a.Change[0][1] = math.Inf(1)
		}
	}
	if r.IntN(3) == 0 {
		a.Idle = values(r, p.Blocks, 0)
	}
	for range options {
		o := assign.Option{Value: values(r, p.Blocks, 0.15), Topic: r.IntN(3), Class: r.IntN(2), Setup: float64(r.IntN(3))}
		if r.IntN(4) == 0 {
			o.MinRun = 1 + r.IntN(3)
		}
		for c := range p.Capacities {
			if r.IntN(2) == 0 {
				u := assign.Use{Capacity: c, Units: 1 + r.IntN(2)}
				if c == 2 && r.IntN(2) == 0 {
					u.Units = -1
				}
				o.Uses = append(o.Uses, u)
			}
		}
		for g := range p.Goals {
			if r.IntN(2) == 0 {
				o.Goals = append(o.Goals, g)
			}
		}
		for c := range p.Covers {
			if r.IntN(2) == 0 {
				o.Covers = append(o.Covers, c)
			}
		}
		a.Options = append(a.Options, o)
	}
	a.Afresh = r.IntN(3) == 0
	return a
}

func addRules(r *rand.Rand, p *assign.Problem) {
	span := func() assign.Span {
		from := r.IntN(p.Blocks)
		return assign.Span{From: from, To: from + 1 + r.IntN(p.Blocks-from)}
	}
	for range r.IntN(3) {
		i := r.IntN(len(p.Agents))
		p.Pins = append(p.Pins, assign.Pin{Agent: i, Option: r.IntN(len(p.Agents[i].Options)+1) - 1, Span: span()})
	}
	for range r.IntN(2) {
		i := r.IntN(len(p.Agents))
		p.Forbids = append(p.Forbids, assign.Forbid{Agent: i, Option: r.IntN(len(p.Agents[i].Options)), Span: span()})
	}
	if r.IntN(3) == 0 {
		i := r.IntN(len(p.Agents))
		p.Agents[i].Out = []assign.Span{span()}
	}
}

// addPast lets some blocks have happened; anything may have happened.
func addPast(r *rand.Rand, p *assign.Problem) {
	p.From = 1 + r.IntN(p.Blocks-1)
	for i := range p.Agents {
		row := make([]int, p.Blocks)
		for t := range row {
			row[t] = r.IntN(len(p.Agents[i].Options)+1) - 1
			if t > 0 && r.IntN(2) == 0 {
				row[t] = row[t-1]
			}
		}
		p.Past = append(p.Past, row)
	}
}

func values(r *rand.Rand, n int, never float64) []float64 {
	out := make([]float64, n)
	for t := range out {
		out[t] = float64(r.IntN(9)) - 1
		if r.Float64() < never {
			out[t] = math.NaN()
		}
	}
	return out
}

func ints(r *rand.Rand, n, below int) []int {
	out := make([]int, n)
	for t := range out {
		out[t] = r.IntN(below)
	}
	return out
}
