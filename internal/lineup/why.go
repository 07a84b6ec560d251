package lineup

import (
	"fmt"
	"math"
	"time"

	"duskboard/internal/optics"
)

// Reason is the whole reasoning for one target at one instrument in one block.
type Reason struct {
	Train   optics.Train
	HasView bool // false when the kit has no train for the instrument
	Fit     Fit
	Better  string // what would make it possible, or better; "" nothing found
}

// Why explains a cell: with the best train of the block, or, when there is
// none, with the train that comes nearest.
func (m *Matrix) Why(ii, ti, b int) Reason {
	if len(m.Trains[ii]) == 0 || len(m.Blocks) == 0 {
		return Reason{Better: optics.NoTrain(m.in.Kit, m.in.Kit.Instruments[ii])}
	}
	r := m.bestTrain(ii, ti, b)
	return m.WhyWith(ii, ti, r, b)
}

// WhyWith explains a cell with a given train, by its index.
func (m *Matrix) WhyWith(ii, ti, r, b int) Reason {
	return Reason{Train: m.Trains[ii][r], HasView: true, Fit: m.Judge(ii, ti, r, b), Better: m.better(ii, ti, r, b)}
}

// Judge computes all nine factors, with their sentences.
func (m *Matrix) Judge(ii, ti, r, b int) Fit {
	g := &m.glances[ii][r]
	var f Fit
	f.Factors = [factorCount]Factor{
		Field:    fieldFactor(m.in.Targets[ti], g.field, true),
		Power:    powerFactor(m.powerInput(ii, ti, r, b), true),
		Visible:  m.visible(ii, ti, r, b, true),
		Place:    m.place(ii, ti, b, true),
		Mount:    m.mount(ii, ti, r, b, true),
		EyePlace: m.eye(ii, ti, b, true),
		State:    m.state(ii, ti, r, b, true),
		Delight:  m.delight(ii, ti, b, true),
		Safety:   m.safety(ii, ti, b, true),
	}
	f.Factors[Field].Assumed = g.assumed
	f.Factors[Power].Assumed = g.assumed
	f.Value = g.comfort
	for k, x := range f.Factors {
		f.Value *= weigh(x.Value, m.in.Rules.Weights[k])
	}
	return f
}

// bestTrain is the train with the best fit in the block; when none is
// possible, the one with the best product of what the train itself decides.
func (m *Matrix) bestTrain(ii, ti, b int) int {
	best, train := float32(0), -1
	for _, t := range m.Cell(ii, ti).Tracks {
		if t.Fit[b] > best {
			best, train = t.Fit[b], t.Train
		}
	}
	if train >= 0 {
		return train
	}
	// Nearest miss: the widest field when the field is the trouble, else the
	// train whose own factors are best.
	score := -1.0
	for r := range m.Trains[ii] {
		s := m.staticScore(ii, ti, r)
		if s == 0 {
			s = 1e-6 * m.glances[ii][r].field / (1 + m.glances[ii][r].field)
		}
		if s > score {
			score, train = s, r
		}
	}
	return train
}

// BestBlock is the block with the best fit of a cell, or -1.
func (m *Matrix) BestBlock(ii, ti int) int {
	best, at := 0.0, -1
	for b := range m.Blocks {
		if v := m.Cell(ii, ti).Best(b); v > best {
			best, at = v, b
		}
	}
	return at
}

// WhyNowhere says in one sentence why a target is not in the line-up at all.
func (m *Matrix) WhyNowhere(ti int) string {
	if ti < 0 {
		return "it is not among the targets of the night"
	}
	if len(m.Blocks) == 0 {
		return "the night has no public hours"
	}
	if len(m.in.Kit.Instruments) == 0 {
		return "the night has no instruments"
	}
	best, bi, bb := 0.0, -1, -1
	for ii := range m.in.Kit.Instruments {
		if b := m.BestBlock(ii, ti); b >= 0 && m.Cell(ii, ti).Best(b) > best {
			best, bi, bb = m.Cell(ii, ti).Best(b), ii, b
		}
	}
	if bi >= 0 {
		return fmt.Sprintf("it is possible, best in %s at %s with a fit of %.2f, but other showings earn more looks", m.in.Kit.Instruments[bi].Name, m.Blocks[bb].From.In(m.in.Sky.Zone).Format("15:04"), best)
	}
	return m.whyImpossible(ti)
}

// whyImpossible gives the veto that stands in the way in the middle of the
// night at the instrument that comes nearest.
func (m *Matrix) whyImpossible(ti int) string {
	b := m.HighestBlock(ti)
	why, most := "", -1.0
	for ii := range m.in.Kit.Instruments {
		if len(m.Trains[ii]) == 0 {
			continue
		}
		f := m.Judge(ii, ti, m.bestTrain(ii, ti, b), b)
		v, vetoed := f.Vetoed()
		if !vetoed {
			v = f.Weakest()
		}
		score := 0.0
		for _, x := range f.Factors {
			if !x.Veto {
				score += x.Value
			}
		}
		if score > most {
			most, why = score, v.Sentence
		}
	}
	if why == "" {
		return "no instrument of the night has an eyepiece"
	}
	return why
}

// HighestBlock is the block in which a target stands highest.
func (m *Matrix) HighestBlock(ti int) int {
	best, at := math.Inf(-1), 0
	for b := range m.Blocks {
		if a := m.scenes[ti][b].alt; a > best {
			best, at = a, b
		}
	}
	return at
}

// BlockAt returns the index of the block that holds an instant, or -1.
func (m *Matrix) BlockAt(t time.Time) int {
	for b, s := range m.Blocks {
		if !t.Before(s.From) && t.Before(s.To) {
			return b
		}
	}
	return -1
}

// WhyShort names, in a few words, the factor that stands in the way of a cell
// all night, judged where the target is highest.
func (m *Matrix) WhyShort(ii, ti int) string {
	if len(m.Trains[ii]) == 0 {
		return "no eyepiece fits"
	}
	if len(m.Blocks) == 0 {
		return ""
	}
	b := m.HighestBlock(ti)
	f := m.Judge(ii, ti, m.bestTrain(ii, ti, b), b)
	switch v, ok := f.Vetoed(); {
	case !ok:
		return "a poor view"
	case v.Key == Place && m.scenes[ti][b].alt <= 0:
		return "below the horizon"
	case v.Key == Place && m.scenes[ti][b].alt < m.in.Rules.least(m.in.Targets[ti]):
		return "too low"
	default:
		return shortVeto[v.Key]
	}
}

// shortVeto is what a veto is called where there is room for a few words only.
var shortVeto = [factorCount]string{
	Field: "too wide for the field", Power: "power out of its limits", Visible: "too faint for guests", Place: "not well placed",
	Mount: "drifts away too fast", EyePlace: "eyepiece too high", State: "optics not ready", Delight: "no delight", Safety: "too near the Sun",
}
