package crew

import (
	"math"
	"slices"
	"time"

	"duskboard/internal/assign"
)

// model is a roster as a problem of assign, with the way back: people are
// agents, posts are options, needs are covers.
type model struct {
	s       *Scene
	problem assign.Problem
	people  []Volunteer // by agent
	posts   [][]Post    // by agent and option
	pinned  [][]*Duty   // by agent and option: the pinned duty that it stands for, or nil
	kept    []Duty      // pinned duties in the order of problem.Pins

	posted []Post
	cover  map[Post][]int // covers that one who fills the post counts for
	adult  map[Post]int   // capacity: minors there, less adults
	teach  map[Post]int   // capacity: learners there, less teachers
	open   map[Post][]bool
}

// build turns a scene into a problem; pinned duties are held.
func build(s *Scene, pinned []Duty) *model {
	m := &model{s: s, cover: map[Post][]int{}, adult: map[Post]int{}, teach: map[Post]int{}, open: map[Post][]bool{}}
	m.problem.Blocks = s.blocks()
	m.addNeeds()
	fair := fairness(s)
	for _, v := range s.Volunteers {
		own := slices.DeleteFunc(slices.Clone(pinned), func(d Duty) bool { return d.VolunteerID != v.ID })
		there, present := s.Present(v)
		if present || len(own) > 0 {
			m.addPerson(v, there, own, fair)
		}
	}
	return m
}

// addNeeds makes covers and capacities of the needs, one set for each post.
func (m *model) addNeeds() {
	p, n := &m.problem, m.problem.Blocks
	for _, need := range m.s.Needs() {
		post := need.Post
		if m.cover[post] == nil {
			m.posted = append(m.posted, post)
			m.cover[post] = []int{len(p.Covers), len(p.Covers) + 1}
			p.Covers = append(p.Covers,
				assign.Cover{Name: string(post.Role), BonusPerBlock: make([]float64, n), UnitsPerBlock: make([]int, n)},
				assign.Cover{Name: "first " + string(post.Role), BonusPerBlock: make([]float64, n), UnitsPerBlock: make([]int, n)})
			m.adult[post], m.teach[post] = len(p.Capacities), len(p.Capacities)+1
			p.Capacities = append(p.Capacities, assign.Capacity{Name: "minors less adults"}, assign.Capacity{Name: "learners less teachers"})
			m.open[post] = make([]bool, n)
		}
		all, first := &p.Covers[m.cover[post][0]], &p.Covers[m.cover[post][1]]
		for t := m.block(need.From); t < m.block(need.To); t++ {
			all.BonusPerBlock[t], all.UnitsPerBlock[t] = need.Weight, need.Count
			first.BonusPerBlock[t], first.UnitsPerBlock[t] = need.First, 1
			m.open[post][t] = true
		}
	}
	if !m.s.Rules.MinorsGuarded {
		return
	}
	for _, post := range slices.Clone(m.posted) { // company for minors at instruments
		if post.Role != Operator || !m.minorAt(post) {
			continue
		}
		beside := Post{Companion, post.InstrumentID}
		m.posted = append(m.posted, beside)
		m.adult[beside], m.open[beside] = m.adult[post], m.open[post]
	}
}

// minorAt reports whether somebody under age who is there could run the post.
func (m *model) minorAt(post Post) bool {
	return slices.ContainsFunc(m.s.Volunteers, func(v Volunteer) bool {
		_, present := m.s.Present(v)
		return v.Minor && present && m.s.Hindrance(v, post) == ""
	})
}

// block is the block in which an instant lies; one on a boundary begins it.
func (m *model) block(t time.Time) int {
	n := int(t.Sub(m.s.Span().From) / max(m.s.Block, time.Nanosecond))
	return min(max(n, 0), m.problem.Blocks)
}

// addPerson adds an agent with an option for each post that they can fill.
func (m *model) addPerson(v Volunteer, there Stretch, pinned []Duty, fair map[int64]map[Role]float64) {
	s := m.s
	a := assign.Agent{Name: v.Name, MinRun: m.count(s.Rules.Least, true), MaxBusy: m.count(s.Rules.Work, false), MinBreak: m.count(s.Rules.Break, true)}
	if a.MaxBusy >= m.problem.Blocks {
		a.MaxBusy = 0
	}
	var posts []Post
	var held []*Duty
	for _, post := range m.posted {
		if s.Hindrance(v, post) != "" {
			continue
		}
		o := assign.Option{Name: string(post.Role), Topic: m.topic(post), Value: m.values(v, post, there, fair), Setup: m.walk()}
		o.Uses = m.uses(v, post)
		o.MinRun = min(a.MinRun, longest(o.Value))
		if o.MinRun == 0 {
			continue
		}
		if m.fills(v, post) {
			o.Covers = m.cover[post]
		}
		a.Options, posts, held = append(a.Options, o), append(posts, post), append(held, nil)
	}
	agent := len(m.problem.Agents)
	for i := range pinned {
		d := &pinned[i]
		o, from, to := m.pin(v, d)
		if from >= to {
			continue
		}
		a.MaxBusy = roomFor(a.MaxBusy, to-from)
		m.problem.Pins = append(m.problem.Pins, assign.Pin{Agent: agent, Option: len(a.Options), Span: assign.Span{From: from, To: to}})
		m.kept = append(m.kept, *d)
		a.Options, posts, held = append(a.Options, o), append(posts, Post{d.Role, d.InstrumentID}), append(held, d)
	}
	if len(a.Options) == 0 {
		return
	}
	m.problem.Agents = append(m.problem.Agents, a)
	m.people, m.posts, m.pinned = append(m.people, v), append(m.posts, posts), append(m.pinned, held)
}

// roomFor widens the longest stretch of work so that a pin fits: what the
// coordinator pins is kept, and the page says what rule it breaks.
func roomFor(maxBusy, pinned int) int {
	if maxBusy == 0 {
		return 0
	}
	return max(maxBusy, pinned)
}

// pin is an option for one pinned duty. It asks for neither teacher nor adult,
// so that a pin never fails for want of them; the page says what rule it breaks.
func (m *model) pin(v Volunteer, d *Duty) (o assign.Option, from, to int) {
	post := Post{d.Role, d.InstrumentID}
	from, to = m.block(d.From), m.block(d.To())
	o = assign.Option{Name: "pinned " + string(d.Role), Topic: m.topic(post), Value: make([]float64, m.problem.Blocks), MinRun: max(to-from, 1)}
	for t := range o.Value {
		if t < from || t >= to {
			o.Value[t] = math.Inf(-1)
		}
	}
	if m.fills(v, post) {
		o.Covers = m.cover[post]
	}
	for _, u := range m.uses(v, post) {
		if u.Units < 0 {
			o.Uses = append(o.Uses, u)
		}
	}
	return o, from, to
}

// topic numbers a post, from 1; a post that nobody needs is a topic of its own.
func (m *model) topic(post Post) int { return slices.Index(m.posted, post) + 1 }

// count turns a duration into blocks.
func (m *model) count(d time.Duration, roundUp bool) int {
	if m.s.Block <= 0 {
		return 1
	}
	if roundUp {
		d = up(d, m.s.Block)
	}
	return max(int(d/m.s.Block), 1)
}

// fills reports whether someone counts for the need of a post: a learner does
// not.
func (m *model) fills(v Volunteer, post Post) bool {
	if post.Role != Operator {
		return m.cover[post] != nil
	}
	i, ok := m.s.instrument(post.InstrumentID)
	return ok && rank(LevelAt(v, i)) >= rank(Alone) && m.cover[post] != nil
}

// uses is what someone takes of a post: a teacher when they learn, an adult when
// they are under age; and what they give. Places are not counted: nobody is
// worth anything beyond the need, and a short overlap lets one relieve another.
func (m *model) uses(v Volunteer, post Post) []assign.Use {
	var out []assign.Use
	take := func(capacity map[Post]int, units int) {
		if c, ok := capacity[post]; ok {
			out = append(out, assign.Use{Capacity: c, Units: units})
		}
	}
	level := Alone
	if i, ok := m.s.instrument(post.InstrumentID); ok && post.Role == Operator {
		level = LevelAt(v, i)
	}
	switch level {
	case Learning:
		take(m.teach, 1)
	case Teacher:
		take(m.teach, -1)
	}
	if m.s.Rules.MinorsGuarded {
		if v.Minor {
			take(m.adult, 1)
		} else {
			take(m.adult, -1)
		}
	}
	return out
}

// longest returns the longest run of blocks that values allow.
func longest(values []float64) int {
	best, n := 0, 0
	for _, v := range values {
		if n++; math.IsInf(v, -1) {
			n = 0
		}
		best = max(best, n)
	}
	return best
}
