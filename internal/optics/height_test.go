package optics_test

import (
	"testing"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// A 10 inch rocker-box telescope whose eyepiece stands 30 in high at the
// horizon and 48 at the zenith is used between 37 and 47 in ("Astronomy
// Hacks", O'Reilly); 18 inch f/4.5 with assumed lengths, and a refractor, by
// the same formula in an independent script.
func TestEyepieceHeight(t *testing.T) {
	rocker := func(pivot, toEye float64) kit.Instrument {
		return kit.Instrument{Design: kit.Newtonian, Mount: kit.RockerBox, EyepiecePlace: kit.AtSide, PivotHeight: pivot, PivotToEye: toEye, EyeOffset: 0.25}
	}
	const inch = 0.0254
	ten := rocker(30*inch, 18*inch)
	for alt, want := range map[float64]float64{0: 30, 23: 37, 71: 47, 90: 48} {
		near(t, "10 inch", optics.EyepieceHeight(ten, alt)/inch, want, 0.05)
	}
	for alt, want := range map[float64]float64{30: 1.44, 45: 1.73, 60: 1.95, 80: 2.11, 90: 2.13} {
		near(t, "18 inch", optics.EyepieceHeight(rocker(0.75, 1.38), alt), want, 0.006)
	}
	refractor := kit.Instrument{Design: kit.Achromat, Mount: kit.AltAzHand, EyepiecePlace: kit.BehindDiagonal, PivotHeight: 1.35, PivotToEye: 0.60, EyeOffset: 0.12}
	for alt, want := range map[float64]float64{0: 1.47, 30: 1.15, 45: 1.01, 60: 0.89, 80: 0.78} {
		near(t, "refractor", optics.EyepieceHeight(refractor, alt), want, 0.006)
	}
	// A focuser turned upwards adds r cos h cos b.
	near(t, "focuser on top, level tube", optics.EyepieceHeightTurned(ten, 0, 0)-optics.EyepieceHeight(ten, 0), 0.25, 1e-9)
	near(t, "focuser on top, at the zenith", optics.EyepieceHeightTurned(ten, 90, 0), optics.EyepieceHeight(ten, 90), 1e-9)
}

// Whatever the kit, a rocker box lifts its eyepiece as it points higher and a
// refractor lowers it.
func TestHeightsMove(t *testing.T) {
	for _, d := range []float64{80, 150, 250, 400} {
		dob := kit.Instrument{Design: kit.Newtonian, Aperture: d, Mount: kit.RockerBox}.Fill()
		lens := kit.Instrument{Design: kit.Achromat, Aperture: d, Mount: kit.GermanEquatorial}.Fill()
		for alt := 5.0; alt <= 90; alt += 5 {
			if optics.EyepieceHeight(dob, alt) <= optics.EyepieceHeight(dob, alt-5) {
				t.Errorf("%v mm rocker box: the eyepiece does not rise to %v degrees", d, alt)
			}
			if optics.EyepieceHeight(lens, alt) >= optics.EyepieceHeight(lens, alt-5) {
				t.Errorf("%v mm refractor: the eyepiece does not sink to %v degrees", d, alt)
			}
		}
		h := optics.EyepieceHeights(lens, 40)
		if mid := optics.EyepieceHeight(lens, 40); h.Low >= mid || h.High <= mid {
			t.Errorf("a German equatorial gives one height: %+v", h)
		}
		over := optics.HeightsOver(dob, 30, 60)
		near(t, "over a span", over.High-over.Low, optics.EyepieceHeight(dob, 60)-optics.EyepieceHeight(dob, 30), 1e-9)
	}
}

// Steps of 0.22 m: none at or below the eye, a stool, one with a rail, a
// ladder from three; a stoop, a chair and kneeling below (rule of ours after
// common practice).
func TestReach(t *testing.T) {
	for _, c := range []struct {
		height, eye float64
		stand       optics.Stand
		steps       int
		verdict     optics.Verdict
	}{
		{1.58, 1.58, optics.Upright, 0, optics.OK},
		{1.45, 1.58, optics.Upright, 0, optics.OK},
		{1.30, 1.58, optics.Stooping, 0, optics.Note},
		{1.00, 1.58, optics.Sitting, 0, optics.Note},
		{0.80, 1.58, optics.Kneeling, 0, optics.Warn},
		{1.61, 1.58, optics.OnStool, 1, optics.Note},
		{1.75, 1.58, optics.OnStool, 1, optics.Note},
		{1.90, 1.58, optics.OnRail, 2, optics.Note},
		{2.13, 1.58, optics.OnLadder, 3, optics.Warn},
		{2.13, 1.05, optics.OnLadder, 5, optics.Warn},
		{3.60, 1.58, optics.NotWithin, 10, optics.Refuse},
	} {
		r := optics.ReachFor(c.height, c.eye)
		if r.Stand != c.stand || r.Steps != c.steps || r.Verdict != c.verdict || r.Sentence == "" {
			t.Errorf("%.2f m for an eye at %.2f: %+v, want %s, %d steps, %s", c.height, c.eye, r, c.stand, c.steps, c.verdict)
		}
	}
}

// Eyes of children: CDC growth reference 2000, less the crown (from memory).
func TestChildEye(t *testing.T) {
	for age, want := range map[float64][2]float64{3: {0.85, 0.79}, 6: {1.05, 0.97}, 10: {1.28, 1.17}, 9: {1.225, 1.125}, 1: {0.85, 0.79}, 30: {1.59, 1.48}} {
		median, small := optics.ChildEye(age)
		near(t, "median", median, want[0], 1e-9)
		near(t, "small", small, want[1], 1e-9)
	}
}

// A guest in a wheelchair has eyes at 1.09 to 1.295 m (ADA Accessibility
// Guidelines, figure A3).
func TestWheelchair(t *testing.T) {
	for _, c := range []struct {
		h    optics.Heights
		want optics.Verdict
	}{
		{optics.Heights{Low: 1.09, High: 1.295}, optics.OK},
		{optics.Heights{Low: 0.85, High: 0.95}, optics.Refuse},
		{optics.Heights{Low: 1.44, High: 1.95}, optics.Refuse},
		{optics.Heights{Low: 0.95, High: 1.20}, optics.Note},
		{optics.Heights{Low: 0.90, High: 1.90, Adjustable: true}, optics.OK},
	} {
		if got, why := optics.Wheelchair(c.h); got != c.want || why == "" {
			t.Errorf("%+v: %s (%s), want %s", c.h, got, why, c.want)
		}
	}
}
