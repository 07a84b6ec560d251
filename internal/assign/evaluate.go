package assign

// Evaluation is what a plan is worth and which rules it breaks.
type Evaluation struct {
	Score      float64
	Value      float64 // sum of the values of all blocks, idle ones included
	Costs      float64 // setups, changes and run costs
	Repeats    float64 // repeat penalties
	Goals      float64 // once-only bonuses
	Covers     float64 // bonuses per block
	Agents     []float64
	Earned     []bool  // per goal
	Covered    [][]int // per cover and block: how many agents count for it
	Violations []Violation
}

// Run is one option over a span of blocks at one agent.
type Run struct {
	Agent, Option int
	Span
}

// Runs splits one agent's row of a plan into its runs, idle spells left out.
func Runs(agent int, row []int) []Run {
	var runs []Run
	for t := 0; t < len(row); {
		e := t + 1
		for e < len(row) && row[e] == row[t] {
			e++
		}
		if row[t] != Idle {
			runs = append(runs, Run{agent, row[t], Span{t, e}})
		}
		t = e
	}
	return runs
}

// Evaluate scores any plan, also one that breaks rules: every rule that is
// broken is listed, and a block whose option is not possible counts nothing.
// It shares no code with the solver, so it can check it. Rows that are
// missing or short count as idle.
func Evaluate(p *Problem, choice [][]int) Evaluation {
	ev := Evaluation{
		Agents:  make([]float64, len(p.Agents)),
		Earned:  make([]bool, len(p.Goals)),
		Covered: make([][]int, len(p.Covers)),
	}
	for c := range ev.Covered {
		ev.Covered[c] = make([]int, p.Blocks)
	}
	rows := make([][]int, len(p.Agents))
	for i := range p.Agents {
		rows[i] = ev.row(p, i, choice)
		before := ev.Value - ev.Costs - ev.Repeats
		ev.addValues(p, i, rows[i])
		ev.addRuns(p, i, rows[i])
		ev.checkBreaks(p, i, rows[i])
		ev.Agents[i] = ev.Value - ev.Costs - ev.Repeats - before
	}
	ev.checkCapacities(p, rows)
	ev.checkPins(p, rows)
	for g, earned := range ev.Earned {
		if earned {
			ev.Goals += p.Goals[g].Bonus
		}
	}
	for c := range p.Covers {
		for t, n := range ev.Covered[c] {
			ev.Covers += p.Covers[c].BonusAt(t) * float64(min(n, p.Covers[c].UnitsAt(t)))
		}
	}
	ev.Score = ev.Value - ev.Costs - ev.Repeats + ev.Goals + ev.Covers
	return ev
}

// row returns a copy of the agent's row with the past put in and with what
// does not exist replaced by Idle.
func (ev *Evaluation) row(p *Problem, agent int, choice [][]int) []int {
	row := make([]int, p.Blocks)
	for t := range row {
		row[t] = Idle
		switch {
		case t < p.From:
			row[t] = p.Past[agent][t]
		case agent < len(choice) && t < len(choice[agent]):
			o := choice[agent][t]
			if o < Idle || o >= len(p.Agents[agent].Options) {
				ev.fault(violation(NoSuchThing, agent, o, t, t+1))
				o = Idle
			}
			row[t] = o
		}
	}
	return row
}

func (ev *Evaluation) fault(v Violation) { ev.Violations = append(ev.Violations, v) }

func (ev *Evaluation) addValues(p *Problem, agent int, row []int) {
	a := &p.Agents[agent]
	for t, o := range row {
		if o == Idle {
			if a.Idle != nil {
				ev.Value += a.Idle[t]
			}
			continue
		}
		if a.Options[o].Allowed(t) {
			ev.Value += a.Options[o].Value[t]
		} else if t >= p.From {
			ev.fault(violation(NotPossible, agent, o, t, t+1))
		}
		for _, c := range a.Options[o].Covers {
			ev.Covered[c][t]++
		}
		if t < p.From {
			continue
		}
		for _, s := range a.Out {
			if s.Has(t) {
				ev.fault(violation(Absent, agent, o, t, t+1))
			}
		}
		for _, f := range p.Forbids {
			if f.Agent == agent && f.Option == o && f.Has(t) {
				ev.fault(violation(Forbidden, agent, o, t, t+1))
			}
		}
	}
}

func (ev *Evaluation) addRuns(p *Problem, agent int, row []int) {
	a := &p.Agents[agent]
	seen := map[int]bool{}
	runs := Runs(agent, row)
	for i, r := range runs {
		before := Idle
		if i > 0 && runs[i-1].To == r.From {
			before = runs[i-1].Option
		}
		o := &a.Options[r.Option]
		change := a.changeCost(before, r.Option, i == 0)
		if change > 1e300 {
			if r.From >= p.From {
				ev.fault(violation(ChangeForbidden, agent, r.Option, r.From, r.To))
			}
			change = 0
		}
		ev.Costs += a.RunCost + change
		if before == Idle || !a.goesOn(before, r.Option) {
			ev.Costs += o.Setup
			if o.Topic != 0 && seen[o.Topic] || o.Topic == 0 && seen[-1-r.Option] {
				ev.Repeats += a.Repeat
			}
		}
		if o.Topic != 0 {
			seen[o.Topic] = true
		} else {
			seen[-1-r.Option] = true
		}
		for _, g := range o.Goals {
			ev.Earned[g] = true
		}
		ev.checkRun(p, a, r)
	}
	// Only runs that the plan itself begins can be too many.
	if a.MaxRuns > 0 && len(runs) > a.MaxRuns && runs[len(runs)-1].From >= p.From {
		v := violation(TooManyRuns, agent, Idle, p.From, p.Blocks)
		v.Have, v.Limit = len(runs), a.MaxRuns
		ev.fault(v)
	}
}

// checkRun checks the length of a run; one that began in the past may end
// at any time, and one that ended there is a fact.
func (ev *Evaluation) checkRun(p *Problem, a *Agent, r Run) {
	v := violation(RunTooShort, r.Agent, r.Option, r.From, r.To)
	v.Have = r.To - r.From
	if v.Limit = a.minRun(r.Option); v.Have < v.Limit && r.From >= p.From {
		ev.fault(v)
	}
	v.Kind = RunTooLong
	if v.Limit = a.maxRun(r.Option); v.Limit > 0 && v.Have > v.Limit && r.To > p.From {
		ev.fault(v)
	}
}

func (ev *Evaluation) checkBreaks(p *Problem, agent int, row []int) {
	a := &p.Agents[agent]
	busyFrom, idleFrom := -1, -1 // -1: not in such a spell; idle before the first run does not count
	for t := 0; t <= len(row); t++ {
		idle := t == len(row) || row[t] == Idle
		if idle && busyFrom >= 0 {
			if a.MaxBusy > 0 && t-busyFrom > a.MaxBusy && t > p.From {
				v := violation(NoBreak, agent, Idle, busyFrom, t)
				v.Have, v.Limit = t-busyFrom, a.MaxBusy
				ev.fault(v)
			}
			busyFrom, idleFrom = -1, t
		}
		if !idle && busyFrom < 0 {
			if idleFrom >= 0 && t-idleFrom < a.MinBreak && t >= p.From {
				v := violation(BreakTooShort, agent, Idle, idleFrom, t)
				v.Have, v.Limit = t-idleFrom, a.MinBreak
				ev.fault(v)
			}
			busyFrom, idleFrom = t, -1
		}
	}
}

func (ev *Evaluation) checkCapacities(p *Problem, rows [][]int) {
	used := make([]int, len(p.Capacities))
	for t := p.From; t < p.Blocks; t++ {
		clear(used)
		for i, row := range rows {
			if row[t] == Idle {
				continue
			}
			for _, u := range p.Agents[i].Options[row[t]].Uses {
				used[u.Capacity] += u.Units
			}
		}
		for c, n := range used {
			if limit := p.Capacities[c].At(t); n > limit {
				v := violation(OverCapacity, -1, Idle, t, t+1)
				v.Capacity, v.Have, v.Limit = c, n, limit
				ev.fault(v)
			}
		}
	}
}

func (ev *Evaluation) checkPins(p *Problem, rows [][]int) {
	for i, pin := range p.Pins {
		if pin.Agent < 0 || pin.Agent >= len(rows) {
			continue
		}
		for t := max(pin.From, p.From); t < min(pin.To, p.Blocks); t++ {
			if rows[pin.Agent][t] != pin.Option {
				v := violation(PinNotKept, pin.Agent, pin.Option, t, t+1)
				v.Pin = i
				ev.fault(v)
			}
		}
	}
}
