package assign

// state is a plan under construction, with what it takes of the capacities
// and what it earns. Its score is the caller's score less the penalty for
// changes.
type state struct {
	in      *instance
	paths   [][]leg // per agent
	own     []float64
	used    []int32 // [t*nCap+c]
	over    int     // how many of used are more than there is
	covered []int32 // [t*nCover+c]
	goals   []int32 // runs that earn each goal
}

func newState(in *instance) *state {
	s := &state{
		in: in, paths: make([][]leg, len(in.agents)), own: make([]float64, len(in.agents)),
		used: make([]int32, in.blocks*in.nCap), covered: make([]int32, in.blocks*in.nCover),
		goals: make([]int32, len(in.bonus)),
	}
	for _, there := range in.capacity[in.from*in.nCap:] {
		if there < 0 {
			s.over++
		}
	}
	for i, a := range in.agents {
		s.own[i] = a.worth(in, nil)
	}
	return s
}

func (s *state) copyFrom(o *state) {
	for i := range s.paths {
		s.paths[i] = append(s.paths[i][:0], o.paths[i]...)
	}
	copy(s.own, o.own)
	copy(s.used, o.used)
	s.over = o.over
	copy(s.covered, o.covered)
	copy(s.goals, o.goals)
}

// put gives agent i the path; it must have none.
func (s *state) put(i int, path []leg) {
	s.paths[i] = append(s.paths[i][:0], path...)
	s.own[i] = s.in.agents[i].worth(s.in, path)
	s.count(i, 1)
}

// take takes agent i's path away, leaving it idle for the time being.
func (s *state) take(i int) {
	s.count(i, -1)
	s.paths[i] = s.paths[i][:0]
	s.own[i] = 0
}

func (s *state) count(i int, sign int32) {
	a, in := s.in.agents[i], s.in
	for _, l := range s.paths[i] {
		for t := max(int(l.from), in.from); t < int(l.to); t++ {
			for _, u := range a.uses[l.option] {
				s.use(t*in.nCap+u.Capacity, sign*int32(u.Units))
			}
			for _, c := range a.covers[l.option] {
				s.covered[t*in.nCover+int(c)] += sign
			}
		}
		if l.from >= 0 {
			for _, g := range a.goals[l.option] {
				s.goals[g] += sign
			}
		}
	}
}

// score is what the plan is worth.
func (s *state) score() float64 {
	v := s.in.base
	for _, own := range s.own {
		v += own
	}
	for g, n := range s.goals {
		if n > 0 {
			v += s.in.bonus[g]
		}
	}
	for i := s.in.from * s.in.nCover; i < len(s.covered); i++ {
		v += s.in.cover[i] * float64(min(s.covered[i], s.in.units[i]))
	}
	return v
}

// use takes units of the capacity of a block, by its place in used.
func (s *state) use(j int, units int32) {
	room := s.in.capacity[j] - s.used[j]
	s.used[j] += units
	switch {
	case room >= 0 && room < units:
		s.over++
	case room < 0 && room >= units:
		s.over--
	}
}

// feasible tells whether no capacity is exceeded.
func (s *state) feasible() bool { return s.over == 0 }

// choice writes the plan in the problem's own indices.
func (s *state) choice(p *Problem) [][]int {
	out := make([][]int, len(s.paths))
	for i, path := range s.paths {
		row := make([]int, s.in.blocks)
		for t := range row {
			row[t] = Idle
			if t < s.in.from {
				row[t] = p.Past[i][t]
			}
		}
		for _, l := range path {
			for t := max(int(l.from), s.in.from); t < int(l.to); t++ {
				row[t] = int(s.in.agents[i].orig[l.option])
			}
		}
		out[i] = row
	}
	return out
}

// worth is what a path is worth by itself: values less costs and repeats,
// without what is shared.
func (a *agent) worth(in *instance, path []leg) float64 {
	v, at := 0.0, in.from
	before := a.classes + 1 // row of change: no run yet
	last := int32(-1)
	if !a.past.fresh {
		before = a.classes
	}
	if a.past.current >= 0 {
		last = int32(a.past.current)
	}
	seen := append([]int(nil), a.past.seen...)
	for _, l := range path {
		from := max(int(l.from), in.from)
		for ; at < from; at++ {
			v += a.idle[at]
			last = -1
		}
		if l.from >= 0 {
			row := before
			if last >= 0 {
				row = int(a.class[last])
			}
			v -= a.start[l.option] + a.change[row*a.classes+int(a.class[l.option])]
			if !a.goesOn(last, l.option) {
				v -= a.setup[l.option]
				if seen[a.topic[l.option]] > 0 {
					v -= a.repeat
				}
				seen[a.topic[l.option]]++
			}
		}
		for ; at < int(l.to); at++ {
			v += a.value[at*a.n+int(l.option)]
		}
		last, before = l.option, a.classes
	}
	for ; at < in.blocks; at++ {
		v += a.idle[at]
	}
	return v
}
