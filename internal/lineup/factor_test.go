package lineup_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

func target(t *testing.T, id string) catalog.Target {
	t.Helper()
	x, ok := catalog.Default().ByID(id)
	if !ok {
		t.Fatalf("the catalogue has no %s", id)
	}
	return x
}

// judged is a factor's name, value, veto and a word of its sentence.
type judged struct {
	name    string
	got     lineup.Factor
	veto    bool
	low, hi float64
	says    string
}

func check(t *testing.T, cases []judged) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if c.got.Veto != c.veto || c.got.Value < c.low-1e-9 || c.got.Value > c.hi+1e-9 {
				t.Errorf("value %.3f, veto %t; want %.2f to %.2f, veto %t: %s", c.got.Value, c.got.Veto, c.low, c.hi, c.veto, c.got.Sentence)
			}
			if !strings.Contains(c.got.Sentence, c.says) || c.got.Sentence == "" {
				t.Errorf("%q does not say %q", c.got.Sentence, c.says)
			}
			if c.veto != (c.got.Value == 0) {
				t.Error("a veto is a value of 0, and nothing else is")
			}
		})
	}
}

// TestFieldFactor: fields and sizes of numbered scenario 1 and of issue facts
// (common practice): 45.7', 77.8', 193', 4.6 degrees.
func TestFieldFactor(t *testing.T) {
	m45, m31, moon, jup := target(t, "m45"), target(t, "m31"), target(t, "moon"), target(t, "jupiter")
	f := func(x catalog.Target, field float64) lineup.Factor { return lineup.FieldFactor(x, field, true) }
	check(t, []judged{
		{"Pleiades in 45.7'", f(m45, 45.7), true, 0, 0, "does not fit"},
		{"Pleiades in 77.8'", f(m45, 77.8), true, 0, 0, "78′"},
		{"Pleiades in 193'", f(m45, 193), false, 0.95, 1, "fits with room"},
		{"Pleiades in 4.6 degrees", f(m45, 276), false, 0.95, 1, "fits"},
		{"Andromeda in 47.4' (0.79 degree)", f(m31, 47.4), true, 0, 0, "does not fit"},
		{"Andromeda in 4.6 degrees", f(m31, 276), false, 0.5, 1, "fits"},
		{"whole Moon", f(moon, 60), false, 1, 1, "whole Moon"},
		{"part of the Moon", f(moon, 20), false, 0.5, 0.9, "a part of the Moon"},
		{"a planet does not mind", f(jup, 8), false, 1, 1, "Small enough"},
	})
	for field, last := 30.0, -1.0; field < 170; field += 5 {
		if v := lineup.FieldFactor(m45, field, false).Value; v < last {
			t.Errorf("Pleiades: %.0f' is worse (%.3f) than a smaller field (%.3f)", field, v, last)
		} else {
			last = v
		}
	}
}

// TestPowerFactor: numbered scenario 21 and the limits of package optics.
func TestPowerFactor(t *testing.T) {
	cluster := lineup.Wishes(target(t, "m37"), 0)
	jup := lineup.Wishes(target(t, "jupiter"), 44)
	moon := lineup.Wishes(target(t, "moon"), 1865)
	f := func(p lineup.PowerInput) lineup.Factor { return lineup.PowerFactor(p, true) }
	check(t, []judged{
		{"200 mm f/4 with 40 mm: 10 mm", f(lineup.MakePower(20, 200, 6, 2, 0, cluster)), true, 0, 0, "light is lost"},
		{"70 mm at 225x", f(lineup.MakePower(225, 70, 6, 1, 0, jup)), true, 0, 0, "140×"},
		{"250 mm at 30x: 8.3 mm, warned", f(lineup.MakePower(30, 250, 6, 2, 0.25, cluster)), false, 0.1, 0.6, "8.3 mm"},
		{"Jupiter at 150x", f(lineup.MakePower(150, 203, 6, 1.5, 0.34, jup)), false, 0.95, 1, "suits"},
		{"Jupiter at 40x", f(lineup.MakePower(40, 203, 6, 1.5, 0.34, jup)), false, 0.05, 0.5, "low for it"},
		{"Jupiter at 300x in 2.5 arcseconds", f(lineup.MakePower(300, 300, 6, 2.5, 0.3, jup)), true, 0, 0, "Tonight's air"},
		{"Jupiter at 200x in 2.5 arcseconds", f(lineup.MakePower(200, 300, 6, 2.5, 0.3, jup)), false, 0.3, 0.8, "blurs"},
		{"Moon, 203 mm obstructed 34 % at 46x and pupil 3", f(lineup.MakePower(46.5, 203, 3, 2, 0.34, moon)), false, 0.9, 1, "suits"},
		{"Moon, the same at 40x: warned", f(lineup.MakePower(40, 203, 3, 2, 0.34, moon)), false, 0.3, 0.85, "shadow"},
		{"Moon, the same at 30x: refused", f(lineup.MakePower(30, 203, 3, 2, 0.34, moon)), true, 0, 0, "black spot"},
		{"Moon, unobstructed at 40x: fine", f(lineup.MakePower(40, 203, 3, 2, 0, moon)), false, 0.95, 1, "suits"},
	})
	last := 2.0
	for p := 190.0; p < 400; p += 10 {
		v := lineup.PowerFactor(lineup.MakePower(p, 300, 6, 2, 0.3, jup), false).Value
		if v > last+1e-9 {
			t.Errorf("more power past the limits is better: %.0fx %.3f after %.3f", p, v, last)
		}
		last = v
	}
}

// TestMountFactor: numbered scenario 3. Jupiter crosses 13' in 54 s, 36' in
// 150 s.
func TestMountFactor(t *testing.T) {
	box := kit.Instrument{Base: kit.Base{Name: "Box"}, Mount: kit.RockerBox}
	driven := kit.Instrument{Base: kit.Base{Name: "Driven"}, Tracking: true}
	f := func(i kit.Instrument, drift float64) lineup.Factor { return lineup.MountFactor(i, drift, 50, -2, true) }
	check(t, []judged{
		{"54 s", f(box, 54), true, 0, 0, "does not follow"},
		{"150 s", f(box, 150), false, 0.5, 0.95, "nudge"},
		{"driven", f(driven, 54), false, 1, 1, "follows the sky"},
		{"ten minutes", f(box, 600), false, 0.9, 1, "nudge"},
	})
	last := -1.0
	for d := 40.0; d < 600; d += 10 {
		v := lineup.MountFactor(box, d, 50, 5, false).Value
		if v < last {
			t.Errorf("a slower drift is worse at %.0f s", d)
		}
		last = v
	}
}

// TestPlaceFactor: outline, least altitude, the mount's reach, and the zenith.
func TestPlaceFactor(t *testing.T) {
	m13 := target(t, "m13")
	f := func(alt, horizon float64, hidden bool) lineup.Factor {
		return lineup.PlaceFactor(m13, lineup.MakePlace(alt, horizon, 25, 5, 80, hidden), true)
	}
	check(t, []judged{
		{"below the horizon", f(-3, 0, false), true, 0, 0, "below the horizon"},
		{"behind trees of 25 degrees", f(24.3, 25, true), true, 0, 0, "outline"},
		{"too low for its kind", f(24.9, 0, false), true, 0, 0, "25°"},
		{"just high enough", f(25, 0, false), false, 0.5, 0.6, "low"},
		{"high", f(60, 0, false), false, 1, 1, "clear of the outline"},
		{"zenith zone", f(81, 0, false), true, 0, 0, "zenith"},
	})
}

// TestNearTheZenith: a tube pushed by hand turns hard sideways when it points
// high, since the lever arm shrinks as the cosine of the altitude: four times
// as hard at 75 degrees, six at 80. A driven mount does not mind (common
// practice).
func TestNearTheZenith(t *testing.T) {
	m13 := target(t, "m13")
	f := func(alt float64, m kit.Mount) lineup.Factor {
		return lineup.PlaceFactor(m13, lineup.MakePlace(alt, 0, 25, 5, 90, false).OnMount(m), true)
	}
	check(t, []judged{
		{"by hand below the zone", f(74, kit.RockerBox), false, 1, 1, "clear of the outline"},
		{"by hand at 76", f(76, kit.RockerBox), false, 0.9, 0.99, "four times as hard"},
		{"by hand at 82", f(82, kit.AltAzHand), false, 0.6, 0.9, "hardly turns sideways"},
		{"driven at 82", f(82, kit.GermanEquatorial), false, 1, 1, "clear of the outline"},
	})
}

// TestTurnsOver: a German equatorial changes sides once, when the hour angle
// has grown by what it tracks past the meridian: 7.5 degrees are 30 minutes.
func TestTurnsOver(t *testing.T) {
	block := 15 * 15.0411 / 60 // degrees of hour angle in a quarter of an hour
	for _, overrun := range []float64{0, 20, 30, 100} {
		turns := 0.0
		for from := -12 * block; from < 12*block; from += block {
			if lineup.TurnsOver(from, from+block, overrun) {
				turns++
				if due := overrun * 15.0411 / 60; due <= from || due > from+block+1e-9 {
					t.Errorf("overrun %v min: turned over between %.2f and %.2f degrees", overrun, from, from+block)
				}
			}
		}
		if turns != 1 {
			t.Errorf("overrun %v min: turned over %v times", overrun, turns)
		}
	}
	// Below the pole the hour angle jumps from 180 to -180: nothing turns.
	if lineup.TurnsOver(-179, -175, 0) || lineup.TurnsOver(179, -177, 0) {
		t.Error("turned over below the pole")
	}
}

// TestSafetyFactor guards the eyes: no number may change any of it.
func TestSafetyFactor(t *testing.T) {
	sun, mercury, moon := target(t, "sun"), target(t, "mercury"), target(t, "moon")
	bare := kit.Instrument{Base: kit.Base{Name: "Tube"}}
	with := func(full, certified, fitted, inspected bool) kit.Instrument {
		i := bare
		i.SolarFilter = kit.SolarFilter{FullAperture: full, Certified: certified, Fitted: fitted}
		if inspected {
			i.SolarFilter.Inspected = time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)
		}
		return i
	}
	f := func(x catalog.Target, i kit.Instrument, sunAlt, distance float64) lineup.Factor {
		return lineup.SafetyFactor(x, i, sunAlt, distance, 20, true)
	}
	check(t, []judged{
		{"Sun without a filter", f(sun, bare, 30, 0), true, 0, 0, "blinds"},
		{"Sun, filter not fitted", f(sun, with(true, true, false, true), 30, 0), true, 0, 0, "blinds"},
		{"Sun, eyepiece filter", f(sun, with(false, true, true, true), 30, 0), true, 0, 0, "whole front"},
		{"Sun, not certified", f(sun, with(true, false, true, true), 30, 0), true, 0, 0, "certified"},
		{"Sun, never inspected", f(sun, with(true, true, true, false), 30, 0), true, 0, 0, "inspection"},
		{"Sun, all in order", f(sun, with(true, true, true, true), 30, 0), false, 1, 1, "cap the finder"},
		{"Mercury 9.8 degrees from the Sun, up", f(mercury, bare, 2.8, 9.8), true, 0, 0, "Wait until it has set"},
		{"Mercury, Sun down", f(mercury, bare, -3, 9.8), false, 1, 1, "Sun is down"},
		{"Moon 86 degrees off", f(moon, bare, 2.8, 86), false, 1, 1, "86°"},
		{"at the very bound", f(moon, bare, 2.8, 20), false, 1, 1, "20°"},
		{"Moon through a solar filter", f(moon, with(true, true, true, true), 5, 90), true, 0, 0, "nothing else"},
	})
}

// TestStateFactor: warm glass, dew, alignment and the edge of the field.
func TestStateFactor(t *testing.T) {
	f := func(g lineup.Glass) lineup.Factor { return lineup.StateFactor(g, 150, true) }
	check(t, []judged{
		{"cool and dry", f(lineup.MakeGlass(0.3, 2, false, false, true, 1, true)), false, 1, 1, "Cooled down and dry"},
		{"at the limit", f(lineup.MakeGlass(2, 2, false, false, true, 1, true)), false, 1, 1, "Cooled"},
		{"warm", f(lineup.MakeGlass(5, 2, false, false, true, 1, true)), false, 0.3, 0.7, "warmer than the air"},
		{"dew", f(lineup.MakeGlass(0, 2, true, false, true, 1, true)), false, 0.2, 0.4, "Dew is likely on the corrector plate"},
		{"perhaps dew", f(lineup.MakeGlass(0, 2, false, true, true, 1, true)), false, 0.7, 0.9, "possible"},
		{"not aligned", f(lineup.MakeGlass(0, 2, false, false, false, 1, true)), true, 0, 0, "aligned"},
		{"coma on a full field", f(lineup.MakeGlass(0, 2, false, false, true, 9, true)), false, 0.5, 0.9, "drawn out"},
		{"coma on a small target", f(lineup.MakeGlass(0, 2, false, false, true, 9, false)), false, 1, 1, "dry"},
	})
}

// TestEyeFactor: heights of numbered scenarios 17 and 19.
func TestEyeFactor(t *testing.T) {
	family := lineup.Crowd{EyeHeight: 1.55, ChildHeight: 1.05, Slow: 1}
	f := func(m float64, ladders bool) lineup.Factor {
		return lineup.EyeFactor(lineup.ReachOf(family, m), ladders, true)
	}
	check(t, []judged{
		{"0.85 m: kneel", f(0.85, true), false, 0.5, 0.99, "kneel or sit"},
		{"1.05 m", f(1.05, true), false, 1, 1, "no step"},
		{"2.3 m with ladders", f(2.3, true), false, 0.3, 0.7, "ladder"},
		{"2.3 m without", f(2.3, false), true, 0, 0, "ladders are not allowed"},
	})
	in := lineup.Input{}
	for m, want := range map[float64]bool{0.94: false, 0.98: true, 1.07: true, 1.14: true, 2: false} {
		if in.Seated(m) != want {
			t.Errorf("seated at %.2f m: %t", m, !want)
		}
	}
}

// TestDelightFactor: bright and easy early for children, faint and close late.
func TestDelightFactor(t *testing.T) {
	family, adults := lineup.Crowd{BrightFirst: true}, lineup.Crowd{}
	v := func(id string, c lineup.Crowd, early float64) float64 {
		x := target(t, id)
		return lineup.DelightFactor(x, c, early, x.Delight, 200, true).Value
	}
	if v("m51", family, 0.9) >= v("m51", family, 0.1) {
		t.Error("a galaxy is not kept for the quiet end")
	}
	if v("mizar", family, 0.9) <= v("mizar", adults, 0.9) {
		t.Error("an easy double is no better while children are here")
	}
	if v("vega", adults, 0.5) >= v("m13", adults, 0.5)*0.75 {
		t.Error("a single star is liked nearly as well as a showpiece (common practice: it is a stopgap)")
	}
	if v("moon", adults, 0.5) <= v("m33", adults, 0.5) {
		t.Error("guests like M 33 more than the Moon")
	}
}

// TestMarginValue: more margin is never worse, and large margins go on paying
// for what glows.
func TestMarginValue(t *testing.T) {
	for _, k := range []catalog.Kind{catalog.KindGalaxy, catalog.KindOpen, catalog.KindDouble, catalog.KindNebula} {
		last := -1.0
		for m := -1.0; m < 6; m += 0.05 {
			v := lineup.MarginValue(k, m)
			if v < last || v > 1 || m < 0 && v != 0 || m >= 0 && v <= 0 {
				t.Errorf("%s: %.2f mag gives %.3f after %.3f", k, m, v, last)
			}
			last = v
		}
	}
	if !(lineup.MarginValue(catalog.KindGalaxy, 2.1) < lineup.MarginValue(catalog.KindGalaxy, 3)) {
		t.Error("a galaxy of 3 mag margin is no better than one of 2")
	}
}

// TestRules guards that every weight is a share, and safety whole.
func TestRules(t *testing.T) {
	if !lineup.WholeWeightsOK(lineup.DefaultRules()) {
		t.Errorf("%v", lineup.DefaultRules().Weights)
	}
	for _, c := range []struct {
		id   string
		want int
	}{{"moon", 2}, {"jupiter", 2}, {"uranus", 1}, {"m42", 1}} {
		if n := lineup.ShowAtOnce(target(t, c.id)); n != c.want {
			t.Errorf("%s at %d instruments at once, want %d", c.id, n, c.want)
		}
	}
	// Common practice: 45 s bright and easy, 60 s clusters, 90 s faint.
	for id, want := range map[string]float64{"moon": 45, "m35": 60, "m101": 90} {
		if s := lineup.LookSeconds(target(t, id)); math.Abs(s-want) > 1e-9 {
			t.Errorf("%s: %.0f s a look, want %.0f", id, s, want)
		}
	}
	if target(t, "jupiter").Body != sky.Jupiter {
		t.Error("Jupiter is not Jupiter")
	}
}

// TestVetoThatMattersMost guards which reason a reader is given when several
// hold: never that a star below the horizon is too faint.
func TestVetoThatMattersMost(t *testing.T) {
	var f lineup.Fit
	for k := range f.Factors {
		f.Factors[k] = lineup.Factor{Key: lineup.Key(k), Value: 1}
	}
	// Each matters more than those before it.
	for _, k := range []lineup.Key{lineup.Visible, lineup.Power, lineup.Place, lineup.Safety} {
		f.Factors[k].Value, f.Factors[k].Veto = 0, true
		if v, ok := f.Vetoed(); !ok || v.Key != k {
			t.Errorf("after %v was vetoed, %v is named", k, v.Key)
		}
	}
}

// TestShortReasons guards the few words of a cell against where each target
// stands that night.
func TestShortReasons(t *testing.T) {
	s := changed(t, func(p *night.Plan) { p.Targets = append(p.Targets, "ngc3372", "m42", "ngc104") })
	seen := map[string]int{}
	for ti := range s.in.Targets {
		top := -90.0
		for b := range s.m.Blocks {
			top = max(top, s.m.Judge(0, ti, 0, b).Factors[lineup.Place].Number)
		}
		for ii := range s.in.Kit.Instruments {
			words := s.m.WhyShort(ii, ti)
			seen[words]++
			if below := top <= 0; below != (words == "below the horizon") && words != "no eyepiece fits" && words != "too near the Sun" {
				t.Errorf("%s, at most %.0f° high: %q", s.in.Targets[ti].Name, top, words)
			}
		}
	}
	if seen["below the horizon"] == 0 {
		t.Errorf("nothing of this night stays below the horizon: %v", seen)
	}
}
