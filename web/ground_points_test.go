package web

import (
	"math"
	"testing"

	"duskboard/internal/ground"
)

// FuzzPoints guards that any text is read or refused without harm, and that
// what is read is written so that it is read again the same, to the centimetre.
func FuzzPoints(f *testing.F) {
	for _, s := range []string{"", "1 2", "1 2; 3,5 4\n(5, 6)", "a b", "1", "1e308 1e308", "NaN Inf", ";;;\n", "-0.004 0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		at, err := parsePoints(s)
		if err != nil {
			return
		}
		for _, p := range at {
			if !(math.Abs(p.X) < ground.Widest && math.Abs(p.Y) < ground.Widest) {
				return // refused later, by Ground.Check
			}
		}
		again, err := parsePoints(printPoints(at, "; "))
		if err != nil || len(again) != len(at) {
			t.Fatalf("%q is read as %v, written and read again as %v: %v", s, at, again, err)
		}
		for i := range at {
			if math.Abs(at[i].X-again[i].X) > 0.0051 || math.Abs(at[i].Y-again[i].Y) > 0.0051 {
				t.Fatalf("point %v came back as %v", at[i], again[i])
			}
		}
	})
}
