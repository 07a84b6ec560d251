package lineup_test

import (
	"slices"
	"strings"
	"testing"

	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/optics"
)

// TestPrunedTrains: pruning drops an eyepiece when others do the same as well
// or better; a coordinator who asks for it all the same gets it judged.
func TestPrunedTrains(t *testing.T) {
	const twin = 900
	s := changed(t, func(p *night.Plan) {
		i := slices.IndexFunc(p.Kit.Eyepieces, func(e kit.Eyepiece) bool { return e.Barrel == kit.Barrel125 && e.FocalLength == 25 })
		for n := range 4 { // the last of five alike
			e := p.Kit.Eyepieces[i]
			e.ID, e.Name, e.Count = int64(twin+n), "25 once more", 1
			p.Kit.Eyepieces = append(p.Kit.Eyepieces, e)
		}
	})
	ii, x := s.pruned25(t, twin)
	if c := s.in.Check(s.m, []lineup.Showing{x}); len(c) > 0 {
		t.Errorf("a showing with an eyepiece that fits: %v", c)
	}
	v := s.in.ViewOf(s.m, x)
	if !v.Known || !(v.Fit > 0) || v.Flow.Looks == 0 {
		t.Errorf("not judged: %+v", v)
	}
	if s.m.TrainIndex(ii, x) >= 0 {
		t.Error("the matrix was changed by looking")
	}
	if !(s.in.Worth(s.m, []lineup.Showing{x}) > s.in.Worth(s.m, nil)) || !(s.in.ScoreOf(s.m, []lineup.Showing{x}) > 0) {
		t.Error("the showing is worth nothing")
	}
	// In the line-up as it stands it is judged from the beginning.
	in := *s.in
	in.Standing = []lineup.Showing{x}
	if in.Fits().TrainIndex(ii, x) < 0 {
		t.Error("the standing line-up's train is not in the matrix")
	}
	x.EyepieceID = 12345
	if c := s.in.Check(s.m, []lineup.Showing{x}); len(c) != 1 || !strings.Contains(c[0].Words, "not part of the night") {
		t.Errorf("gear that is not there: %v", c)
	}
}

// pruned25 finds an instrument that takes the eyepieces from id on, one of
// which its matrix does not hold, and puts that on a target of its line-up.
func (s *scenario) pruned25(t *testing.T, id int64) (int, lineup.Showing) {
	for _, x := range s.r.Showings {
		ii := s.in.Instrument(x.InstrumentID)
		for n := range int64(4) {
			y := x
			y.EyepieceID, y.AmplifierID, y.DiagonalID, y.FilterID = id+n, 0, 0, 0
			fits := slices.ContainsFunc(optics.AllTrains(s.in.Kit, s.in.Kit.Instruments[ii]), func(tr optics.Train) bool {
				return tr.Eyepiece != nil && tr.Eyepiece.ID == y.EyepieceID && tr.Amplifier == nil
			})
			if fits && s.m.TrainIndex(ii, y) < 0 && s.in.ViewOf(s.m, y).Fit > 0 {
				return ii, y
			}
		}
	}
	t.Fatal("nothing was pruned")
	return 0, lineup.Showing{}
}

// TestLooseDiagonals: a diagonal that the club owns once serves one instrument
// at a time; a second one of another size serves the other.
func TestLooseDiagonals(t *testing.T) {
	two := func(diagonals ...kit.Diagonal) *scenario {
		return changed(t, func(p *night.Plan) {
			p.Kit.Instruments = []kit.Instrument{
				{Base: kit.Base{ID: 1, Name: "First tube", Count: 1}, Design: kit.Apochromat, Aperture: 100, FocalLength: 700, Focuser: kit.Barrel2, Mount: kit.AltAzHand},
				{Base: kit.Base{ID: 2, Name: "Second tube", Count: 1}, Design: kit.Apochromat, Aperture: 100, FocalLength: 700, Focuser: kit.Barrel2, Mount: kit.AltAzHand},
			}
			p.Kit.Diagonals = diagonals
			for i := range p.Kit.Eyepieces {
				p.Kit.Eyepieces[i].Count = 4
			}
		})
	}
	wide := kit.Diagonal{Base: kit.Base{ID: 901, Name: "the wide diagonal", Count: 1}, Kind: kit.Mirror90, Barrel: kit.Barrel2}
	narrow := kit.Diagonal{Base: kit.Base{ID: 902, Name: "the narrow diagonal", Count: 1}, Kind: kit.Mirror90, Barrel: kit.Barrel125}

	used := func(s *scenario) map[int64]int {
		out := map[int64]int{}
		for _, x := range s.r.Showings {
			out[x.DiagonalID]++
		}
		return out
	}
	s := two(wide, narrow)
	if u := used(s); u[901] == 0 || u[902] == 0 || len(s.r.Parked) > 0 {
		t.Errorf("with two diagonals: used %v, parked %v", u, s.r.Parked)
	}
	s = two(wide)
	if !slices.ContainsFunc(s.r.Parked, func(p lineup.Parked) bool { return p.Reason == "the wide diagonal is in use elsewhere" }) {
		t.Errorf("with one diagonal for two instruments: parked %v", s.r.Parked)
	}
	// By hand at both at once it is a conflict that names the piece.
	for ti := range s.in.Targets {
		if s.m.Cell(0, ti).Best(0) > 0 && s.m.Cell(1, ti).Best(0) > 0 {
			r := s.m.Cell(0, ti).Tracks[0].Train
			both := []lineup.Showing{s.m.Show(0, ti, r, 0, 1), s.m.Show(1, ti, r, 0, 1)}
			if c := s.in.Check(s.m, both); !slices.ContainsFunc(c, func(c lineup.Conflict) bool { return strings.Contains(c.Words, "the wide diagonal is needed in") }) {
				t.Errorf("nobody says that the diagonal is there once: %v", c)
			}
			return
		}
	}
	t.Fatal("nothing to show")
}
