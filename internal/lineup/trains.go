package lineup

import (
	"slices"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/optics"
	"duskboard/internal/vision"
)

// addTrain takes a train in and returns its index.
func (m *Matrix) addTrain(ii int, tr optics.Train) int {
	m.Trains[ii] = append(m.Trains[ii], tr)
	m.glances[ii] = append(m.glances[ii], glanceOf(tr))
	m.sights[ii] = append(m.sights[ii], vision.Sights{})
	return len(m.Trains[ii]) - 1
}

// Including returns a matrix that holds the trains of these showings as well,
// so that whatever a coordinator asks for is judged: pruning drops eyepieces
// that another one beats for every target, and somebody may want this very
// one. It is m itself when nothing is missing, else a copy: m may be read by
// others meanwhile. What the kit cannot put together stays out.
func (m *Matrix) Including(shows ...Showing) *Matrix {
	out := m
	for _, s := range shows {
		ii := m.in.instrument(s.InstrumentID)
		if ii < 0 {
			continue
		}
		tr, ok := out.asked(ii, s)
		if !ok {
			continue
		}
		if out == m {
			out = m.extensible()
		}
		out.addTrain(ii, tr)
	}
	return out
}

// extensible is a copy to which trains can be added without touching m.
func (m *Matrix) extensible() *Matrix {
	c := *m
	c.Trains, c.glances, c.sights = slices.Clone(m.Trains), slices.Clone(m.glances), slices.Clone(m.sights)
	for ii := range c.Trains {
		c.Trains[ii], c.glances[ii], c.sights[ii] = slices.Clip(c.Trains[ii]), slices.Clip(c.glances[ii]), slices.Clip(c.sights[ii])
	}
	return &c
}

// addAsked takes in the trains of the line-up as it stands that pruning left
// out.
func (m *Matrix) addAsked(ii int) {
	for _, s := range append(slices.Clip(m.in.Pinned), m.in.Standing...) {
		if s.InstrumentID == m.in.Kit.Instruments[ii].ID {
			if tr, ok := m.asked(ii, s); ok {
				m.addTrain(ii, tr)
			}
		}
	}
}

// asked is the train of a showing if the matrix lacks it and the kit can put
// it together.
func (m *Matrix) asked(ii int, s Showing) (optics.Train, bool) {
	r := m.train(ii, s)
	if r >= 0 && s.through(m.Trains[ii][r]) {
		return optics.Train{}, false
	}
	tr, ok := m.in.built(s)
	return tr, ok && (r < 0 || s.through(tr))
}

// built finds the train of a showing among all that the kit can build, also
// those that pruning drops; false when its parts do not go together.
func (in *Input) built(s Showing) (optics.Train, bool) {
	ii := in.instrument(s.InstrumentID)
	if ii < 0 {
		return optics.Train{}, false
	}
	bare := s
	bare.FilterID = 0
	for _, tr := range optics.AllTrains(in.Kit, in.Kit.Instruments[ii]) {
		if !bare.uses(tr) {
			continue
		}
		if d := part(in.Kit.Diagonals, s.DiagonalID, func(d kit.Diagonal) int64 { return d.ID }); d != nil {
			if other, ok := tr.Through(d); ok {
				tr = other
			}
		}
		if s.FilterID == 0 {
			return tr, true
		}
		for _, f := range tr.Filtered(in.Kit, filterKinds...) {
			if s.uses(f) {
				return f, true
			}
		}
	}
	return optics.Train{}, false
}

// filterKinds are all kinds of filter.
var filterKinds = []kit.FilterKind{kit.NeutralFilter, kit.NebulaFilter, kit.OxygenFilter, kit.ColourFilter}

// filtered returns the trains made of train r and the filters of the night
// that help a kind of target, by their indices. They are made once, for those
// trains alone that some target shortlists.
func (m *Matrix) filtered(ii, r int, kind catalog.Kind) []int {
	kinds := vision.HelpfulFilters(kind)
	if len(kinds) == 0 || len(m.in.Kit.Filters) == 0 || m.Trains[ii][r].Filter != nil {
		return nil
	}
	if m.filters[ii] == nil {
		m.filters[ii] = map[int][]int{}
	}
	made, ok := m.filters[ii][r]
	if !ok {
		for _, tr := range m.Trains[ii][r].Filtered(m.in.Kit, filterKinds...) {
			made = append(made, m.addTrain(ii, tr))
		}
		m.filters[ii][r] = made
	}
	var out []int
	for _, f := range made {
		for _, k := range kinds {
			if m.Trains[ii][f].Filter.Kind == k {
				out = append(out, f)
			}
		}
	}
	return out
}

// sight is the crowd's eye at a train under a sky. While Fits runs it is kept
// for a whole range of skies; afterwards, when pages of many visitors read the
// matrix, what is not there is made for this one sky and not kept.
func (m *Matrix) sight(ii, r int, mu float64) *vision.Sight {
	s := &m.sights[ii][r]
	if !m.prepared(ii, r) || mu < brightestSky {
		if m.sealed || mu < brightestSky {
			one := vision.NewSight(m.glances[ii][r].Optics, m.in.Crowd.observer(), m.Trains[ii][r].Filter, mu)
			return &one
		}
		*s = vision.NewSights(m.glances[ii][r].Optics, m.in.Crowd.observer(), m.Trains[ii][r].Filter, m.skyLow, m.skyHigh)
		m.glances[ii][r].seen = true
	}
	return s.At(mu)
}

func (m *Matrix) prepared(ii, r int) bool { return m.glances[ii][r].seen }
