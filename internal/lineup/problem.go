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
	options [][]option // per instrument, in the order of its agent's options
	left    []Left     // what could not be taken over, with the reason
}

// option is a target in one train at one instrument.
type option struct {
	target int // index in Input.Targets
	train  int // index in Matrix.Trains of the instrument
	fit    []float32
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

// build turns fits into a problem. Values are looks: the fit times the guests
// who get their look in the block.
func build(in *Input, m *Matrix) *model {
	mo := &model{in: in, m: m, options: make([][]option, len(in.Kit.Instruments))}
	p := &assign.Problem{Blocks: len(m.Blocks)}
	mo.problem = p
	caps := map[gear]int{}
	capacity := func(g gear, units int, name string) int {
		if c, ok := caps[g]; ok {
			return c
		}
		caps[g] = len(p.Capacities)
		p.Capacities = append(p.Capacities, assign.Capacity{Name: name, Units: units})
		return caps[g]
	}
	seat := len(p.Covers)
	p.Covers = append(p.Covers, assign.Cover{Name: "seated-height eyepiece", Bonus: in.Rules.SeatBonus})
	goals := map[int]int{}
	for ti, t := range in.Targets {
		bonus := in.Rules.NewBonus * m.faces[ti].delight
		if in.Must[t.ID] {
			bonus += in.Rules.MustBonus
		}
		if bonus > 0 && m.anywhere(ti) {
			goals[ti] = len(p.Goals)
			p.Goals = append(p.Goals, assign.Goal{Name: t.Name, Bonus: bonus})
		}
	}
	least := mo.leastBlocks()
	for ii, inst := range in.Kit.Instruments {
		a := assign.Agent{Name: inst.Name, MinRun: least, MaxRuns: mo.maxRuns()}
		classes := map[[3]int64]int{}
		for ti, t := range in.Targets {
			if mo.forbidden(inst.ID, t.ID) {
				continue
			}
			for _, tr := range m.Cell(ii, ti).Tracks {
				train := m.Trains[ii][tr.Train]
				o := assign.Option{Name: t.Name, Topic: ti + 1, Value: make([]float64, p.Blocks)}
				seated, open, sum := 0, 0, 0.0
				for b := range m.Blocks {
					if tr.Fit[b] <= 0 || mo.isAway(inst.ID, m.Blocks[b]) {
						o.Value[b] = math.Inf(-1)
						continue
					}
					o.Value[b] = float64(tr.Fit[b]) * m.looks(ii, ti, tr.Train, b)
					open++
					sum += o.Value[b]
					if seatedHeight(m.reach(ii, ti, b).height) {
						seated++
					}
				}
				if open == 0 {
					continue
				}
				o.Setup = mo.pointing(ii, t) * sum / float64(open) / in.Block.Seconds()
				if 2*seated > open && float64(open)*0.35*m.looks(ii, ti, tr.Train, 0) < sum {
					o.Covers = []int{seat}
				}
				if g, ok := goals[ti]; ok {
					o.Goals = []int{g}
				}
				o.Uses = mo.uses(train, ti, t, capacity)
				o.Class = classOf(classes, train)
				a.Options = append(a.Options, o)
				mo.options[ii] = append(mo.options[ii], option{target: ti, train: tr.Train, fit: tr.Fit})
			}
		}
		mo.finishAgent(&a, len(classes))
		p.Agents = append(p.Agents, a)
	}
	mo.pins()
	return mo
}

// uses lists what a train takes of the shared gear, and the target itself.
func (mo *model) uses(tr optics.Train, ti int, t catalog.Target, capacity func(gear, int, string) int) []assign.Use {
	uses := []assign.Use{{Capacity: capacity(gear{'t', int64(ti)}, showAtOnce(t), t.Name), Units: 1}}
	if e := tr.Eyepiece; e != nil {
		uses = append(uses, assign.Use{Capacity: capacity(gear{'e', e.ID}, max(e.Count, 1), e.Name), Units: 1})
	}
	if x := tr.Amplifier; x != nil {
		uses = append(uses, assign.Use{Capacity: capacity(gear{'a', x.ID}, max(x.Count, 1), x.Name), Units: 1})
	}
	if d := tr.Diagonal; d != nil && d.ForID == 0 {
		uses = append(uses, assign.Use{Capacity: capacity(gear{'d', d.ID}, max(d.Count, 1), d.Name), Units: 1})
	}
	if f := tr.Filter; f != nil {
		uses = append(uses, assign.Use{Capacity: capacity(gear{'f', f.ID}, max(f.Count, 1), f.Name), Units: 1})
	}
	return uses
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
func classOf(classes map[[3]int64]int, tr optics.Train) int {
	var k [3]int64
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
func (mo *model) finishAgent(a *assign.Agent, classes int) {
	var values []float64
	for _, o := range a.Options {
		for _, v := range o.Value {
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

func (mo *model) leastBlocks() int {
	n := int(math.Ceil(float64(mo.in.Rules.LeastShowing) / float64(max(mo.in.Block, time.Minute))))
	return min(max(n, 1), max(mo.problem.Blocks, 1))
}

// maxRuns allows more targets per instrument when few guests come.
func (mo *model) maxRuns() int {
	n := mo.in.Rules.MaxShowings
	if i := len(mo.in.Kit.Instruments); i > 0 && mo.in.Guests > 0 && mo.in.Guests/i < 8 {
		n += 2
	}
	return n
}

func (mo *model) forbidden(inst int64, target string) bool {
	for _, f := range mo.in.Forbidden {
		if f.InstrumentID == inst && f.TargetID == target {
			return true
		}
	}
	return false
}

func (mo *model) isAway(inst int64, s Slot) bool {
	for _, a := range mo.in.Away[inst] {
		if a.From.Before(s.To) && a.To.After(s.From) {
			return true
		}
	}
	return false
}
