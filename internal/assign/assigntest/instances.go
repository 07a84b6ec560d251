package assigntest

import (
	"compress/gzip"
	"encoding/json"
	"io"
	"math"

	"duskboard/internal/assign"
)

// Instance is a generated problem with a name.
type Instance struct {
	Name string
	Make func() assign.Problem
}

// Instances are the problems whose optima are proven in testdata/assign:
// line-ups of 3 to 14 agents, 20 to 150 topics and 8 to 18 blocks with
// shared things and pins, and rosters.
func Instances() []Instance {
	lineUp := func(name string, seed uint64, s Shape) Instance {
		return Instance{name, func() assign.Problem { return LineUp(seed, s) }}
	}
	roster := func(name string, seed uint64, people, duties, blocks, pins int) Instance {
		return Instance{name, func() assign.Problem { return Roster(seed, people, duties, blocks, pins) }}
	}
	return []Instance{
		lineUp("lineup-03x020x08", 101, Shape{Agents: 3, Topics: 20, Blocks: 8, PerTopic: 2, Shared: 2, Pins: 1, MaxRuns: 3}),
		lineUp("lineup-04x030x10", 102, Shape{Agents: 4, Topics: 30, Blocks: 10, PerTopic: 2, Shared: 2, Pins: 2, MaxRuns: 4}),
		lineUp("lineup-05x025x12", 103, Shape{Agents: 5, Topics: 25, Blocks: 12, PerTopic: 3, Shared: 3, Pins: 1, MaxRuns: 4}),
		lineUp("lineup-06x040x08", 104, Shape{Agents: 6, Topics: 40, Blocks: 8, PerTopic: 2, Shared: 3, Pins: 2, MaxRuns: 0}),
		lineUp("lineup-06x020x12", 105, Shape{Agents: 6, Topics: 20, Blocks: 12, PerTopic: 2, Shared: 3, Pins: 2, MaxRuns: 4}),
		lineUp("lineup-07x060x10", 106, Shape{Agents: 7, Topics: 60, Blocks: 10, PerTopic: 2, Shared: 4, Pins: 3, MaxRuns: 3}),
		lineUp("lineup-08x040x12", 107, Shape{Agents: 8, Topics: 40, Blocks: 12, PerTopic: 1, Shared: 4, Pins: 2, MaxRuns: 4}),
		lineUp("lineup-08x080x08", 108, Shape{Agents: 8, Topics: 80, Blocks: 8, PerTopic: 2, Shared: 4, Pins: 3, MaxRuns: 3}),
		lineUp("lineup-10x050x10", 109, Shape{Agents: 10, Topics: 50, Blocks: 10, PerTopic: 1, Shared: 5, Pins: 3, MaxRuns: 4}),
		lineUp("lineup-04x150x18", 110, Shape{Agents: 4, Topics: 150, Blocks: 18, PerTopic: 1, Shared: 3, Pins: 2, MaxRuns: 4}),
		lineUp("lineup-12x060x08", 111, Shape{Agents: 12, Topics: 60, Blocks: 8, PerTopic: 1, Shared: 5, Pins: 4, MaxRuns: 3}),
		lineUp("lineup-14x100x08", 112, Shape{Agents: 14, Topics: 100, Blocks: 8, PerTopic: 1, Shared: 6, Pins: 5, MaxRuns: 3}),
		roster("roster-08x04x10", 201, 8, 4, 10, 1),
		roster("roster-06x03x08", 202, 6, 3, 8, 1),
		roster("roster-10x04x08", 203, 10, 4, 8, 2),
		roster("roster-12x06x08", 204, 12, 6, 8, 2),
	}
}

// Optimum is what testdata/assign/optima.json holds for an instance.
type Optimum struct {
	Name    string  `json:"name"`
	Optimum float64 `json:"optimum"` // proven
	Solver  string  `json:"solver"`
	Seconds float64 `json:"seconds"` // wall time

	Also *Second `json:"also,omitempty"` // what another solver proved of the same programme
}

// Second is the optimum that a second solver proved.
type Second struct {
	Optimum float64 `json:"optimum"`
	Solver  string  `json:"solver"`
	Seconds float64 `json:"seconds"`
}

// Problems are kept as gzipped JSON; a value that is not allowed is null.

type storedOption struct {
	assign.Option
	Value []*float64
}

type storedAgent struct {
	assign.Agent
	Options []storedOption
}

type storedProblem struct {
	assign.Problem
	Agents []storedAgent
}

// Save writes the problem.
func Save(w io.Writer, p assign.Problem) error {
	s := storedProblem{Problem: p}
	for _, a := range p.Agents {
		sa := storedAgent{Agent: a}
		for _, o := range a.Options {
			so := storedOption{Option: o}
			for _, v := range o.Value {
				if math.IsNaN(v) {
					so.Value = append(so.Value, nil)
				} else {
					so.Value = append(so.Value, &v)
				}
			}
			sa.Options = append(sa.Options, so)
		}
		s.Agents = append(s.Agents, sa)
	}
	z := gzip.NewWriter(w)
	if err := json.NewEncoder(z).Encode(s); err != nil {
		return err
	}
	return z.Close()
}

// Load reads what Save wrote.
func Load(r io.Reader) (assign.Problem, error) {
	z, err := gzip.NewReader(r)
	if err != nil {
		return assign.Problem{}, err
	}
	var s storedProblem
	if err := json.NewDecoder(z).Decode(&s); err != nil {
		return assign.Problem{}, err
	}
	p := s.Problem
	for _, sa := range s.Agents {
		a := sa.Agent
		for _, so := range sa.Options {
			o := so.Option
			for _, v := range so.Value {
				if v == nil {
					o.Value = append(o.Value, math.NaN())
				} else {
					o.Value = append(o.Value, *v)
				}
			}
			a.Options = append(a.Options, o)
		}
		p.Agents = append(p.Agents, a)
	}
	return p, nil
}
