package assign

import "math"

// This file finds prices for what is shared, by subgradient steps on the
// Lagrangian dual. At any prices the sum of every agent's best path, plus
// what the prices are worth by themselves, is an upper bound on the score of
// any plan.

// After patience steps that gain next to nothing the steps are shortened and
// begin again from the best prices. Found by trial on generated problems of
// the design's size: gentler rules gain less for the same work. Among many
// agents more prices have to settle, so there patience is one step for every
// manyMore of them.
const (
	patience = 5
	manyMore = 4
	shorten  = 0.45
	onward   = 0.6 // share of the last direction that a step keeps
)

// dual is the state of the search for prices.
type dual struct {
	in   *instance
	r    *responder
	now  *prices
	best *prices // those of the least bound
	low  *prices // those of the least total since the last focus

	bound     float64   // least bound so far
	least     float64   // least total since the last focus
	paths     [][]leg   // the agents' paths at the present prices
	gains     []float64 // their values
	step      float64   // factor of the Polyak step
	direction *prices   // of the last step
	stale     int       // steps since the total last fell enough

	used    []int32
	covered []int32
	goals   []int32
	begun   [][]int32
}

func newPrices(in *instance) *prices {
	p := &prices{
		capacity: make([]float64, in.blocks*in.nCap), cover: make([]float64, in.blocks*in.nCover),
		goal: make([]float64, len(in.bonus)), topic: make([][]float64, len(in.agents)),
	}
	for i, a := range in.agents {
		p.topic[i] = make([]float64, a.topics)
		for k, n := range a.past.seen {
			if n > 0 {
				p.topic[i][k] = a.repeat // begun in the past: every start is a repeat
			}
		}
	}
	return p
}

func (p *prices) copyFrom(o *prices) {
	copy(p.capacity, o.capacity)
	copy(p.cover, o.cover)
	copy(p.goal, o.goal)
	for i := range p.topic {
		copy(p.topic[i], o.topic[i])
	}
}

func (p *prices) clear() {
	clear(p.capacity)
	clear(p.cover)
	clear(p.goal)
	for _, row := range p.topic {
		clear(row)
	}
}

func newDual(in *instance, r *responder) *dual {
	d := &dual{
		in: in, r: r, now: newPrices(in), best: newPrices(in), low: newPrices(in), direction: newPrices(in),
		bound: math.Inf(1), least: math.Inf(1), step: 1,
		paths: make([][]leg, len(in.agents)), gains: make([]float64, len(in.agents)),
		used: make([]int32, in.blocks*in.nCap), covered: make([]int32, in.blocks*in.nCover),
		goals: make([]int32, len(in.bonus)), begun: make([][]int32, len(in.agents)),
	}
	d.direction.clear()
	for i, a := range in.agents {
		d.begun[i] = make([]int32, a.topics)
	}
	return d
}

// evaluate finds every agent's best path at the present prices and returns
// the total that they give: a bound if all options are looked at. After each
// agent it calls then, if not nil.
func (d *dual) evaluate(then func(i int)) float64 {
	in := d.in
	clear(d.used)
	clear(d.covered)
	clear(d.goals)
	total := in.base
	for i, a := range in.agents {
		d.weigh(i, a)
		d.gains[i], d.paths[i] = d.r.finder.find(a, &d.r.task, d.paths[i][:0])
		total += d.gains[i]
		d.count(i, a)
		if then != nil {
			then(i)
		}
	}
	for i := in.from * in.nCap; i < len(d.used); i++ {
		total += d.now.capacity[i] * float64(in.capacity[i])
	}
	for i := in.from * in.nCover; i < len(d.covered); i++ {
		total += (in.cover[i] - d.now.cover[i]) * float64(in.units[i])
	}
	for g, bonus := range in.bonus {
		total += bonus - d.now.goal[g]
	}
	for i, a := range in.agents {
		for k, price := range d.now.topic[i] {
			if a.past.seen[k] == 0 {
				total += price
			}
		}
	}
	if total < d.least {
		if math.IsInf(d.least, 1) || total < d.least-1e-4*math.Abs(d.least) {
			d.stale = 0
		}
		d.least = total
		d.low.copyFrom(d.now)
	}
	if total < d.bound && d.whole() {
		d.bound = total
		d.best.copyFrom(d.now)
	}
	d.stale++
	return total
}

// whole tells whether all options are being looked at.
func (d *dual) whole() bool {
	for i, a := range d.in.agents {
		if a != d.in.full[i] {
			return false
		}
	}
	return true
}

// weigh sets the task of agent i at the present prices.
func (d *dual) weigh(i int, a *agent) {
	in, n, task := d.in, a.n, &d.r.task
	task.bits = 0
	task.w, task.idle = grow(task.w, in.blocks*n), grow(task.idle, in.blocks)
	task.start, task.begin = grow(task.start, n), grow(task.begin, n)
	copy(task.w, a.value)
	copy(task.idle, a.idle)
	for t := in.from; t < in.blocks; t++ {
		price, row := d.now.capacity[t*in.nCap:(t+1)*in.nCap], task.w[t*n:t*n+n]
		for o, uses := range a.uses {
			for _, u := range uses {
				row[o] -= price[u.Capacity] * float64(u.Units)
			}
		}
		if in.nCover == 0 {
			continue
		}
		reward := d.now.cover[t*in.nCover : (t+1)*in.nCover]
		for o, covers := range a.covers {
			for _, c := range covers {
				row[o] += reward[c]
			}
		}
	}
	for o := range n {
		task.start[o] = a.start[o]
		for _, g := range a.goals[o] {
			task.start[o] -= d.now.goal[g]
		}
		task.begin[o] = a.setup[o] + d.now.topic[i][a.topic[o]]
	}
}

// count adds up what agent i's path takes and earns.
func (d *dual) count(i int, a *agent) {
	in := d.in
	clear(d.begun[i])
	last, at := int32(a.past.current), in.from
	for _, l := range d.paths[i] {
		if int(max(l.from, int16(in.from))) > at {
			last = -1
		}
		for t := max(int(l.from), in.from); t < int(l.to); t++ {
			for _, u := range a.uses[l.option] {
				d.used[t*in.nCap+u.Capacity] += int32(u.Units)
			}
			for _, c := range a.covers[l.option] {
				d.covered[t*in.nCover+int(c)]++
			}
		}
		if l.from >= 0 {
			for _, g := range a.goals[l.option] {
				d.goals[g]++
			}
			if !a.goesOn(last, l.option) {
				d.begun[i][a.topic[l.option]]++
			}
		}
		last, at = l.option, int(l.to)
	}
}

// advance takes a step against the subgradient, as long as the distance from
// the present bound down to target asks for. It returns false when the
// subgradient is zero: then the prices are the best there are.
//
// A step keeps a share of the direction of the one before (Camerini, Fratta &
// Maffioli 1975, On improving relaxation methods by modified gradient
// techniques): prices of what agents want in turn would otherwise swing to and
// fro, which on a night of thirty instruments left the bound a percent high.
func (d *dual) advance(bound, target float64) bool {
	norm := 0.0
	d.each(func(price, dir *float64, g, upper float64) {
		if !(g > 0 && *price <= 0) && !(g < 0 && *price >= upper) {
			norm += g * g
		}
	})
	if norm == 0 {
		return false
	}
	if d.stale > max(patience, len(d.in.agents)/manyMore) {
		d.step, d.stale = d.step*shorten, 0
		d.now.copyFrom(d.low)
		return true
	}
	norm = 0
	d.each(func(price, dir *float64, g, upper float64) {
		*dir = g + onward**dir
		if *dir > 0 && *price <= 0 || *dir < 0 && *price >= upper {
			*dir = 0
		}
		norm += *dir * *dir
	})
	if norm == 0 {
		d.direction.clear() // all of it runs into limits
		return true
	}
	length := d.step * max(bound-target, 1e-9*math.Abs(bound)) / norm
	d.each(func(price, dir *float64, g, upper float64) {
		*price = min(max(*price-length**dir, 0), upper)
	})
	return true
}

// each calls f with every price that may move, the direction in which it last
// did, the subgradient of the bound in it, and its upper limit.
func (d *dual) each(f func(price, dir *float64, g, upper float64)) {
	in, now, dir := d.in, d.now, d.direction
	for i := in.from * in.nCap; i < len(d.used); i++ {
		if over := d.used[i] - in.capacity[i]; over > 0 || now.capacity[i] > 0 {
			f(&now.capacity[i], &dir.capacity[i], -float64(over), math.Inf(1))
		}
	}
	for i := in.from * in.nCover; i < len(d.covered); i++ {
		if in.cover[i] > 0 {
			f(&now.cover[i], &dir.cover[i], float64(d.covered[i]-in.units[i]), in.cover[i])
		}
	}
	for g, bonus := range in.bonus {
		if bonus > 0 {
			f(&now.goal[g], &dir.goal[g], float64(d.goals[g]-1), bonus)
		}
	}
	for i, a := range in.agents {
		if a.repeat == 0 {
			continue
		}
		for k := range now.topic[i] {
			if a.past.seen[k] == 0 && (d.begun[i][k] > 1 || now.topic[i][k] > 0) {
				f(&now.topic[i][k], &dir.topic[i][k], float64(1-d.begun[i][k]), a.repeat)
			}
		}
	}
}
