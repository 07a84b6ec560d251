package web

import (
	"reflect"
	"slices"
	"testing"

	"duskboard/internal/kit"
)

// TestGearForms guards each form against its Go type: every entry is a field of
// it, every field that kit may fill can be typed, and what the form shows for a
// stored piece reads back as the same piece.
func TestGearForms(t *testing.T) {
	s := (KitStore)(nil)
	none := struct{ KitStore }{s}
	seven := refs{}
	wholeForm(t, instrumentGear(none), kit.InstrumentFields, seven,
		kit.Instrument{Base: kit.Base{Count: 1, Name: "a"}, Design: kit.SchmidtCassegrain, Aperture: 203.2, FocalLength: 2032, Obstruction: 0.34, Heater: 6, TimeConstant: 1.5, Stand: "by the gate"},
		kit.Instrument{Base: kit.Base{Count: 2, Name: "b", Notes: "two\nlines"}, Design: kit.Binoculars, Aperture: 50, Power: 10, FixedField: 6.5},
		kit.Instrument{Base: kit.Base{Count: 1, Name: "c"}, Design: kit.Achromat, Mount: kit.GermanEquatorial, Aperture: 150, FocalLength: 1200, MeridianOverrun: 30, Tracking: true},
	)
	wholeForm(t, eyepieceGear(none), kit.EyepieceFields, seven,
		kit.Eyepiece{Base: kit.Base{Count: 1, Name: "a"}, FocalLength: 24.5, ApparentField: 82, FieldStop: 35.3, Barrel: kit.Barrel2})
	wholeForm(t, amplifierGear(none), kit.AmplifierFields, seven,
		kit.Amplifier{Base: kit.Base{Count: 1, Name: "a"}, Kind: kit.Barlow, Factor: 2.5, OnlyFor: []kit.Design{kit.Newtonian, kit.Achromat}})
	wholeForm(t, diagonalGear(none), kit.DiagonalFields, seven, kit.Diagonal{Base: kit.Base{Count: 1, Name: "a"}, Kind: kit.Amici90, Barrel: kit.Barrel2})
	wholeForm(t, filterGear(none), kit.FilterFields, seven, kit.Filter{Base: kit.Base{Count: 1, Name: "a"}, Kind: kit.OxygenFilter, Transmission: 0.85})
	wholeForm(t, finderGear(none), kit.FinderFields, seven, kit.Finder{Base: kit.Base{Count: 1, Name: "a"}, Kind: kit.StraightFinder, Aperture: 50, Power: 8})
	wholeForm(t, dewGear(none), kit.DewGearFields, seven, kit.DewGear{Base: kit.Base{Count: 1, Name: "a"}, Kind: kit.Shield, MinDiameter: 200, MaxDiameter: 230, Length: 300})
	wholeForm(t, batteryGear(none), kit.BatteryFields, seven, kit.Battery{Base: kit.Base{Count: 1, Name: "a"}, Capacity: 17, Kind: kit.LiFePO4})
	wholeForm(t, stepsGear(none), kit.StepsFields, seven, kit.Steps{Base: kit.Base{Count: 1, Name: "a"}, Kind: kit.RailStool, Height: 0.45})
}

func wholeForm[T any](t *testing.T, g gear[T], fields []kit.Assumable, u refs, pieces ...T) {
	t.Helper()
	var names []string
	for _, e := range g.entries() {
		names = append(names, e.name)
		typ := reflect.TypeFor[T]()
		_, own := typ.FieldByName(e.name)
		_, sun := reflect.TypeFor[kit.SolarFilter]().FieldByName(e.name)
		if !own && !(sun && g.path == "instruments") {
			t.Errorf("%s: the form has %s, the type has not", g.path, e.name)
		}
		if e.label == "" {
			t.Errorf("%s: %s has no label", g.path, e.name)
		}
	}
	for _, f := range fields {
		if !slices.Contains(names, f.Field) {
			t.Errorf("%s: %s may be assumed, but nobody can type it", g.path, f.Field)
		}
	}
	for _, x := range pieces {
		x = g.fill(x)
		got, faults := g.parse(g.values(x, u), x, u)
		if len(faults) > 0 {
			t.Errorf("%s: a filled piece is refused: %v", g.path, faults)
		}
		if got = g.fill(got); !reflect.DeepEqual(got, x) {
			t.Errorf("%s: the form changes what it shows\n got %+v\nwant %+v", g.path, got, x)
		}
	}
}
