package store_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/store"
)

// inBin returns what lies in the bin by its name.
func inBin(t *testing.T, s *store.Store) map[string]night.Binned {
	t.Helper()
	bin, err := s.Bin(context.Background())
	must(t, err)
	out := map[string]night.Binned{}
	for _, b := range bin {
		out[b.Name] = b
	}
	return out
}

var later = time.Now().Add(night.BinKept + time.Hour)

// aTarget is a target of the club's own.
func aTarget(t *testing.T, s *store.Store, name string) night.OwnTarget {
	t.Helper()
	none := math.NaN()
	x := night.OwnTarget{Target: catalog.Target{Name: name, Kind: catalog.KindOpen, Star: sky.Star{RA: 10, Dec: 41}, Magnitude: none, BV: none, PositionAngle: none, Brightness: none}}
	must(t, s.SaveOwnTarget(context.Background(), &x))
	return x
}

// TestEverythingTakenAwayLiesInTheBin puts one thing of each kind there, with
// who did, takes it back, puts it there again and lets its time pass.
func TestEverythingTakenAwayLiesInTheBin(t *testing.T) {
	ctx := night.By(context.Background(), "Ada")
	s := open(t)
	n := aNight(t, s)
	site, err := s.Site(ctx, n.SiteID)
	must(t, err)
	scope := anInstrument(t, s, "Long Tom")
	vol := aVolunteer(t, s, "Zoë Example")
	target := aTarget(t, s, "Little cluster")
	sat := night.Satellite{Name: "Bright one", Elements: "x", AddedAt: time.Date(2026, 9, 1, 0, 0, 0, 0, time.UTC)}
	must(t, s.AddSatellite(ctx, &sat))
	kept, err := s.KeepLineUp(ctx, n.ID, 1, "if it clears")
	must(t, err)

	throw := func() {
		t.Helper()
		must(t, s.RemoveSatellite(ctx, sat.ID))
		must(t, s.ForgetKept(ctx, n.ID, kept))
		target, err := s.OwnTarget(ctx, target.ID)
		must(t, err)
		must(t, s.RemoveOwnTarget(ctx, target.ID, target.Version))
		n, err := s.Night(ctx, n.ID)
		must(t, err)
		n.Retired = true
		must(t, s.SaveNight(ctx, &n))
		site, err := s.Site(ctx, site.ID)
		must(t, err)
		site.Retired = true
		must(t, s.SaveSite(ctx, &site))
		scope, err := s.Instrument(ctx, scope.ID)
		must(t, err)
		scope.Retired = true
		must(t, s.SaveInstrument(ctx, &scope))
		vol, err := s.Volunteer(ctx, vol.ID)
		must(t, err)
		vol.Retired = true
		must(t, s.SaveVolunteer(ctx, &vol))
	}
	throw()
	bin := inBin(t, s)
	if len(bin) != 7 {
		t.Fatalf("in the bin: %+v", bin)
	}
	for _, k := range night.BinKinds {
		if !slices.ContainsFunc(slices.Collect(mapValues(bin)), func(b night.Binned) bool { return b.Kind == k && b.Who == "Ada" }) {
			t.Errorf("no %s of Ada's in the bin", k)
		}
	}
	if why := bin["if it clears"].Barred; !strings.Contains(why, n.Name) {
		t.Errorf("a line-up whose night is in the bin is barred by %q", why)
	}
	if why := bin[n.Name].Barred; !strings.Contains(why, site.Name) {
		t.Errorf("a night whose site is in the bin is barred by %q", why)
	}
	if held := bin[site.Name].Held; held != "one night" {
		t.Errorf("the site is held by %q", held)
	}
	if _, err := s.TakeBack(ctx, night.BinNight, n.ID); fault.KindOf(err) != fault.Conflict {
		t.Errorf("a night without its site came back: %v", err)
	}
	// In this order each has what it belongs to.
	for _, name := range []string{site.Name, n.Name, "if it clears", "Long Tom", "Zoë Example", "Little cluster", "Bright one"} {
		b := inBin(t, s)[name]
		if got, err := s.TakeBack(ctx, b.Kind, b.Ref); err != nil || got != name {
			t.Fatalf("take back %s: %q, %v", name, got, err)
		}
		if _, err := s.TakeBack(ctx, b.Kind, b.Ref); fault.KindOf(err) != fault.NotFound {
			t.Errorf("%s came back twice: %v", name, err)
		}
	}
	if left := inBin(t, s); len(left) != 0 {
		t.Errorf("left in the bin: %+v", left)
	}
	sats, err := s.Satellites(ctx)
	must(t, err)
	lineUps, err := s.KeptLineUps(ctx, n.ID)
	must(t, err)
	own, err := s.OwnTargets(ctx)
	must(t, err)
	back, err := s.Night(ctx, n.ID)
	must(t, err)
	if len(sats) != 1 || !sats[0].AddedAt.Equal(sat.AddedAt) || len(lineUps) != 1 || lineUps[0].ID != kept || lineUps[0].Who != "Ada" || len(own) != 1 || back.Retired {
		t.Errorf("back are %+v, %+v, %+v, %+v", sats, lineUps, own, back)
	}

	throw()
	gone, err := s.PurgeBin(ctx, time.Now().Add(night.BinKept-time.Hour))
	must(t, err)
	if len(gone) != 0 {
		t.Errorf("deleted before its time: %+v", gone)
	}
	gone, err = s.PurgeBin(ctx, later)
	must(t, err)
	if len(gone) != 7 || len(inBin(t, s)) != 0 {
		t.Errorf("deleted: %+v; left: %+v", gone, inBin(t, s))
	}
	if _, err := s.Night(ctx, n.ID); fault.KindOf(err) != fault.NotFound {
		t.Errorf("the night is there: %v", err)
	}
	v, err := s.Volunteer(ctx, vol.ID)
	must(t, err)
	if !v.Forgotten {
		t.Errorf("the volunteer is not forgotten: %+v", v)
	}
}

func mapValues[K comparable, V any](m map[K]V) func(func(V) bool) {
	return func(yield func(V) bool) {
		for _, v := range m {
			if !yield(v) {
				return
			}
		}
	}
}

// TestWhatANightNamesIsNotDeleted guards that gear, sites and targets stay as
// long as a night needs them, and go with it.
func TestWhatANightNamesIsNotDeleted(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n := aNight(t, s)
	scope := anInstrument(t, s, "Long Tom")
	eyepiece := kit.Eyepiece{Base: kit.Base{Name: "Wide", Count: 1}, FocalLength: 25}.Fill()
	must(t, s.SaveEyepiece(ctx, &eyepiece))
	target := aTarget(t, s, "Little cluster")
	show := []lineup.Showing{{InstrumentID: scope.ID, TargetID: target.ID, EyepieceID: eyepiece.ID, From: n.PublicFrom, Length: n.Block}}
	_, err := s.SaveShowings(ctx, n.ID, 1, show, "show it")
	must(t, err)

	scope.Retired, eyepiece.Retired = true, true
	must(t, s.SaveInstrument(ctx, &scope))
	must(t, s.SaveEyepiece(ctx, &eyepiece))
	must(t, s.RemoveOwnTarget(ctx, target.ID, target.Version))
	for name, b := range inBin(t, s) {
		if b.Held != "one night" {
			t.Errorf("%s is held by %q", name, b.Held)
		}
		if err := s.Discard(ctx, b.Kind, b.Ref, n.Date); fault.KindOf(err) != fault.Conflict {
			t.Errorf("%s was deleted under a night: %v", name, err)
		}
	}
	gone, err := s.PurgeBin(ctx, later)
	must(t, err)
	if len(gone) != 0 || len(inBin(t, s)) != 3 {
		t.Errorf("deleted under a night: %+v", gone)
	}
	n, err = s.Night(ctx, n.ID)
	must(t, err)
	n.Retired = true
	must(t, s.SaveNight(ctx, &n))
	gone, err = s.PurgeBin(ctx, later)
	must(t, err)
	if len(gone) != 4 {
		t.Errorf("with the night went %+v", gone)
	}
}

// TestAnIDIsNeverGivenOutTwice guards that what is new does not get the id of
// what was deleted: histories and addresses name it.
func TestAnIDIsNeverGivenOutTwice(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	first := anInstrument(t, s, "First")
	n := aNight(t, s)
	first.Retired, n.Retired = true, true
	must(t, s.SaveInstrument(ctx, &first))
	must(t, s.SaveNight(ctx, &n))
	_, err := s.PurgeBin(ctx, later)
	must(t, err)
	if second := anInstrument(t, s, "Second"); second.ID <= first.ID {
		t.Errorf("id %d after %d", second.ID, first.ID)
	}
	if next := aNight(t, s); next.ID <= n.ID || next.SiteID <= n.SiteID {
		t.Errorf("night %d after %d, site %d after %d", next.ID, n.ID, next.SiteID, n.SiteID)
	}
}

// TestALineUpOfATakenNameStaysInTheBin guards the reason given.
func TestALineUpOfATakenNameStaysInTheBin(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n := aNight(t, s)
	kept, err := s.KeepLineUp(ctx, n.ID, 1, "plan B")
	must(t, err)
	must(t, s.ForgetKept(ctx, n.ID, kept))
	_, err = s.KeepLineUp(ctx, n.ID, 1, "plan B")
	must(t, err)
	if _, err := s.TakeBack(ctx, night.BinLineUp, kept); fault.KindOf(err) != fault.Conflict || !strings.Contains(err.Error(), "plan B") {
		t.Errorf("taken back: %v", err)
	}
}

// TestTakingAnImportBack guards that what was added goes to the bin, that what
// was changed is as before in every column, and that a later change is kept.
func TestTakingAnImportBack(t *testing.T) {
	ctx := night.By(context.Background(), "Ada")
	s := open(t)
	scope := anInstrument(t, s, "Long Tom")
	n := aNight(t, s)
	before, err := s.Night(ctx, n.ID)
	must(t, err)
	change := scope
	change.Weight, change.Notes, change.Assumed = 99, "heavier", nil
	fresh := kit.Finder{Base: kit.Base{ID: -1, Name: "Dot", Count: 1}, Kind: kit.UnitPower, ForID: scope.ID}.Fill()
	n.Guests = 7
	x := night.Batch{
		Kit:    kit.Kit{Instruments: []kit.Instrument{change}, Finders: []kit.Finder{fresh}},
		Nights: []night.Night{n, {Name: "New", Date: n.Date.AddDays(1), SiteID: n.SiteID, PublicFrom: n.PublicFrom, Public: n.Public, Block: n.Block, Audience: n.Audience}},
	}
	id, err := s.Import(ctx, "a table", x)
	must(t, err)
	if x.Nights[0].Version != n.Version+1 || x.Nights[1].ID == 0 {
		t.Errorf("ids and versions after the import: %+v", x.Nights)
	}
	is, err := s.Imports(ctx)
	must(t, err)
	if len(is) != 1 || is[0].ID != id || is[0].Who != "Ada" {
		t.Errorf("imports %+v", is)
	}
	what, err := s.UndoImport(ctx, id)
	must(t, err)
	got, err := s.Instrument(ctx, scope.ID)
	must(t, err)
	scope.Version = got.Version // a third one: whoever has the second open is told
	same(t, "the instrument", scope, got)
	if got.Version != 3 || what != "a table" {
		t.Errorf("version %d, what %q", got.Version, what)
	}
	again, err := s.Night(ctx, n.ID)
	must(t, err)
	before.Version = again.Version
	same(t, "the night", before, again)
	bin := inBin(t, s)
	if len(bin) != 2 || bin["Dot"].Kind != night.BinGear || bin["New"].Kind != night.BinNight {
		t.Errorf("in the bin: %+v", bin)
	}
	if _, err := s.UndoImport(ctx, id); fault.KindOf(err) != fault.NotFound {
		t.Errorf("taken back twice: %v", err)
	}

	id, err = s.Import(ctx, "a table", night.Batch{Kit: kit.Kit{Instruments: []kit.Instrument{got}}})
	must(t, err)
	got.Version++
	must(t, s.SaveInstrument(ctx, &got))
	if _, err := s.UndoImport(ctx, id); fault.KindOf(err) != fault.Conflict {
		t.Errorf("a later change was overwritten: %v", err)
	}
	if _, err := s.Import(ctx, "a table", night.Batch{Kit: kit.Kit{Finders: []kit.Finder{{Base: kit.Base{Name: "A", Count: 1}, Kind: "x"}}}, Sites: []night.Site{{}}}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a site without a name: %v", err)
	}
	if k, err := s.Kit(ctx, true); err != nil || len(k.Finders) != 1 {
		t.Errorf("the refused import left %+v, %v", k.Finders, err)
	}
}
