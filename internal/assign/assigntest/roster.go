package assigntest

import (
	"fmt"
	"math"
	"math/rand/v2"

	"duskboard/internal/assign"
)

// Roster returns a problem as the crew of a night poses it: duties that want
// a number of people in every block, people who can do some of them, like
// some better, come late or leave early, need a break, and learners who may
// only stand where somebody teaches.
func Roster(seed uint64, people, duties, blocks, pins int) assign.Problem {
	r := rand.New(rand.NewPCG(seed, 13))
	p := assign.Problem{Blocks: blocks}
	for d := range duties {
		want := 1 + r.IntN(3)/2
		p.Capacities = append(p.Capacities,
			assign.Capacity{Name: fmt.Sprintf("places %d", d), Units: want + 1},
			assign.Capacity{Name: fmt.Sprintf("teaching %d", d)})
		p.Covers = append(p.Covers, assign.Cover{Bonus: round(6 + 4*r.Float64()), Units: want})
	}
	for range people {
		a := assign.Agent{MinRun: 2, MaxBusy: 6, MinBreak: 1, RunCost: 0.3, Change: nil}
		a.Idle = make([]float64, blocks)
		for d := range duties {
			level := r.IntN(5) // 0, 1: cannot; 2: learning; 3: alone; 4: can teach
			if level < 2 {
				continue
			}
			o := assign.Option{Name: fmt.Sprint(d), Topic: d + 1, Value: make([]float64, blocks), Setup: 0.2}
			wish := round(-1 + 2*r.Float64())
			for t := range o.Value {
				o.Value[t] = wish
			}
			o.Uses = []assign.Use{{Capacity: 2 * d, Units: 1}}
			switch level {
			case 2:
				o.Uses = append(o.Uses, assign.Use{Capacity: 2*d + 1, Units: 1})
				for t := range o.Value {
					o.Value[t] += 1.5
				}
			case 4:
				o.Uses = append(o.Uses, assign.Use{Capacity: 2*d + 1, Units: -1})
			}
			if level > 2 {
				o.Covers = []int{d}
			}
			a.Options = append(a.Options, o)
		}
		if from := r.IntN(blocks); r.IntN(4) == 0 {
			a.Out = []assign.Span{{From: 0, To: from / 2}}
		} else if r.IntN(4) == 0 {
			a.Out = []assign.Span{{From: blocks - from/2, To: math.MaxInt}}
		}
		p.Agents = append(p.Agents, a)
	}
	for tries := 0; len(p.Pins) < pins && tries < 1000; tries++ {
		i := r.IntN(people)
		if len(p.Agents[i].Options) == 0 || len(p.Agents[i].Out) > 0 || len(p.Agents[i].Options[0].Covers) == 0 {
			continue
		}
		t := r.IntN(blocks - 2)
		p.Pins = append(p.Pins, assign.Pin{Agent: i, Option: 0, Span: assign.Span{From: t, To: t + 2}})
	}
	return p
}
