package store_test

import (
	"context"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/store"
	"duskboard/internal/weather"
)

// aKit has one piece of each kind.
func aKit(t testing.TB, s *store.Store) kit.Kit {
	t.Helper()
	b := func(n string) kit.Base { return kit.Base{Name: n, Count: 1} }
	k := kit.Kit{
		Instruments: []kit.Instrument{{Base: b("i"), Design: kit.Newtonian, Aperture: 203, FocalLength: 1200, Mount: kit.RockerBox}},
		Eyepieces:   []kit.Eyepiece{{Base: b("e"), FocalLength: 25, ApparentField: 50}},
		Amplifiers:  []kit.Amplifier{{Base: b("a"), Kind: kit.Barlow, Factor: 2}},
		Diagonals:   []kit.Diagonal{{Base: b("d"), Kind: kit.Mirror90}},
		Filters:     []kit.Filter{{Base: b("f"), Kind: kit.NeutralFilter, Transmission: 0.2}},
		Finders:     []kit.Finder{{Base: b("g"), Kind: kit.UnitPower}},
		DewGear:     []kit.DewGear{{Base: b("h"), Kind: kit.Shield}},
		Batteries:   []kit.Battery{{Base: b("j"), Kind: kit.LeadAcid, Capacity: 7, Voltage: 12}},
		Steps:       []kit.Steps{{Base: b("k"), Kind: kit.Stool, Height: 0.3}},
	}
	must(t, s.ImportKit(context.Background(), k))
	k, err := s.Kit(context.Background(), false)
	must(t, err)
	return k
}

func aVolunteer(t testing.TB, s *store.Store, name string) crew.Volunteer {
	t.Helper()
	v := crew.Volunteer{Name: name}
	must(t, s.SaveVolunteer(context.Background(), &v))
	return v
}

// someWeather has a full hour and one that lacks all it may lack.
func someWeather() weather.Series {
	return weather.Series{
		Source: "typed in", Attribution: "nobody", IssuedAt: evening.Add(-time.Hour), Notes: []string{"looks odd"},
		Hours: []weather.Hour{
			{Time: evening, Temp: 9, DewPoint: 4.5, RH: 73, Cloud: 40, CloudLow: 10, CloudMid: 20, CloudHigh: 30, Wind: 2, Gust: 5, Precip: 0.1, PrecipProb: 20, Thunder: true},
			{
				Time: evening.Add(time.Hour), Temp: -3, DewPoint: -8, RH: 68, Estimated: true,
				Missing: weather.Cloud | weather.Wind | weather.Gust | weather.Precip | weather.PrecipProb | weather.Thunder,
			},
			{Time: evening.Add(2 * time.Hour), Temp: -3, DewPoint: -8, RH: 68, Missing: weather.Gust},
		},
	}
}

// TestPlanHoldsAllThatWasChosen saves every part of a night and loads it whole.
func TestPlanHoldsAllThatWasChosen(t *testing.T) {
	ctx := night.By(context.Background(), "Ada")
	s := open(t)
	n, k := aNight(t, s), aKit(t, s)
	ada, ben := aVolunteer(t, s, "Ada"), aVolunteer(t, s, "Ben")
	anInstrument(t, s, "left at home")

	want := night.Plan{Kit: k, Targets: []string{"moon", "m13", "albireo"}, MustShow: []string{"moon", "albireo"}, Volunteers: []crew.Volunteer{ada, ben}, GoRules: night.DefaultGoRules()}
	want.Availability = []crew.Availability{
		{VolunteerID: ada.ID, Answer: crew.Yes, From: evening, To: evening.Add(2 * time.Hour), DriveMinutes: 12, Wishes: "the Moon"},
		{VolunteerID: ben.ID, Answer: crew.NoAnswer},
	}
	choice := want.Choice()
	must(t, s.SaveChoice(ctx, n.ID, n.Version, choice))
	wantKind(t, s.SaveChoice(ctx, n.ID, n.Version, choice), fault.Conflict, "choice for an older night")

	want.Weather = someWeather()
	must(t, s.SaveWeather(ctx, n.ID, want.Weather))

	in := k.Instruments[0].ID
	want.Showings = []lineup.Showing{
		{InstrumentID: in, TargetID: "moon", EyepieceID: k.Eyepieces[0].ID, AmplifierID: k.Amplifiers[0].ID, DiagonalID: k.Diagonals[0].ID, FilterID: k.Filters[0].ID, From: evening, Length: 30 * time.Minute, Pinned: true, BackupID: "m13"},
		{InstrumentID: in, TargetID: "m13", From: evening.Add(30 * time.Minute), Length: 15 * time.Minute},
	}
	v, err := s.SaveShowings(ctx, n.ID, 1, want.Showings, "propose")
	must(t, err)
	want.Forbidden = []lineup.Pair{{InstrumentID: in, TargetID: "albireo"}}
	v, err = s.SaveForbidden(ctx, n.ID, v, want.Forbidden)
	must(t, err)
	want.LineUpVersion = v

	want.Duties = []crew.Duty{
		{VolunteerID: ada.ID, Role: crew.Operator, InstrumentID: in, From: evening, Length: time.Hour, Pinned: true},
		{VolunteerID: ben.ID, Role: crew.Greeter, From: evening, Length: time.Hour},
	}
	want.RosterVersion, err = s.SaveDuties(ctx, n.ID, 1, want.Duties, "staff")
	must(t, err)

	want.Club, err = s.Club(ctx)
	must(t, err)
	want.Night, err = s.Night(ctx, n.ID)
	must(t, err)
	want.Site, err = s.Site(ctx, n.SiteID)
	must(t, err)
	want.CanUndo = true

	got, err := s.Plan(ctx, n.ID)
	must(t, err)
	same(t, "plan", want, got)
	if want.Showings[0].ID == 0 || want.Duties[0].ID == 0 {
		t.Error("showings and duties did not learn their ids")
	}

	t.Run("retired gear leaves the plan", func(t *testing.T) {
		e := k.Eyepieces[0]
		e.Retired = true
		must(t, s.SaveEyepiece(ctx, &e))
		p, err := s.Plan(ctx, n.ID)
		must(t, err)
		if len(p.Kit.Eyepieces) != 0 {
			t.Errorf("the plan has %d eyepieces, want none", len(p.Kit.Eyepieces))
		}
	})
	t.Run("weather is replaced and cleared", func(t *testing.T) {
		w := weather.Series{Source: "file", Hours: someWeather().Hours[2:]}
		must(t, s.SaveWeather(ctx, n.ID, w))
		p, err := s.Plan(ctx, n.ID)
		must(t, err)
		same(t, "weather", w, p.Weather)
		wantKind(t, s.ReplaceWeather(ctx, n.ID, weather.Series{}.Mark(), someWeather()), fault.Conflict, "weather that somebody saved meanwhile")
		wantKind(t, s.ReplaceWeather(ctx, n.ID, someWeather().Mark(), weather.Series{}), fault.Conflict, "clearing other weather than was seen")
		must(t, s.ReplaceWeather(ctx, n.ID, p.Weather.Mark(), weather.Series{}))
		p, err = s.Plan(ctx, n.ID)
		must(t, err)
		same(t, "weather", weather.Series{}, p.Weather)
	})
	t.Run("history names who did what, newest first", func(t *testing.T) {
		es, err := s.History(ctx, n.ID)
		must(t, err)
		var what []string
		for _, e := range es {
			what = append(what, e.Who+"|"+e.What)
			if e.At.IsZero() || e.ID == 0 {
				t.Errorf("entry %+v has no time or id", e)
			}
		}
		same(t, "history", []string{
			"Ada|clear the weather", "Ada|save weather: file", "Ada|staff", "Ada|change what is not wanted where",
			"Ada|propose", "Ada|save weather: typed in", "Ada|choose kit, targets and crew", "|make the night",
		}, what)
	})
	t.Run("a night that is not there", func(t *testing.T) {
		_, err := s.Plan(ctx, 99)
		wantKind(t, err, fault.NotFound, "plan")
		wantKind(t, s.SaveWeather(ctx, 99, someWeather()), fault.NotFound, "weather")
		wantKind(t, s.SaveChoice(ctx, 99, 1, night.Choice{}), fault.NotFound, "choice")
		_, err = s.SaveShowings(ctx, 99, 1, nil, "x")
		wantKind(t, err, fault.NotFound, "showings")
		_, err = s.SaveDuties(ctx, 99, 1, nil, "x")
		wantKind(t, err, fault.NotFound, "duties")
		_, err = s.Undo(ctx, 99)
		wantKind(t, err, fault.NotFound, "undo")
	})
}

// TestUndoGoesBackSixtyStepsAndForthAgain also closes and opens the database
// in the middle: undo is kept across a restart.
func TestUndoGoesBackSixtyStepsAndForthAgain(t *testing.T) {
	ctx := context.Background()
	path := t.TempDir() + "/club.db"
	s := openAt(t, path)
	n, in := aNight(t, s), anInstrument(t, s, "i")
	const steps = 60

	states := [][]lineup.Showing{nil}
	version := int64(1)
	for i := range steps {
		next := append([]lineup.Showing(nil), states[i]...)
		next = append(next, lineup.Showing{InstrumentID: in.ID, TargetID: "m13", From: evening.Add(time.Duration(i) * time.Minute), Length: time.Minute})
		v, err := s.SaveShowings(ctx, n.ID, version, next, "step")
		must(t, err)
		version, states = v, append(states, next)
	}
	expect := func(i int) {
		t.Helper()
		p, err := s.Plan(ctx, n.ID)
		must(t, err)
		same(t, "showings", states[i], p.Showings)
		if p.CanUndo != (i > 0) || p.CanRedo != (i < steps) {
			t.Fatalf("at step %d: CanUndo %v, CanRedo %v", i, p.CanUndo, p.CanRedo)
		}
		version = p.LineUpVersion
	}
	expect(steps)
	for i := steps - 1; i >= 0; i-- {
		if i == steps/2 {
			must(t, s.Close())
			s = openAt(t, path)
		}
		label, err := s.Undo(ctx, n.ID)
		must(t, err)
		if label != "step" {
			t.Errorf("undo says %q, want the label of the change", label)
		}
		expect(i)
	}
	_, err := s.Undo(ctx, n.ID)
	wantKind(t, err, fault.Conflict, "undo with nothing to undo")
	for i := 1; i <= steps; i++ {
		_, err := s.Redo(ctx, n.ID)
		must(t, err)
		expect(i)
	}
	_, err = s.Redo(ctx, n.ID)
	wantKind(t, err, fault.Conflict, "redo with nothing to redo")

	// An older page may not overwrite; a change after undo ends redo.
	_, err = s.SaveShowings(ctx, n.ID, 1, nil, "stale")
	wantKind(t, err, fault.Conflict, "save of an older line-up")
	expect(steps)
	_, err = s.Undo(ctx, n.ID)
	must(t, err)
	expect(steps - 1)
	if _, err = s.SaveShowings(ctx, n.ID, version, nil, "clear"); err != nil {
		t.Fatal(err)
	}
	_, err = s.Redo(ctx, n.ID)
	wantKind(t, err, fault.Conflict, "redo after a new change")

	// What was undone is in the history all the same.
	es, err := s.History(ctx, n.ID)
	must(t, err)
	for _, e := range es {
		if e.What == "undo: step" {
			p, err := s.Plan(ctx, n.ID)
			must(t, err)
			_, err = s.RestoreLineUp(ctx, n.ID, p.LineUpVersion, e.ID)
			must(t, err)
			p, err = s.Plan(ctx, n.ID)
			must(t, err)
			same(t, "line-up brought back", states[steps-1], p.Showings)
			return
		}
	}
	t.Error("the history does not have the undone step")
}

// TestUndoStepsAreBounded saves more often than steps are kept.
func TestUndoStepsAreBounded(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n := aNight(t, s)
	const kept, saves = 200, 215
	for v := int64(1); v <= saves; v++ {
		_, err := s.SaveShowings(ctx, n.ID, v, nil, "step")
		must(t, err)
	}
	undone := 0
	for {
		if _, err := s.Undo(ctx, n.ID); err != nil {
			wantKind(t, err, fault.Conflict, "last undo")
			break
		}
		undone++
	}
	if undone != kept {
		t.Errorf("%d steps could be undone, want %d", undone, kept)
	}
}

func TestRosterIsBroughtBackFromTheHistory(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n, v := aNight(t, s), aVolunteer(t, s, "Ada")
	first := []crew.Duty{{VolunteerID: v.ID, Role: crew.Safety, From: evening, Length: time.Hour}}
	version, err := s.SaveDuties(ctx, n.ID, 1, first, "first")
	must(t, err)
	es, err := s.History(ctx, n.ID)
	must(t, err)
	version, err = s.SaveDuties(ctx, n.ID, version, nil, "nobody")
	must(t, err)
	_, err = s.SaveDuties(ctx, n.ID, 1, first, "stale")
	wantKind(t, err, fault.Conflict, "save of an older roster")

	_, err = s.RestoreLineUp(ctx, n.ID, 1, es[0].ID)
	wantKind(t, err, fault.NotFound, "line-up of an entry that has none")
	_, err = s.RestoreRoster(ctx, n.ID, version, es[len(es)-1].ID)
	wantKind(t, err, fault.NotFound, "roster of an entry that has none")
	_, err = s.RestoreRoster(ctx, n.ID, version, es[0].ID)
	must(t, err)
	p, err := s.Plan(ctx, n.ID)
	must(t, err)
	same(t, "roster", first, p.Duties)
}
