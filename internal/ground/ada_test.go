package ground_test

import (
	"math"
	"strings"
	"testing"

	"duskboard/internal/ground"
)

// TestWidthsAgainstTheStandards checks the widths of paths for wheelchairs
// against the 2010 ADA Standards for Accessible Design, read section by section
// (public text; inches, with millimetres in brackets):
//
//   - 403.5.1 clear width of walking surfaces: 36 inches (915 mm) minimum
//   - 403.5.3 passing spaces where the clear width is less than 60 inches:
//     60 by 60 inches, every 200 feet at the most
//   - 304.3.1 circular turning space: 60 inches (1525 mm) diameter minimum
//
// The standards give the millimetres beside the inches, rounded to 5 mm: the
// program has those, which are not below the inches.
func TestWidthsAgainstTheStandards(t *testing.T) {
	const inch = 0.0254
	for _, c := range []struct {
		section   string
		ours      float64
		inches, m float64
	}{
		{"403.5.1 clear width", ground.NarrowestPath, 36, 0.915},
		{"403.5.3 passing space", ground.TurningCircle, 60, 1.525},
		{"304.3.1 turning circle", ground.TurningCircle, 60, 1.525},
	} {
		if c.ours != c.m || c.ours < c.inches*inch || c.ours-c.inches*inch > 0.0025 {
			t.Errorf("%s: %.3f m, the standard has %.0f inches (%.3f m)", c.section, c.ours, c.inches, c.m)
		}
	}
	// From memory: ISO 21542:2011 wants 1.2 m for a path little used. Its text
	// is not public and could not be looked up. It lies between the two.
	if !(ground.NarrowestPath < ground.GoodPath && ground.GoodPath < ground.TurningCircle) || ground.GoodPath != 1.2 {
		t.Errorf("a comfortable path is %.2f m wide", ground.GoodPath)
	}
	// 305.3: the clear space of a wheelchair is 30 by 48 inches (760 by 1220 mm).
	// A path of the least width takes it lengthwise, never across.
	if ground.NarrowestPath < 0.760 || ground.NarrowestPath > 1.220 {
		t.Error("the narrowest path does not carry a wheelchair lengthwise")
	}
}

// TestPathsJudgedByWidth: just below a published width a path is told to be
// less than it, and from it on it is not.
func TestPathsJudgedByWidth(t *testing.T) {
	for _, c := range []struct {
		width float64
		words string
	}{
		{0.914, "too narrow"}, {0.915, "alone"}, {1.199, "alone"}, {1.2, "helper"}, {1.524, "helper"}, {1.525, "two wheelchairs"}, {math.NaN(), "too narrow"},
	} {
		if got := ground.PathWords(c.width); !strings.Contains(got, c.words) {
			t.Errorf("a path of %.3f m is %q, want %q", c.width, got, c.words)
		}
	}
	seated := stand(1, "Stovepipe")
	seated.Access = 1
	at := []ground.Place{{InstrumentID: 1, Number: 1, At: pt{30, 7}, Queue: 0}}
	for width, want := range map[float64]bool{0.9: true, 0.92: false} {
		g := meadow()
		g.Features[1].Width = width
		found := false
		for _, f := range check(t, g, []ground.Stand{seated}, at) {
			if f.Key == ground.NarrowPath {
				found = true
				if !strings.Contains(f.Words, "403.5.1") {
					t.Errorf("the section is not named: %q", f.Words)
				}
			}
		}
		if found != want {
			t.Errorf("a path of %.2f m: too narrow %v, want %v", width, found, want)
		}
	}
}
