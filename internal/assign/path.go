package assign

// This file finds the best path of one agent through the blocks, given a
// weight for every option and block: the dynamic programme at the heart of
// the package.
//
// A decision point t lies before block t. There the agent has just ended a
// run, or has been idle long enough, or has not begun yet. Of the runs ended
// at t only the two best of each class are kept: a run of option b starts
// after the best one that is not b itself, so a change costs O(classes) and
// not O(options). Options of b's own topic, from which the change is
// cheaper, are looked through one by one; they are few.
//
// All that limits a path beyond the present run is in its phase: the runs
// begun, the blocks since the last idle one, and a bit for each bonus or
// penalty whose first time differs from the later ones.

// task is what a path is to maximise.
type task struct {
	w     []float64 // [t*n+o] weight of a block, -Inf where the option may not be
	idle  []float64 // [t]
	start []float64 // [o] cost of any start
	begin []float64 // [o] cost of a start that does not follow the same topic

	// Bits tracked in the phase: anyMask is set by every start of the
	// option, beginMask by those that do not follow the same topic. A start
	// whose bit is set already costs penalty of the bit more.
	bits      int
	anyMask   []uint8
	beginMask []uint8
	penalty   []float64
}

// leg is a run of a path; a leg with from -1 goes on from the past.
type leg struct {
	option   int32
	from, to int16
}

// best is the two best ended runs of different options.
type best struct {
	v1, v2 float64
	o1, o2 int32
}

// Options in best.o1 that stand for no run.
const (
	fromIdle  = -1
	fromFresh = -2
	nothing   = -3
)

func (b *best) clear() { *b = best{v1: minusInf, v2: minusInf, o1: nothing, o2: nothing} }

func (b *best) add(v float64, o int32) {
	if v > b.v2 {
		b.put(v, o)
	}
}

func (b *best) put(v float64, o int32) {
	switch {
	case v > b.v1:
		if o != b.o1 {
			b.v2, b.o2 = b.v1, b.o1
		}
		b.v1, b.o1 = v, o
	case o != b.o1:
		b.v2, b.o2 = v, o
	}
}

// overhead is what an option costs in a block beside its phases, in cells.
const overhead = 2

// pathfinder holds the working memory of the dynamic programme; it is reused
// from agent to agent.
type pathfinder struct {
	in   *instance
	a    *agent
	task *task
	work int64 // cells computed so far: the measure of effort

	phases, runDim, busyDim int
	counts                  bool // runs are counted
	k0                      int  // phase in which the agent begins

	win     []float64 // [t*n+o] weight of the first minRun blocks of a run begun at t
	begun   []float64 // [(t*n+o)*K+k] best value with a run of o begun at t, its first minRun blocks done
	inside  []float64 // [(t*n+o)*K+k] best value in option o at block t, run long enough to end
	ended   []best    // [(t*C+c)*K+k] at decision points
	before  []best    // [(t*C+c)*K+k] best to start class c from
	rested  []float64 // [t*K+k] idle and free to start again
	restAt  []int16   // where that idle spell began, -1 in the past
	resting []float64 // [t*K+k] best run ended at t, about to rest
	fresh   []float64 // [t] no run yet

	// For through, on the way back:
	after   []float64 // [(t*n+o)*K+k] best from decision point t with o just run
	toGo    []float64 // [(t*C+c)*K+k] same by class, without o's own topic
	idleGo  []float64 // [t*K+k] best from decision point t when idle
	classGo []float64 // [c*K+k] best start of a class
}

// reset sets the agent and the sizes; memory only grows.
func (f *pathfinder) reset(a *agent, task *task) {
	f.a, f.task = a, task
	f.counts = a.maxRuns >= 0
	f.runDim = 1
	if f.counts {
		f.runDim = a.maxRuns + 1
	}
	f.busyDim = 1
	if a.maxBusy > 0 {
		f.busyDim = a.maxBusy + 1
	}
	f.phases = f.runDim * f.busyDim << task.bits
	f.k0 = 0
	T, n, K, C := f.in.blocks, a.n, f.phases, a.classes
	f.win = grow(f.win, T*n)
	f.begun, f.inside = grow(f.begun, T*n*K), grow(f.inside, T*n*K)
	f.ended, f.before = grow(f.ended, (T+1)*C*K), grow(f.before, (T+1)*C*K)
	f.rested, f.restAt = grow(f.rested, (T+1)*K), grow(f.restAt, (T+1)*K)
	f.resting, f.fresh = grow(f.resting, (T+1)*K), grow(f.fresh, T+1)
}

func grow[E any](xs []E, n int) []E {
	if cap(xs) < n {
		return make([]E, n+n/2)[:n]
	}
	return xs[:n]
}

// A phase is bits, runs, busy: ((bits*runDim)+runs)*busyDim + busy.

// afterStart returns the phase after a start in phase k and the extra cost,
// or -1 when no more run may begin.
func (f *pathfinder) afterStart(k int, mask uint8) (int, float64) {
	if f.counts {
		if (k/f.busyDim)%f.runDim == f.runDim-1 {
			return -1, 0
		}
		k += f.busyDim
	}
	cost := 0.0
	if mask != 0 {
		block := f.busyDim * f.runDim
		bits := uint8(k / block)
		for i := range f.task.bits {
			if mask>>i&1 == 0 {
				continue
			}
			if bits>>i&1 != 0 {
				cost += f.task.penalty[i]
			} else {
				k += block << i
			}
		}
	}
	return k, cost
}

// afterBlocks returns the phase after busy blocks, or -1 when a break is due.
func (f *pathfinder) afterBlocks(k, blocks int) int {
	if f.busyDim == 1 {
		return k
	}
	if k%f.busyDim+blocks >= f.busyDim {
		return -1
	}
	return k + blocks
}

func (f *pathfinder) afterRest(k int) int { return k - k%f.busyDim }

// find returns the best path's value and its legs in order of time, appended
// to legs. With no path that the task allows, the value is -Inf.
func (f *pathfinder) find(a *agent, task *task, legs []leg) (float64, []leg) {
	f.reset(a, task)
	f.windows()
	f.begin()
	for t := f.in.from; t < f.in.blocks; t++ {
		f.decide(t)
		f.start(t)
		f.run(t)
	}
	return f.finish(legs)
}

// windows sums the weights of the first minRun blocks of every run.
func (f *pathfinder) windows() {
	a, n, T := f.a, f.a.n, f.in.blocks
	w := f.task.w
	for t := T - 1; t >= f.in.from; t-- {
		row := f.win[t*n : t*n+n]
		copy(row, w[t*n:t*n+n])
		for o, m := range a.minRun {
			switch {
			case m == 1 || row[o] == minusInf:
			case t+int(m) > T:
				row[o] = minusInf
			default:
				for j := 1; j < int(m); j++ {
					row[o] += w[(t+j)*n+o]
				}
			}
		}
	}
}

// begin sets the first decision point.
func (f *pathfinder) begin() {
	a, t0, K := f.a, f.in.from, f.phases
	for i := range f.ended[t0*a.classes*K : (t0+1)*a.classes*K] {
		f.ended[t0*a.classes*K+i].clear()
	}
	for t := t0; t <= f.in.blocks; t++ {
		f.fresh[t] = minusInf
		for k := range K {
			f.rested[t*K+k], f.resting[t*K+k] = minusInf, minusInf
		}
	}
	if t0 > 0 {
		for i := range f.inside[(t0-1)*a.n*K : t0*a.n*K] {
			f.inside[(t0-1)*a.n*K+i] = minusInf
		}
	}
	switch s := a.past; {
	case s.fresh:
		f.fresh[t0] = 0
	case s.current >= 0:
		if a.maxBusy > 0 {
			f.k0 += min(s.busy, a.maxBusy)
		}
		f.ended[(t0*a.classes+int(a.class[s.current]))*K+f.k0].add(0, int32(s.current))
		f.resting[t0*K+f.afterRest(f.k0)] = 0
		f.inside[((t0-1)*a.n+s.current)*K+f.k0] = 0
	default:
		// The idle spell that goes on may still be too short.
		v, t := 0.0, t0
		for ; t < f.in.blocks && t-t0 < a.minBreak-s.idle; t++ {
			v += f.task.idle[t]
		}
		f.rested[t*K+f.k0], f.restAt[t*K+f.k0] = v, -1
	}
}

// decide finds what is best to start each class from at decision point t.
func (f *pathfinder) decide(t int) {
	a, K, C := f.a, f.phases, f.a.classes
	for k := range K {
		if t > f.in.from {
			f.rest(t, k)
		}
		if a.alike {
			f.fromAlike(t, k)
		} else {
			f.fromEach(t, k)
		}
		rested, fresh := f.rested[t*K+k], minusInf
		if k == f.k0 {
			fresh = f.fresh[t]
		}
		if rested == minusInf && fresh == minusInf {
			continue
		}
		for c := range C {
			b := &f.before[(t*C+c)*K+k]
			if rested != minusInf {
				b.add(rested-a.change[C*C+c], fromIdle)
			}
			if fresh != minusInf {
				b.add(fresh-a.change[(C+1)*C+c], fromFresh)
			}
		}
	}
}

// fromEach weighs every class that a run may have ended in against every class
// that one may begin in.
func (f *pathfinder) fromEach(t, k int) {
	a, K, C := f.a, f.phases, f.a.classes
	for c := range C {
		b := &f.before[(t*C+c)*K+k]
		b.clear()
		for p := range C {
			e := &f.ended[(t*C+p)*K+k]
			if e.v1 == minusInf {
				continue
			}
			cost := a.change[p*C+c]
			b.add(e.v1-cost, e.o1)
			if e.v2 != minusInf {
				b.add(e.v2-cost, e.o2)
			}
		}
	}
}

// fromAlike is fromEach when every change of class costs the same and staying
// in one costs no more: the two best of all ended runs serve every class, and
// only its own may be better. It turns the square of the classes into their
// number, which is half of the time of a line-up with many eyepieces.
func (f *pathfinder) fromAlike(t, k int) {
	a, K, C := f.a, f.phases, f.a.classes
	var all best
	all.clear()
	for p := range C {
		e := &f.ended[(t*C+p)*K+k]
		if e.v1 > all.v2 {
			all.put(e.v1, e.o1)
			if e.v2 > all.v2 {
				all.put(e.v2, e.o2)
			}
		}
	}
	if all.v1 != minusInf {
		all.v1 -= a.swap
		if all.v2 != minusInf {
			all.v2 -= a.swap
		}
	}
	for c := range C {
		i := (t*C+c)*K + k
		b, e := &f.before[i], &f.ended[i]
		*b = all
		if e.v1 == minusInf {
			continue
		}
		stay := a.change[c*C+c]
		b.add(e.v1-stay, e.o1)
		if e.v2 != minusInf {
			b.add(e.v2-stay, e.o2)
		}
	}
}

// rest updates the idle state at t: on from t-1, or a break begun long enough
// ago.
func (f *pathfinder) rest(t, k int) {
	K := f.phases
	i := t*K + k
	if v := f.rested[i-K] + f.task.idle[t-1]; v > f.rested[i] {
		f.rested[i], f.restAt[i] = v, f.restAt[i-K]
	}
	s := t - f.a.minBreak
	if s < f.in.from {
		return
	}
	v := f.resting[s*K+k]
	for j := s; j < t && v != minusInf; j++ {
		v += f.task.idle[j]
	}
	if v > f.rested[i] {
		f.rested[i], f.restAt[i] = v, int16(s)
	}
}
