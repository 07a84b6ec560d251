package assign

import "math"

// Idle in a plan means that the agent does nothing in that block.
const Idle = -1

// Problem is what has to be planned. All indices are positions in the slices
// of this struct; scores have whatever unit the caller's values have, and
// more is better.
type Problem struct {
	Blocks     int        // the horizon, blocks 0 to Blocks-1
	Agents     []Agent    //
	Capacities []Capacity // what agents share
	Goals      []Goal     // bonuses earned once over the horizon
	Covers     []Cover    // bonuses earned in each block
	Pins       []Pin      // what has to be so
	Forbids    []Forbid   // what must not be so

	// Blocks before From have happened. Past holds, for every agent, what it
	// did in them (an option or Idle); no rule is checked there, but runs,
	// repeats, breaks and goals count on from it.
	From int
	Past [][]int
}

// Agent is somebody or something that does one option at a time.
type Agent struct {
	Name    string
	Options []Option

	Idle []float64 // what doing nothing is worth, per block; nil is 0
	Out  []Span    // blocks in which it can only be idle

	// What a run costs at its start, over and above [Option.Setup], by the
	// class of the option before and the class of the option that starts.
	// Nil is 0; +Inf forbids the change.
	Change [][]float64 // [class before][class after], right after another run
	Resume []float64   // [class after], after an idle spell that followed a run
	First  []float64   // [class after], the agent's first run; nil means as Resume

	RunCost float64 // each run, whatever came before
	Repeat  float64 // each time a topic is begun again after something else
	// Afresh makes going from one option to another of its topic a start like
	// any other: it pays Setup and is a repeat. So nobody gets around MaxRun
	// by changing what a topic is run with.
	Afresh bool

	MinRun  int // least length of a run in blocks, for options that set none
	MaxRun  int // longest run, for options that set none; 0: no limit
	MaxRuns int // at most so many runs; 0: no limit

	MaxBusy  int // at most so many blocks without an idle one; 0: no limit
	MinBreak int // an idle spell between two runs lasts at least so long
}

// Option is one thing an agent can do.
type Option struct {
	Name  string
	Value []float64 // per block; NaN or -Inf: not possible in that block

	// Topic ties options of one agent that are about the same thing: going
	// from one to the next directly costs no Setup and is no repeat, unless
	// the agent's runs begin Afresh. Any
	// positive label; 0 is a topic of its own.
	Topic  int
	Class  int     // row and column in the agent's Change, from 0
	Setup  float64 // cost of starting it, unless right after its own topic
	MinRun int     // 0: the agent's
	MaxRun int     // 0: the agent's

	Uses   []Use // shared capacities taken in every block
	Goals  []int // goals that a run of it earns
	Covers []int // covers that it counts for in every block
}

// Use is what an option takes of a capacity. Negative units give: a learner
// may take 1 of what a teacher gives, with a capacity of 0.
type Use struct {
	Capacity int
	Units    int
}

// Capacity is something shared.
type Capacity struct {
	Name     string
	Units    int   // in every block
	PerBlock []int // instead of Units, if not nil
}

// At returns the units there are in block t.
func (c Capacity) At(t int) int {
	if c.PerBlock != nil {
		return c.PerBlock[t]
	}
	return c.Units
}

// Goal is earned once, by the first run of any option that lists it.
type Goal struct {
	Name  string
	Bonus float64
}

// Cover is earned in each block for each agent whose option lists it, up to
// Units of them.
type Cover struct {
	Name          string
	Bonus         float64   // per block and unit
	Units         int       // 0 is taken as 1
	BonusPerBlock []float64 // instead of Bonus, if not nil
	UnitsPerBlock []int     // instead of Units, if not nil; 0 here is 0
}

// BonusAt returns the bonus for each unit in block t.
func (c Cover) BonusAt(t int) float64 {
	if c.BonusPerBlock != nil {
		return c.BonusPerBlock[t]
	}
	return c.Bonus
}

// UnitsAt returns how many agents earn the bonus in block t.
func (c Cover) UnitsAt(t int) int {
	if c.UnitsPerBlock != nil {
		return c.UnitsPerBlock[t]
	}
	return max(c.Units, 1)
}

// Span is the blocks From to To-1.
type Span struct{ From, To int }

// Has tells whether block t is in the span.
func (s Span) Has(t int) bool { return s.From <= t && t < s.To }

// Pin holds an agent to an option, or to Idle, over a span of blocks.
type Pin struct {
	Agent, Option int
	Span
}

// Forbid keeps an agent from an option over a span of blocks.
type Forbid struct {
	Agent, Option int
	Span
}

// Allowed tells whether the value of an option permits block t.
func (o Option) Allowed(t int) bool {
	return t < len(o.Value) && !math.IsNaN(o.Value[t]) && !math.IsInf(o.Value[t], -1)
}

// minRun and maxRun give the run rules that hold for an option of the agent;
// maxRun 0 means no limit.
func (a *Agent) minRun(o int) int {
	if m := a.Options[o].MinRun; m > 0 {
		return m
	}
	return max(a.MinRun, 1)
}

func (a *Agent) maxRun(o int) int {
	if m := a.Options[o].MaxRun; m > 0 {
		return m
	}
	return max(a.MaxRun, 0)
}

// changeCost is what starting option o costs by class, after option before,
// or after Idle; first tells that the agent has had no run yet.
func (a *Agent) changeCost(before, o int, first bool) float64 {
	class := a.Options[o].Class
	switch {
	case before >= 0:
		if a.Change == nil {
			return 0
		}
		return a.Change[a.Options[before].Class][class]
	case first && a.First != nil:
		return a.First[class]
	case a.Resume != nil:
		return a.Resume[class]
	}
	return 0
}

// goesOn tells whether a run of o2 right after one of o1 only goes on with its
// topic.
func (a *Agent) goesOn(o1, o2 int) bool { return !a.Afresh && a.sameTopic(o1, o2) }

func (a *Agent) sameTopic(o1, o2 int) bool {
	return o1 == o2 || a.Options[o1].Topic != 0 && a.Options[o1].Topic == a.Options[o2].Topic
}
