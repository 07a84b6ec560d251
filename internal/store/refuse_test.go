package store_test

import (
	"context"
	"math"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// TestConstraintsBecomeKinds guards that what the schema refuses reaches the
// caller as a kind, for each sort of constraint.
func TestConstraintsBecomeKinds(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n, in := aNight(t, s), anInstrument(t, s, "i")
	ada := aVolunteer(t, s, "Ada")
	for _, c := range []struct {
		name string
		do   func() error
		want fault.Kind
	}{
		{"a latitude of 91 degrees", func() error {
			return s.SaveSite(ctx, &night.Site{Name: "x", Zone: "UTC", Brightness: 20, Place: sky.Place{Lat: 91}})
		}, fault.Invalid},
		{"a latitude that is not a number", func() error {
			return s.SaveSite(ctx, &night.Site{Name: "x", Zone: "UTC", Brightness: 20, Place: sky.Place{Lat: math.NaN()}})
		}, fault.Invalid},
		{"an infinite elevation", func() error {
			return s.SaveSite(ctx, &night.Site{Name: "x", Zone: "UTC", Brightness: 20, Place: sky.Place{Elev: math.Inf(1)}})
		}, fault.Invalid},
		{"a horizon that is not a number", func() error {
			return s.SaveSite(ctx, &night.Site{Name: "x", Zone: "UTC", Brightness: 20, Horizon: sky.Horizon{{Az: math.NaN()}}})
		}, fault.Invalid},
		{"no name", func() error { return s.SaveVolunteer(ctx, &crew.Volunteer{}) }, fault.Invalid},
		{"an aperture of 0", func() error {
			return s.SaveInstrument(ctx, &kit.Instrument{Base: kit.Base{Name: "x"}, Design: kit.Newtonian, Mount: kit.RockerBox})
		}, fault.Invalid},
		{"an owner who is not there", func() error {
			return s.SaveSteps(ctx, &kit.Steps{Base: kit.Base{Name: "x", OwnerID: 99}, Kind: kit.Stool})
		}, fault.Invalid},
		{"a night without an instant", func() error {
			return s.SaveNight(ctx, &night.Night{SiteID: n.SiteID, Date: n.Date, Public: time.Hour, Block: 15 * time.Minute, Audience: night.Adults})
		}, fault.Invalid},
		{"a night in the year 12000", func() error {
			return s.SaveNight(ctx, &night.Night{SiteID: n.SiteID, Date: n.Date, PublicFrom: time.Date(12000, 1, 1, 0, 0, 0, 0, time.UTC), Public: time.Hour, Block: 15 * time.Minute, Audience: night.Adults})
		}, fault.Invalid},
		{"a block of 7 minutes", func() error {
			return s.SaveNight(ctx, &night.Night{SiteID: n.SiteID, Date: n.Date, PublicFrom: evening, Public: time.Hour, Block: 7 * time.Minute, Audience: night.Adults})
		}, fault.Invalid},
		{"a site that is not there", func() error {
			return s.SaveNight(ctx, &night.Night{SiteID: 99, Date: n.Date, PublicFrom: evening, Public: time.Hour, Block: 15 * time.Minute, Audience: night.Adults})
		}, fault.Invalid},
		{"an instrument chosen as an eyepiece", func() error {
			return s.SaveChoice(ctx, n.ID, n.Version, night.Choice{Eyepieces: []int64{in.ID}})
		}, fault.Invalid},
		{"a target chosen twice", func() error {
			return s.SaveChoice(ctx, n.ID, n.Version, night.Choice{Targets: []string{"m13", "m13"}})
		}, fault.Conflict},
		{"a must-show that is not a target", func() error {
			return s.SaveChoice(ctx, n.ID, n.Version, night.Choice{Targets: []string{"m13"}, MustShow: []string{"moon"}})
		}, fault.Invalid},
		{"a showing at an instrument that is not there", func() error {
			_, err := s.SaveShowings(ctx, n.ID, 1, []lineup.Showing{{InstrumentID: 99, TargetID: "moon", From: evening, Length: time.Hour}}, "x")
			return err
		}, fault.Invalid},
		{"a showing of no length", func() error {
			_, err := s.SaveShowings(ctx, n.ID, 1, []lineup.Showing{{InstrumentID: in.ID, TargetID: "moon", From: evening}}, "x")
			return err
		}, fault.Invalid},
		{"two duties of one person at once", func() error {
			d := crew.Duty{VolunteerID: ada.ID, Role: crew.Greeter, From: evening, Length: time.Hour}
			_, err := s.SaveDuties(ctx, n.ID, 1, []crew.Duty{d, d}, "x")
			return err
		}, fault.Conflict},
		{"text in a column of numbers", func() error { return s.Exec(ctx, "UPDATE nights SET guests = 'many'") }, fault.Invalid},
		{"a statement that is wrong", func() error { return s.Exec(ctx, "UPDATE nowhere SET x = 1") }, fault.Internal},
	} {
		t.Run(c.name, func(t *testing.T) { wantKind(t, c.do(), c.want, c.name) })
	}

	// None of the refused saves left a trace.
	p, err := s.Plan(ctx, n.ID)
	must(t, err)
	if p.Night.Version != 1 || p.LineUpVersion != 1 || p.RosterVersion != 1 || p.Targets != nil || p.CanUndo {
		t.Errorf("a refused save left a trace: %+v", p)
	}
}

// TestARefusedSaveLeavesTheValueAlone guards that a caller's value does not
// believe in an id that was rolled back.
func TestARefusedSaveLeavesTheValueAlone(t *testing.T) {
	s := open(t)
	x := kit.Eyepiece{Base: kit.Base{Name: "x"}, FocalLength: -1, ApparentField: 50}
	wantKind(t, s.SaveEyepiece(context.Background(), &x), fault.Invalid, "save")
	if x.ID != 0 || x.Version != 0 {
		t.Errorf("a refused eyepiece has id %d and version %d", x.ID, x.Version)
	}
	if n, err := s.Count(context.Background(), "gear"); err != nil || n != 0 {
		t.Errorf("%d rows of gear are left of a refused eyepiece (%v)", n, err)
	}
}

func TestImportIsAllOrNothing(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	good := kit.Kit{
		Instruments: []kit.Instrument{{Base: kit.Base{ID: -7, Name: "tube"}, Design: kit.Newtonian, Aperture: 150, FocalLength: 750, Mount: kit.RockerBox}},
		Finders:     []kit.Finder{{Base: kit.Base{Name: "dot"}, Kind: kit.UnitPower, ForID: -7}},
		Batteries:   []kit.Battery{{Base: kit.Base{Name: "cell"}, Kind: kit.LeadAcid, Capacity: 7, Voltage: 12}},
	}
	bad := good
	bad.Steps = []kit.Steps{{Base: kit.Base{Name: "stool"}, Kind: kit.Stool, Height: -1}}
	err := s.ImportKit(ctx, bad)
	wantKind(t, err, fault.Invalid, "import with a bad row")
	if !strings.Contains(err.Error(), "stool") {
		t.Errorf("the error does not name the bad row: %v", err)
	}
	lost := good
	lost.Finders = []kit.Finder{{Base: kit.Base{Name: "dot"}, Kind: kit.UnitPower, ForID: -8}}
	wantKind(t, s.ImportKit(ctx, lost), fault.Invalid, "import with a finder for nobody")
	if n, err := s.Count(ctx, "gear"); err != nil || n != 0 {
		t.Fatalf("%d rows are left of refused imports (%v)", n, err)
	}

	must(t, s.ImportKit(ctx, good))
	k, err := s.Kit(ctx, true)
	must(t, err)
	if len(k.Instruments) != 1 || len(k.Finders) != 1 || k.Finders[0].ForID != k.Instruments[0].ID || good.Instruments[0].ID != -7 {
		t.Errorf("imported kit is %+v", k)
	}

	// Rows that exist are changed, unless somebody was quicker.
	k.Instruments[0].Name = "renamed"
	must(t, s.ImportKit(ctx, kit.Kit{Instruments: k.Instruments}))
	wantKind(t, s.ImportKit(ctx, kit.Kit{Instruments: k.Instruments}), fault.Conflict, "import of older rows")
	got, err := s.Instrument(ctx, k.Instruments[0].ID)
	must(t, err)
	if got.Name != "renamed" || got.Version != 2 {
		t.Errorf("got %q at version %d, want renamed at 2", got.Name, got.Version)
	}
}

// TestOfTwoEditorsOneWins lets many save the same row at once.
func TestOfTwoEditorsOneWins(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	site := aSite(t, s)
	const editors = 8
	var wg sync.WaitGroup
	errs := make([]error, editors)
	for i := range editors {
		wg.Go(func() {
			mine := site
			mine.Notes = strings.Repeat("x", i)
			errs[i] = s.SaveSite(ctx, &mine)
			if _, err := s.Sites(ctx); err != nil { // readers meanwhile
				t.Error(err)
			}
		})
	}
	wg.Wait()
	won := 0
	for _, err := range errs {
		if err == nil {
			won++
		} else {
			wantKind(t, err, fault.Conflict, "the slower editor")
		}
	}
	if won != 1 {
		t.Errorf("%d editors saved version 1, want exactly one", won)
	}
}

// TestAFullDiskChangesNothing bounds the file instead of filling a disk: to
// SQLite it is the same.
func TestAFullDiskChangesNothing(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	site := aSite(t, s)
	must(t, s.Exec(ctx, "PRAGMA max_page_count = 1")) // raised to the present size by SQLite
	before := site
	site.Notes = strings.Repeat("long ", 100_000)
	err := s.SaveSite(ctx, &site)
	if err == nil || !strings.Contains(err.Error(), "disk is full") || fault.KindOf(err) != fault.Internal {
		t.Errorf("got %v, want an internal error that says that the disk is full", err)
	}
	got, err := s.Site(ctx, site.ID)
	must(t, err)
	same(t, "site", before, got)
	must(t, s.Exec(ctx, "PRAGMA max_page_count = 1000000"))
	must(t, s.SaveSite(ctx, &site))
}

func TestConnectionsAreSetUp(t *testing.T) {
	ctx := context.Background()
	s := openAt(t, filepath.Join(t.TempDir(), "club.db"))
	for pragma, want := range map[string][2]string{
		"journal_mode":   {"wal", "wal"},
		"foreign_keys":   {"1", "1"},
		"synchronous":    {"2", ""}, // FULL; readers write nothing
		"busy_timeout":   {"10000", "10000"},
		"query_only":     {"0", "1"},
		"application_id": {"1146442571", "1146442571"},
	} {
		w, r, err := s.Setting(ctx, pragma)
		must(t, err)
		if w != want[0] || (want[1] != "" && r != want[1]) {
			t.Errorf("%s is %s for the writer and %s for readers, want %v", pragma, w, r, want)
		}
	}
	if err := s.ReadPoolExec(ctx, "DELETE FROM sites"); err == nil {
		t.Error("the read-only pool deleted rows")
	}
}

// TestCancelledSaveIsNotKept guards that a request which is given up leaves
// no half of a save and does not block the next.
func TestCancelledSaveIsNotKept(t *testing.T) {
	s := open(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := s.SaveSite(ctx, &night.Site{Name: "x", Zone: "UTC", Brightness: 20}); err == nil {
		t.Error("a cancelled save returned no error")
	}
	aSite(t, s)
	if n, err := s.Count(context.Background(), "sites"); err != nil || n != 1 {
		t.Errorf("%d sites (%v), want the one that was saved", n, err)
	}
}
