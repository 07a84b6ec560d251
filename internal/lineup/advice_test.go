package lineup_test

import (
	"context"
	"strings"
	"testing"

	"duskboard/internal/lineup"
)

// TestAdvice: a club with 25 and 12 mm only lacks a wide eyepiece for the wide
// instruments, and buying raises the score (common practice: the first
// eyepiece that a club misses is the long wide one).
func TestAdvice(t *testing.T) {
	s := planned(t, "59-few-eyepieces")
	told := 0
	c, err := lineup.Advice(context.Background(), s.in, s.m, func(done, all int) {
		if done != told || all != len(lineup.Candidates()) {
			t.Errorf("told %d of %d, want %d", done, all, told)
		}
		told++
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Buys) == 0 {
		t.Fatal("three instruments share two eyepieces, and no third would help")
	}
	for i, b := range c.Buys {
		if b.Gain <= 0 || len(b.For) == 0 || !strings.Contains(b.Words, b.For[0]) || i > 0 && b.Gain > c.Buys[i-1].Gain {
			t.Errorf("%d: %+v", i, b)
		}
	}
	if f := c.Buys[0].Eyepiece.FocalLength; f < 24 {
		t.Errorf("the first to buy is %.0f mm: %s", f, c.Buys[0].Words)
	}
	if len(c.Buys)+len(c.Others) != len(lineup.Candidates()) {
		t.Errorf("%d to buy and %d others of %d candidates", len(c.Buys), len(c.Others), len(lineup.Candidates()))
	}
	gaps := 0
	for _, l := range s.m.Ladders() {
		for i, x := range l.Steps {
			if i > 0 && x.Power < l.Steps[i-1].Power {
				t.Errorf("rungs out of order: %+v", l)
			}
		}
		for _, g := range l.Gaps {
			if !(g.From < g.To) || g.Power < g.From || g.Power > g.To || g.Focal <= 0 || g.Words == "" {
				t.Errorf("%d: a gap that is none: %+v", l.InstrumentID, g)
			}
		}
		gaps += len(l.Gaps)
	}
	if gaps == 0 {
		t.Error("two eyepieces make no ladder, and no gap is named")
	}
}

// TestBetter: what would make a poor or refused view possible.
func TestBetter(t *testing.T) {
	for _, c := range []struct {
		name, night, instrument, target, at string
		says                                string
	}{
		{"a wider instrument", "01-pleiades-and-the-long-cassegrain", "Stout 203", "m45", "20:00", "Short 80 shows it"},
		{"later", "13-southern-site", "Stout 203", "jupiter", "21:30", "later"},
		{"a ladder", "53-no-ladders", "Box 500", "m35", "20:00", "ladders allowed"},
		{"another eyepiece", "59-few-eyepieces", "Short 80", "mel20", "19:30", "An eyepiece of"},
		{"dry glass", "25-a-damp-evening", "Stub 127", "m42", "22:15", "dew shield"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := planned(t, c.night)
			why := s.m.Why(s.instrument(c.instrument), s.target(c.target), s.block(c.at))
			if !strings.Contains(why.Better, c.says) {
				t.Errorf("fit %.2f; %q does not say %q", why.Fit.Value, why.Better, c.says)
			}
		})
	}
}

// TestBetterHeals: where something forbids a view, no advice is about glass,
// which forbids nothing: cooling it or drying it would change nothing.
func TestBetterHeals(t *testing.T) {
	vetoed := 0
	for _, night := range []string{"25-a-damp-evening", "53-no-ladders"} {
		s := planned(t, night)
		for ii := range s.in.Kit.Instruments {
			for ti := range s.in.Targets {
				why := s.m.Why(ii, ti, len(s.m.Blocks)/2)
				if _, veto := why.Fit.Vetoed(); !veto {
					continue
				}
				vetoed++
				for _, word := range []string{"Put out earlier", "dew shield"} {
					if strings.Contains(why.Better, word) {
						t.Errorf("%s in %s: %q heals no veto", s.in.Targets[ti].Name, s.in.Kit.Instruments[ii].Name, why.Better)
					}
				}
			}
		}
	}
	if vetoed < 10 {
		t.Errorf("only %d vetoes were tried", vetoed)
	}
}
