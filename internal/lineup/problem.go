package lineup

import (
	"math"
	"sort"
	"time"

	"duskboard/internal/assign"
	"duskboard/internal/catalog"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// model is the line-up as a problem of assign, with the way back.
type model struct {
	in      *Input
	m       *Matrix
	problem *assign.Problem
	options [][]option        // per instrument, in the order of its agent's options
	classes []map[gearKey]int // per instrument: the gear of a train, numbered
	caps    map[gear]int      // what is shared, by its index among the capacities
	goals   map[int]int       // by target
	second  map[int]int       // cover of a target that may be in two places, by target
	left    []Left            // what could not be taken over, with the reason
	few     []bool            // instruments with too little to show, see findFew
}

// option is a target in one train at one instrument.
type option struct {
	target int // index in Input.Targets
	train  int // index in Matrix.Trains of the instrument
	fit    []float32
	worth  []float64 // good looks per block, -Inf where it is not possible
}

// Left is something that was asked for and could not be: a pin, a must-show.
type Left struct {
	InstrumentID int64
	TargetID     string
	Reason       string
}

// gear is one piece that instruments share.
type gear struct {
	kind byte // 't'arget, 'e'yepiece, 'a'mplifier, 'd'iagonal, 'f'ilter
	id   int64
}

// gearKey is what an operator swaps: eyepiece, amplifier, filter.
type gearKey [3]int64

// seatCover is the index of the bonus for an eyepiece at seated height; those
// for the mix of kinds follow it, then those of targets in two places.
const seatCover = 0

// build turns fits into a problem. Values are looks: the fit times the guests
// who get their look in the block.
func build(in *Input, m *Matrix) *model {
	n := len(in.Kit.Instruments)
	mo := &model{in: in, m: m, options: make([][]option, n), classes: make([]map[gearKey]int, n), caps: map[gear]int{}, goals: map[int]int{}, second: map[int]int{}}
	p := &assign.Problem{Blocks: len(m.Blocks)}
	mo.problem = p
	mo.findFew()
	mo.covers()
	for ti, t := range in.Targets {
		bonus := in.Rules.NewBonus * m.faces[ti].delight
		if in.Must[t.ID] {
			bonus += in.Rules.MustBonus
		}
		if bonus > 0 && m.anywhere(ti) {
			mo.goals[ti] = len(p.Goals)
			p.Goals = append(p.Goals, assign.Goal{Name: t.Name, Bonus: bonus})
		}
	}
	wanted := mo.wanted()
	least := mo.leastBlocks()
	for ii, inst := range in.Kit.Instruments {
		mo.classes[ii] = map[gearKey]int{}
		// Another eyepiece, or only another diagonal, on the same target is no
		// new showing; where enough else is up, it counts as one all the same, so
		// that nobody stays on one target by swapping gear.
		p.Agents = append(p.Agents, assign.Agent{Name: inst.Name, MinRun: least, Afresh: !mo.few[ii]})
		for ti, t := range in.Targets {
			if mo.forbidden(inst.ID, t.ID) {
				continue
			}
			for n, tr := range m.Cell(ii, ti).Tracks {
				mo.addOption(ii, ti, tr)
				if n == 0 && !mo.scarce(wanted, m.Trains[ii][tr.Train]) {
					break // nobody else wants this gear: the best it is
				}
			}
		}
	}
	mo.pins()
	for ii := range p.Agents {
		mo.finishAgent(ii)
	}
	return mo
}

// Problem is the line-up as the solver gets it, for a proof from outside
// (testdata/assign/reference).
func (in *Input) Problem(m *Matrix) assign.Problem {
	mo := build(in, m)
	return *mo.problem
}

// addOption offers a target in a train to an instrument and returns the
// option's index, or -1 when no block allows it.
func (mo *model) addOption(ii, ti int, tr Track) int {
	in, m, inst := mo.in, mo.m, mo.in.Kit.Instruments[ii]
	t := in.Targets[ti]
	o := assign.Option{Name: t.Name, Value: make([]float64, len(m.Blocks))}
	worth := make([]float64, len(m.Blocks))
	seated, open, sum, looks := 0, 0, 0.0, 0.0
	for b := range m.Blocks {
		if tr.Fit[b] <= 0 || mo.isAway(inst.ID, m.Blocks[b]) {
			o.Value[b], worth[b] = math.Inf(-1), math.Inf(-1)
			continue
		}
		n := m.looks(ii, ti, tr.Train, b)
		worth[b] = float64(tr.Fit[b]) * n
		o.Value[b] = worth[b]
		open++
		sum += worth[b]
		if c, ok := mo.second[ti]; ok {
			o.Value[b] -= mo.problem.Covers[c].BonusPerBlock[b]
		}
		looks += n
		if seatedHeight(m.reach(ii, ti, b).height) {
			seated++
		}
	}
	if open == 0 {
		return -1
	}
	o.Setup = mo.pointing(ii, t) * sum / float64(open) / in.Block.Seconds()
	o.Topic = ti + 1
	if !mo.few[ii] {
		o.MaxRun = mo.longestRun(t)
	}
	if sum > offer*looks {
		o.Covers = []int{1 + int(mixOf(t))}
		if g, ok := mo.goals[ti]; ok {
			o.Goals = []int{g}
		}
	}
	if 2*seated > open && sum > rewarding*looks {
		o.Covers = append(o.Covers, seatCover)
	}
	if c, ok := mo.second[ti]; ok {
		o.Covers = append(o.Covers, c)
	}
	train := m.Trains[ii][tr.Train]
	o.Uses = mo.uses(train, ti, t)
	o.Class = classOf(mo.classes[ii], train)
	a := &mo.problem.Agents[ii]
	a.Options = append(a.Options, o)
	mo.options[ii] = append(mo.options[ii], option{target: ti, train: tr.Train, fit: tr.Fit, worth: worth})
	return len(a.Options) - 1
}

// offer is the fit from which a target counts as another thing to see. Below
// it, it may be shown for want of a better one, but earns nothing by being new.
const offer = 0.22

// rewarding is the fit from which a target at a seated-height eyepiece counts
// for those who need one: a poor view is no offer.
const rewarding = 0.35

// uses lists what a train takes of the shared gear, and the target itself.
func (mo *model) uses(tr optics.Train, ti int, t catalog.Target) []assign.Use {
	uses := []assign.Use{mo.use(gear{'t', int64(ti)}, showAtOnce(t), t.Name)}
	for _, p := range piecesOf(tr) {
		uses = append(uses, mo.use(p.gear, p.units, p.name))
	}
	return uses
}

func (mo *model) use(g gear, units int, name string) assign.Use {
	c, ok := mo.caps[g]
	if !ok {
		c = len(mo.problem.Capacities)
		mo.caps[g] = c
		mo.problem.Capacities = append(mo.problem.Capacities, assign.Capacity{Name: name, Units: units})
	}
	return assign.Use{Capacity: c, Units: 1}
}

// showAtOnce is how many instruments may show a target at the same time: the
// Moon and bright planets two, everything else one (common practice).
func showAtOnce(t catalog.Target) int {
	if t.Kind == catalog.KindMoon || t.Kind == catalog.KindPlanet && t.Body != sky.Uranus && t.Body != sky.Neptune && t.Body != sky.Mercury {
		return 2
	}
	return 1
}

// classOf numbers the gear in a train, so that keeping the eyepiece costs
// nothing at a change of target.
func classOf(classes map[gearKey]int, tr optics.Train) int {
	var k gearKey
	if tr.Eyepiece != nil {
		k[0] = tr.Eyepiece.ID
	}
	if tr.Amplifier != nil {
		k[1] = tr.Amplifier.ID
	}
	if tr.Filter != nil {
		k[2] = tr.Filter.ID
	}
	if _, ok := classes[k]; !ok {
		classes[k] = len(classes)
	}
	return classes[k]
}

// finishAgent sets the costs of a change, in looks, from a typical block.
func (mo *model) finishAgent(ii int) {
	a, classes := &mo.problem.Agents[ii], len(mo.classes[ii])
	var values []float64
	for _, o := range mo.options[ii] {
		for _, v := range o.worth {
			if !math.IsInf(v, -1) {
				values = append(values, v)
			}
		}
	}
	if len(values) == 0 {
		return
	}
	sort.Float64s(values)
	typical := values[len(values)*3/4]
	a.RunCost = mo.runCost()
	a.Repeat = (1 - mo.in.Rules.Repeat) * typical * float64(a.MinRun)
	swap := mo.in.Rules.SwapGear / mo.in.Block.Seconds() * typical
	a.Change = make([][]float64, classes)
	for i := range a.Change {
		a.Change[i] = make([]float64, classes)
		for j := range a.Change[i] {
			if i != j {
				a.Change[i][j] = swap
			}
		}
	}
}

// pointing is the time that a change of target takes, in seconds.
func (mo *model) pointing(ii int, t catalog.Target) float64 {
	inst, r := mo.in.Kit.Instruments[ii], mo.in.Rules
	if inst.GoTo {
		return r.PointGoTo
	}
	s := r.PointHand
	if t.Magnitude > hardToFind {
		s += r.PointDim
	}
	return s
}

// runCost is the price of one more showing. It stands for the three or four
// targets of a night: a queue that has to form anew, a talk begun again. With
// few guests an instrument goes on to the next target sooner.
func (mo *model) runCost() float64 {
	c := mo.in.Rules.RunCost
	if i := len(mo.in.Kit.Instruments); i > 0 && mo.in.Guests > 0 && mo.in.Guests/i < 8 {
		return c / 2
	}
	return c
}

func (mo *model) leastBlocks() int {
	least := mo.in.Rules.LeastShowing
	if mo.in.PublicTo.Sub(mo.in.PublicFrom) < 3*least {
		least = least * 2 / 3 // a short night still shows more than one thing
	}
	n := int(math.Ceil(float64(least) / float64(max(mo.in.Block, time.Minute))))
	return min(max(n, 1), max(mo.problem.Blocks, 1))
}

func (mo *model) forbidden(inst int64, target string) bool {
	for _, f := range mo.in.Forbidden {
		if f.InstrumentID == inst && f.TargetID == target {
			return true
		}
	}
	return false
}

func (mo *model) isAway(inst int64, s Slot) bool { return mo.in.awayIn(inst, s.From, s.To) }
