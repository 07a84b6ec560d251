package assigntest

import (
	"context"
	"math"
	"math/rand/v2"

	"duskboard/internal/assign"
)

// Shape is the size of a generated line-up.
type Shape struct {
	Agents, Topics, Blocks int
	PerTopic               int // options per topic and agent
	Shared                 int // scarce shared things beside the topics
	Pins                   int
	MaxRuns                int
}

// LineUp returns a problem as a night at the eyepiece poses it: every agent
// can run most topics in several ways, a topic is run at most once or twice
// at a time, some ways need a thing of which there is only one, topics come
// and go in windows, some must be run, in every block one agent of a group
// should be busy.
func LineUp(seed uint64, s Shape) assign.Problem {
	r := rand.New(rand.NewPCG(seed, 11))
	p := assign.Problem{Blocks: s.Blocks}
	type topic struct {
		worth    float64
		from, to int
		slope    float64
		goal     int
	}
	topics := make([]topic, s.Topics)
	for k := range topics {
		tp := topic{worth: 1 + 9*math.Pow(r.Float64(), 2), to: s.Blocks, slope: (r.Float64() - 0.5) * 0.1, goal: -1}
		switch r.IntN(4) {
		case 0: // sets
			tp.to = 1 + r.IntN(s.Blocks)
		case 1: // rises
			tp.from = r.IntN(s.Blocks)
		}
		if r.IntN(15) == 0 {
			tp.goal = len(p.Goals)
			p.Goals = append(p.Goals, assign.Goal{Bonus: round(4 + 8*r.Float64())})
		}
		units := 1
		if r.IntN(20) == 0 {
			units = 2
		}
		p.Capacities = append(p.Capacities, assign.Capacity{Units: units})
		topics[k] = tp
	}
	for range s.Shared {
		p.Capacities = append(p.Capacities, assign.Capacity{Units: 1 + r.IntN(2)})
	}
	p.Covers = []assign.Cover{{Bonus: 2, Units: 1}}
	for i := range s.Agents {
		a := assign.Agent{MinRun: 2, MaxRuns: s.MaxRuns, Repeat: 3, RunCost: 0.2}
		classes := 4
		driven := r.IntN(2) == 0
		a.Change = make([][]float64, classes)
		for b := range a.Change {
			a.Change[b] = make([]float64, classes)
			for c := range a.Change[b] {
				if b != c {
					a.Change[b][c] = 0.5
				}
			}
		}
		a.Resume = []float64{0.4, 0.4, 0.4, 0.4}
		power := 0.6 + 0.4*r.Float64()
		shared := make([]int, classes) // the scarce thing that a class needs
		for c := range shared {
			if shared[c] = -1; s.Shared > 0 && r.IntN(2) == 0 {
				shared[c] = s.Topics + r.IntN(s.Shared)
			}
		}
		for k, tp := range topics {
			if r.Float64() < 0.1 {
				continue
			}
			setup := 0.3
			if !driven {
				setup = round(0.5 + r.Float64())
			}
			for range s.PerTopic {
				o := assign.Option{Topic: k + 1, Class: r.IntN(classes), Setup: setup}
				fit := power * (0.5 + 0.5*r.Float64())
				o.Value = make([]float64, s.Blocks)
				for t := range o.Value {
					o.Value[t] = math.NaN()
					if tp.from <= t && t < tp.to {
						o.Value[t] = round(tp.worth * fit * (1 + tp.slope*float64(t-s.Blocks/2)))
					}
				}
				o.Uses = []assign.Use{{Capacity: k, Units: 1}}
				if c := shared[o.Class]; c >= 0 {
					o.Uses = append(o.Uses, assign.Use{Capacity: c, Units: 1})
				}
				if tp.goal >= 0 {
					o.Goals = []int{tp.goal}
				}
				if i%3 == 0 {
					o.Covers = []int{0}
				}
				a.Options = append(a.Options, o)
			}
		}
		p.Agents = append(p.Agents, a)
	}
	addPins(r, &p, s.Pins)
	return p
}

// addPins pins options where they can run for their least length, as long as
// the pins can all be kept.
func addPins(r *rand.Rand, p *assign.Problem, n int) {
	for tries := 0; len(p.Pins) < n && tries < 100*n; tries++ {
		i := r.IntN(len(p.Agents))
		o, t := r.IntN(len(p.Agents[i].Options)), r.IntN(p.Blocks-1)
		opt := &p.Agents[i].Options[o]
		if !opt.Allowed(t) || !opt.Allowed(t+1) {
			continue
		}
		p.Pins = append(p.Pins, assign.Pin{Agent: i, Option: o, Span: assign.Span{From: t, To: t + 2}})
		plan, err := assign.Solve(context.Background(), *p, assign.Options{Work: 1})
		if err != nil || len(plan.Broken) > 0 {
			p.Pins = p.Pins[:len(p.Pins)-1]
		}
	}
}

func round(v float64) float64 { return math.Round(v*1000) / 1000 }
