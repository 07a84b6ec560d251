package optics_test

import (
	"math"
	"testing"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// Exit pupil and shadow by geometry: D 200 at age 60 (p 5.5): 36 times, at
// f/5 a 27.5 mm eyepiece.
func TestLightLimit(t *testing.T) {
	inst := tube(kit.Newtonian, 200, 1000, 0.25, kit.Barrel2)
	o := view(t, inst, eyepiece(27.5, 50, 0, kit.Barrel2, kit.ClassPlossl))
	l := optics.LowPowerLimits(o, inst.Fill(), 5.5, false)
	near(t, "lowest power without loss", l.Light.Bound, 36.4, 0.05)
	near(t, "exit pupil", o.ExitPupil, 5.5, 1e-9)
	if l.Light.Verdict != optics.OK {
		t.Errorf("exit pupil equal to the eye's: %v", l.Light)
	}
	near(t, "light entering at e 8, p 4", optics.LightEntering(8, 4), 0.25, 1e-9)
}

// The largest exit pupil at an effective obstruction of 0.5 by eye's pupil,
// and effective obstructions; from eps max(1, e/p).
func TestShadow(t *testing.T) {
	for _, c := range []struct{ p, eps, e float64 }{{7, 0.25, 14}, {7, 0.34, 10.3}, {4, 0.25, 8}, {4, 0.34, 5.9}, {3, 0.25, 6}, {3, 0.34, 4.4}, {2.5, 0.25, 5}, {2.5, 0.34, 3.7}} {
		near(t, "effective obstruction", optics.EffectiveObstruction(c.eps, c.e, c.p), 0.5, 0.007)
	}
	for _, c := range []struct{ e, p, want float64 }{{7, 7, 0.34}, {7, 5, 0.48}, {7, 3, 0.79}, {7, 2.5, 0.95}, {4, 3, 0.45}, {4, 2.5, 0.54}} {
		near(t, "effective obstruction", optics.EffectiveObstruction(0.34, c.e, c.p), c.want, 0.006)
	}
	// 203 mm with 34 per cent, eye at 3 mm: the warning begins below 46 times.
	inst := tube(kit.SchmidtCassegrain, 203, 1280, 0.34, kit.Barrel2)
	for _, c := range []struct {
		focal float64
		want  optics.Verdict
	}{{25, optics.Note}, {27.7, optics.Note}, {28, optics.Warn}, {32, optics.Warn}, {40, optics.Refuse}} {
		o := view(t, inst, eyepiece(c.focal, 50, 0, kit.Barrel2, kit.ClassPlossl))
		l := optics.LowPowerLimits(o, inst.Fill(), 3, true)
		near(t, "shadow bound", l.Shadow.Bound, 46.0, 0.05)
		if l.Shadow.Verdict != c.want {
			t.Errorf("%.1f times: shadow %v (%.2f), want %v", o.Magnification, l.Shadow.Verdict, l.Shadow.Value, c.want)
		}
	}
}

// On a dark sky light bites before the shadow, for every obstruction below
// 0.5: the shadow is a matter of small pupils.
func TestLightBitesBeforeShadow(t *testing.T) {
	for eps := 0.10; eps < 0.5; eps += 0.02 {
		for p := 2.5; p <= 7; p += 0.5 {
			o := optics.Optics{Aperture: 200, Obstruction: eps}
			for e := 1.0; e < 15; e += 0.1 {
				o.ExitPupil, o.Magnification = e, 200/e
				l := optics.LowPowerLimits(o, kit.Instrument{Design: kit.Newtonian, FocalLength: 1000, Focuser: kit.Barrel2, MaxFieldStop: 46}, p, false)
				if l.Shadow.Verdict != optics.OK && l.Light.Verdict == optics.OK {
					t.Fatalf("eps %.2f, p %.1f, e %.1f: shadow before light", eps, p, e)
				}
				if e <= p && l.Shadow.Verdict != optics.OK {
					t.Fatalf("eps %.2f, p %.1f, e %.1f: a shadow without a wasted rim", eps, p, e)
				}
			}
		}
	}
}

// Verdicts never soften as the power falls (low) or rises (high).
func TestLimitsMonotonic(t *testing.T) {
	inst := kit.Instrument{Design: kit.SchmidtCassegrain, FocalLength: 2000, Focuser: kit.Barrel2, MaxFieldStop: 46}
	severity := map[optics.Verdict]int{optics.OK: 0, optics.Note: 1, optics.Warn: 2, optics.Refuse: 3}
	last, lastHigh := 0, 0
	for m := 200.0; m > 5; m-- {
		o := optics.Optics{Aperture: 200, Obstruction: 0.34, Magnification: m, ExitPupil: 200 / m}
		l := optics.LowPowerLimits(o, inst, 5, false)
		if now := severity[optics.Worst(l.Light.Verdict, l.Shadow.Verdict)]; now < last {
			t.Errorf("low power softens at %v times", m)
		} else {
			last = now
		}
		high := optics.Optics{Aperture: 100, Magnification: 205 - m, ExitPupil: 100 / (205 - m)}
		if now := severity[optics.HighPowerLimits(high, 2).Verdict]; now < lastHigh {
			t.Errorf("high power softens at %v times", 205-m)
		} else {
			lastHigh = now
		}
	}
}

// Seeing: 240/s to 360/s by the rule of 4 to 6 arcminutes; never above 300.
func TestSeeingLimit(t *testing.T) {
	for s, top := range map[float64]float64{1: 300, 2: 180, 3: 120, 4: 90} {
		h := optics.HighPowerLimits(optics.Optics{Aperture: 500, Magnification: 100, ExitPupil: 5}, s)
		near(t, "highest", h.Highest, top, 1e-9)
		near(t, "plan", h.Plan, math.Min(240/s, 300), 1e-9)
	}
	if h := optics.HighPowerLimits(optics.Optics{Aperture: 200, Magnification: 100, ExitPupil: 2}, 0); !h.SeeingAssumed || h.Highest <= 0 {
		t.Errorf("unknown seeing: %+v", h)
	}
	near(t, "aperture", optics.HighPowerLimits(optics.Optics{Aperture: 70, Magnification: 100, ExitPupil: 0.7}, 1).Highest, 140, 1e-9)
}

// Drift by the sidereal rate: 1 degree in 3 min 59 s at the equator; through
// a quarter, half and whole degree 60, 120, 239 s; 1.31 times at 40 degrees,
// twice at 60.
func TestDrift(t *testing.T) {
	near(t, "1 degree", optics.DriftSeconds(1, 0), 239.3, 0.1)
	near(t, "15 arcminutes", optics.DriftSeconds(0.25, 0), 60, 0.5)
	near(t, "30 arcminutes", optics.DriftSeconds(0.5, 0), 120, 0.5)
	near(t, "at 40", optics.DriftSeconds(1, 40)/optics.DriftSeconds(1, 0), 1.31, 0.006)
	near(t, "at -60", optics.DriftSeconds(1, -60)/optics.DriftSeconds(1, 0), 2, 1e-9)
	if !math.IsInf(optics.DriftSeconds(1, 90), 1) {
		t.Error("something drifts at the pole")
	}
}

// The sky turns by 15.0411 degrees in an hour of the clock (a full turn in
// 86164.09 s).
func TestMount(t *testing.T) {
	near(t, "flip in", optics.MinutesToFlip(-15.0411, 0), 60, 0.01)
	near(t, "overrun", optics.MinutesToFlip(0, 30), 30, 1e-9)
}
