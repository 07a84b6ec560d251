package assigntest

import (
	"fmt"

	"duskboard/internal/assign"
)

// agentLP is one agent's part of the programme.
type agentLP struct {
	b *lp
	i int
	a *assign.Agent

	change []flow // general flows between classes, idleness and freshness
	mates  []mate
	topics map[int][]int // options by topic, own topics negative
	keys   []int         // of topics, in order
}

// flow is a unit from a class (or idleI, idleF) to a class (or idleI) at
// decision point t.
type flow struct {
	from, to, t int
	name        string
}

const idleI, idleF = -1, -2

// hub is a place that every change of class passes where all of them cost the
// same: two flows for each class instead of one for every pair.
const hub = -3

// mate is option to following option from of its own topic directly.
type mate struct {
	from, to, t int
	name        string
}

func (g *agentLP) x(o, t int) string { return fmt.Sprintf("x_%d_%d_%d", g.i, o, t) }
func (g *agentLP) s(o, t int) string { return fmt.Sprintf("s_%d_%d_%d", g.i, o, t) }
func (g *agentLP) e(o, t int) string { return fmt.Sprintf("e_%d_%d_%d", g.i, o, t) }
func (g *agentLP) state(kind string, t int) string {
	return fmt.Sprintf("%s_%d_%d", kind, g.i, t)
}

// agent writes agent i's part of the objective and returns what writes its
// rules.
func (b *lp) agent(i int) func() {
	g := &agentLP{b: b, i: i, a: &b.p.Agents[i], topics: map[int][]int{}}
	for o := range g.a.Options {
		key := g.a.Options[o].Topic
		if key == 0 {
			key = -1 - o
		}
		if g.topics[key] == nil {
			g.keys = append(g.keys, key)
		}
		g.topics[key] = append(g.topics[key], o)
	}
	for o := range g.a.Options {
		g.option(o)
	}
	for t := range b.p.Blocks {
		if g.a.Idle != nil {
			b.term(g.a.Idle[t], g.state("I", t))
			b.term(g.a.Idle[t], g.state("F", t))
		}
		g.flows(t)
	}
	if g.a.Repeat > 0 {
		for k := range g.keys {
			b.term(-g.a.Repeat, fmt.Sprintf("p_%d_%d", i, k))
		}
	}
	return g.rules
}

// option writes values and start costs of one option and notes what it
// shares.
func (g *agentLP) option(o int) {
	b, opt := g.b, &g.a.Options[o]
	for t := range b.p.Blocks {
		if b.allowed(g.i, o, t) {
			b.term(opt.Value[t], g.x(o, t))
			b.binaries = append(b.binaries, g.x(o, t))
			for _, u := range opt.Uses {
				key := [2]int{u.Capacity, t}
				b.uses[key] = append(b.uses[key], fmt.Sprintf("%+d %s", u.Units, g.x(o, t)))
			}
			for _, c := range opt.Covers {
				key := [2]int{c, t}
				b.covers[key] = append(b.covers[key], "-1 "+g.x(o, t))
			}
		}
		if g.mayStart(o, t) {
			// The setup of starts after the own topic is given back below.
			b.term(-g.a.RunCost-opt.Setup, g.s(o, t))
			b.binaries = append(b.binaries, g.s(o, t))
			seen := map[int]bool{}
			for _, goal := range opt.Goals {
				if !seen[goal] {
					b.goals[goal] = append(b.goals[goal], "-1 "+g.s(o, t))
				}
				seen[goal] = true
			}
		}
		if g.mayEnd(o, t) {
			b.binaries = append(b.binaries, g.e(o, t))
		}
	}
}

func (g *agentLP) minRun(o int) int { return orElse(g.a.Options[o].MinRun, max(g.a.MinRun, 1)) }

func (g *agentLP) mayStart(o, t int) bool {
	for j := range g.minRun(o) {
		if !g.b.allowed(g.i, o, t+j) {
			return false
		}
	}
	return true
}

// mayEnd tells whether a run may end before block t; one that lasts to the
// end of the horizon needs no end.
func (g *agentLP) mayEnd(o, t int) bool {
	return t > 0 && t < g.b.p.Blocks && g.b.allowed(g.i, o, t-1)
}

// flows makes the flow variables of decision point t and writes their costs.
func (g *agentLP) flows(t int) {
	b, n := g.b, 1
	for _, o := range g.a.Options {
		n = max(n, o.Class+1)
	}
	add := func(from, to int, cost float64) {
		if finite(cost) {
			f := flow{from, to, t, fmt.Sprintf("q_%d_%d_%d_%d", g.i, t, from+3, to+3)}
			g.change = append(g.change, f)
			b.term(-cost, f.name)
		}
	}
	cost, alike := g.alike(n)
	for c := range n {
		switch {
		case alike:
			add(c, c, g.a.Change[c][c])
			add(c, hub, cost)
			add(hub, c, 0)
		case g.a.Change == nil:
			for d := range n {
				add(c, d, 0)
			}
		default:
			for d := range n {
				add(c, d, g.a.Change[c][d])
			}
		}
		add(c, idleI, 0)
		resume, first := g.a.Resume, g.a.First
		if first == nil {
			first = resume
		}
		if resume != nil {
			add(idleI, c, resume[c])
		} else {
			add(idleI, c, 0)
		}
		if first != nil {
			add(idleF, c, first[c])
		} else {
			add(idleF, c, 0)
		}
	}
	for _, key := range g.keys {
		for _, o := range g.topics[key] {
			for _, p := range g.topics[key] {
				if o == p || g.a.Afresh || !g.mayEnd(o, t) || !g.mayStart(p, t) {
					continue
				}
				cost := 0.0
				if g.a.Change != nil {
					cost = g.a.Change[g.a.Options[o].Class][g.a.Options[p].Class]
				}
				if finite(cost) {
					m := mate{o, p, t, fmt.Sprintf("m_%d_%d_%d_%d", g.i, o, p, t)}
					g.mates = append(g.mates, m)
					b.term(g.a.Options[p].Setup-cost, m.name)
				}
			}
		}
	}
}

// alike tells whether every change between two of n classes costs the same,
// and no class more than that to stay in.
func (g *agentLP) alike(n int) (float64, bool) {
	if n < 3 || g.a.Change == nil {
		return 0, false
	}
	cost := g.a.Change[0][1]
	for c := range n {
		for d := range n {
			if v := g.a.Change[c][d]; c != d && v != cost || v > cost {
				return 0, false
			}
		}
	}
	return cost, true
}
