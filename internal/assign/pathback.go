package assign

import "slices"

// finish takes the best of all ends and walks back. The way back is found by
// asking again which predecessor was best, so that nothing but the starts of
// runs has to be written down on the way forward.
func (f *pathfinder) finish(legs []leg) (float64, []leg) {
	T, K, C := f.in.blocks, f.phases, f.a.classes
	value, at := f.fresh[T], point{kind: fromFresh}
	for k := range K {
		if T > f.in.from {
			f.rest(T, k)
		}
		for c := range C {
			if e := &f.ended[(T*C+c)*K+k]; e.v1 > value {
				value, at = e.v1, point{kind: int(e.o1), t: T, k: k}
			}
		}
		if v := f.rested[T*K+k]; v > value {
			value, at = v, point{fromIdle, T, k, int(f.restAt[T*K+k])}
		}
		// A last idle spell may be shorter than a break.
		for s := max(T-f.a.minBreak+1, f.in.from); s < T; s++ {
			v := f.resting[s*K+k]
			for j := s; j < T && v != minusInf; j++ {
				v += f.task.idle[j]
			}
			if v > value {
				value, at = v, point{fromIdle, T, k, s}
			}
		}
	}
	if v := f.stillResting(); v > value {
		value, at = v, point{fromIdle, T, f.k0, -1}
	}
	if value == minusInf {
		return value, legs
	}
	first := len(legs)
	for at.kind >= 0 || at.kind == fromIdle && at.since >= 0 {
		if at.kind >= 0 {
			at.since = f.startOf(at.t-1, at.kind, at.k)
			legs = append(legs, leg{int32(at.kind), int16(at.since), int16(at.t)})
			if at.since < 0 {
				break
			}
			at = f.beforeStart(at)
		} else {
			at = f.beforeRest(at)
		}
	}
	slices.Reverse(legs[first:])
	return value, legs
}

// stillResting is the value of staying idle when the past's idle spell is
// not yet a full break at the end of the horizon.
func (f *pathfinder) stillResting() float64 {
	if f.a.past.fresh || f.a.past.current >= 0 {
		return minusInf
	}
	v := 0.0
	for t := f.in.from; t < f.in.blocks; t++ {
		v += f.task.idle[t]
	}
	return v
}

// point is a state at decision point t in phase k: a run of option kind just
// ended, or an idle spell; it began at since.
type point struct{ kind, t, k, since int }

// beforeStart returns the best state from which the run at p was begun.
func (f *pathfinder) beforeStart(p point) point {
	a, n, K, C := f.a, f.a.n, f.phases, f.a.classes
	b, s := p.kind, p.since
	value, from := minusInf, point{kind: fromFresh}
	begins, follows := f.mask(b, true), f.mask(b, false)
	for k := range K {
		next, cost := f.afterStart(k, begins)
		if next >= 0 && f.afterBlocks(next, p.t-s) == p.k {
			e := &f.before[(s*C+int(a.class[b]))*K+k]
			v, o := e.v1, e.o1
			if int(o) == b {
				v, o = e.v2, e.o2
			}
			if v -= cost + f.task.begin[b]; v > value {
				value, from = v, point{kind: int(o), t: s, k: k}
				if o == fromIdle {
					from.since = int(f.restAt[s*K+k])
				}
			}
		}
		if s == 0 {
			continue
		}
		next, cost = f.afterStart(k, follows)
		if next < 0 || f.afterBlocks(next, p.t-s) != p.k {
			continue
		}
		for _, m := range a.mates[b] {
			if int(m) == b || !f.wasIn(s-1, int(m)) {
				continue
			}
			i := ((s-1)*n+int(m))*K + k
			v := f.inside[i] - a.change[int(a.class[m])*C+int(a.class[b])] - cost
			if v > value {
				value, from = v, point{kind: int(m), t: s, k: k}
			}
		}
	}
	return from
}

// beforeRest returns the best run that ended where the idle spell at p began.
func (f *pathfinder) beforeRest(p point) point {
	K, C := f.phases, f.a.classes
	value, from := minusInf, point{kind: fromFresh}
	for k := range K {
		if f.afterRest(k) != p.k {
			continue
		}
		for c := range C {
			if e := &f.ended[(p.since*C+c)*K+k]; e.v1 > value {
				value, from = e.v1, point{kind: int(e.o1), t: p.since, k: k}
			}
		}
	}
	return from
}
