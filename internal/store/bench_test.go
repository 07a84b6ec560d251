package store_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"duskboard/internal/kit"
	"duskboard/internal/lineup"
)

// BenchmarkPlan loads a night of 12 instruments, 30 accessories of one kind
// and 72 showings, as every page does.
func BenchmarkPlan(b *testing.B) {
	ctx := context.Background()
	s := open(b)
	n := aNight(b, s)
	var k kit.Kit
	for i := range 12 {
		k.Instruments = append(k.Instruments, kit.Instrument{Base: kit.Base{Name: fmt.Sprint("i", i)}, Design: kit.Newtonian, Aperture: 200, Mount: kit.RockerBox})
	}
	for i := range 30 {
		k.Eyepieces = append(k.Eyepieces, kit.Eyepiece{Base: kit.Base{Name: fmt.Sprint("e", i)}, FocalLength: 10, ApparentField: 50})
	}
	must(b, s.ImportKit(ctx, k))
	p, err := s.Plan(ctx, n.ID)
	must(b, err)
	p.Kit, err = s.Kit(ctx, false)
	must(b, err)
	must(b, s.SaveChoice(ctx, n.ID, n.Version, p.Choice()))
	var shows []lineup.Showing
	for i := range 72 {
		shows = append(shows, lineup.Showing{
			InstrumentID: p.Kit.Instruments[i%12].ID, TargetID: "m13", EyepieceID: p.Kit.Eyepieces[i%30].ID,
			From: evening.Add(time.Duration(i/12) * 15 * time.Minute), Length: 15 * time.Minute,
		})
	}
	_, err = s.SaveShowings(ctx, n.ID, 1, shows, "propose")
	must(b, err)
	for b.Loop() {
		if _, err := s.Plan(ctx, n.ID); err != nil {
			b.Fatal(err)
		}
	}
}
