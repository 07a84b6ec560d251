package assign

import "slices"

// This file finds the best path of one agent given the plans of all others:
// the move from which repair and improvement are built.

// maxTracked is how many bonuses and penalties may be followed exactly in
// the phase of a path; each doubles the work.
const maxTracked = 3

// responder answers with the best path of an agent against a state.
type responder struct {
	in     *instance
	finder pathfinder
	task   task
	legs   []leg
	room   []int32 // units left per capacity at one block
	goals  []int   // goals that have a bit

	lenient bool // shortages that others have need not be filled
}

// prices is what the shared things cost while the plan is being found.
type prices struct {
	capacity []float64   // [t*nCap+c], 0 or more
	cover    []float64   // [t*nCover+c], reward for one unit
	goal     []float64   // reward for one run
	topic    [][]float64 // [agent][topic] cost of beginning it
}

func newResponder(in *instance) *responder {
	return &responder{in: in, finder: pathfinder{in: in}}
}

// respond returns the best path of agent i when the others stay as in s, in
// which i has no path. With prices, what is taken of the capacities is paid
// for, at weight times the price; otherwise the answer is exact up to ties
// between more than maxTracked repeated things. It returns false when the
// agent has no path at all.
func (r *responder) respond(s *state, i int, p *prices, weight float64) ([]leg, bool) {
	a := r.in.agents[i]
	r.task.bits = 0
	r.weigh(s, a, p, weight)
	r.charge(s, a, p, weight)
	value, legs := r.finder.find(a, &r.task, r.legs[:0])
	r.legs = legs
	if value == minusInf && !r.lenient {
		r.lenient = true
		defer func() { r.lenient = false }()
		return r.respond(s, i, p, weight)
	}
	if value == minusInf {
		return nil, false
	}
	for r.task.bits < maxTracked && r.track(s, a, p, weight) {
		_, r.legs = r.finder.find(a, &r.task, r.legs[:0])
	}
	return r.legs, true
}

// weigh fills the weights: values, what covers still earn, the room that the
// others leave.
func (r *responder) weigh(s *state, a *agent, p *prices, weight float64) {
	in, n := r.in, a.n
	r.task.w = grow(r.task.w, in.blocks*n)
	r.task.idle = grow(r.task.idle, in.blocks)
	copy(r.task.w, a.value)
	copy(r.task.idle, a.idle)
	for t := in.from; t < in.blocks; t++ {
		row := r.task.w[t*n : t*n+n]
		there, used := in.capacity[t*in.nCap:(t+1)*in.nCap], s.used[t*in.nCap:(t+1)*in.nCap]
		for o, uses := range a.uses {
			if row[o] == minusInf {
				continue
			}
			for _, u := range uses {
				// A pinned learner may wait for a teacher to be found.
				waits := in.signed[u.Capacity] && a.idle[t] == minusInf
				if int32(u.Units) > max(there[u.Capacity]-used[u.Capacity], 0) && !waits {
					row[o] = minusInf
				} else if p != nil {
					row[o] -= weight * p.capacity[t*in.nCap+u.Capacity] * float64(u.Units)
				}
			}
		}
		if s.over > 0 && !r.lenient && r.short(there, used) {
			r.mustGive(a, row, t)
		}
		if in.nCover > 0 {
			covered, units := s.covered[t*in.nCover:(t+1)*in.nCover], in.units[t*in.nCover:(t+1)*in.nCover]
			for o, covers := range a.covers {
				for j, c := range covers {
					// An option that lists a cover twice counts twice.
					have := covered[c]
					for _, d := range covers[:j] {
						if d == c {
							have++
						}
					}
					if have < units[c] {
						row[o] += blend(in.cover, p.covers(), t*in.nCover+int(c), weight)
					}
				}
			}
		}
	}
}

// short finds the room that the others leave in a block; it tells whether any
// is less than none.
func (r *responder) short(there, used []int32) bool {
	r.room = grow(r.room, len(there))
	short := false
	for c := range there {
		r.room[c] = there[c] - used[c]
		short = short || r.room[c] < 0
	}
	return short
}

// blend is what earning bonus j counts: all of it, or as much of it as its
// price says, by weight: others could perhaps earn it at less cost.
func blend(bonus, price []float64, j int, weight float64) float64 {
	if price == nil {
		return bonus[j]
	}
	weight = min(weight, 1)
	return (1-weight)*bonus[j] + weight*price[j]
}

func (p *prices) covers() []float64 {
	if p == nil {
		return nil
	}
	return p.cover
}

func (p *prices) goals() []float64 {
	if p == nil {
		return nil
	}
	return p.goal
}

// mustGive leaves only what fills the shortages that the others have in
// block t; if nothing of the agent's does, the shortage is left to another.
func (r *responder) mustGive(a *agent, row []float64, t int) {
	gives := false
	for o, uses := range a.uses {
		gives = gives || row[o] != minusInf && fills(uses, r.room)
	}
	if !gives {
		return
	}
	r.task.idle[t] = minusInf
	for o, uses := range a.uses {
		if !fills(uses, r.room) {
			row[o] = minusInf
		}
	}
}

func fills(uses []Use, room []int32) bool {
	for c, n := range room {
		if n < 0 && int32(unitsOf(uses, c)) > n {
			return false
		}
	}
	return true
}

// charge fills the costs of starts. Goals that the others leave open are
// rewarded at every start, repeats are charged only if the past has begun
// the topic; track makes that exact where it matters.
func (r *responder) charge(s *state, a *agent, p *prices, weight float64) {
	t := &r.task
	t.start, t.begin = grow(t.start, a.n), grow(t.begin, a.n)
	for o := range a.n {
		t.start[o], t.begin[o] = a.start[o], a.setup[o]
		for _, g := range a.goals[o] {
			if s.goals[g] == 0 {
				t.start[o] -= blend(r.in.bonus, p.goals(), int(g), weight)
			}
		}
		if a.past.seen[a.topic[o]] > 0 {
			t.begin[o] += a.repeat
		}
	}
}

// track looks for a goal that the path earned more than once or a topic
// begun more than once, and gives it a bit. It returns false when the path
// is as good as its value says, or no more bits are to be had.
func (r *responder) track(s *state, a *agent, p *prices, weight float64) bool {
	begun := make([]int32, a.topics)
	earned := make([]int32, len(r.in.bonus))
	last, at := int32(a.past.current), r.in.from
	for _, l := range r.legs {
		if int(max(l.from, int16(r.in.from))) > at {
			last = -1
		}
		if l.from >= 0 {
			if !a.goesOn(last, l.option) {
				begun[a.topic[l.option]]++
			}
			for _, g := range a.goals[l.option] {
				earned[g]++
			}
		}
		last, at = l.option, int(l.to)
	}
	t := &r.task
	if t.bits == 0 {
		t.anyMask, t.beginMask = grow(t.anyMask, a.n), grow(t.beginMask, a.n)
		clear(t.anyMask)
		clear(t.beginMask)
		t.penalty, r.goals = t.penalty[:0], r.goals[:0]
	}
	tracked := func(mask []uint8, has func(o int) bool) bool {
		for o := range a.n {
			if has(o) {
				return mask[o] != 0
			}
		}
		return true
	}
	for k, n := range begun {
		has := func(o int) bool { return int(a.topic[o]) == k }
		if n > 1 && a.repeat > 0 && a.past.seen[k] == 0 && !tracked(t.beginMask, has) {
			r.addBit(t.beginMask, a.repeat, has)
			return true
		}
	}
	for g, n := range earned {
		has := func(o int) bool { return slices.Contains(a.goals[o], int32(g)) }
		if n > 1 && s.goals[g] == 0 && r.in.bonus[g] > 0 && !slices.Contains(r.goals, g) {
			r.goals = append(r.goals, g)
			r.addBit(t.anyMask, blend(r.in.bonus, p.goals(), g, weight), has)
			return true
		}
	}
	return false
}

func (r *responder) addBit(mask []uint8, penalty float64, has func(o int) bool) {
	bit := uint8(1) << r.task.bits
	r.task.bits++
	r.task.penalty = append(r.task.penalty, penalty)
	for o := range mask {
		if has(o) {
			mask[o] |= bit
		}
	}
}
