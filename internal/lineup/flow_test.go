package lineup_test

import (
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"duskboard/internal/lineup"
)

// TestCrowdFlow holds the flow of guests against the arithmetic of numbered
// scenario 23: 45 s a look, so 80 looks an hour and instrument.
func TestCrowdFlow(t *testing.T) {
	for _, c := range []struct {
		name                string
		instruments, guests int
		minutes             float64
		looks, perGuest     float64
		longest             float64 // minutes
		short               bool
		says                string
	}{
		{"four instruments, 180 guests", 4, 180, 150, 800, 4.4, 33.75, false, ""},
		{"one of them fails", 3, 180, 150, 600, 3.3, 45, false, ""},
		{"two instruments, 300 guests", 2, 300, 120, 320, 1.07, 112.5, true, "one look per guest: if all come at once, the last in line waits 112 minutes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			hours := c.minutes / 60 * float64(c.instruments)
			got := lineup.CrowdFlow(hours*3600/45, hours, c.instruments, c.guests, time.Duration(c.minutes)*time.Minute)
			if math.Abs(got.Looks-c.looks) > 0.5 || math.Abs(got.PerGuest-c.perGuest) > 0.05 {
				t.Errorf("%.0f looks, %.2f each, want %.0f and %.2f", got.Looks, got.PerGuest, c.looks, c.perGuest)
			}
			if math.Abs(got.LongestWait.Minutes()-c.longest) > 0.1 {
				t.Errorf("the last waits %.1f min, want %.1f", got.LongestWait.Minutes(), c.longest)
			}
			if got.Short != c.short && c.says != "" {
				t.Errorf("short %t, want %t", got.Short, c.short)
			}
			if said := strings.Join(got.Proposals, " "); !strings.Contains(said, c.says) {
				t.Errorf("%q does not say %q", said, c.says)
			}
		})
	}
}

// TestCrowdFlowOfNothing guards against divisions by nothing.
func TestCrowdFlowOfNothing(t *testing.T) {
	for _, c := range []lineup.Crowding{
		lineup.CrowdFlow(0, 0, 0, 0, 0), lineup.CrowdFlow(0, 2, 1, 10, time.Hour), lineup.CrowdFlow(100, 2, 0, 10, time.Hour), lineup.CrowdFlow(100, 2, 1, 0, time.Hour),
	} {
		if math.IsNaN(c.PerGuest) || math.IsInf(c.PerGuest, 0) || c.LongestWait < 0 || c.MeanWait < 0 {
			t.Errorf("%+v", c)
		}
	}
}

// TestLossOfAnInstrument guards that looks per guest and the longest wait change
// when an instrument drops out.
func TestLossOfAnInstrument(t *testing.T) {
	s := planned(t, "23a-four-instruments")
	all := s.in.CrowdingOf(s.m, s.r.Showings)
	var left []lineup.Showing
	for _, x := range s.r.Showings {
		if x.InstrumentID != s.sheet.Kit.Instruments[0].ID {
			left = append(left, x)
		}
	}
	less := s.in.CrowdingOf(s.m, left)
	if !(less.PerGuest < all.PerGuest) || !(less.LongestWait > all.LongestWait) {
		t.Errorf("with four: %.2f looks, %v; with three: %.2f, %v", all.PerGuest, all.LongestWait, less.PerGuest, less.LongestWait)
	}
}

// TestLongQueueGetsAProposal: past 20 minutes' wait a second instrument or a
// quicker target is proposed (common practice).
func TestLongQueueGetsAProposal(t *testing.T) {
	s := planned(t, "05b-saturn-first-slots-only")
	in := *s.in
	in.Guests = 900
	m := in.Fits()
	r, err := lineup.Propose(context.Background(), &in, m)
	if err != nil {
		t.Fatal(err)
	}
	c := in.CrowdingOf(m, r.Showings)
	if !c.Short || len(c.Queues) == 0 {
		t.Fatalf("900 guests at seven instruments and no queue: %+v", c)
	}
	if q := c.Queues[0]; q.Wait <= lineup.LongWait {
		t.Errorf("a queue of %v is listed", q.Wait)
	}
	said := strings.Join(c.Proposals, " ")
	if !strings.Contains(said, "second instrument") && !strings.Contains(said, "quicker target") {
		t.Errorf("nothing helpful is proposed: %q", said)
	}
}
