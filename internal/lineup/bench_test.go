package lineup_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// largeClub is the size that the design promises figures for: 12 instruments,
// 30 eyepieces, 4 amplifiers, 150 targets, 18 blocks.
func largeClub(tb testing.TB) *lineup.Input {
	tb.Helper()
	plan, _ := readNight(tb, "32-new-moon-at-a-dark-site")
	k := kit.Kit{}
	for n := range 12 {
		i := plan.Kit.Instruments[n%len(plan.Kit.Instruments)]
		i.ID, i.Name = int64(n+1), fmt.Sprintf("%s no. %d", i.Name, n+1)
		k.Instruments = append(k.Instruments, i)
	}
	for n := range 30 {
		e := plan.Kit.Eyepieces[n%len(plan.Kit.Eyepieces)]
		e.ID, e.Count = int64(100+n), 1
		e.FocalLength *= 1 + 0.07*float64(n/len(plan.Kit.Eyepieces))
		e.FieldStop *= 1 + 0.03*float64(n/len(plan.Kit.Eyepieces))
		e.Name = fmt.Sprintf("%.1f no. %d", e.FocalLength, n)
		k.Eyepieces = append(k.Eyepieces, e)
	}
	amps := []kit.Amplifier{
		{Kind: kit.Barlow, Factor: 2, Barrel: kit.Barrel125}, {Kind: kit.Barlow, Factor: 2.5, Barrel: kit.Barrel2},
		{Kind: kit.Reducer, Factor: 0.63, Barrel: kit.Barrel2, OnlyFor: []kit.Design{kit.SchmidtCassegrain}}, {Kind: kit.Corrector, Factor: 1.1, Barrel: kit.Barrel2, OnlyFor: []kit.Design{kit.Newtonian}},
	}
	for n, a := range amps {
		a.ID, a.Count, a.Name = int64(200+n), 2, fmt.Sprintf("amplifier %d", n)
		k.Amplifiers = append(k.Amplifiers, a)
	}
	k.Diagonals, k.Filters = plan.Kit.Diagonals, plan.Kit.Filters
	plan.Kit = k
	plan.Night.Public = 18 * 15 * time.Minute
	plan.Targets = nil
	for _, t := range catalog.Default().All() {
		if len(plan.Targets) < 150 && (t.Moves && t.Body != sky.Sun || t.Star.Dec > -15 && t.Delight > 0.3) {
			plan.Targets = append(plan.Targets, t.ID)
		}
	}
	sh, err := night.Build(plan, catalog.Default())
	if err != nil {
		tb.Fatal(err)
	}
	if len(sh.Targets) != 150 || len(sh.Kit.Eyepieces) != 30 || len(sh.Input.Blocks()) != 18 {
		tb.Fatalf("%d targets, %d eyepieces, %d blocks", len(sh.Targets), len(sh.Kit.Eyepieces), len(sh.Input.Blocks()))
	}
	return sh.Input
}

// BenchmarkFits: the promise is 150 ms on one core.
func BenchmarkFits(b *testing.B) {
	in := largeClub(b)
	for b.Loop() {
		in.Fits()
	}
}

// BenchmarkPropose is the whole of a large club's line-up behind its fits.
func BenchmarkPropose(b *testing.B) {
	in := largeClub(b)
	m := in.Fits()
	for b.Loop() {
		if _, err := lineup.Propose(context.Background(), in, m); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkProposeClubNight is an ordinary night: seven instruments, 32
// targets, eight blocks.
func BenchmarkProposeClubNight(b *testing.B) {
	plan, _ := readNight(b, "56-pins-and-forbidden-pairs")
	sh, err := night.Build(plan, catalog.Default())
	if err != nil {
		b.Fatal(err)
	}
	m := sh.Fits()
	for b.Loop() {
		if _, err := lineup.Propose(context.Background(), sh.Input, m); err != nil {
			b.Fatal(err)
		}
	}
}
