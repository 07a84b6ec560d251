package assign

import (
	"context"
	"math"
	"math/rand/v2"
)

// Options set how hard the solver tries. The zero value is meant for a page
// that somebody waits for. Effort is counted in steps of the computation and
// not in seconds, so the same problem always gives the same plan.
type Options struct {
	// Work is the most cells of the dynamic programmes to compute; 0 is
	// DefaultLooks and one more for every agent times the cells of looking
	// at all options once, at least DefaultWork.
	// A cell takes about 9 ns.
	Work int64
	// Gap is good enough: the solver stops when bound and score are closer
	// than this fraction of the score. 0 is DefaultGap; negative never stops.
	Gap float64
}

// The defaults of Options.
const (
	DefaultLooks = 16
	DefaultWork  = 13_000_000
	DefaultGap   = 1e-4
)

// Plan is what the solver found.
type Plan struct {
	Choice [][]int // per agent and block: an option, or Idle
	Score  float64 // what it is worth, as Evaluate says
	Kept   float64 // penalty for changes, when re-planning; not in Score
	Bound  float64 // no plan can have a greater Score less Kept
	Gap    float64 // (Bound - (Score - Kept)) as a fraction of the latter's size; 0 is proven best

	Broken  []Violation // pins that could not be kept, with the reason
	Stopped bool        // the context ended the search early
	Work    int64       // cells computed
}

// Solve finds a plan. The error is ErrMalformed, wrapped, or nil: a problem
// that cannot be met in full gives a plan that meets what it can. When ctx
// ends, the best plan so far is returned.
func Solve(ctx context.Context, p Problem, opt Options) (Plan, error) {
	return solve(ctx, &p, opt, nil, 0)
}

// Replan is what Reoptimise starts from.
type Replan struct {
	Current [][]int // the plan as it stands, options in the problem's indices
	From    int     // blocks before it have happened as Current says
	Keep    float64 // cost of each block in which an agent departs from Current
}

// Reoptimise plans again from block r.From on, when the problem has changed
// or time has passed, and departs from the current plan only where that
// gains more than r.Keep for every block and agent. p.From and p.Past are
// replaced.
func Reoptimise(ctx context.Context, p Problem, r Replan, opt Options) (Plan, error) {
	p.From = r.From
	p.Past = make([][]int, len(p.Agents))
	current := make([][]int, len(p.Agents))
	for i := range p.Agents {
		row := make([]int, max(p.Blocks, 0))
		for t := range row {
			row[t] = Idle
			if i < len(r.Current) && t < len(r.Current[i]) {
				row[t] = r.Current[i][t]
			}
		}
		p.Past[i], current[i] = row, row
	}
	if !isCost(r.Keep) {
		return Plan{}, malformed("keep %v", r.Keep)
	}
	return solve(ctx, &p, opt, current, r.Keep)
}

// solver is one search.
type solver struct {
	ctx   context.Context
	in    *instance
	r     *responder
	d     *dual
	rng   *rand.Rand
	limit int64
	gap   float64

	best  *state
	score float64 // of best
	trial *state
	order []int
	noisy *prices
	old   []leg

	through []float64
}

func solve(ctx context.Context, p *Problem, opt Options, current [][]int, keep float64) (Plan, error) {
	if err := p.Check(); err != nil {
		return Plan{}, err
	}
	if opt.Gap == 0 {
		opt.Gap = DefaultGap
	}
	pinned, broken := settle(p)
	s, more := begin(ctx, p, pinned, current, keep)
	s.limit, s.gap = opt.Work, opt.Gap
	if s.limit <= 0 {
		s.limit = max(DefaultWork, (DefaultLooks+int64(len(p.Agents)))*s.in.look())
	}
	s.search()

	plan := Plan{Choice: s.best.choice(p), Broken: reportAll(p, pinned, append(broken, more...)), Work: s.r.finder.work}
	plan.Score = Evaluate(p, plan.Choice).Score
	plan.Kept = departure(p, plan.Choice, current, keep)
	net := plan.Score - plan.Kept
	plan.Bound = max(s.d.bound, net)
	if plan.Bound-net < 1e-9*max(1, math.Abs(net)) {
		plan.Bound = net // what is left is rounding
	}
	if plan.Bound > net {
		plan.Gap = (plan.Bound - net) / max(math.Abs(net), 1e-9)
	}
	plan.Stopped = ctx.Err() != nil
	return plan, nil
}

// look is the work of finding a best path for every agent once.
func (in *instance) look() int64 {
	total := 0
	for _, a := range in.full {
		total += (in.blocks - in.from) * a.n * ((max(a.maxRuns, 0)+1)*(a.maxBusy+1) + overhead)
	}
	return int64(total)
}

// departure is the penalty for the blocks in which choice is not as current.
func departure(p *Problem, choice, current [][]int, keep float64) float64 {
	if keep == 0 {
		return 0
	}
	n := 0
	for i, row := range choice {
		for t := p.From; t < p.Blocks; t++ {
			if row[t] != current[i][t] {
				n++
			}
		}
	}
	return keep * float64(n)
}

// begin lays the problem out and finds a first plan that keeps the pins. A
// pin that the capacities leave no room for is given up and reported.
func begin(ctx context.Context, p *Problem, pinned, current [][]int, keep float64) (*solver, []Violation) {
	var broken []Violation
	for {
		in := compile(p, pinned, current, keep)
		s := &solver{ctx: ctx, in: in, r: newResponder(in), rng: rand.New(rand.NewPCG(1, 2))}
		s.best, s.trial = newState(in), newState(in)
		v, ok := s.seed(p, pinned)
		if ok {
			s.d = newDual(in, s.r)
			s.noisy = newPrices(in)
			return s, broken
		}
		for t := v.From; t < v.To; t++ {
			pinned[v.Agent][t] = unpinned
		}
		broken = append(broken, v)
	}
}

// seed puts the agents with pins in their places. Those for whom no room is
// left go first in the next round.
func (s *solver) seed(p *Problem, pinned [][]int) (Violation, bool) {
	var order []int
	for i, row := range pinned {
		for _, o := range row {
			if o != unpinned {
				order = append(order, i)
				break
			}
		}
	}
	failed := -1
	for round := 0; round <= len(order); round++ {
		failed = -1
		for _, i := range order {
			s.reserve(pinned, i, 1)
		}
		for at, i := range order {
			s.reserve(pinned, i, -1)
			path, ok := s.r.respond(s.best, i, nil, 0)
			if !ok {
				failed = i
				for _, j := range order[at+1:] {
					s.reserve(pinned, j, -1)
				}
				copy(order[1:at+1], order[:at])
				order[0] = i
				break
			}
			s.best.put(i, path)
		}
		if failed < 0 {
			break
		}
		for _, i := range order {
			s.best.take(i)
		}
	}
	if failed >= 0 {
		return lastPin(p, pinned, failed, -1), false
	}
	return s.fillShortages(p, pinned)
}

// reserve counts what agent i's pins take, or no longer, before it has a
// path: others must not run into it.
func (s *solver) reserve(pinned [][]int, i int, sign int32) {
	a := s.in.agents[i]
	for t := s.in.from; t < s.in.blocks; t++ {
		if o := pinned[i][t]; o >= 0 && a.compact[o] >= 0 {
			for _, u := range a.uses[a.compact[o]] {
				s.best.use(t*s.in.nCap+u.Capacity, sign*int32(max(u.Units, 0)))
			}
		}
	}
}

// fillShortages lets agents without a path give what pinned ones lack.
func (s *solver) fillShortages(p *Problem, pinned [][]int) (Violation, bool) {
	for i := range s.in.agents {
		if s.best.feasible() {
			break
		}
		if len(s.best.paths[i]) == 0 {
			if path, ok := s.r.respond(s.best, i, nil, 0); ok {
				s.best.put(i, path)
			}
		}
	}
	for t := s.in.from; t < s.in.blocks; t++ {
		for c := range s.in.nCap {
			if s.best.used[t*s.in.nCap+c] <= s.in.capacity[t*s.in.nCap+c] {
				continue
			}
			for i := len(pinned) - 1; i >= 0; i-- {
				if o := pinned[i][t]; o >= 0 && unitsOf(mergeUses(p.Agents[i].Options[o].Uses), c) > 0 {
					v := lastPin(p, pinned, i, t)
					v.Capacity, v.Limit = c, p.Capacities[c].At(t)
					return v, false
				}
			}
		}
	}
	return Violation{}, true
}

// lastPin describes the last pinned span of the agent, or the one around
// block t, as given up for want of capacity.
func lastPin(p *Problem, pinned [][]int, agent, t int) Violation {
	row := pinned[agent]
	if t < 0 {
		for t = len(row) - 1; row[t] == unpinned; t-- {
		}
	}
	from, to := t, t+1
	for from > 0 && row[from-1] == row[t] {
		from--
	}
	for to < len(row) && row[to] == row[t] {
		to++
	}
	v := violation(OverCapacity, agent, row[t], from, to)
	for j, pin := range p.Pins {
		if pin.Agent == agent && pin.Option == row[t] && pin.From < to && pin.To > from {
			v.Pin = j
		}
	}
	return v
}
