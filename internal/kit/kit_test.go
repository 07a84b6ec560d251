package kit_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"duskboard/internal/kit"
)

func telescope(d kit.Design, aperture, focal float64) kit.Instrument {
	return kit.Instrument{Base: kit.Base{Name: "tube", Count: 1}, Design: d, Aperture: aperture, FocalLength: focal}
}

// A filled instrument of any design and size passes its own check: a default
// is never nonsense.
func TestFilledPassesCheck(t *testing.T) {
	for _, d := range kit.Designs {
		for _, aperture := range []float64{40, 70, 90, 127, 152, 203, 254, 305, 406, 600} {
			full := telescope(d, aperture, 0).Fill()
			full.Assumed = nil // have every field checked
			if faults := full.Check(); len(faults) > 0 {
				t.Errorf("%s %v mm: %v", d, aperture, faults)
			}
		}
	}
	for _, class := range kit.EyepieceClasses {
		for _, focal := range []float64{4, 10, 25, 32, 40} {
			full := kit.Eyepiece{Base: kit.Base{Name: "e", Count: 1}, FocalLength: focal, Class: class}.Fill()
			full.Assumed = nil
			if faults := full.Check(); len(faults) > 0 {
				t.Errorf("%s %v mm: %v", class, focal, faults)
			}
		}
	}
	gear := kit.Kit{
		Amplifiers: []kit.Amplifier{{Kind: kit.Barlow}, {Kind: kit.Reducer}, {Kind: kit.Corrector}},
		Diagonals:  []kit.Diagonal{{}}, Filters: []kit.Filter{{}, {Kind: kit.NeutralFilter}},
		Finders: []kit.Finder{{}, {Kind: kit.UnitPower}}, DewGear: []kit.DewGear{{}, {Kind: kit.HeaterStrip}},
		Batteries: []kit.Battery{{}}, Steps: []kit.Steps{{}, {Kind: kit.Ladder}, {Kind: kit.Chair}},
	}.Fill()
	base := kit.Base{Name: "x", Count: 1}
	for _, x := range gear.Amplifiers {
		x.Base = base
		wantSound(t, x.Check())
	}
	for _, x := range gear.Diagonals {
		x.Base = base
		wantSound(t, x.Check())
	}
	for _, x := range gear.Filters {
		x.Base = base
		wantSound(t, x.Check())
	}
	for _, x := range gear.Finders {
		x.Base = base
		wantSound(t, x.Check())
	}
	for _, x := range gear.DewGear {
		x.Base = base
		wantSound(t, x.Check())
	}
	for _, x := range gear.Batteries {
		x.Base = base
		wantSound(t, x.Check())
	}
	for _, x := range gear.Steps {
		x.Base = base
		wantSound(t, x.Check())
	}
}

func wantSound(t *testing.T, faults []kit.Fault) {
	t.Helper()
	if len(faults) > 0 {
		t.Errorf("a filled default is refused: %v", faults)
	}
}

// Fill keeps what the club typed, marks what it did not, and changes neither
// its receiver nor, when run again, its result.
func TestFillMarks(t *testing.T) {
	in := telescope(kit.SchmidtCassegrain, 203, 2032)
	in.Assumed = []string{"Obstruction"}
	in.Obstruction = 0.1 // stale: the form said "unknown"
	out := in.Fill()
	if out.Obstruction != 0.34 || out.MaxFieldStop != 27 || out.FocalLength != 2032 {
		t.Errorf("obstruction, stop, focal = %v, %v, %v, want 0.34, 27 (1.25 inch back), 2032", out.Obstruction, out.MaxFieldStop, out.FocalLength)
	}
	for _, f := range []string{"MaxFieldStop", "Mount", "Obstruction", "PivotHeight", "Thickness"} {
		if !slices.Contains(out.Assumed, f) {
			t.Errorf("Assumed %v lacks %s", out.Assumed, f)
		}
	}
	if slices.Contains(out.Assumed, "FocalLength") || slices.Contains(out.Assumed, "Aperture") {
		t.Errorf("Assumed %v names a typed field", out.Assumed)
	}
	if !slices.IsSorted(out.Assumed) || !reflect.DeepEqual(out.Fill(), out) {
		t.Errorf("Fill twice differs: %+v", out.Fill())
	}
	if !reflect.DeepEqual(in.Assumed, []string{"Obstruction"}) {
		t.Errorf("Fill changed its receiver: %v", in.Assumed)
	}
	in.Focuser = kit.Barrel2
	if got := in.Fill().MaxFieldStop; got != 38 {
		t.Errorf("203 mm Schmidt-Cassegrain with a 2 inch back: stop %v, want 38 (rear opening 1.5 in, user guide)", got)
	}
}

// Every field that Fill marks is in the list that forms show, with a label.
func TestAssumableComplete(t *testing.T) {
	list := map[string]bool{"Aperture": true} // refused by forms, filled only for safety
	for _, f := range kit.InstrumentFields {
		list[f.Field] = true
		if _, ok := reflect.TypeFor[kit.Instrument]().FieldByName(f.Field); !ok || f.Label == "" || f.Why == "" {
			t.Errorf("%+v: no such field, label or reason", f)
		}
	}
	for _, d := range kit.Designs {
		for _, f := range (kit.Instrument{Design: d, Aperture: math.NaN()}).Fill().Assumed {
			if !list[f] {
				t.Errorf("%s: %s is filled but not listed", d, f)
			}
		}
	}
}

// Facts of the trade (common practice) that the defaults must respect.
func TestDefaultsByTrade(t *testing.T) {
	unknown := func(d kit.Design, aperture, focal float64) kit.Instrument {
		i := telescope(d, aperture, focal)
		i.Assumed = []string{"ClosedTube", "NeedsCollimation", "Obstruction"}
		return i.Fill()
	}
	newtonian, cassegrain, refractor := unknown(kit.Newtonian, 254, 1200), unknown(kit.SchmidtCassegrain, 203, 2032), unknown(kit.Achromat, 102, 1000)
	if !(cassegrain.Obstruction > newtonian.Obstruction && newtonian.Obstruction > 0 && refractor.Obstruction == 0) {
		t.Errorf("obstructions %v, %v, %v: a Schmidt-Cassegrain has most, a refractor none", cassegrain.Obstruction, newtonian.Obstruction, refractor.Obstruction)
	}
	if !newtonian.NeedsCollimation || refractor.NeedsCollimation || newtonian.EyepiecePlace != kit.AtSide || refractor.EyepiecePlace != kit.BehindDiagonal {
		t.Errorf("a Newtonian is aligned and looked into from the side, a refractor neither")
	}
	if newtonian.ClosedTube || !cassegrain.ClosedTube {
		t.Errorf("a corrector plate closes a tube, a Newtonian's is open")
	}
	// 10 inch f/4.7 in a rocker box: eyepiece 48 in (1.22 m) high at the zenith ("Astronomy Hacks", O'Reilly).
	if h := newtonian.PivotHeight + newtonian.PivotToEye; math.Abs(h-1.22) > 0.05 {
		t.Errorf("10 inch zenith height %.2f m, want 1.22 within 0.05", h)
	}
	for _, c := range []struct {
		focal, field float64
		want         kit.Barrel
	}{{32, 50, kit.Barrel125}, {24, 68, kit.Barrel125}, {20, 82, kit.Barrel2}, {40, 68, kit.Barrel2}, {55, 50, kit.Barrel2}, {10, 100, kit.Barrel125}} {
		if got := (kit.Eyepiece{FocalLength: c.focal, ApparentField: c.field}).Fill().Barrel; got != c.want {
			t.Errorf("%v mm %v degrees: barrel %s, want %s", c.focal, c.field, got, c.want)
		}
	}
	if got := (kit.Eyepiece{FocalLength: 32, FieldStop: 27}).Fill().ApparentField; got != 48 {
		t.Errorf("32 mm with 27 mm stop: apparent field %v, want 48 (angle-preserving law)", got)
	}
}

// Nonsense is refused beside its own field.
func TestCheckRefuses(t *testing.T) {
	scope := func(change func(*kit.Instrument)) []kit.Fault {
		i := telescope(kit.SchmidtCassegrain, 203, 2032).Fill()
		i.Assumed = nil
		change(&i)
		return i.Check()
	}
	eyepiece := func(change func(*kit.Eyepiece)) []kit.Fault {
		e := kit.Eyepiece{Base: kit.Base{Name: "e", Count: 1}, FocalLength: 25, FieldStop: 21.2}.Fill()
		e.Assumed = nil
		change(&e)
		return e.Check()
	}
	for _, c := range []struct {
		name, field string
		got         []kit.Fault
	}{
		{"no aperture", "Aperture", scope(func(i *kit.Instrument) { i.Aperture = 0 })},
		{"aperture in metres", "Aperture", scope(func(i *kit.Instrument) { i.Aperture = 0.203 })},
		{"aperture not a number", "Aperture", scope(func(i *kit.Instrument) { i.Aperture = math.NaN() })},
		{"f/0.3", "FocalLength", scope(func(i *kit.Instrument) { i.FocalLength = 61 })},
		{"f/40", "FocalLength", scope(func(i *kit.Instrument) { i.FocalLength = 8120 })},
		{"no focal length", "FocalLength", scope(func(i *kit.Instrument) { i.FocalLength = 0 })},
		{"obstruction in mm", "Obstruction", scope(func(i *kit.Instrument) { i.Obstruction = 69 })},
		{"obstruction 0.7", "Obstruction", scope(func(i *kit.Instrument) { i.Obstruction = 0.7 })},
		{"negative obstruction", "Obstruction", scope(func(i *kit.Instrument) { i.Obstruction = -0.1 })},
		{"thick as a brick", "Thickness", scope(func(i *kit.Instrument) { i.Thickness = 400 })},
		{"unknown design", "Design", scope(func(i *kit.Instrument) { i.Design = "periscope" })},
		{"altitudes crossed", "MinAltitude", scope(func(i *kit.Instrument) { i.MinAltitude, i.MaxAltitude = 50, 40 })},
		{"solar filter of unknown make", "SolarFilter", scope(func(i *kit.Instrument) { i.SolarFilter = kit.SolarFilter{Fitted: true, FullAperture: true} })},
		{"eyepiece of 300 degrees", "ApparentField", eyepiece(func(e *kit.Eyepiece) { e.ApparentField = 300 })},
		{"eyepiece of no length", "FocalLength", eyepiece(func(e *kit.Eyepiece) { e.FocalLength = 0 })},
		{"46 mm stop in 1.25 inch", "FieldStop", eyepiece(func(e *kit.Eyepiece) { e.FieldStop, e.FocalLength = 46, 40 })},
		{"5 mm with 46 mm stop", "FieldStop", eyepiece(func(e *kit.Eyepiece) { e.FieldStop, e.FocalLength, e.Barrel = 46, 5, kit.Barrel2 })},
		{"refractor with a hole", "Obstruction", func() []kit.Fault {
			i := telescope(kit.Apochromat, 80, 480).Fill()
			i.Assumed, i.Obstruction = nil, 0.2
			return i.Check()
		}()},
		{"Barlow that reduces", "Factor", kit.Amplifier{Base: kit.Base{Name: "b", Count: 1}, Kind: kit.Barlow, Factor: 0.5}.Check()},
		{"filter for the Sun", "Transmission", kit.Filter{Base: kit.Base{Name: "s", Count: 1}, Kind: kit.NeutralFilter, Transmission: 1e-5}.Check()},
		{"10x500 binoculars", "Power", kit.Instrument{Base: kit.Base{Name: "b", Count: 1}, Design: kit.Binoculars, Aperture: 500, Power: 10, FixedField: 6, Thickness: 20, PivotHeight: 1, PivotToEye: 0.1, Weight: 1, TubeLength: 1, MaxAltitude: 60}.Check()},
	} {
		if len(c.got) != 1 || c.got[0].Field != c.field || c.got[0].Message == "" {
			t.Errorf("%s: %v, want one fault beside %s", c.name, c.got, c.field)
		}
	}
}

// A field left empty and named in Assumed is not refused.
func TestCheckSkipsAssumed(t *testing.T) {
	i := telescope(kit.Newtonian, 200, 1200)
	for _, f := range kit.InstrumentFields {
		i.Assumed = append(i.Assumed, f.Field)
	}
	if faults := i.Check(); len(faults) > 0 {
		t.Errorf("%v, want none: every missing field is assumed", faults)
	}
}
