package assigntest

import "duskboard/internal/assign"

// Exhaustive returns the best score of all plans that break no rule, by
// trying them all. ok is false when there is none, for the pins contradict
// the rules, or when there are more than limit to try.
func Exhaustive(p assign.Problem, limit int) (score float64, ok, tried bool) {
	rows := make([][][]int, len(p.Agents))
	plans := 1
	for i := range p.Agents {
		rows[i] = lawfulRows(p, i)
		plans *= len(rows[i])
		if plans > limit {
			return 0, false, false
		}
	}
	choice := make([][]int, len(p.Agents))
	var visit func(i int)
	visit = func(i int) {
		if i < len(rows) {
			for _, row := range rows[i] {
				choice[i] = row
				visit(i + 1)
			}
			return
		}
		ev := assign.Evaluate(&p, choice)
		if len(ev.Violations) == 0 && (!ok || ev.Score > score) {
			score, ok = ev.Score, true
		}
	}
	visit(0)
	return score, ok, true
}

// lawfulRows lists the rows of one agent that break none of its own rules.
func lawfulRows(p assign.Problem, agent int) [][]int {
	q := p
	q.Agents = p.Agents[agent : agent+1]
	q.Pins, q.Forbids, q.Capacities = nil, nil, make([]assign.Capacity, len(p.Capacities))
	for c := range q.Capacities {
		q.Capacities[c].Units = 1 << 20
	}
	for _, pin := range p.Pins {
		if pin.Agent == agent {
			pin.Agent = 0
			q.Pins = append(q.Pins, pin)
		}
	}
	for _, f := range p.Forbids {
		if f.Agent == agent {
			f.Agent = 0
			q.Forbids = append(q.Forbids, f)
		}
	}
	if p.From > 0 {
		q.Past = p.Past[agent : agent+1]
	}
	var rows [][]int
	row := make([]int, p.Blocks)
	var visit func(t int)
	visit = func(t int) {
		if t == p.Blocks {
			if len(assign.Evaluate(&q, [][]int{row}).Violations) == 0 {
				rows = append(rows, append([]int(nil), row...))
			}
			return
		}
		if t < p.From {
			row[t] = p.Past[agent][t]
			visit(t + 1)
			return
		}
		for o := assign.Idle; o < len(q.Agents[0].Options); o++ {
			row[t] = o
			visit(t + 1)
		}
	}
	visit(0)
	return rows
}
