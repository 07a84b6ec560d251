package kit_test

import (
	"errors"
	"math"
	"testing"

	"duskboard/internal/kit"
)

// Lengths as people type them. The inch is 25.4 mm exactly (1959 agreement).
func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		typed, plain string
		want         float64 // mm
	}{
		{"203", "mm", 203}, {"203 mm", "mm", 203}, {"203mm", "mm", 203},
		{"8 in", "mm", 203.2}, {`8"`, "mm", 203.2}, {"8″", "mm", 203.2}, {"8 inch", "mm", 203.2}, {"8 Inches", "mm", 203.2}, {"8''", "mm", 203.2},
		{"4 1/2 in", "mm", 114.3}, {"4½ in", "mm", 114.3}, {`4½"`, "mm", 114.3}, {"1/4 in", "mm", 6.35}, {"4.5 in", "mm", 114.3},
		{"20,3 cm", "mm", 203}, {"20.3 cm", "mm", 203}, {"1,4 m", "mm", 1400}, {"1.4", "m", 1400}, {"0,125 m", "mm", 125},
		{"6 ft 2 in", "mm", 1879.6}, {`6' 2"`, "mm", 1879.6}, {"6 ft", "mm", 1828.8},
		{"1\u202f200 mm", "mm", 1200}, {"1 200", "mm", 1200}, {"1.200,5 mm", "mm", 1200.5}, {"1,200.5 mm", "mm", 1200.5},
		{"  8  in. ", "mm", 203.2}, {"+8 in", "mm", 203.2}, {"0", "mm", 0},
	} {
		got, err := kit.ParseLength(c.typed, c.plain)
		if err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("ParseLength(%q, %q) = %v, %v, want %v", c.typed, c.plain, got, err, c.want)
		}
	}
}

// What must be refused rather than guessed.
func TestParseLengthRefuses(t *testing.T) {
	for _, c := range []struct {
		typed string
		want  error
	}{
		{"", kit.ErrEmpty}, {"   ", kit.ErrEmpty},
		{"1,200 mm", kit.ErrSeparator}, {"1,200,300", kit.ErrSeparator},
		{"8 parsec", kit.ErrUnit}, {"8 \"mm", kit.ErrUnit}, {"6 ft 2", kit.ErrUnit},
		{"wide", kit.ErrNotNumber}, {"mm", kit.ErrNotNumber}, {"1e9", kit.ErrUnit}, {"NaN", kit.ErrNotNumber}, {"inf", kit.ErrNotNumber},
		{"-8 in", kit.ErrNotNumber}, {"2 in 6 ft", kit.ErrNotNumber}, {"8 in 8 in", kit.ErrNotNumber}, {"1/0 in", kit.ErrNotNumber}, {"8-10 in", kit.ErrNotNumber}, {"1.2.3", kit.ErrNotNumber},
	} {
		if got, err := kit.ParseLength(c.typed, "mm"); !errors.Is(err, c.want) {
			t.Errorf("ParseLength(%q) = %v, %v, want error %v", c.typed, got, err, c.want)
		}
	}
}

func TestParseFocalLength(t *testing.T) {
	for typed, want := range map[string]float64{"f/10": 2032, "F10": 2032, "f 4,5": 914.4, "2032": 2032, "80 in": 2032, "6 ft": 1828.8} {
		got, err := kit.ParseFocalLength(typed, 203.2)
		if err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("ParseFocalLength(%q, 203.2) = %v, %v, want %v", typed, got, err, want)
		}
	}
	for _, typed := range []string{"f/", "f/0", "f/x", "f/-4", "focal"} {
		if got, err := kit.ParseFocalLength(typed, 203.2); err == nil {
			t.Errorf("ParseFocalLength(%q) = %v, want an error", typed, got)
		}
	}
	if got, err := kit.ParseFocalLength("f/10", 0); err == nil {
		t.Errorf("ParseFocalLength without aperture = %v, want an error", got)
	}
}

// Whatever is typed, the parser neither panics nor returns a length that is
// negative, infinite or not a number.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"8 in", `8"`, "203 mm", "20,3 cm", "4 1/2 in", "4½″", `6' 2"`, "1,200", "1e9", "−3", "1/0", "½", "9999999999999999999999 ft", "\xff in"} {
		f.Add(s, "mm")
	}
	f.Fuzz(func(t *testing.T, typed, plain string) {
		v, err := kit.ParseLength(typed, plain)
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0) || v < 0) {
			t.Errorf("ParseLength(%q, %q) = %v without an error", typed, plain, v)
		}
	})
}
