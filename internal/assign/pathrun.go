package assign

// start fills begun at decision point t: every option starts after the best
// that may come before it.
func (f *pathfinder) start(t int) {
	a, n, K, C := f.a, f.a.n, f.phases, f.a.classes
	simple := f.task.bits == 0 && f.busyDim == 1
	f.work += int64(n * (K + overhead))
	for b := range n {
		win := f.win[t*n+b]
		if win == minusInf {
			continue
		}
		o, c := int32(b), int(a.class[b])
		before := f.before[(t*C+c)*K : (t*C+c+1)*K]
		out := f.begun[(t*n+b)*K : (t*n+b+1)*K]
		gain := win - f.task.start[b] - f.task.begin[b]
		switch {
		case simple && !f.counts:
			e := &before[0]
			if v := e.v1; e.o1 != o {
				out[0] = v + gain
			} else {
				out[0] = e.v2 + gain
			}
		case simple:
			out[0] = minusInf
			for k := range K - 1 {
				v := before[k].v1
				if before[k].o1 == o {
					v = before[k].v2
				}
				out[k+1] = v + gain
			}
		default:
			f.startPhases(b, before, out, gain)
		}
		if a.mates[b] != nil {
			f.startAfterMates(t, b, win-f.task.start[b])
		}
	}
}

// startPhases is start for one option where phases need their full rules.
func (f *pathfinder) startPhases(b int, before []best, out []float64, gain float64) {
	mask := f.mask(b, true)
	for k := range out {
		out[k] = minusInf
	}
	for k := range before {
		v := before[k].v1
		if before[k].o1 == int32(b) {
			v = before[k].v2
		}
		if v == minusInf {
			continue
		}
		if next, cost := f.afterStart(k, mask); next >= 0 {
			out[next] = max(out[next], v+gain-cost)
		}
	}
}

// mask returns the bits that a start of option b sets.
func (f *pathfinder) mask(b int, begins bool) uint8 {
	if f.task.bits == 0 {
		return 0
	}
	if begins {
		return f.task.anyMask[b] | f.task.beginMask[b]
	}
	return f.task.anyMask[b]
}

// startAfterMates improves begun by starts right after another option of the
// same topic.
func (f *pathfinder) startAfterMates(t, b int, gain float64) {
	a, n, K, C := f.a, f.a.n, f.phases, f.a.classes
	if t == 0 {
		return
	}
	out := f.begun[(t*n+b)*K : (t*n+b+1)*K]
	mask := f.mask(b, false)
	for _, m := range a.mates[b] {
		if int(m) == b || !f.wasIn(t-1, int(m)) {
			continue
		}
		gain := gain - a.change[int(a.class[m])*C+int(a.class[b])]
		from := f.inside[((t-1)*n+int(m))*K : ((t-1)*n+int(m)+1)*K]
		if mask == 0 && f.busyDim == 1 && f.counts && f.task.bits == 0 {
			next := out[1:]
			for k, v := range from[:len(next)] {
				if v += gain; v > next[k] {
					next[k] = v
				}
			}
			continue
		}
		for k, v := range from {
			if v == minusInf {
				continue
			}
			if next, extra := f.afterStart(k, mask); next >= 0 {
				out[next] = max(out[next], v+gain-extra)
			}
		}
	}
}

// wasIn tells whether inside holds values for option b at block t.
func (f *pathfinder) wasIn(t, b int) bool {
	if t < f.in.from {
		return f.a.past.current == b
	}
	return f.task.w[t*f.a.n+b] != minusInf
}

// run fills inside at block t: a run goes on, or has just had its least
// length. What may end after t is made known to decision point t+1.
func (f *pathfinder) run(t int) {
	a, n, K, C := f.a, f.a.n, f.phases, f.a.classes
	ended := f.ended[(t+1)*C*K : (t+2)*C*K]
	for i := range ended {
		ended[i].clear()
	}
	limited := f.busyDim > 1
	for b, w := range f.task.w[t*n : t*n+n] {
		if w == minusInf {
			continue
		}
		i := (t*n + b) * K
		out := f.inside[i : i+K]
		if limited || a.maxRun[b] > 0 {
			f.runLimited(t, b, out)
		} else {
			f.runOn(t, b, w, out)
		}
		c := int(a.class[b]) * K
		row := ended[c : c+K]
		for k, v := range out[:len(row)] {
			if v > row[k].v2 {
				row[k].put(v, int32(b))
			}
		}
	}
	for c := range C {
		for k := range K {
			r := (t+1)*K + f.afterRest(k)
			f.resting[r] = max(f.resting[r], ended[c*K+k].v1)
		}
	}
	f.fresh[t+1] = f.fresh[t] + f.task.idle[t]
}

// goesOn tells whether a run of option b may go on from block t-1 to t.
func (f *pathfinder) goesOn(t, b int) bool {
	return t > 0 && f.wasIn(t-1, b)
}

// begunAt returns what begun holds for a run of option b that has its least
// length at block t, with its start; nil if there is none.
func (f *pathfinder) begunAt(t, b int) ([]float64, int) {
	s := t - int(f.a.minRun[b]) + 1
	if s < f.in.from || f.win[s*f.a.n+b] == minusInf {
		return nil, s
	}
	i := (s*f.a.n + b) * f.phases
	return f.begun[i : i+f.phases], s
}

// runOn is run for one option without limits to its length.
func (f *pathfinder) runOn(t, b int, w float64, out []float64) {
	begun, _ := f.begunAt(t, b)
	if !f.goesOn(t, b) {
		if begun != nil {
			copy(out, begun)
			return
		}
		for k := range out {
			out[k] = minusInf
		}
		return
	}
	i := ((t-1)*f.a.n + b) * len(out)
	prev := f.inside[i : i+len(out)]
	if begun == nil {
		for k, u := range prev {
			out[k] = u + w
		}
		return
	}
	begun = begun[:len(prev)]
	out = out[:len(prev)]
	for k, u := range prev {
		out[k] = max(u+w, begun[k])
	}
}

// runLimited is run for one option with a longest run or an agent that needs
// breaks: it looks at every length that the run may have.
func (f *pathfinder) runLimited(t, b int, out []float64) {
	for k := range out {
		out[k] = minusInf
	}
	if f.busyDim == 1 && f.a.past.current != b {
		f.runUpTo(t, b, int(f.a.maxRun[b]), out)
		return
	}
	f.lengths(t, b, func(_, k int, v float64) {
		out[k] = max(out[k], v)
	})
}

// runUpTo is runLimited for an agent that needs no breaks and an option whose
// run does not go on from the past: lengths without its many cases, for the
// inner loop of every line-up.
func (f *pathfinder) runUpTo(t, b, longest int, out []float64) {
	n, K, minRun := f.a.n, f.phases, int(f.a.minRun[b])
	extra := 0.0
	for length := minRun; length <= longest; length++ {
		s := t - length + 1
		if s < f.in.from {
			return
		}
		if length > minRun {
			extra += f.task.w[(s+minRun)*n+b]
		}
		if f.win[s*n+b] == minusInf {
			continue
		}
		for k, v := range f.begun[(s*n+b)*K : (s*n+b+1)*K][:len(out)] {
			out[k] = max(out[k], v+extra)
		}
	}
}

// lengths calls yield for every start of a limited run of option b that may
// end after block t, with the phase and the value then; the start is -1 for
// a run from the past.
func (f *pathfinder) lengths(t, b int, yield func(s, k int, v float64)) {
	a, n, K := f.a, f.a.n, f.phases
	longest := f.in.blocks
	if a.maxRun[b] > 0 {
		longest = int(a.maxRun[b])
	}
	if f.busyDim > 1 {
		longest = min(longest, f.busyDim-1)
	}
	extra, minRun := 0.0, int(a.minRun[b])
	for length := minRun; length <= longest; length++ {
		s := t - length + 1
		if s < f.in.from {
			break
		}
		if length > minRun {
			extra += f.task.w[(s+minRun)*n+b]
		}
		if f.win[s*n+b] == minusInf {
			continue
		}
		for k, v := range f.begun[(s*n+b)*K : (s*n+b+1)*K] {
			if next := f.afterBlocks(k, length); next >= 0 && v > minusInf {
				yield(s, next, v+extra)
			}
		}
	}
	length := t - f.in.from + 1
	if a.past.current != b || a.maxRun[b] > 0 && a.past.age+length > int(a.maxRun[b]) {
		return
	}
	v := 0.0
	for j := f.in.from; j <= t; j++ {
		v += f.task.w[j*n+b]
	}
	if k := f.afterBlocks(f.k0, length); k >= 0 {
		yield(-1, k, v)
	}
}

// startOf returns the start of the best run of option b that ends after
// block t in phase k; -1 if it goes on from the past.
func (f *pathfinder) startOf(t, b, k int) int {
	if f.busyDim > 1 || f.a.maxRun[b] > 0 {
		value, start := minusInf, -1
		if t >= f.in.from {
			f.lengths(t, b, func(s, next int, v float64) {
				if next == k && v > value {
					value, start = v, s
				}
			})
		}
		return start
	}
	for ; t >= f.in.from; t-- {
		begun, s := f.begunAt(t, b)
		on := minusInf
		if f.goesOn(t, b) {
			on = f.inside[((t-1)*f.a.n+b)*f.phases+k] + f.task.w[t*f.a.n+b]
		}
		if begun != nil && begun[k] >= on {
			return s
		}
	}
	return -1
}
