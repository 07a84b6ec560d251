package demo_test

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"duskboard/cmd/duskboard/demo"
	"duskboard/internal/catalog"
	"duskboard/internal/night"
	"duskboard/internal/store"
)

// TestDemoInEverySeason guards that the demo opens with a planned night
// whatever the day: in June there is hardly any darkness and many options tie.
func TestDemoInEverySeason(t *testing.T) {
	for _, month := range []time.Month{time.February, time.April, time.June, time.July, time.September, time.December} {
		t.Run(month.String(), func(t *testing.T) {
			ctx := context.Background()
			now := time.Date(2027, month, 11, 12, 0, 0, 0, time.UTC)
			st, err := store.Open(ctx, filepath.Join(t.TempDir(), "club.db"))
			if err != nil {
				t.Fatal(err)
			}
			defer st.Close()
			n, err := demo.Fill(ctx, st, now)
			if err != nil {
				t.Fatal(err)
			}
			if !n.PublicFrom.After(now) || n.PublicFrom.After(now.AddDate(0, 0, 46)) {
				t.Errorf("the night begins %v, want within 45 days after %v", n.PublicFrom, now)
			}
			if err := demo.Propose(ctx, st, n.ID); err != nil {
				t.Fatal(err)
			}
			if err := demo.LayOut(ctx, st, n.ID); err != nil {
				t.Fatal(err)
			}
			p, err := st.Plan(ctx, n.ID)
			if err != nil {
				t.Fatal(err)
			}
			if len(p.Showings) < len(p.Kit.Instruments) {
				t.Errorf("%d showings for %d instruments", len(p.Showings), len(p.Kit.Instruments))
			}
			sh, err := night.Build(p, catalog.Default())
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range sh.Field().Check(p.Places) {
				if f.Hazard {
					t.Errorf("a hazard on the field that was suggested: %s", f.Words)
				} else {
					t.Logf("the field: %s", f.Words)
				}
			}
		})
	}
}
