package assign

import "math"

var minusInf = math.Inf(-1)

// instance is a problem laid out for the solver: options that can never run
// are gone, forbids, absences, pins and the preference for little change are
// folded into the values, tables are flat and ordered block by block.
type instance struct {
	blocks, from int
	agents       []*agent // those searched: full, or cut down to their best options
	full         []*agent

	nCap     int
	capacity []int32 // [t*nCap+c]
	signed   []bool  // per capacity: some option gives units

	bonus  []float64 // per goal; 0 when the past has earned it
	nCover int
	cover  []float64 // bonus [t*nCover+c]
	units  []int32   // [t*nCover+c]

	base float64 // what the past is worth
}

// agent is one agent laid out for the solver. Options are renumbered; orig
// leads back.
type agent struct {
	index   int
	n       int
	orig    []int32
	compact []int32 // from the problem's option to ours, -1 if gone

	value []float64 // [t*n+o], -Inf where the option may not be
	idle  []float64 // [t], -Inf where the agent may not be idle

	class   []int32
	classes int
	topic   []int32 // dense, every option has one
	mates   [][]int32
	topics  int
	minRun  []int32
	maxRun  []int32 // 0: no limit
	start   []float64
	setup   []float64
	uses    [][]Use
	goals   [][]int32
	covers  [][]int32
	change  []float64 // [before*classes+after]; rows classes and classes+1: idle after a run, no run yet
	alike   bool      // every change of class costs swap, and none costs more than that
	swap    float64

	repeat   float64
	afresh   bool
	maxRuns  int // -1: no limit that could bind
	maxBusy  int // 0: no limit
	minBreak int // at least 1

	past past
}

// past is how an agent stands at the first block to be planned.
type past struct {
	current int   // option whose run is going on, -1 if idle
	age     int   // blocks it has lasted
	fresh   bool  // no run yet
	idle    int   // blocks of the idle spell going on after a run
	runs    int   // runs begun
	busy    int   // blocks since the last idle one
	seen    []int // how often each topic was begun
}

// compile lays the problem out. keep is taken off in every block in which an
// agent does something else than in current; nil current means no such wish.
// pinned holds for every agent and block the pinned option, unpinned where
// there is none.
func compile(p *Problem, pinned [][]int, current [][]int, keep float64) *instance {
	in := &instance{blocks: p.Blocks, from: p.From, nCap: len(p.Capacities), nCover: len(p.Covers)}
	in.capacity = make([]int32, p.Blocks*in.nCap)
	in.signed = givers(p)
	in.cover = make([]float64, p.Blocks*in.nCover)
	in.units = make([]int32, p.Blocks*in.nCover)
	for t := range p.Blocks {
		for c := range p.Capacities {
			in.capacity[t*in.nCap+c] = int32(min(p.Capacities[c].At(t), math.MaxInt32))
		}
		for c := range p.Covers {
			in.cover[t*in.nCover+c] = p.Covers[c].BonusAt(t)
			in.units[t*in.nCover+c] = int32(min(p.Covers[c].UnitsAt(t), math.MaxInt32))
		}
	}
	for _, g := range p.Goals {
		in.bonus = append(in.bonus, g.Bonus)
	}
	in.addPast(p)
	for i := range p.Agents {
		var plan []int
		if i < len(current) {
			plan = current[i]
		}
		in.agents = append(in.agents, compileAgent(p, i, in.signed, pinned[i], plan, keep))
	}
	in.dropSlack()
	for _, a := range in.agents {
		a.dropDominated()
	}
	in.full = in.agents
	return in
}

// addPast scores the past by evaluating it alone, and marks what it earned.
func (in *instance) addPast(p *Problem) {
	if p.From == 0 {
		return
	}
	q := *p
	q.Agents = make([]Agent, len(p.Agents))
	copy(q.Agents, p.Agents)
	for i := range q.Agents {
		if q.Agents[i].Idle != nil { // the future's idle blocks are not the past's
			q.Agents[i].Idle = make([]float64, p.Blocks)
			copy(q.Agents[i].Idle[:p.From], p.Agents[i].Idle)
		}
	}
	ev := Evaluate(&q, nil)
	in.base = ev.Score
	for g, earned := range ev.Earned {
		if earned {
			in.bonus[g] = 0
		}
	}
}

const unpinned = -2

func compileAgent(p *Problem, index int, gives []bool, pinned, plan []int, keep float64) *agent {
	src := &p.Agents[index]
	a := &agent{index: index, repeat: src.Repeat, afresh: src.Afresh, maxBusy: src.MaxBusy, minBreak: max(src.MinBreak, 1)}
	may := allowedBlocks(p, index, gives, pinned)
	a.past = pastOf(p, index)
	a.compact = make([]int32, len(src.Options))
	for o := range src.Options {
		a.compact[o] = -1
		if a.past.current == o || couldRun(p, src, o, may[o]) {
			a.compact[o] = int32(len(a.orig))
			a.orig = append(a.orig, int32(o))
		}
	}
	a.n = len(a.orig)
	if a.past.current >= 0 {
		a.past.current = int(a.compact[a.past.current])
	}
	a.value = make([]float64, p.Blocks*a.n)
	a.idle = make([]float64, p.Blocks)
	for t := range p.Blocks {
		if src.Idle != nil {
			a.idle[t] = src.Idle[t]
		}
		wish := unpinned
		if keep > 0 && t < len(plan) {
			wish = plan[t]
		}
		if wish != unpinned && wish != Idle {
			a.idle[t] -= keep
		}
		if pinned[t] >= 0 {
			a.idle[t] = minusInf
		}
		for b, o := range a.orig {
			v := minusInf
			if may[o][t] {
				v = src.Options[o].Value[t]
				if wish != unpinned && wish != int(o) {
					v -= keep
				}
			}
			a.value[t*a.n+b] = v
		}
	}
	a.layOut(src)
	a.countRuns(src, p.Blocks-p.From)
	a.past.seen = seenTopics(p, src, a, index)
	return a
}

// allowedBlocks tells for every option of the agent in which blocks it may
// run.
func allowedBlocks(p *Problem, index int, gives []bool, pinned []int) [][]bool {
	src := &p.Agents[index]
	may := make([][]bool, len(src.Options))
	flat := make([]bool, len(src.Options)*p.Blocks)
	for o := range src.Options {
		may[o] = flat[o*p.Blocks : (o+1)*p.Blocks]
		for t := p.From; t < p.Blocks; t++ {
			may[o][t] = src.Options[o].Allowed(t) && (pinned[t] == unpinned || pinned[t] == o)
		}
	}
	for _, s := range src.Out {
		for t := max(s.From, 0); t < min(s.To, p.Blocks); t++ {
			for o := range may {
				may[o][t] = false
			}
		}
	}
	for _, f := range p.Forbids {
		if f.Agent != index || f.Option < 0 || f.Option >= len(may) {
			continue
		}
		for t := max(f.From, 0); t < min(f.To, p.Blocks); t++ {
			may[f.Option][t] = false
		}
	}
	for o := range may {
		for _, u := range src.Options[o].Uses {
			if gives[u.Capacity] {
				continue
			}
			for t := p.From; t < p.Blocks; t++ {
				if u.Units > p.Capacities[u.Capacity].At(t) {
					may[o][t] = false
				}
			}
		}
	}
	return may
}

// givers tells for every capacity whether some option adds to it.
func givers(p *Problem) []bool {
	gives := make([]bool, len(p.Capacities))
	for i := range p.Agents {
		for j := range p.Agents[i].Options {
			for _, u := range p.Agents[i].Options[j].Uses {
				if u.Units < 0 {
					gives[u.Capacity] = true
				}
			}
		}
	}
	return gives
}

// couldRun tells whether there is room anywhere for a shortest run.
func couldRun(p *Problem, src *Agent, o int, may []bool) bool {
	need, have := src.minRun(o), 0
	if m := src.maxRun(o); m > 0 && m < need || src.MaxBusy > 0 && src.MaxBusy < need {
		return false
	}
	for t := p.From; t < p.Blocks; t++ {
		have++
		if !may[t] {
			have = 0
		}
		if have >= need {
			return true
		}
	}
	return false
}

// layOut fills the tables by option.
func (a *agent) layOut(src *Agent) {
	a.classes = src.classes()
	dense := map[int]int32{}
	for _, orig := range a.orig {
		o := &src.Options[orig]
		key := o.Topic
		if key == 0 {
			key = -1 - int(orig)
		}
		if _, ok := dense[key]; !ok {
			dense[key] = int32(len(dense))
		}
		a.topic = append(a.topic, dense[key])
		a.class = append(a.class, int32(o.Class))
		a.minRun = append(a.minRun, int32(src.minRun(int(orig))))
		a.maxRun = append(a.maxRun, int32(src.maxRun(int(orig))))
		a.start = append(a.start, src.RunCost)
		a.setup = append(a.setup, o.Setup)
		a.uses = append(a.uses, mergeUses(o.Uses))
		a.goals = append(a.goals, distinct(o.Goals))
		a.covers = append(a.covers, toInt32(o.Covers))
	}
	a.topics = len(dense)
	a.linkMates()
	a.change = make([]float64, (a.classes+2)*a.classes)
	for c := range a.classes {
		for b := range a.classes {
			if src.Change != nil {
				a.change[b*a.classes+c] = src.Change[b][c]
			}
		}
		resume := 0.0
		if src.Resume != nil {
			resume = src.Resume[c]
		}
		first := resume
		if src.First != nil {
			first = src.First[c]
		}
		a.change[a.classes*a.classes+c] = resume
		a.change[(a.classes+1)*a.classes+c] = first
	}
	a.compareChanges()
	a.dropClasses()
}

// compareChanges finds whether the cost of a change of class is the same
// between any two.
func (a *agent) compareChanges() {
	C := a.classes
	a.alike, a.swap = true, 0
	switch {
	case C > 1:
		a.swap = a.change[1]
	case C == 1:
		a.swap = a.change[0]
	}
	for p := range C {
		for c := range C {
			v := a.change[p*C+c]
			if p != c && v != a.swap || p == c && v > a.swap {
				a.alike = false
				return
			}
		}
	}
}

// goesOn tells whether a start of option o after last, which may be -1, only
// goes on with its topic.
func (a *agent) goesOn(last, o int32) bool {
	return last >= 0 && !a.afresh && a.topic[last] == a.topic[o]
}

// linkMates finds for each option those it may follow as a mere continuation.
func (a *agent) linkMates() {
	byTopic := make([][]int32, a.topics)
	for b, k := range a.topic {
		byTopic[k] = append(byTopic[k], int32(b))
	}
	a.mates = make([][]int32, a.n)
	for b, k := range a.topic {
		if len(byTopic[k]) > 1 && !a.afresh {
			a.mates[b] = byTopic[k]
		}
	}
}

// countRuns finds whether the most runs can bind at all.
func (a *agent) countRuns(src *Agent, blocks int) {
	a.maxRuns = -1
	if src.MaxRuns <= 0 {
		return
	}
	shortest := int32(math.MaxInt32)
	for _, m := range a.minRun {
		shortest = min(shortest, m)
	}
	left := max(src.MaxRuns-a.past.runs, 0)
	if len(a.minRun) > 0 && left < (blocks+int(shortest)-1)/int(shortest) {
		a.maxRuns = left
	}
}
