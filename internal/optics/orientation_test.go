package optics_test

import (
	"math"
	"testing"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

func turned(a, b float64) float64 { return math.Abs(math.Remainder(a-b, 360)) }

// Eight ways to the eye. Handedness by counting reflections; that a mirror
// diagonal gives an upright mirrored view, a roof prism an upright correct
// one and straight tubes one turned by 180 degrees is in every manual.
func TestOrientationOfTrains(t *testing.T) {
	e := eyepiece(25, 50, 21, kit.Barrel125, kit.ClassPlossl)
	straight := func(d kit.Design, f float64) kit.Instrument {
		i := tube(d, 100, f, 0.3, kit.Barrel125)
		i.EyepiecePlace = kit.Straight
		if d == kit.Achromat {
			i.Obstruction = 0
		}
		return i
	}
	with := func(kind kit.DiagonalKind) kit.Kit {
		return kit.Kit{Eyepieces: []kit.Eyepiece{e}, Diagonals: []kit.Diagonal{{Base: kit.Base{ID: 3, Count: 1}, Kind: kind, Barrel: kit.Barrel125}}}
	}
	bare := kit.Kit{Eyepieces: []kit.Eyepiece{e}}
	barlow := bare
	barlow.Amplifiers = []kit.Amplifier{{Base: kit.Base{ID: 9, Count: 1}, Kind: kit.Barlow, Factor: 2, Barrel: kit.Barrel125}}
	refractor, sct := tube(kit.Achromat, 100, 1000, 0, kit.Barrel125), tube(kit.SchmidtCassegrain, 200, 2000, 0.34, kit.Barrel125)
	for _, c := range []struct {
		name     string
		k        kit.Kit
		inst     kit.Instrument
		mirrored bool
		turn     float64
	}{
		{"refractor straight through", bare, straight(kit.Achromat, 1000), false, 180},
		{"Schmidt-Cassegrain straight through", bare, straight(kit.SchmidtCassegrain, 1000), false, 180},
		{"Newtonian", bare, tube(kit.Newtonian, 200, 1200, 0.22, kit.Barrel125), false, 180},
		{"Newtonian with Barlow lens", barlow, tube(kit.Newtonian, 200, 1200, 0.22, kit.Barrel125), false, 180},
		{"refractor with mirror diagonal", with(kit.Mirror90), refractor, true, 0},
		{"Schmidt-Cassegrain with mirror diagonal", with(kit.Mirror90), sct, true, 0},
		{"Schmidt-Cassegrain whose diagonal nobody entered", bare, sct, true, 0},
		{"refractor with roof prism at 90", with(kit.Amici90), refractor, false, 0},
		{"refractor with roof prism at 45", with(kit.Amici45), refractor, false, 0},
		{"binoculars", bare, kit.Instrument{Design: kit.Binoculars, Aperture: 50, Power: 10, FixedField: 6.5}, false, 0},
	} {
		all := optics.AllTrains(c.k, c.inst)
		if len(all) == 0 {
			t.Errorf("%s: no train", c.name)
			continue
		}
		train := all[len(all)-1]
		o := train.Orientation(0)
		if o.Mirrored != c.mirrored || o.Turn != c.turn || train.Static().Mirrored != c.mirrored {
			t.Errorf("%s: mirrored %v, turn %v, want %v, %v", c.name, o.Mirrored, o.Turn, c.mirrored, c.turn)
		}
		for q := -170.0; q <= 180; q += 10 {
			o := train.Orientation(q)
			// A star leaves the field in the west; north is a quarter turn
			// anticlockwise from it, in a mirrored view clockwise.
			want := -90.0
			if c.mirrored {
				want = 90
			}
			if turned(o.North, o.Drift+want) > 1e-9 || turned(o.East, o.Drift+180) > 1e-9 {
				t.Errorf("%s, q %v: north %v, east %v, drift %v do not fit", c.name, q, o.North, o.East, o.Drift)
			}
			if turned(o.PositionAngle(90), o.East) > 1e-9 || turned(o.PositionAngle(0), o.North) > 1e-9 {
				t.Errorf("%s, q %v: position angle 90 is not east", c.name, q)
			}
		}
	}
}

// On the meridian in the south the naked eye has north up, east left, and
// stars drift right; at phi 40, dec 20, an hour angle of 10 degrees, q is
// 21.0 (Meeus, Astronomical Algorithms, eq. 14.1).
func TestNakedEyeDirections(t *testing.T) {
	o := optics.NakedEye.Orientation(0)
	if o.North != 0 || o.East != 270 || o.Drift != 90 || o.Zenith != 0 {
		t.Errorf("north %v, east %v, drift %v", o.North, o.East, o.Drift)
	}
	near(t, "north at q 21", optics.NakedEye.Orientation(21.0).North, 21, 0)
	o = optics.NewtonianSide.Orientation(0)
	if o.North != 180 || o.East != 90 || o.Drift != 270 {
		t.Errorf("upside down: north %v, east %v, drift %v", o.North, o.East, o.Drift)
	}
	o = optics.PlainDiagonal.Orientation(0)
	if o.North != 0 || o.East != 90 || o.Drift != 270 {
		t.Errorf("mirrored: north %v, east %v, drift %v", o.North, o.East, o.Drift)
	}
	for kind, path := range map[kit.FinderKind]optics.Path{kit.UnitPower: optics.NakedEye, kit.StraightFinder: optics.RefractorStraight, kit.RightAngleFinder: optics.PlainDiagonal, kit.CorrectAngleFinder: optics.RoofDiagonal} {
		if got := optics.FinderPath(kind); got != path {
			t.Errorf("finder %s: %s, want %s", kind, got, path)
		}
	}
}

// What the club saw with its own eyes overrides the count of reflections.
func TestMirroredOverride(t *testing.T) {
	inst := tube(kit.Newtonian, 200, 1200, 0.22, kit.Barrel125)
	yes := true
	inst.ImageMirrored = &yes
	all := optics.AllTrains(kit.Kit{Eyepieces: []kit.Eyepiece{eyepiece(25, 50, 21, kit.Barrel125, kit.ClassPlossl)}}, inst)
	if o := all[0].Orientation(0); !o.Mirrored || o.Turn != 180 || o.Drift != 90 || !all[0].Static().Mirrored {
		t.Errorf("mirrored %v, turn %v, drift %v", o.Mirrored, o.Turn, o.Drift)
	}
}
