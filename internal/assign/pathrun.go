package assign

// start fills begun at decision point t: every option starts after the best
// that may come before it.
func (f *pathfinder) start(t int) {
	a, n, K, C := f.a, f.a.n, f.phases, f.a.classes
	simple := f.task.bits == 0 && f.busyDim == 1
	f.work += int64(n * K)
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
		cost := a.change[int(a.class[m])*C+int(a.class[b])]
		from := f.inside[((t-1)*n+int(m))*K : ((t-1)*n+int(m)+1)*K]
		for k, v := range from {
			if v == minusInf {
				continue
			}
			if next, extra := f.afterStart(k, mask); next >= 0 {
				out[next] = max(out[next], v-cost+gain-extra)
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
// length.
func (f *pathfinder) run(t int) {
	a, n, K := f.a, f.a.n, f.phases
	for b := range n {
		w := f.task.w[t*n+b]
		if w == minusInf {
			continue
		}
		i := (t*n + b) * K
		if a.maxRun[b] > 0 || f.busyDim > 1 {
			f.runLimited(t, b)
			continue
		}
		on := (t > f.in.from || t > 0 && b == a.past.current) && f.wasIn(t-1, b)
		s := t - int(a.minRun[b]) + 1
		if s >= f.in.from && f.win[s*n+b] != minusInf {
			begun := f.begun[(s*n+b)*K : (s*n+b+1)*K]
			out, since := f.inside[i:i+K], f.since[i:i+K]
			if !on {
				copy(out, begun)
				for k := range since {
					since[k] = int16(s)
				}
				continue
			}
			prev, prevSince := f.inside[i-n*K:i-n*K+K], f.since[i-n*K:i-n*K+K]
			for k, v := range begun {
				if u := prev[k] + w; u >= v {
					out[k], since[k] = u, prevSince[k]
				} else {
					out[k], since[k] = v, int16(s)
				}
			}
			continue
		}
		for k := range K {
			f.inside[i+k] = minusInf
			if on {
				f.inside[i+k], f.since[i+k] = f.inside[i+k-n*K]+w, f.since[i+k-n*K]
			}
		}
	}
}

// runLimited is run for one option with a longest run or an agent that needs
// breaks: it looks at every length that the run may have.
func (f *pathfinder) runLimited(t, b int) {
	a, n, K := f.a, f.a.n, f.phases
	out := f.inside[(t*n+b)*K : (t*n+b+1)*K]
	since := f.since[(t*n+b)*K : (t*n+b+1)*K]
	for k := range out {
		out[k] = minusInf
	}
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
			if v == minusInf {
				continue
			}
			if next := f.afterBlocks(k, length); next >= 0 && v+extra > out[next] {
				out[next], since[next] = v+extra, int16(s)
			}
		}
	}
	f.goOn(t, b, out, since)
}

// goOn lets the run that the past left going on reach block t.
func (f *pathfinder) goOn(t, b int, out []float64, since []int16) {
	if f.a.past.current != b {
		return
	}
	length := t - f.in.from + 1
	if limit := int(f.a.maxRun[b]); limit > 0 && f.a.past.age+length > limit {
		return
	}
	v := 0.0
	for j := f.in.from; j <= t; j++ {
		v += f.task.w[j*f.a.n+b]
	}
	if k := f.afterBlocks(f.k0, length); k >= 0 && v > out[k] {
		out[k], since[k] = v, -1
	}
}

// end makes the runs that may end after block t known to decision point t+1.
func (f *pathfinder) end(t int) {
	a, n, K, C := f.a, f.a.n, f.phases, f.a.classes
	ended := f.ended[(t+1)*C*K : (t+2)*C*K]
	for i := range ended {
		ended[i].clear()
	}
	for b := range n {
		if f.task.w[t*n+b] == minusInf {
			continue
		}
		row := ended[int(a.class[b])*K : (int(a.class[b])+1)*K]
		in := f.inside[(t*n+b)*K : (t*n+b+1)*K]
		for k, v := range in {
			if v > row[k].v2 {
				row[k].add(v, int32(b), f.since[(t*n+b)*K+k])
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
