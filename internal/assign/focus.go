package assign

import (
	"cmp"
	"slices"
)

// coreSize is how many options of each agent the search looks at between two
// looks at all of them. Found by trial: with 48 the same work gives a third
// of the steps and a gap twice as wide.
const coreSize = 20

// focus looks at all options at the present prices, which gives a bound, and
// then narrows every agent down to the options whose best paths lose least
// against its best one: at good prices, hardly any plan worth finding has
// another. It returns the bound at the present prices.
func (s *solver) focus() float64 {
	in := s.in
	narrow := in.agents
	in.agents = in.full
	keeps := make([][]bool, len(in.full))
	total := s.d.evaluate(func(i int) {
		if a := in.full[i]; a.n > coreSize {
			s.through = s.r.finder.through(s.through)
			keeps[i] = s.keepers(a, s.through)
		}
	})
	cores := make([]*agent, len(in.full))
	for i, a := range in.full {
		cores[i] = a
		keep := keeps[i]
		if keep == nil {
			continue
		}
		for _, st := range []*state{s.best, s.trial} {
			for _, l := range st.paths[i] {
				keep[a.compact[narrow[i].orig[l.option]]] = true
			}
		}
		// The best path at these prices is among the keepers but for rounding
		// and for ties of more options than a core holds.
		for _, l := range s.d.paths[i] {
			keep[l.option] = true
		}
		cores[i] = a.core(keep)
	}
	for i, a := range cores {
		for _, st := range []*state{s.best, s.trial} {
			renumber(st.paths[i], narrow[i], a)
		}
		renumber(s.d.paths[i], in.full[i], a)
	}
	in.agents = cores
	return total
}

// widen goes back to all options.
func (s *solver) widen() {
	for i, a := range s.in.full {
		for _, st := range []*state{s.best, s.trial} {
			renumber(st.paths[i], s.in.agents[i], a)
		}
		renumber(s.d.paths[i], s.in.agents[i], a)
	}
	s.in.agents = s.in.full
}

func renumber(path []leg, from, to *agent) {
	if from == to {
		return
	}
	for j := range path {
		path[j].option = to.compact[from.orig[path[j].option]]
	}
}

// keepers marks the coreSize best options by through, and those as good as
// the best.
func (s *solver) keepers(a *agent, through []float64) []bool {
	order := make([]int, a.n)
	for b := range order {
		order[b] = b
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(through[y], through[x]) })
	keep := make([]bool, a.n)
	for rank, b := range order {
		keep[b] = rank < coreSize || through[b] >= through[order[0]]-1e-9
	}
	if a.past.current >= 0 {
		keep[a.past.current] = true
	}
	return keep
}

// core returns a copy of the agent with the kept options only.
func (a *agent) core(keep []bool) *agent {
	c := *a
	c.compact = slices.Clone(a.compact)
	gone := make([]bool, a.n)
	for b := range gone {
		gone[b] = !keep[b]
	}
	c.remove(gone)
	return &c
}
