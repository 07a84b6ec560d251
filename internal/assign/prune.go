package assign

import "slices"

// dropSlack takes away uses of capacities that cannot run out even if every
// agent took the most it can, so that they cost no time and stand in the way
// of no dominance.
func (in *instance) dropSlack() {
	most := make([]int64, in.blocks*in.nCap)
	agentMost := make([]int64, in.nCap)
	for _, a := range in.agents {
		for t := in.from; t < in.blocks; t++ {
			clear(agentMost)
			for o, uses := range a.uses {
				if a.value[t*a.n+o] == minusInf {
					continue
				}
				for _, u := range uses {
					agentMost[u.Capacity] = max(agentMost[u.Capacity], int64(u.Units))
				}
			}
			for c, n := range agentMost {
				most[t*in.nCap+c] += n
			}
		}
	}
	slack := make([]bool, in.nCap)
	for c := range slack {
		slack[c] = true
		for t := in.from; t < in.blocks; t++ {
			if most[t*in.nCap+c] > int64(in.capacity[t*in.nCap+c]) {
				slack[c] = false
			}
		}
	}
	for _, a := range in.agents {
		for o := range a.uses {
			a.uses[o] = slices.DeleteFunc(a.uses[o], func(u Use) bool { return slack[u.Capacity] })
		}
	}
}

// dropDominated takes away options for which another one of the same topic
// and class is at least as good in every way: whatever plan runs the first
// may run the second instead. It leaves options with a longest run alone,
// because there two runs may not be merged into one.
func (a *agent) dropDominated() {
	gone := make([]bool, a.n)
	any := false
	for b := range a.n {
		for _, c := range a.mates[b] {
			if int(c) != b && !gone[c] && b != a.past.current && a.dominates(int(c), b) {
				gone[b], any = true, true
				break
			}
		}
	}
	if any {
		a.remove(gone)
	}
}

// dominates tells whether option x can stand in for y everywhere.
func (a *agent) dominates(x, y int) bool {
	if a.class[x] != a.class[y] || a.maxRun[x] != 0 || a.minRun[x] > a.minRun[y] ||
		a.setup[x] > a.setup[y] || x == a.past.current {
		return false
	}
	for i := y; i < len(a.value); i += a.n {
		if a.value[i-y+x] < a.value[i] {
			return false
		}
	}
	for _, u := range a.uses[x] {
		if u.Units > unitsOf(a.uses[y], u.Capacity) {
			return false
		}
	}
	for _, u := range a.uses[y] {
		if u.Units < 0 && unitsOf(a.uses[x], u.Capacity) > u.Units {
			return false
		}
	}
	return containsAll(a.goals[x], a.goals[y]) && containsAll(a.covers[x], a.covers[y])
}

func unitsOf(uses []Use, capacity int) int {
	for _, u := range uses {
		if u.Capacity == capacity {
			return u.Units
		}
	}
	return 0
}

// containsAll tells whether xs has every one of ys, doubles counted.
func containsAll(xs, ys []int32) bool {
	left := slices.Clone(xs)
	for _, y := range ys {
		i := slices.Index(left, y)
		if i < 0 {
			return false
		}
		left = slices.Delete(left, i, i+1)
	}
	return true
}

// remove takes options out of all tables. Topics keep their numbers.
func (a *agent) remove(gone []bool) {
	n := a.n
	a.value = filterRows(a.value, n, gone)
	renumber := make([]int32, n)
	next := int32(0)
	for b := range n {
		renumber[b] = -1
		if !gone[b] {
			renumber[b] = next
			next++
		}
	}
	for o, b := range a.compact {
		if b >= 0 {
			a.compact[o] = renumber[b]
		}
	}
	a.orig = filter(a.orig, gone)
	a.class, a.topic = filter(a.class, gone), filter(a.topic, gone)
	a.minRun, a.maxRun = filter(a.minRun, gone), filter(a.maxRun, gone)
	a.start, a.setup = filter(a.start, gone), filter(a.setup, gone)
	a.uses, a.goals, a.covers = filter(a.uses, gone), filter(a.goals, gone), filter(a.covers, gone)
	a.n = int(next)
	if a.past.current >= 0 {
		a.past.current = int(renumber[a.past.current])
	}
	a.dropClasses()
	a.linkMates()
}

// dropClasses takes away the classes that no option is in any more.
func (a *agent) dropClasses() {
	old := a.classes
	renumber := make([]int32, old)
	for _, c := range a.class {
		renumber[c] = 1
	}
	var kept []int
	for c, used := range renumber {
		if renumber[c] = int32(len(kept)); used == 1 {
			kept = append(kept, c)
		}
	}
	if len(kept) == old || len(kept) == 0 {
		return
	}
	for o, c := range a.class {
		a.class[o] = renumber[c]
	}
	change := make([]float64, 0, (len(kept)+2)*len(kept))
	for _, row := range append(slices.Clone(kept), old, old+1) {
		for _, c := range kept {
			change = append(change, a.change[row*old+c])
		}
	}
	a.classes, a.change = len(kept), change
	a.compareChanges()
}

func filter[E any](xs []E, gone []bool) []E {
	out := make([]E, 0, len(xs))
	for i, x := range xs {
		if !gone[i] {
			out = append(out, x)
		}
	}
	return out
}

func filterRows(xs []float64, n int, gone []bool) []float64 {
	var kept []int
	for i, g := range gone {
		if !g {
			kept = append(kept, i)
		}
	}
	out := make([]float64, 0, len(kept)*len(xs)/max(n, 1))
	for row := 0; row+n <= len(xs) && n > 0; row += n {
		for _, i := range kept {
			out = append(out, xs[row+i])
		}
	}
	return out
}
