package assign_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"testing"
	"time"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

func flat(n int, v float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = v
	}
	return out
}

// one is a problem with one agent and one option worth 1 a block.
func one(blocks int) assign.Problem {
	return assign.Problem{Blocks: blocks, Agents: []assign.Agent{{
		Options: []assign.Option{{Value: flat(blocks, 1)}},
	}}}
}

// TestEdges: problems with nothing in them, or nothing possible, give a plan
// that says so.
func TestEdges(t *testing.T) {
	pin := func(agent, option, from, to int) assign.Pin {
		return assign.Pin{Agent: agent, Option: option, Span: assign.Span{From: from, To: to}}
	}
	cases := []struct {
		name  string
		make  func() assign.Problem
		score float64
		kinds []assign.Kind
	}{
		{"nothing", func() assign.Problem { return assign.Problem{} }, 0, nil},
		{"no agents", func() assign.Problem { return assign.Problem{Blocks: 4} }, 0, nil},
		{"no blocks", func() assign.Problem { return one(0) }, 0, nil},
		{"no options", func() assign.Problem {
			return assign.Problem{Blocks: 3, Agents: []assign.Agent{{Idle: flat(3, 2)}}}
		}, 6, nil},
		{"plain", func() assign.Problem { return one(5) }, 5, nil},
		{"capacity zero", func() assign.Problem {
			p := one(5)
			p.Capacities = []assign.Capacity{{}}
			p.Agents[0].Options[0].Uses = []assign.Use{{Capacity: 0, Units: 1}}
			return p
		}, 0, nil},
		{"least length past the horizon", func() assign.Problem {
			p := one(5)
			p.Agents[0].MinRun = 6
			return p
		}, 0, nil},
		{"never allowed", func() assign.Problem {
			p := one(3)
			p.Agents[0].Options[0].Value = flat(3, math.NaN())
			return p
		}, 0, nil},
		{"minus infinity is not allowed either", func() assign.Problem {
			p := one(3)
			p.Agents[0].Options[0].Value[1] = math.Inf(-1)
			return p
		}, 2, nil},
		{"pin of nobody", func() assign.Problem {
			p := one(3)
			p.Pins = []assign.Pin{pin(1, 0, 0, 1), pin(0, 7, 0, 1), pin(0, 0, 2, 9), pin(0, 0, 1, 1)}
			return p
		}, 3, []assign.Kind{assign.NoSuchThing, assign.NoSuchThing, assign.NoSuchThing, assign.NoSuchThing}},
		{"pin where it cannot be", func() assign.Problem {
			p := one(3)
			p.Agents[0].Options[0].Value[1] = math.NaN()
			p.Pins = []assign.Pin{pin(0, 0, 0, 3)}
			return p
		}, 2, []assign.Kind{assign.NotPossible}},
		{"pin while out", func() assign.Problem {
			p := one(3)
			p.Agents[0].Out = []assign.Span{{From: -5, To: 2}}
			p.Pins = []assign.Pin{pin(0, 0, 0, 3)}
			return p
		}, 1, []assign.Kind{assign.Absent}},
		{"pin against a forbid", func() assign.Problem {
			p := one(3)
			p.Forbids = []assign.Forbid{{Agent: 0, Option: 0, Span: assign.Span{From: 0, To: 99}}}
			p.Pins = []assign.Pin{pin(0, 0, 0, 1)}
			return p
		}, 0, []assign.Kind{assign.Forbidden}},
		{"two pins clash", func() assign.Problem {
			p := one(3)
			p.Pins = []assign.Pin{pin(0, assign.Idle, 0, 2), pin(0, 0, 1, 3)}
			return p
		}, 1, []assign.Kind{assign.PinsClash}},
		{"pin shorter than the least length has no room", func() assign.Problem {
			p := one(3)
			p.Agents[0].MinRun = 2
			p.Pins = []assign.Pin{pin(0, assign.Idle, 0, 2), pin(0, 0, 2, 3)}
			return p
		}, 0, []assign.Kind{assign.NoRoom}},
		{"two pins on one place", func() assign.Problem {
			p := one(3)
			p.Agents = append(p.Agents, p.Agents[0])
			p.Capacities = []assign.Capacity{{Units: 1}}
			for i := range p.Agents {
				p.Agents[i].Options = []assign.Option{{Value: flat(3, 1), Uses: []assign.Use{{Capacity: 0, Units: 1}}}}
			}
			p.Pins = []assign.Pin{pin(0, 0, 0, 2), pin(1, 0, 1, 3)}
			return p
		}, 3, []assign.Kind{assign.OverCapacity}},
		{"learner pinned, no teacher", func() assign.Problem {
			p := one(2)
			p.Capacities = []assign.Capacity{{}}
			p.Agents[0].Options[0].Uses = []assign.Use{{Capacity: 0, Units: 1}}
			p.Pins = []assign.Pin{pin(0, 0, 0, 2)}
			return p
		}, 0, []assign.Kind{assign.OverCapacity}},
		{"learner pinned, a teacher comes although it costs", func() assign.Problem {
			p := one(2)
			p.Capacities = []assign.Capacity{{}}
			p.Agents[0].Options[0].Uses = []assign.Use{{Capacity: 0, Units: 1}}
			p.Agents = append(p.Agents, assign.Agent{Options: []assign.Option{
				{Value: flat(2, -3), Uses: []assign.Use{{Capacity: 0, Units: -1}}}}})
			p.Pins = []assign.Pin{pin(0, 0, 0, 2)}
			return p
		}, -4, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := c.make()
			plan, err := assign.Solve(context.Background(), p, assign.Options{})
			if err != nil {
				t.Fatal(err)
			}
			checkPlan(t, 0, p, plan)
			if plan.Score != c.score || plan.Gap > 1e-9 {
				t.Errorf("score %v, gap %v; want %v, 0", plan.Score, plan.Gap, c.score)
			}
			var kinds []assign.Kind
			for _, b := range plan.Broken {
				kinds = append(kinds, b.Kind)
			}
			if !reflect.DeepEqual(kinds, c.kinds) {
				t.Errorf("broken %v, want %v", plan.Broken, c.kinds)
			}
		})
	}
}

// TestMalformed: what cannot be read is an error and not a panic.
func TestMalformed(t *testing.T) {
	for name, spoil := range map[string]func(p *assign.Problem){
		"blocks":   func(p *assign.Problem) { p.Blocks = -1 },
		"values":   func(p *assign.Problem) { p.Agents[0].Options[0].Value = nil },
		"infinite": func(p *assign.Problem) { p.Agents[0].Options[0].Value[0] = math.Inf(1) },
		"setup":    func(p *assign.Problem) { p.Agents[0].Options[0].Setup = -1 },
		"class":    func(p *assign.Problem) { p.Agents[0].Options[0].Class = -1 },
		"change":   func(p *assign.Problem) { p.Agents[0].Change = [][]float64{{}} },
		"capacity": func(p *assign.Problem) { p.Agents[0].Options[0].Uses = []assign.Use{{Capacity: 2}} },
		"units":    func(p *assign.Problem) { p.Capacities = []assign.Capacity{{Units: -1}} },
		"goal":     func(p *assign.Problem) { p.Agents[0].Options[0].Goals = []int{0} },
		"cover":    func(p *assign.Problem) { p.Agents[0].Options[0].Covers = []int{-1} },
		"past":     func(p *assign.Problem) { p.From = 1 },
		"idle":     func(p *assign.Problem) { p.Agents[0].Idle = []float64{math.NaN()} },
	} {
		p := one(3)
		spoil(&p)
		if _, err := assign.Solve(context.Background(), p, assign.Options{}); !errors.Is(err, assign.ErrMalformed) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

// TestStopped: with a context that has ended, the plan is lawful, and still
// has a bound.
func TestStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := assigntest.LineUp(3, assigntest.Shape{Agents: 6, Topics: 40, Blocks: 10, PerTopic: 2, Shared: 3, Pins: 2})
	plan, err := assign.Solve(ctx, p, assign.Options{})
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, 3, p, plan)
	full, err := assign.Solve(context.Background(), p, assign.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !plan.Stopped || full.Stopped || plan.Bound < full.Score {
		t.Errorf("stopped %v and %v, bound %v, score of the full search %v", plan.Stopped, full.Stopped, plan.Bound, full.Score)
	}
}

// TestStoppedHalfway: a context that ends at any moment gives a lawful plan.
func TestStoppedHalfway(t *testing.T) {
	p := assigntest.LineUp(4, assigntest.Shape{Agents: 8, Topics: 60, Blocks: 12, PerTopic: 2, Shared: 3, Pins: 3, MaxRuns: 4})
	for ms := range 12 {
		ctx, cancel := context.WithTimeout(context.Background(), time.Duration(ms*ms)*time.Millisecond)
		plan, err := assign.Solve(ctx, p, assign.Options{Gap: -1})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, 4, p, plan)
	}
}

// TestDeterministic: the same problem gives the same plan.
func TestDeterministic(t *testing.T) {
	p := assigntest.LineUp(5, assigntest.Shape{Agents: 8, Topics: 60, Blocks: 12, PerTopic: 2, Shared: 3, Pins: 3, MaxRuns: 4})
	first, _ := assign.Solve(context.Background(), p, assign.Options{})
	for range 2 {
		again, _ := assign.Solve(context.Background(), p, assign.Options{})
		if !reflect.DeepEqual(first, again) {
			t.Fatal("two plans for one problem")
		}
	}
}
