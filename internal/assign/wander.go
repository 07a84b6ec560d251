package assign

import (
	"math"
	"slices"
)

// wander takes a few agents out of the plan and lets them back in in another
// order, the first of them paying disturbed prices for what they take from
// the others. It goes on from a plan a little worse than the best, the less
// so the more of the work is done.
func (s *solver) wander() {
	if len(s.in.agents) < 2 {
		return
	}
	weights := [...]float64{1, 0.5, 1.5, 0}
	const most, worse = 10_000, 0.0002
	here, score := newState(s.in), s.score
	here.copyFrom(s.best)
	from := s.r.finder.work
	for round := 0; round < most && !s.done(); round++ {
		left := 1 - max(float64(round)/most, float64(s.r.finder.work-from)/float64(max(s.limit-from, 1)))
		s.trial.copyFrom(here)
		out := s.group(2 + s.rng.IntN(3))
		pinnedFirst(s.in, out)
		s.disturb()
		for _, i := range out {
			s.trial.take(i)
		}
		ok := true
		for j, i := range out {
			weight := weights[s.rng.IntN(len(weights))]
			if j == len(out)-1 {
				weight = 0
			}
			path, found := s.r.respond(s.trial, i, s.noisy, weight)
			if ok = found; !ok {
				break
			}
			s.trial.put(i, path)
		}
		if !ok {
			continue
		}
		for _, i := range out {
			s.improve(i)
		}
		v := s.trial.score()
		if v < score-worse*left*math.Abs(score) || !s.trial.feasible() {
			continue
		}
		if v > s.score {
			s.polish()
			s.accept()
			v = s.trial.score()
		}
		score = v
		here.copyFrom(s.trial)
	}
}

// group draws agents to be taken out: any, or some that want the same thing.
func (s *solver) group(size int) []int {
	s.shuffle(s.order)
	size = min(size, len(s.order))
	first := s.order[0]
	path := s.trial.paths[first]
	if len(path) == 0 || s.rng.IntN(4) == 0 {
		return s.order[:size]
	}
	a, o := s.in.agents[first], path[s.rng.IntN(len(path))].option
	things := len(a.uses[o]) + len(a.covers[o])
	if things == 0 {
		return s.order[:size]
	}
	thing := s.rng.IntN(things)
	at := 1
	for j := 1; j < len(s.order) && at < size; j++ {
		if i := s.order[j]; s.in.agents[i].wants(a, o, thing) {
			s.order[at], s.order[j] = s.order[j], s.order[at]
			at++
		}
	}
	return s.order[:size]
}

// wants tells whether some option of the agent uses or counts for the same
// thing, by its place among uses and covers, as option o of agent other.
func (a *agent) wants(other *agent, o int32, thing int) bool {
	if uses := other.uses[o]; thing < len(uses) {
		for _, u := range a.uses {
			if unitsOf(u, uses[thing].Capacity) != 0 {
				return true
			}
		}
		return false
	}
	cover := other.covers[o][thing-len(other.uses[o])]
	for _, c := range a.covers {
		if slices.Contains(c, cover) {
			return true
		}
	}
	return false
}

// disturb sets noisy to the best prices, each changed by up to a half.
func (s *solver) disturb() {
	for i, v := range s.d.best.capacity {
		if v > 0 {
			v *= 0.5 + s.rng.Float64()
		}
		s.noisy.capacity[i] = v
	}
	copy(s.noisy.cover, s.d.best.cover)
	copy(s.noisy.goal, s.d.best.goal)
}
