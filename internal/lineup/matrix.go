package lineup

import (
	"math"
	"slices"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
	"duskboard/internal/vision"
)

// tracksKept is how many trains are kept for each target and instrument: the
// best, and enough others for when an eyepiece is wanted in two places.
const tracksKept = 3

// shortlist is how many trains are judged block by block; the others lose on
// field and magnification alone.
const shortlist = 7

// filterTries is how many of the shortlist are tried with filters as well.
const filterTries = 3

// Matrix holds the fits of a night: targets by instruments, block by block.
type Matrix struct {
	Blocks []Slot
	Trains [][]optics.Train // per instrument, in the order of Input.Kit.Instruments

	in       *Input
	lights   []light
	wholes   []vision.Subject  // target; galaxies without their bright middle
	scenes   [][]scene         // target, block
	faces    []face            // target
	subjects []vision.Subject  // target
	sights   [][]vision.Sights // instrument, train; those that Fits needed
	splits   [][]splitting     // instrument, train*targets+target, without filtered trains
	filters  []map[int][]int   // instrument: train to its filtered trains, see filtered
	sealed   bool              // Fits is done: nothing here is written any more
	glances  [][]glance
	states   [][]glassState // instrument, block
	reaches  [][]reach      // instrument, target*blocks+block
	cells    []Cell         // instrument*targets+target
	skyLow   float64        // span of the sky's brightness behind the targets
	skyHigh  float64
}

// Cell is one target at one instrument: the best trains, best first.
type Cell struct {
	Tracks []Track
}

// Track is one train through the blocks of the night.
type Track struct {
	Train int       // index in Matrix.Trains of the instrument
	Fit   []float32 // per block, 0 to 1; 0 where it is not possible
}

// Best returns the best fit of a cell in a block.
func (c Cell) Best(b int) float64 {
	best := float32(0)
	for _, t := range c.Tracks {
		best = max(best, t.Fit[b])
	}
	return float64(best)
}

// Cell returns the cell of an instrument and a target by their indices.
func (m *Matrix) Cell(instrument, target int) Cell {
	return m.cells[instrument*len(m.in.Targets)+target]
}

// Fits judges every target in every sensible train at every instrument, block
// by block. It depends on nothing but the input.
func (in *Input) Fits() *Matrix {
	in = in.healed()
	m := &Matrix{in: in, Blocks: in.Blocks()}
	m.makeScenes()
	m.Trains = make([][]optics.Train, len(in.Kit.Instruments))
	m.glances = make([][]glance, len(in.Kit.Instruments))
	m.states = make([][]glassState, len(in.Kit.Instruments))
	m.reaches = make([][]reach, len(in.Kit.Instruments))
	m.sights = make([][]vision.Sights, len(in.Kit.Instruments))
	m.splits = make([][]splitting, len(in.Kit.Instruments))
	m.filters = make([]map[int][]int, len(in.Kit.Instruments))
	m.skyLow, m.skyHigh = m.skyRange()
	m.cells = make([]Cell, len(in.Kit.Instruments)*len(in.Targets))
	for ii, inst := range in.Kit.Instruments {
		for _, tr := range optics.Trains(in.Kit, inst) {
			m.addTrain(ii, tr)
		}
		m.addAsked(ii)
		m.states[ii] = m.statesOf(inst)
		m.splits[ii] = make([]splitting, len(m.Trains[ii])*len(in.Targets))
		m.reaches[ii] = m.reachesOf(inst)
		for ti := range in.Targets {
			m.cells[ii*len(in.Targets)+ti] = m.cell(ii, ti)
		}
	}
	m.spareDiagonals()
	m.sealed = true
	return m
}

func (m *Matrix) reachesOf(inst kit.Instrument) []reach {
	n := len(m.Blocks)
	out := make([]reach, len(m.in.Targets)*n)
	for ti := range m.in.Targets {
		for b := range n {
			if s := &m.scenes[ti][b]; s.up {
				out[ti*n+b] = m.in.Crowd.reachOf(eyepieceHeight(inst, s.alt))
			}
		}
	}
	return out
}

// reach is how guests get to the eyepiece. Targets that are not up are worked
// out when somebody asks.
func (m *Matrix) reach(ii, ti, b int) reach {
	if s := &m.scenes[ti][b]; !s.up {
		return m.in.Crowd.reachOf(eyepieceHeight(m.in.Kit.Instruments[ii], s.alt))
	}
	return m.reaches[ii][ti*len(m.Blocks)+b]
}

// cell judges one target at one instrument: first what does not depend on the
// block, for a shortlist of trains, then those block by block.
func (m *Matrix) cell(ii, ti int) Cell {
	open := false
	for b := range m.Blocks {
		if m.scenes[ti][b].up {
			open = true
			break
		}
	}
	if !open {
		return Cell{}
	}
	type ranked struct {
		train int
		score float64
	}
	var list []ranked
	for r := range m.glances[ii] {
		if m.Trains[ii][r].Filter != nil {
			continue // they join below, beside the train that they are made of
		}
		if s := m.staticScore(ii, ti, r); s > 0 {
			list = append(list, ranked{r, s})
		}
	}
	slices.SortStableFunc(list, func(a, b ranked) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return a.train - b.train
	})
	if len(list) > shortlist {
		list = list[:shortlist]
	}
	for _, l := range list[:min(len(list), filterTries)] {
		for _, r := range m.filtered(ii, l.train, m.in.Targets[ti].Kind) {
			list = append(list, ranked{r, l.score})
		}
	}
	base := m.bases(ii, ti)
	var tracks []Track
	for _, l := range list {
		if tr, any := m.follow(ii, ti, l.train, base); any {
			tracks = append(tracks, tr)
		}
	}
	slices.SortStableFunc(tracks, func(a, b Track) int {
		switch x, y := total(a.Fit), total(b.Fit); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	if len(tracks) > tracksKept {
		tracks = tracks[:tracksKept]
	}
	return Cell{tracks}
}

// follow judges one train block by block; base is what does not depend on it.
// any is false when no block reaches leastFit.
func (m *Matrix) follow(ii, ti, r int, base []float64) (tr Track, any bool) {
	tr = Track{Train: r, Fit: make([]float32, len(m.Blocks))}
	for b := range m.Blocks {
		if base[b] == 0 {
			continue
		}
		v := float32(base[b] * m.trainValue(ii, ti, r, b))
		if v >= leastFit {
			tr.Fit[b] = v
			any = true
		}
	}
	return tr, any
}

// track judges a train that a coordinator chose by hand.
func (m *Matrix) track(ii, ti, r int) Track {
	tr, _ := m.follow(ii, ti, r, m.bases(ii, ti))
	return tr
}

// anywhere reports whether any instrument can show a target at all.
func (m *Matrix) anywhere(ti int) bool {
	for ii := range m.in.Kit.Instruments {
		if len(m.Cell(ii, ti).Tracks) > 0 {
			return true
		}
	}
	return false
}

// leastFit is the fit below which a view is not worth a place in the queue.
const leastFit = 0.08

func total(fs []float32) float64 {
	s := 0.0
	for _, f := range fs {
		s += float64(f)
	}
	return s
}

// staticScore judges field and magnification, which no block changes much.
func (m *Matrix) staticScore(ii, ti, r int) float64 {
	t, g := m.in.Targets[ti], &m.glances[ii][r]
	field := fieldFactor(t, g.field, false)
	if field.Value == 0 {
		return 0
	}
	in := m.powerInput(ii, ti, r, -1)
	power := powerFactor(in, false)
	return weigh(field.Value, m.in.Rules.Weights[Field]) * weigh(power.Value, m.in.Rules.Weights[Power]) * g.comfort
}

// bases is the product of the factors that do not depend on the train.
func (m *Matrix) bases(ii, ti int) []float64 {
	out := make([]float64, len(m.Blocks))
	for b := range m.Blocks {
		if !m.scenes[ti][b].up {
			continue
		}
		v := 1.0
		for _, f := range [...]Factor{m.place(ii, ti, b, false), m.safety(ii, ti, b, false), m.eye(ii, ti, b, false), m.delight(ii, ti, b, false)} {
			v *= weigh(f.Value, m.in.Rules.Weights[f.Key])
			if v == 0 {
				break
			}
		}
		out[b] = v
	}
	return out
}

// trainValue is the product of the factors that depend on train and block.
func (m *Matrix) trainValue(ii, ti, r, b int) float64 {
	w := &m.in.Rules.Weights
	g := &m.glances[ii][r]
	v := g.comfort
	if f := m.mount(ii, ti, r, b, false); f.Value == 0 {
		return 0
	} else {
		v *= weigh(f.Value, w[Mount])
	}
	v *= weigh(fieldFactor(m.in.Targets[ti], g.field, false).Value, w[Field])
	v *= weigh(powerFactor(m.powerInput(ii, ti, r, b), false).Value, w[Power])
	if v < leastFit/2 {
		return 0
	}
	v *= weigh(m.visible(ii, ti, r, b, false).Value, w[Visible])
	if v == 0 {
		return 0
	}
	return v * weigh(m.state(ii, ti, r, b, false).Value, w[State])
}

// weigh raises a factor to its weight.
func weigh(v, w float64) float64 {
	if w == 1 || v == 1 || v == 0 {
		return v
	}
	return math.Pow(v, w)
}

// looks is how many guests get their look in a block.
func (m *Matrix) looks(ii, ti, r, b int) float64 {
	inst, t := m.in.Kit.Instruments[ii], m.in.Targets[ti]
	s := m.scenes[ti][b]
	slow := lookTime(t, inst, m.in.Crowd, m.drift(ii, ti, r, s.dec), m.reach(ii, ti, b).adult)
	return m.Blocks[b].To.Sub(m.Blocks[b].From).Seconds() / slow
}

// span returns the blocks that a showing covers, clipped to the night: from to
// to-1.
func (m *Matrix) span(s Showing) (from, to int) {
	for from < len(m.Blocks) && !m.Blocks[from].Middle().After(s.From) {
		from++
	}
	to = from
	for to < len(m.Blocks) && m.Blocks[to].Middle().Before(s.To()) {
		to++
	}
	return from, to
}
