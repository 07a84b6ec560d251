package assigntest

import "fmt"

// rules writes the constraints of one agent.
func (g *agentLP) rules() {
	T := g.b.p.Blocks
	for t := range T {
		g.oneThing(t)
		g.idleness(t)
		g.balance(t)
		for o := range g.a.Options {
			g.run(o, t)
		}
	}
	g.counts()
	for _, pin := range g.b.p.Pins {
		for t := max(pin.From, 0); pin.Agent == g.i && t < min(pin.To, T); t++ {
			if pin.Option >= 0 {
				g.b.row([]string{"+1 " + g.x(pin.Option, t)}, "=", 1)
			}
		}
	}
}

// oneThing: in every block one option, or idle.
func (g *agentLP) oneThing(t int) {
	terms := []string{"+1 " + g.state("I", t), "+1 " + g.state("F", t)}
	for o := range g.a.Options {
		if g.b.allowed(g.i, o, t) {
			terms = append(terms, "+1 "+g.x(o, t))
		}
	}
	g.b.row(terms, "=", 1)
}

// idleness: idle spells begin, go on and end by flows; none of no length.
func (g *agentLP) idleness(t int) {
	idle, fresh := []string{"+1 " + g.state("I", t)}, []string{"+1 " + g.state("F", t)}
	var out []string
	for _, f := range g.change {
		switch {
		case f.t != t:
		case f.to == idleI:
			idle = append(idle, "-1 "+f.name)
		case f.from == idleI:
			idle, out = append(idle, "+1 "+f.name), append(out, "+1 "+f.name)
		case f.from == idleF:
			fresh = append(fresh, "+1 "+f.name)
		}
	}
	if t == 0 {
		g.b.row(idle, "=", 0)
		g.b.row(fresh, "=", 1)
		g.b.row(out, "=", 0)
		return
	}
	g.b.row(append(idle, "-1 "+g.state("I", t-1)), "=", 0)
	g.b.row(append(fresh, "-1 "+g.state("F", t-1)), "=", 0)
	g.b.row(append(out, "-1 "+g.state("I", t-1)), "<=", 0)
	if g.a.MinBreak > 1 {
		for _, f := range g.change {
			if f.to == idleI && f.t < t && f.t > t-g.a.MinBreak {
				out = append(out, "+1 "+f.name)
			}
		}
		g.b.row(out, "<=", 1)
	}
}

// balance: by class, what ends goes somewhere, what starts comes from
// somewhere.
func (g *agentLP) balance(t int) {
	ends, starts := map[int][]string{}, map[int][]string{}
	classes := 1
	for o := range g.a.Options {
		c := g.a.Options[o].Class
		classes = max(classes, c+1)
		if g.mayEnd(o, t) {
			ends[c] = append(ends[c], "+1 "+g.e(o, t))
		}
		if g.mayStart(o, t) {
			starts[c] = append(starts[c], "+1 "+g.s(o, t))
		}
	}
	var through []string
	for _, f := range g.change {
		if f.t != t {
			continue
		}
		switch {
		case f.to == hub:
			through = append(through, "+1 "+f.name)
		case f.from == hub:
			through = append(through, "-1 "+f.name)
		}
		if f.from >= 0 {
			ends[f.from] = append(ends[f.from], "-1 "+f.name)
		}
		if f.to >= 0 {
			starts[f.to] = append(starts[f.to], "-1 "+f.name)
		}
	}
	for _, m := range g.mates {
		if m.t != t {
			continue
		}
		from, to := g.a.Options[m.from].Class, g.a.Options[m.to].Class
		ends[from] = append(ends[from], "-1 "+m.name)
		starts[to] = append(starts[to], "-1 "+m.name)
	}
	g.b.row(through, "=", 0)
	for c := range classes {
		g.b.row(ends[c], "=", 0)
		g.b.row(starts[c], "=", 0)
	}
}

// run: the life of one option's runs, with the least and the greatest length.
func (g *agentLP) run(o, t int) {
	var terms []string
	add := func(ok bool, sign, name string) {
		if ok {
			terms = append(terms, sign+name)
		}
	}
	add(g.b.allowed(g.i, o, t), "+1 ", g.x(o, t))
	add(g.b.allowed(g.i, o, t-1), "-1 ", g.x(o, t-1))
	add(g.mayStart(o, t), "-1 ", g.s(o, t))
	add(g.mayEnd(o, t), "+1 ", g.e(o, t))
	g.b.row(terms, "=", 0)
	terms = nil
	if g.mayStart(o, t) && g.mayEnd(o, t) {
		g.b.row([]string{"+1 " + g.s(o, t), "+1 " + g.e(o, t)}, "<=", 1)
	}
	for _, m := range g.mates { // a mate flow needs its own end and start
		if m.t == t && m.from == o {
			terms = append(terms, "+1 "+m.name)
		}
	}
	if len(terms) > 0 {
		g.b.row(append(terms, "-1 "+g.e(o, t)), "<=", 0)
	}
	terms = nil
	for _, m := range g.mates {
		if m.t == t && m.to == o {
			terms = append(terms, "+1 "+m.name)
		}
	}
	if len(terms) > 0 {
		g.b.row(append(terms, "-1 "+g.s(o, t)), "<=", 0)
	}
	terms = nil
	for j := range g.minRun(o) {
		add(g.mayStart(o, t-j), "+1 ", g.s(o, t-j))
	}
	if len(terms) > 0 {
		add(g.b.allowed(g.i, o, t), "-1 ", g.x(o, t))
		g.b.row(terms, "<=", 0)
	}
	terms = nil
	longest := orElse(g.a.Options[o].MaxRun, g.a.MaxRun)
	if longest > 0 && t+longest < g.b.p.Blocks {
		for j := range longest + 1 {
			add(g.b.allowed(g.i, o, t+j), "+1 ", g.x(o, t+j))
		}
		g.b.row(terms, "<=", float64(longest))
	}
}

// counts: runs, repeats, breaks.
func (g *agentLP) counts() {
	T := g.b.p.Blocks
	var all []string
	for k, key := range g.keys {
		var topic []string
		for _, o := range g.topics[key] {
			for t := range T {
				if g.mayStart(o, t) {
					all = append(all, "+1 "+g.s(o, t))
					topic = append(topic, "+1 "+g.s(o, t))
				}
			}
		}
		for _, m := range g.mates {
			if g.a.Options[m.to].Topic == key {
				topic = append(topic, "-1 "+m.name)
			}
		}
		if g.a.Repeat > 0 && len(topic) > 0 {
			g.b.row(append(topic, fmt.Sprintf("-1 p_%d_%d", g.i, k)), "<=", 1)
		}
	}
	if g.a.MaxRuns > 0 {
		g.b.row(all, "<=", float64(g.a.MaxRuns))
	}
	for t := 0; g.a.MaxBusy > 0 && t+g.a.MaxBusy < T; t++ {
		var idle []string
		for j := range g.a.MaxBusy + 1 {
			idle = append(idle, "+1 "+g.state("I", t+j), "+1 "+g.state("F", t+j))
		}
		g.b.row(idle, ">=", 1)
	}
}
