package assign

// through tells, for every option of the agent and task of the last find,
// how good the best path is that has a run of it. It walks the blocks
// backwards and joins what it finds with what find left behind. Longest
// runs, breaks and runs following themselves are not looked at, so values
// may be too high, never too low. It may not be used with tracked bits.
func (f *pathfinder) through(out []float64) []float64 {
	a, n, K, C, T := f.a, f.a.n, f.phases, f.a.classes, f.in.blocks
	out = grow(out, n)
	for b := range out {
		out[b] = minusInf
	}
	f.work += int64((T - f.in.from) * n * (K + overhead))
	f.after = grow(f.after, (T+1)*n*K)
	f.toGo = grow(f.toGo, (T+1)*C*K)
	f.idleGo = grow(f.idleGo, (T+1)*K)
	f.classGo = grow(f.classGo, C*K)
	for i := range n * K {
		f.after[T*n*K+i] = 0
	}
	for i := range C * K {
		f.toGo[T*C*K+i] = 0
	}
	for k := range K {
		f.idleGo[T*K+k] = 0
	}
	for t := T - 1; t >= f.in.from; t-- {
		f.startsToGo(t)
		f.choicesToGo(t)
		f.runsToGo(t)
	}
	for t := f.in.from; t < T; t++ {
		for b := range n {
			if f.win[t*n+b] == minusInf {
				continue
			}
			begun := f.begun[(t*n+b)*K : (t*n+b+1)*K]
			rest := f.after[((t+int(a.minRun[b]))*n+b)*K:]
			for k, v := range begun {
				out[b] = max(out[b], v+rest[k])
			}
		}
	}
	return out
}

// startsToGo finds the best start of each class at decision point t, by the
// phase before it.
func (f *pathfinder) startsToGo(t int) {
	// A start moves the phase on by one run: see afterStart.
	a, n, K := f.a, f.a.n, f.phases
	for i := range f.classGo {
		f.classGo[i] = minusInf
	}
	for b := range n {
		win := f.win[t*n+b]
		if win == minusInf {
			continue
		}
		gain := win - f.task.start[b] - f.task.begin[b]
		rest := f.after[((t+int(a.minRun[b]))*n+b)*K:]
		row := f.classGo[int(a.class[b])*K : (int(a.class[b])+1)*K]
		if f.counts {
			rest = rest[f.busyDim:K]
		}
		for k, v := range rest[:min(len(rest), K)] {
			row[k] = max(row[k], gain+v)
		}
	}
}

// choicesToGo finds what is best from decision point t, for each class just
// ended and for idleness.
func (f *pathfinder) choicesToGo(t int) {
	a, K, C := f.a, f.phases, f.a.classes
	for k := range K {
		idle := f.idleGo[(t+1)*K+k]
		resume := minusInf
		for c := range C {
			resume = max(resume, f.classGo[c*K+k]-a.change[C*C+c])
		}
		// While idle the agent may start at t; a run that ended at t may too.
		f.idleGo[t*K+k] = max(resume, idle+f.task.idle[t])
		if a.alike {
			top := minusInf
			for c := range C {
				top = max(top, f.classGo[c*K+k])
			}
			top = max(top-a.swap, idle+f.task.idle[t])
			for p := range C {
				f.toGo[(t*C+p)*K+k] = max(top, f.classGo[p*K+k]-a.change[p*C+p])
			}
			continue
		}
		for p := range C {
			v := idle + f.task.idle[t]
			for c := range C {
				v = max(v, f.classGo[c*K+k]-a.change[p*C+c])
			}
			f.toGo[(t*C+p)*K+k] = v
		}
	}
}

// runsToGo finds what is best from decision point t with an option just run:
// going on with it, its own topic, or anything else.
func (f *pathfinder) runsToGo(t int) {
	a, n, K, C := f.a, f.a.n, f.phases, f.a.classes
	for b := range n {
		out := f.after[(t*n+b)*K : (t*n+b+1)*K]
		copy(out, f.toGo[(t*C+int(a.class[b]))*K:])
		if w := f.task.w[t*n+b]; w != minusInf {
			for k, v := range f.after[((t+1)*n+b)*K : ((t+1)*n+b+1)*K] {
				out[k] = max(out[k], w+v)
			}
		}
		for _, m := range a.mates[b] {
			win := f.win[t*n+int(m)]
			if int(m) == b || win == minusInf {
				continue
			}
			gain := win - f.task.start[m] - a.change[int(a.class[b])*C+int(a.class[m])]
			rest := f.after[((t+int(a.minRun[m]))*n+int(m))*K:]
			if f.counts {
				rest = rest[f.busyDim:K]
			}
			for k, v := range rest[:min(len(rest), K)] {
				out[k] = max(out[k], gain+v)
			}
		}
	}
}
