package store_test

import (
	"context"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/night"
)

// TestGoRulesAreTheClubsOwn changes every threshold, and refuses a save over
// somebody else's.
func TestGoRulesAreTheClubsOwn(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n := aNight(t, s)
	p, err := s.Plan(ctx, n.ID)
	must(t, err)
	same(t, "rules of a new club", night.DefaultGoRules(), p.GoRules)

	mine := night.GoRules{Version: 1, Decide: 11 * 60, Post: 11*60 + 30, Thresholds: field.Thresholds{
		Cloud: field.Limit{Doubt: 31, Off: 61}, Wind: field.Limit{Doubt: 5, Off: 8}, Gust: field.Limit{Doubt: 9, Off: 12}, Rain: field.Limit{Doubt: 15, Off: 45},
		Seeing: field.Limit{Doubt: 3, Off: 5}, Chill: field.Limit{Doubt: -5, Off: -20}, DewMargin: 2, MinHours: 2, GoShare: 0.5,
	}}
	must(t, s.SaveGoRules(ctx, &mine))
	p, err = s.Plan(ctx, n.ID)
	must(t, err)
	same(t, "rules", mine, p.GoRules)

	stale := night.DefaultGoRules()
	wantKind(t, s.SaveGoRules(ctx, &stale), fault.Conflict, "a save with an old version")
	crossed := mine
	crossed.Thresholds.Cloud = field.Limit{Doubt: 80, Off: 40}
	wantKind(t, s.SaveGoRules(ctx, &crossed), fault.Invalid, "off before doubtful")
}

// TestDecisionsStay keeps the earlier ones; the newest counts.
func TestDecisionsStay(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n := aNight(t, s)
	first := night.Decision{At: evening.Add(-7 * time.Hour), Who: "Ada", Word: night.WordDoubtful, Words: "We wait for the two o'clock run."}
	second := night.Decision{At: evening.Add(-5 * time.Hour), Who: "Ben", Word: night.WordGo}
	must(t, s.AddDecision(ctx, n.ID, first))
	must(t, s.AddDecision(ctx, n.ID, second))
	p, err := s.Plan(ctx, n.ID)
	must(t, err)
	same(t, "decisions", []night.Decision{first, second}, p.Decisions)
	if d, ok := p.Decided(); !ok || d.Who != "Ben" {
		t.Errorf("the newest decision is %+v", d)
	}
	wantKind(t, s.AddDecision(ctx, n.ID, night.Decision{At: evening, Word: night.WordGo}), fault.Invalid, "a decision of nobody")
	wantKind(t, s.AddDecision(ctx, n.ID, night.Decision{At: evening, Who: "Ada", Word: "perhaps"}), fault.Invalid, "a word of one's own")
	wantKind(t, s.AddDecision(ctx, 999, first), fault.NotFound, "a night that is not there")
}

// TestPutOutsAndPacking come back, are replaced and are taken back.
func TestPutOutsAndPacking(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n := aNight(t, s)
	barrel := anInstrument(t, s, "The Barrel")
	ada := crew.Volunteer{Name: "Ada"}
	must(t, s.SaveVolunteer(ctx, &ada))

	warm := 21.5
	must(t, s.SavePutOut(ctx, n.ID, night.PutOut{InstrumentID: barrel.ID, FanOff: true}))
	out := night.PutOut{InstrumentID: barrel.ID, At: evening.Add(-3 * time.Hour), StorageTemp: &warm}
	must(t, s.SavePutOut(ctx, n.ID, out))
	said := night.Packing{Item: "first-aid", VolunteerID: ada.ID}
	must(t, s.SavePacking(ctx, n.ID, said))
	said.Brings = true
	must(t, s.SavePacking(ctx, n.ID, said))
	p, err := s.Plan(ctx, n.ID)
	must(t, err)
	same(t, "put-outs", []night.PutOut{out}, p.PutOuts)
	same(t, "packing", []night.Packing{said}, p.Packing)

	must(t, s.SavePutOut(ctx, n.ID, night.PutOut{InstrumentID: barrel.ID}))
	must(t, s.ForgetPacking(ctx, n.ID, "first-aid", ada.ID))
	p, err = s.Plan(ctx, n.ID)
	must(t, err)
	if len(p.PutOuts) != 0 || len(p.Packing) != 0 {
		t.Errorf("put-outs %+v and packing %+v were to go", p.PutOuts, p.Packing)
	}
	wantKind(t, s.SavePutOut(ctx, n.ID, night.PutOut{InstrumentID: 999, FanOff: true}), fault.Invalid, "an instrument that is not there")
	hot := 400.0
	wantKind(t, s.SavePutOut(ctx, n.ID, night.PutOut{InstrumentID: barrel.ID, StorageTemp: &hot}), fault.Invalid, "a glass furnace")
	wantKind(t, s.SavePacking(ctx, n.ID, night.Packing{VolunteerID: ada.ID}), fault.Invalid, "no item")
}
