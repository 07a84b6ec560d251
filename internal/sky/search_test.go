package sky

import (
	"math"
	"testing"
)

// TestFindRoots: made-up functions with known zeros, the narrow ones between
// two samples, at the ends, and those that only touch.
func TestFindRoots(t *testing.T) {
	for _, c := range []struct {
		name string
		f    func(s float64) float64
		want []root
	}{
		{"a line up", func(s float64) float64 { return s - 4321 }, []root{{4321, true}}},
		{"a line down", func(s float64) float64 { return 1e-6 * (4321 - s) }, []root{{4321, false}}},
		{"a sine", func(s float64) float64 { return math.Sin(2 * math.Pi * (s - 100) / 43200) },
			[]root{{100, true}, {21700, false}, {43300, true}, {64900, false}}},
		{"a peak between two samples", func(s float64) float64 { return 1e-4*1e-4 - math.Pow((s-30600)*1e-6, 2) },
			[]root{{30500, true}, {30700, false}}},
		{"a dip between two samples", func(s float64) float64 { return math.Pow((s-30600)*1e-6, 2) - 1e-4*1e-4 },
			[]root{{30500, false}, {30700, true}}},
		{"a peak that stays under", func(s float64) float64 { return -1e-9 - math.Pow((s-30600)*1e-6, 2) }, nil},
		{"a peak in the first interval", func(s float64) float64 { return 1e-4*1e-4 - math.Pow((s-600)*1e-6, 2) },
			[]root{{500, true}, {700, false}}},
		{"a peak in the last interval", func(s float64) float64 { return 1e-4*1e-4 - math.Pow((s-85800)*1e-6, 2) },
			[]root{{85700, true}, {85900, false}}},
		{"always above", func(float64) float64 { return 0.3 }, nil},
		{"touching from above", func(s float64) float64 { return math.Abs(s - 1200) }, nil},
		{"zero at the very first sample, then below", func(s float64) float64 { return -s }, []root{{0, false}}},
		{"crossing exactly on a sample", func(s float64) float64 { return s - 2400 }, []root{{2400, true}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var at, value []float64
			for s := 0.0; s <= 86400; s += gridStep {
				at = append(at, s)
				value = append(value, c.f(s))
			}
			got := findRoots(at, value, 1e-4, c.f)
			if len(got) != len(c.want) {
				t.Fatalf("%v, want %v", got, c.want)
			}
			for i := range got {
				if math.Abs(got[i].s-c.want[i].s) > 2*rootTolerance || got[i].rising != c.want[i].rising {
					t.Errorf("%v, want %v", got[i], c.want[i])
				}
			}
		})
	}
}

// TestFindRootsBothWays: looking backwards in time finds the same instants.
func TestFindRootsBothWays(t *testing.T) {
	f := func(s float64) float64 {
		return math.Sin(2*math.Pi*s/86164) + 0.3*math.Cos(4*math.Pi*s/86164+1) - 0.2
	}
	g := func(s float64) float64 { return f(86400 - s) }
	find := func(f func(float64) float64) []root {
		var at, value []float64
		for s := 0.0; s <= 86400; s += gridStep {
			at = append(at, s)
			value = append(value, f(s))
		}
		return findRoots(at, value, 1e-4, f)
	}
	forward, backward := find(f), find(g)
	if len(forward) == 0 || len(forward) != len(backward) {
		t.Fatalf("%v and %v", forward, backward)
	}
	for i, r := range forward {
		b := backward[len(backward)-1-i]
		if math.Abs(r.s-(86400-b.s)) > 2*rootTolerance || r.rising == b.rising {
			t.Errorf("forward %v, backward %v", r, b)
		}
	}
}
