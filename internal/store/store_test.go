package store_test

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/store"
)

// open opens a fresh database under a path that needs escaping in a URI.
func open(t testing.TB) *store.Store {
	t.Helper()
	return openAt(t, filepath.Join(t.TempDir(), "club #1 50%?.db"))
}

func openAt(t testing.TB, path string) *store.Store {
	t.Helper()
	s, err := store.Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// must stops the test at an error.
func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// wantKind checks the kind of an error.
func wantKind(t testing.TB, err error, want fault.Kind, doing string) {
	t.Helper()
	if got := fault.KindOf(err); err == nil || got != want {
		t.Errorf("%s: got error %v of kind %d, want kind %d", doing, err, got, want)
	}
}

// same compares values; nil and empty lists are the same, NaN equals NaN.
func same(t testing.TB, what string, want, got any) {
	t.Helper()
	if d := cmp.Diff(want, got, cmpopts.EquateEmpty(), cmpopts.EquateNaNs()); d != "" {
		t.Errorf("%s differs (-want +got):\n%s", what, d)
	}
}

// evening is the instant that the made-up nights begin at.
var evening = time.Date(2026, 10, 24, 18, 30, 0, 0, time.UTC)

func aSite(t testing.TB, s *store.Store) night.Site {
	t.Helper()
	x := night.Site{
		Name: "Ash Field", Zone: "Europe/Berlin", Place: sky.Place{Lat: 50.1, Lon: -9.25, Elev: 190},
		Horizon:    sky.Horizon{{Az: 0, Alt: 6.5}, {Az: 180, Alt: 0}},
		Brightness: 20.6, Ground: "grass", Power: true, Ladders: true, Notes: "gate code from the warden",
	}
	must(t, s.SaveSite(context.Background(), &x))
	return x
}

func anInstrument(t testing.TB, s *store.Store, name string) kit.Instrument {
	t.Helper()
	x := kit.Instrument{
		Base:   kit.Base{Name: name, Count: 1},
		Design: kit.Newtonian, Aperture: 203, FocalLength: 1200, Mount: kit.RockerBox, Focuser: kit.Barrel2,
	}
	must(t, s.SaveInstrument(context.Background(), &x))
	return x
}

func aNight(t testing.TB, s *store.Store) night.Night {
	t.Helper()
	x := night.Night{
		Name: "Half Moon", Date: sky.Date{Year: 2026, Month: time.October, Day: 24}, SiteID: aSite(t, s).ID,
		PublicFrom: evening, Public: 3 * time.Hour, Block: 15 * time.Minute, Guests: 80, Audience: night.Families,
		Seeing: 2.5, Notes: "school holidays",
	}
	must(t, s.SaveNight(context.Background(), &x))
	return x
}
