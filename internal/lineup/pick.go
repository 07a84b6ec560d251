package lineup

import "sort"

// Offer is a target or a train that a coordinator may choose by hand, with the
// fit it would have.
type Offer struct {
	Target int // index in Input.Targets
	Train  int // index in Matrix.Trains of the instrument
	Fit    float64
}

// TargetOffers lists every target for an instrument over some blocks, best
// first, the impossible ones last with a fit of 0.
func (m *Matrix) TargetOffers(ii, from, to int) []Offer {
	out := make([]Offer, len(m.in.Targets))
	for ti := range m.in.Targets {
		out[ti] = Offer{Target: ti, Fit: m.mean(m.Cell(ii, ti), from, to)}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Fit > out[j].Fit })
	return out
}

// mean is the mean over blocks of the best fit; 0 when a block is impossible.
func (m *Matrix) mean(c Cell, from, to int) float64 {
	sum := 0.0
	for b := from; b < to; b++ {
		v := c.Best(b)
		if v == 0 {
			return 0
		}
		sum += v
	}
	if to <= from {
		return 0
	}
	return sum / float64(to-from)
}

// TrainOffers lists every train of an instrument for a target over some
// blocks, best first.
func (m *Matrix) TrainOffers(ii, ti, from, to int) []Offer {
	out := make([]Offer, len(m.Trains[ii]))
	for r := range m.Trains[ii] {
		out[r] = Offer{Target: ti, Train: r}
		for b := from; b < to; b++ {
			v := m.Judge(ii, ti, r, b).Value
			if v == 0 {
				out[r].Fit = 0
				break
			}
			out[r].Fit += v / float64(to-from)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Fit > out[j].Fit })
	return out
}

// Instrument returns the index of an instrument by its id, or -1.
func (in *Input) Instrument(id int64) int { return in.instrument(id) }

// TargetIndex returns the index of a target by its id, or -1.
func (in *Input) TargetIndex(id string) int { return in.target(id) }

// TrainIndex returns the index of a showing's train among those of its
// instrument, or -1 when the kit does not build it.
func (m *Matrix) TrainIndex(ii int, s Showing) int { return m.train(ii, s) }

// BlocksOf returns the blocks that a showing covers, clipped to the public
// hours: from to to-1.
func (m *Matrix) BlocksOf(s Showing) (from, to int) { return m.span(s) }

// Show makes a showing of a train on a target over some blocks.
func (m *Matrix) Show(ii, ti, r, from, to int) Showing {
	mo := model{in: m.in, m: m}
	return mo.show(ii, option{target: ti, train: r}, from, to)
}

// ScoreOf is what a set of showings is worth, in good looks: the fits times the
// looks of every block, without bonuses and costs. It serves to compare two
// line-ups of the same night.
func (in *Input) ScoreOf(m *Matrix, shows []Showing) float64 {
	m = m.Including(shows...)
	sum := 0.0
	for _, s := range shows {
		ii, ti := in.instrument(s.InstrumentID), in.target(s.TargetID)
		if ii < 0 || ti < 0 {
			continue
		}
		r := m.train(ii, s)
		if r < 0 {
			continue
		}
		from, to := m.span(s)
		for b := from; b < to; b++ {
			sum += m.Judge(ii, ti, r, b).Value * m.looks(ii, ti, r, b)
		}
	}
	return sum
}
