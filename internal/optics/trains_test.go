package optics_test

import (
	"fmt"
	"math"
	"testing"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// A 1.25 inch eyepiece fits a 2 inch focuser through the adapter that every
// focuser has; a 2 inch eyepiece never fits 1.25 inch.
func TestBarrels(t *testing.T) {
	small, large := eyepiece(25, 50, 21, kit.Barrel125, kit.ClassPlossl), eyepiece(40, 68, 46, kit.Barrel2, kit.ClassWide)
	for _, c := range []struct {
		focuser kit.Barrel
		e       kit.Eyepiece
		want    int
	}{{kit.Barrel125, small, 1}, {kit.Barrel125, large, 0}, {kit.Barrel2, small, 1}, {kit.Barrel2, large, 1}} {
		k := kit.Kit{Eyepieces: []kit.Eyepiece{c.e}}
		inst := tube(kit.Newtonian, 200, 1200, 0.22, c.focuser)
		if got := optics.AllTrains(k, inst); len(got) != c.want {
			t.Errorf("%s in %s: %d trains, want %d", c.e.Barrel, c.focuser, len(got), c.want)
		}
		if why := optics.NoTrain(k, inst); (why == "") != (c.want > 0) {
			t.Errorf("%s in %s: reason %q", c.e.Barrel, c.focuser, why)
		}
	}
	// A 1.25 inch diagonal or Barlow lens narrows what comes behind it.
	k := kit.Kit{Eyepieces: []kit.Eyepiece{small, large}, Diagonals: []kit.Diagonal{{Base: kit.Base{ID: 4, Count: 1}, Kind: kit.Mirror90, Barrel: kit.Barrel125}}}
	if got := optics.AllTrains(k, tube(kit.Apochromat, 100, 700, 0, kit.Barrel2)); len(got) != 1 {
		t.Errorf("behind a 1.25 inch diagonal: %d trains, want 1", len(got))
	}
	k = kit.Kit{Eyepieces: []kit.Eyepiece{small, large}, Amplifiers: []kit.Amplifier{{Base: kit.Base{ID: 5, Count: 1}, Kind: kit.Barlow, Factor: 2, Barrel: kit.Barrel125}}}
	if got := optics.AllTrains(k, tube(kit.Newtonian, 200, 1200, 0.22, kit.Barrel2)); len(got) != 3 {
		t.Errorf("with a 1.25 inch Barlow lens: %d trains, want 3", len(got))
	}
}

// Reducers fit their design, correctors Newtonians, and retired gear stays home.
func TestDesigns(t *testing.T) {
	e := eyepiece(25, 50, 21, kit.Barrel125, kit.ClassPlossl)
	k := kit.Kit{Eyepieces: []kit.Eyepiece{e}, Amplifiers: []kit.Amplifier{
		{Base: kit.Base{ID: 5, Count: 1, Assumed: []string{"OnlyFor"}}, Kind: kit.Reducer, Factor: 0.63},
		{Base: kit.Base{ID: 6, Count: 1, Assumed: []string{"OnlyFor"}}, Kind: kit.Corrector, Factor: 1, Barrel: kit.Barrel2},
		{Base: kit.Base{ID: 7, Count: 1, Retired: true}, Kind: kit.Barlow, Factor: 2, Barrel: kit.Barrel125},
	}}
	for _, c := range []struct {
		inst kit.Instrument
		want []kit.AmplifierKind
	}{
		{tube(kit.SchmidtCassegrain, 203, 2032, 0.34, kit.Barrel125), []kit.AmplifierKind{"", kit.Reducer}},
		{tube(kit.Newtonian, 254, 1200, 0.25, kit.Barrel2), []kit.AmplifierKind{"", kit.Corrector}},
		{tube(kit.Achromat, 100, 1000, 0, kit.Barrel2), []kit.AmplifierKind{""}},
	} {
		var got []kit.AmplifierKind
		for _, tr := range optics.AllTrains(k, c.inst) {
			kind := kit.AmplifierKind("")
			if tr.Amplifier != nil {
				kind = tr.Amplifier.Kind
			}
			got = append(got, kind)
		}
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s: %v, want %v", c.inst.Design, got, c.want)
		}
	}
}

// Back focus forbids only what the club measured.
func TestBackFocus(t *testing.T) {
	e := eyepiece(25, 50, 21, kit.Barrel125, kit.ClassPlossl)
	corrector := kit.Amplifier{Base: kit.Base{ID: 6, Count: 1}, Kind: kit.Corrector, Factor: 1, Barrel: kit.Barrel2, BackFocus: 60}
	inst := tube(kit.Newtonian, 254, 1200, 0.25, kit.Barrel2)
	inst.BackFocus = 35
	k := kit.Kit{Eyepieces: []kit.Eyepiece{e}, Amplifiers: []kit.Amplifier{corrector}}
	if got := optics.AllTrains(k, inst); len(got) != 1 {
		t.Errorf("35 mm of room, 60 needed: %d trains, want 1", len(got))
	}
	inst.Assumed = []string{"BackFocus"}
	if got := optics.AllTrains(k, inst); len(got) != 2 {
		t.Errorf("unknown room: %d trains, want 2", len(got))
	}
}

// A diagonal that stays with an instrument serves no other.
func TestDiagonals(t *testing.T) {
	k := kit.Kit{
		Eyepieces: []kit.Eyepiece{eyepiece(25, 50, 21, kit.Barrel125, kit.ClassPlossl)},
		Diagonals: []kit.Diagonal{
			{Base: kit.Base{ID: 21, Count: 1}, Kind: kit.Amici45, Barrel: kit.Barrel125, ForID: 2},
			{Base: kit.Base{ID: 22, Count: 1}, Kind: kit.Amici90, Barrel: kit.Barrel125},
			{Base: kit.Base{ID: 23, Count: 1}, Kind: kit.Mirror90, Barrel: kit.Barrel125},
		},
	}
	inst := tube(kit.Achromat, 100, 1000, 0, kit.Barrel125)
	if got := optics.AllTrains(k, inst); len(got) != 1 || got[0].Key().Diagonal != 23 {
		t.Errorf("loose diagonals: %v, want the plain mirror", got[0].Key())
	}
	inst.ID = 2
	if got := optics.AllTrains(k, inst); len(got) != 1 || got[0].Key().Diagonal != 21 {
		t.Errorf("own diagonal: %v, want 21", got[0].Key())
	}
}

// clubKit is 30 eyepieces and 4 amplifiers.
func clubKit() kit.Kit {
	var k kit.Kit
	id := int64(100)
	for _, set := range []struct {
		class  kit.EyepieceClass
		barrel kit.Barrel
		field  float64
		focals []float64
	}{
		{kit.ClassPlossl, kit.Barrel125, 50, []float64{6.3, 7.5, 10, 12.5, 15, 17, 20, 25, 26, 32, 40}},
		{kit.ClassKellner, kit.Barrel125, 40, []float64{9, 10, 12, 20, 25}},
		{kit.ClassWide, kit.Barrel125, 60, []float64{4, 5, 6, 9, 15}},
		{kit.ClassCorrected, kit.Barrel125, 82, []float64{4.7, 6.7, 8.8, 14}},
		{kit.ClassWide, kit.Barrel2, 68, []float64{26, 32, 38}},
		{kit.ClassCorrected, kit.Barrel2, 82, []float64{24, 30}},
	} {
		for _, f := range set.focals {
			id++
			k.Eyepieces = append(k.Eyepieces, kit.Eyepiece{Base: kit.Base{ID: id, Count: 1}, FocalLength: f, ApparentField: set.field, Barrel: set.barrel, Class: set.class})
		}
	}
	k.Amplifiers = []kit.Amplifier{
		{Base: kit.Base{ID: 1, Count: 1}, Kind: kit.Barlow, Factor: 2, Barrel: kit.Barrel125},
		{Base: kit.Base{ID: 2, Count: 1}, Kind: kit.Barlow, Factor: 3, Barrel: kit.Barrel125},
		{Base: kit.Base{ID: 3, Count: 1}, Kind: kit.Reducer, Factor: 0.63, Barrel: kit.Barrel2, OnlyFor: []kit.Design{kit.SchmidtCassegrain}},
		{Base: kit.Base{ID: 4, Count: 1}, Kind: kit.Corrector, Factor: 1.15, Barrel: kit.Barrel2, OnlyFor: []kit.Design{kit.Newtonian}},
	}
	return k
}

func clubTubes() []kit.Instrument {
	var out []kit.Instrument
	for n, i := range []kit.Instrument{
		tube(kit.Newtonian, 150, 1200, 0.2, kit.Barrel125), tube(kit.Newtonian, 203, 1200, 0.22, kit.Barrel2), tube(kit.Newtonian, 254, 1200, 0.25, kit.Barrel2), tube(kit.Newtonian, 406, 1830, 0.22, kit.Barrel2),
		tube(kit.SchmidtCassegrain, 203, 2032, 0.34, kit.Barrel125), tube(kit.SchmidtCassegrain, 280, 2800, 0.34, kit.Barrel2), tube(kit.MaksutovCassegrain, 127, 1500, 0.33, kit.Barrel125), tube(kit.MaksutovCassegrain, 180, 2700, 0.3, kit.Barrel2),
		tube(kit.Achromat, 70, 900, 0, kit.Barrel125), tube(kit.Achromat, 102, 1000, 0, kit.Barrel2), tube(kit.Apochromat, 80, 480, 0, kit.Barrel2),
		{Base: kit.Base{Count: 1}, Design: kit.Binoculars, Aperture: 80, Power: 20, FixedField: 3.2},
	} {
		i.ID = int64(n + 1)
		out = append(out, i)
	}
	return out
}

// Pruning takes away much and nothing of use: for every train dropped a kept
// one has about its power and no less of its field and edge, or it lies outside any use.
func TestPruneKeepsWhatMatters(t *testing.T) {
	k := clubKit()
	for _, inst := range clubTubes() {
		all, kept := optics.AllTrains(k, inst), optics.Trains(k, inst)
		if len(kept) == 0 || len(kept) > len(all) {
			t.Errorf("%s: %d of %d trains kept", inst.Design, len(kept), len(all))
		}
		keys := map[optics.Key]bool{}
		for _, tr := range kept {
			if keys[tr.Key()] {
				t.Errorf("%v is there twice", tr.Key())
			}
			keys[tr.Key()] = true
		}
		for _, tr := range all {
			o := tr.Static()
			if keys[tr.Key()] || o.ExitPupil > 10 || o.ExitPupil < 0.4 || o.Magnification > 450 {
				continue
			}
			covered := false
			for _, other := range kept {
				p := other.Static()
				if math.Abs(p.Magnification/o.Magnification-1) < 0.08 && p.TrueField >= o.TrueField*0.96 && p.EdgeQuality >= o.EdgeQuality*0.96 {
					covered = true
				}
			}
			if !covered {
				t.Errorf("%s %.0f mm: %s (%.0f times, %.2f degrees) was dropped and nothing stands in", inst.Design, inst.Aperture, tr, o.Magnification, o.TrueField)
			}
		}
		t.Logf("%s %.0f mm: %d of %d", inst.Design, inst.Aperture, len(kept), len(all))
	}
}

// An unknown or empty kit gives a train or a reason, never a panic or a NaN.
func TestMissingData(t *testing.T) {
	e := kit.Eyepiece{FocalLength: 25}
	for _, d := range append([]kit.Design{""}, kit.Designs...) {
		for _, aperture := range []float64{0, -5, math.NaN(), math.Inf(1), 1e-9, 200} {
			inst := kit.Instrument{Design: d, Aperture: aperture}
			for _, tr := range optics.Trains(kit.Kit{Eyepieces: []kit.Eyepiece{e, {}}}, inst) {
				o := tr.Static()
				for _, v := range []float64{o.Magnification, o.TrueField, o.ExitPupil, o.LitField, o.Dawes, o.EdgeQuality, optics.EyepieceHeight(tr.Instrument, 45)} {
					if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
						t.Errorf("%q of %v mm gives %v", d, aperture, v)
					}
				}
				if len(o.Assumed) == 0 {
					t.Errorf("%q of %v mm: defaults go unmarked", d, aperture)
				}
			}
		}
		inst := kit.Instrument{Design: d, Aperture: 100}
		if got := optics.Trains(kit.Kit{}, inst); len(got) == 0 && optics.NoTrain(kit.Kit{}, inst) == "" {
			t.Errorf("%q without eyepieces: no reason given", d)
		}
	}
}

// A filter needs a thread of its size: 1.25 inch in the eyepiece, 2 inch in
// front of the eyepiece or of the adapter that holds it (common practice).
func TestFiltered(t *testing.T) {
	k := kit.Kit{
		Eyepieces: []kit.Eyepiece{eyepiece(25, 50, 21, kit.Barrel125, kit.ClassPlossl)},
		Filters:   []kit.Filter{{Base: kit.Base{ID: 1}, Kind: kit.NebulaFilter, Barrel: kit.Barrel125}, {Base: kit.Base{ID: 2}, Kind: kit.NebulaFilter, Barrel: kit.Barrel2}, {Base: kit.Base{ID: 3}, Kind: kit.NeutralFilter, Barrel: kit.Barrel125}},
	}
	k.Eyepieces = append(k.Eyepieces, eyepiece(40, 68, 46, kit.Barrel2, kit.ClassWide))
	k.Amplifiers = []kit.Amplifier{{Base: kit.Base{ID: 5, Count: 1}, Kind: kit.Barlow, Factor: 2, Barrel: kit.Barrel125}}
	for _, c := range []struct {
		focuser  kit.Barrel
		eyepiece float64
		barlow   bool
		want     []int64
	}{
		{kit.Barrel2, 25, false, []int64{1, 2}}, // 2 inch on the nose of the adapter
		{kit.Barrel2, 25, true, []int64{1, 2}},
		{kit.Barrel2, 40, false, []int64{2}},
		{kit.Barrel125, 25, false, []int64{1}},
		{kit.Barrel125, 25, true, []int64{1}},
	} {
		for _, tr := range optics.AllTrains(k, tube(kit.Newtonian, 200, 1200, 0.22, c.focuser)) {
			if tr.Eyepiece.FocalLength != c.eyepiece || (tr.Amplifier != nil) != c.barlow {
				continue
			}
			var got []int64
			for _, f := range tr.Filtered(k, kit.NebulaFilter, kit.OxygenFilter) {
				got = append(got, f.Key().Filter)
			}
			if fmt.Sprint(got) != fmt.Sprint(c.want) {
				t.Errorf("%.0f mm in a %s focuser, Barlow lens %t: filters %v, want %v", c.eyepiece, c.focuser, c.barlow, got, c.want)
			}
		}
	}
}

func BenchmarkTrains(b *testing.B) {
	k, tubes := clubKit(), clubTubes()
	for b.Loop() {
		for _, inst := range tubes {
			optics.Trains(k, inst)
		}
	}
}
