package assign

import "math"

// search improves the first plan: prices and repairs in turn, then moves in
// the neighbourhood of the best plan.
func (s *solver) search() {
	for i := range s.in.agents {
		s.order = append(s.order, i)
	}
	s.trial.copyFrom(s.best)
	s.score = s.best.score()
	s.focus()
	if s.done() {
		s.widen()
		return
	}
	for i := range s.in.agents {
		s.improve(i)
	}
	s.polish()
	s.accept()
	s.findPrices()
	s.wander()
	s.widen()
	s.trial.copyFrom(s.best)
	s.polish()
	s.accept()
}

// done tells whether to stop: no time, no effort left, or good enough.
func (s *solver) done() bool {
	return s.ctx.Err() != nil || s.r.finder.work >= s.limit || s.proven()
}

func (s *solver) proven() bool {
	return s.d.bound-s.score <= s.gap*math.Abs(s.score)
}

// improve replaces agent i's path in trial by its best answer; it tells
// whether the score rose.
func (s *solver) improve(i int) bool {
	before := s.trial.score()
	s.old = append(s.old[:0], s.trial.paths[i]...)
	s.trial.take(i)
	path, ok := s.r.respond(s.trial, i, nil, 0)
	if ok {
		s.trial.put(i, path)
		after := s.trial.score()
		if after > before+1e-9*(1+math.Abs(before)) {
			return true
		}
		s.trial.take(i)
	}
	s.trial.put(i, s.old)
	return false
}

// polish improves one agent at a time until none can.
func (s *solver) polish() {
	still := 0
	for i := 0; still < len(s.in.agents) && s.ctx.Err() == nil; i = (i + 1) % len(s.in.agents) {
		still++
		if s.improve(i) {
			still = 1
		}
	}
}

// accept makes trial the best plan if it is no worse.
func (s *solver) accept() bool {
	v := s.trial.score()
	if v < s.score || !s.trial.feasible() {
		return false
	}
	better := v > s.score+1e-9*math.Abs(s.score)
	s.score = v
	s.best.copyFrom(s.trial)
	return better
}

// How the work is shared out, found by trial on generated line-ups and on the
// nights of testdata. Far from good prices a repair costs much and finds
// little, so there is one in each round of them; near to them one in every
// few steps. A quarter of the work is kept for moves in the neighbourhood of
// the best plan, which then gain more than the last thousandth of the bound.
const (
	mostRounds = 40    // looks at all options
	steps      = 25    // of the prices in each round
	nearRepair = 5     // steps from one repair to the next, near good prices
	farOff     = 0.03  // of the score between it and the bound: not near
	priceShare = 0.75  // of the work that prices may take
	still      = 0.005 // factor of a step from which it moves nothing
)

// findPrices alternates between steps of the prices, with repairs of the
// plan that they suggest, and looks at all options.
func (s *solver) findPrices() {
	for range mostRounds {
		s.d.least, s.d.stale = math.Inf(1), 0
		for step := 1; step <= steps; step++ {
			total := s.d.evaluate(nil)
			every := nearRepair
			if s.d.bound-s.score > farOff*math.Abs(s.score) {
				every = steps
			}
			if step%every == 0 {
				s.repair(s.d.now)
			}
			if s.done() {
				return
			}
			if s.worked() || !s.d.advance(total, s.score) || s.d.step < still {
				break
			}
		}
		s.d.now.copyFrom(s.d.low)

		s.focus()
		if s.done() || s.worked() || s.d.step < still {
			return
		}
	}
}

// worked tells whether prices have had their share of the work.
func (s *solver) worked() bool {
	return float64(s.r.finder.work) > priceShare*float64(s.limit)
}

// repair builds a plan from the paths that the prices suggest: in turn, each
// agent keeps its path if there is room for it and finds another if not.
func (s *solver) repair(p *prices) {
	for i := range s.in.agents {
		s.trial.take(i)
	}
	s.shuffle(s.order)
	pinnedFirst(s.in, s.order)
	for _, i := range s.order {
		if s.fits(i, s.d.paths[i]) {
			s.trial.put(i, s.d.paths[i])
		}
	}
	for _, i := range s.order {
		if len(s.trial.paths[i]) > 0 {
			continue
		}
		s.trial.take(i)
		path, ok := s.r.respond(s.trial, i, p, 1)
		if !ok {
			s.trial.copyFrom(s.best)
			return
		}
		s.trial.put(i, path)
	}
	s.polish()
	s.accept()
}

// fits tells whether there is room in trial for the path.
func (s *solver) fits(i int, path []leg) bool {
	a, in := s.in.agents[i], s.in
	for _, l := range path {
		for t := max(int(l.from), in.from); t < int(l.to); t++ {
			for _, u := range a.uses[l.option] {
				j := t*in.nCap + u.Capacity
				if u.Units > 0 && s.trial.used[j]+int32(u.Units) > in.capacity[j] {
					return false
				}
			}
		}
	}
	return true
}

func (s *solver) shuffle(xs []int) {
	s.rng.Shuffle(len(xs), func(i, j int) { xs[i], xs[j] = xs[j], xs[i] })
}

// pinnedFirst moves agents with pins to the front.
func pinnedFirst(in *instance, order []int) {
	at := 0
	for j, i := range order {
		if in.agents[i].pinned() {
			order[at], order[j] = order[j], order[at]
			at++
		}
	}
}

func (a *agent) pinned() bool {
	for _, v := range a.idle {
		if v == minusInf {
			return true
		}
	}
	return false
}
