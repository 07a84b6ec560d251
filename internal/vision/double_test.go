package vision_test

import (
	"testing"

	"duskboard/internal/catalog"
	"duskboard/internal/optics"
	"duskboard/internal/vision"
)

// Lord (1994, Brayebrook Observatory): formula and index table as quoted on
// two pages; that n is the sum of the indices is from memory. Seeing III is a
// FWHM of 2 arcseconds here.
func TestLordLimit(t *testing.T) {
	near(t, "200 mm, eps 0.2, III, equal", vision.LordLimit(0, 200, 0.2, 2), 0.58, 0.005)
	near(t, "200 mm, eps 0.2, III, 3 mag", vision.LordLimit(3, 200, 0.2, 2), 1.82, 0.006)
	near(t, "100 mm refractor, III, 3 mag", vision.LordLimit(3, 100, 0, 2), 2.52, 0.006)
	near(t, "order of the stars", vision.LordLimit(-3, 100, 0, 2), vision.LordLimit(3, 100, 0, 2), 0)
	for fwhm, class := range map[float64]int{0.7: 1, 1.5: 2, 2: 3, 3: 4, 5: 5} {
		if got := vision.Antoniadi(fwhm); got != class {
			t.Errorf("seeing %v: class %d, want %d", fwhm, got, class)
		}
	}
}

// Powers by separation: 150/rho splits, 240/rho is comfortable, 750/rho
// prettiest; the double-double's 2.4 arcseconds want 63 and 100 times (a
// field report: "easy at 110 times in an 8 inch").
func TestPairPowers(t *testing.T) {
	least, comfortable, prettiest := vision.PairPowers(2.4)
	near(t, "least", least, 62.5, 0.01)
	near(t, "comfortable", comfortable, 100, 0.01)
	near(t, "prettiest", prettiest, 312.5, 0.01)
	pair := catalog.Double{Separation: 2.4, MagA: 5.2, MagB: 5.4}
	if got := vision.Split(pair, scope(203, 110), 1.5, 6); got.Grade.Lower(vision.ByMost) != vision.ByMost {
		t.Errorf("2.4 arcseconds at 110 times in 203 mm: %s (%s), want at least %s", got.Grade, got.Sentence, vision.ByMost)
	}
}

// More separation, power, aperture or calm never make a pair harder; more
// difference in brightness never easier.
func TestSplitMonotonic(t *testing.T) {
	rank := map[vision.Grade]int{vision.NotShown: 0, vision.Patience: 1, vision.ByMost: 2, vision.Obvious: 3}
	grade := func(sep, dm, d, m, seeing float64) int {
		s := vision.Split(catalog.Double{Separation: sep, MagA: 4, MagB: 4 + dm}, scope(d, m), seeing, 5)
		if s.Sentence == "" || (s.Grade != vision.Obvious) != (s.Weakest != "") {
			t.Fatalf("%v″: %+v", sep, s)
		}
		return rank[s.Grade]
	}
	for sep := 0.5; sep < 40; sep *= 1.15 {
		for _, dm := range []float64{0, 1, 3} {
			for _, m := range []float64{25, 50, 100, 200} {
				base := grade(sep, dm, 100, m, 2)
				for what, other := range map[string]int{"separation": grade(sep*1.2, dm, 100, m, 2), "power": grade(sep, dm, 100, m*1.5, 2), "aperture": grade(sep, dm, 150, m, 2), "calm": grade(sep, dm, 100, m, 1.4)} {
					if other < base {
						t.Errorf("%.1f″, dm %v, %v times: more %s makes it harder", sep, dm, m, what)
					}
				}
				if grade(sep, dm+1, 100, m, 2) > base {
					t.Errorf("%.1f″, dm %v, %v times: an unequal pair is easier", sep, dm, m)
				}
			}
		}
	}
}

// What cannot be known is said.
func TestSplitGaps(t *testing.T) {
	if s := vision.Split(catalog.Double{}, scope(100, 100), 2, 5); s.Grade != vision.NotShown || s.Sentence == "" {
		t.Errorf("no separation: %+v", s)
	}
	s := vision.Split(catalog.Double{Separation: 30, MagA: 3, MagB: 5}, scope(100, 100), 0, 5)
	if !s.SeeingAssumed || s.Seeing != optics.AverageSeeing {
		t.Errorf("unknown seeing: %+v", s)
	}
	narrow := scope(100, 100)
	narrow.TrueField = 0.2
	if s := vision.Split(catalog.Double{Separation: 700, MagA: 3, MagB: 5}, narrow, 2, 5); s.Weakest != "field" || s.Grade != vision.NotShown {
		t.Errorf("700 arcseconds in a field of 720: %+v", s)
	}
	if s := vision.Split(catalog.Double{Separation: 30, MagA: 3, MagB: 13}, scope(100, 100), 2, -1); s.Weakest != "companion" || s.Grade != vision.NotShown {
		t.Errorf("an invisible companion: %+v", s)
	}
}
