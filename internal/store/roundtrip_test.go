package store_test

import (
	"context"
	"math"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// keep saves a value, changes it, and checks at each step that what comes back
// is what went in, and that a save with an older version is refused.
func keep[T any](t *testing.T, name string, x T, id func(*T) (id, version *int64), save func(context.Context, *T) error, load func(context.Context, int64) (T, error), change func(*T)) {
	t.Run(name, func(t *testing.T) {
		ctx := context.Background()
		i, v := id(&x)
		must(t, save(ctx, &x))
		if *i == 0 || *v != 1 {
			t.Errorf("after the first save: id %d, version %d, want an id and version 1", *i, *v)
		}
		got, err := load(ctx, *i)
		must(t, err)
		same(t, "first save", x, got)

		stale := x
		change(&x)
		must(t, save(ctx, &x))
		if *v != 2 {
			t.Errorf("after the second save: version %d, want 2", *v)
		}
		got, err = load(ctx, *i)
		must(t, err)
		same(t, "second save", x, got)

		change(&stale)
		wantKind(t, save(ctx, &stale), fault.Conflict, "save of an older version")
		got, err = load(ctx, *i)
		must(t, err)
		same(t, "after the conflict", x, got)

		nobody := x
		i, _ = id(&nobody)
		*i = 1 << 40
		wantKind(t, save(ctx, &nobody), fault.NotFound, "change of a row that is not there")
		_, err = load(ctx, 1<<40)
		wantKind(t, err, fault.NotFound, "lookup of a row that is not there")
	})
}

func TestSitesNightsAndVolunteersComeBackAsSaved(t *testing.T) {
	s := open(t)
	site := aSite(t, s)
	keep(t, "site",
		night.Site{
			Name: "Южный 南 🌌", Zone: "Australia/Melbourne", Place: sky.Place{Lat: -36.92, Lon: 146.21, Elev: 410},
			Horizon: sky.Horizon{{Az: 0, Alt: 5}, {Az: 359.5, Alt: -1.25}}, Brightness: 21.5, Ground: "gravel",
			Power: true, Ladders: true, Notes: "two\nlines",
		},
		func(x *night.Site) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveSite, s.Site,
		func(x *night.Site) { x.Horizon, x.Retired, x.Place.Lat = nil, true, 90 })
	keep(t, "volunteer",
		crew.Volunteer{
			Name: "Ada", Email: "a@example.org", Phone: "1", Share: true, Minor: true,
			Skills:    []crew.Skill{{InstrumentID: 3, Level: crew.Alone}, {Mount: string(kit.ForkWedge), Level: crew.Teacher}},
			Roles:     []crew.Role{crew.Operator, crew.Safety},
			Limits:    crew.Limits{NoLifting: true, NoLadder: true, MustSit: true, NoNightDriving: true},
			Languages: []string{"en", "nl"}, DriveMinutes: 25, Notes: "n",
		},
		func(x *crew.Volunteer) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveVolunteer, s.Volunteer,
		func(x *crew.Volunteer) {
			x.Skills, x.Roles, x.Limits, x.Retired = nil, []crew.Role{crew.Parking}, crew.Limits{MustSit: true}, true
		})
	keep(t, "night",
		night.Night{
			Name: "Long one", Date: sky.Date{Year: 2026, Month: 10, Day: 24}, SiteID: site.ID, PublicFrom: evening,
			Public: 25 * time.Hour, Block: 20 * time.Minute, Guests: 12, Audience: night.School, Seeing: 3.5, Notes: "n",
		},
		func(x *night.Night) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveNight, s.Night,
		func(x *night.Night) {
			x.Date, x.Audience, x.Retired = sky.Date{Year: 2028, Month: 2, Day: 29}, night.Adults, true
		})
}

func TestEveryKindOfGearComesBackAsSaved(t *testing.T) {
	s := open(t)
	owner := crew.Volunteer{Name: "Ada"}
	must(t, s.SaveVolunteer(context.Background(), &owner))
	host := anInstrument(t, s, "host")
	base := kit.Base{Name: "thing", OwnerID: owner.ID, Count: 3, Notes: "n", Assumed: []string{"Glass", "Thickness"}}
	yes := true
	alter := func(b *kit.Base) { b.OwnerID, b.Retired, b.Assumed, b.Notes = 0, true, nil, "other" }

	keep(t, "instrument",
		kit.Instrument{
			Base: base, Design: kit.SchmidtCassegrain, Aperture: 203.2, FocalLength: 2032, Power: 1, FixedField: 2,
			Obstruction: 0.34, Thickness: 5, Glass: kit.Borosilicate, ClosedTube: true, Fan: true, Focuser: kit.Barrel2,
			MaxFieldStop: 38, BackFocus: 120, Mount: kit.AltAzGoTo, Tracking: true, GoTo: true, MeridianOverrun: 12,
			MinAltitude: -3, MaxAltitude: 85, EyepiecePlace: kit.BehindDiagonal, PivotHeight: 1.2, PivotToEye: 0.4,
			EyeOffset: 0.1, SetupMinutes: 20, NeedsCollimation: true, Weight: 15, DewShield: 1.5, Heater: 8, MountPower: 9,
			SolarFilter: kit.SolarFilter{FullAperture: true, Certified: true, Fitted: true, Inspected: evening},
			Storage:     kit.Shed, TimeConstant: 0.8, TimeConstantFan: true, Stand: "3", TubeLength: 0.45, ImageMirrored: &yes,
		},
		func(x *kit.Instrument) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveInstrument, s.Instrument,
		func(x *kit.Instrument) {
			alter(&x.Base)
			x.ImageMirrored, x.SolarFilter, x.Fan = nil, kit.SolarFilter{}, false
		})
	keep(t, "eyepiece",
		kit.Eyepiece{Base: base, FocalLength: 24, ApparentField: 68, FieldStop: 27.2, Barrel: kit.Barrel125, EyeRelief: 17, Class: kit.ClassWide, Weight: 230},
		func(x *kit.Eyepiece) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveEyepiece, s.Eyepiece,
		func(x *kit.Eyepiece) { alter(&x.Base); x.FieldStop = 0 })
	keep(t, "amplifier",
		kit.Amplifier{Base: base, Kind: kit.Reducer, Factor: 0.63, Barrel: kit.Barrel2, OnlyFor: []kit.Design{kit.SchmidtCassegrain, kit.OtherCassegrain}, BackFocus: 105},
		func(x *kit.Amplifier) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveAmplifier, s.Amplifier,
		func(x *kit.Amplifier) { alter(&x.Base); x.OnlyFor = nil })
	keep(t, "diagonal",
		kit.Diagonal{Base: base, Kind: kit.Amici45, Barrel: kit.Barrel125, ForID: host.ID, MaxStop: 23, PathUsed: 75},
		func(x *kit.Diagonal) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveDiagonal, s.Diagonal,
		func(x *kit.Diagonal) { alter(&x.Base); x.ForID = 0 })
	keep(t, "filter",
		kit.Filter{Base: base, Kind: kit.NebulaFilter, Barrel: kit.Barrel2, Transmission: 0.92},
		func(x *kit.Filter) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveFilter, s.Filter,
		func(x *kit.Filter) { alter(&x.Base) })
	keep(t, "finder",
		kit.Finder{Base: base, Kind: kit.CorrectAngleFinder, Aperture: 50, Power: 8, Field: 6.2, ForID: host.ID},
		func(x *kit.Finder) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveFinder, s.Finder,
		func(x *kit.Finder) { alter(&x.Base); x.ForID = 0 })
	keep(t, "dew gear",
		kit.DewGear{Base: base, Kind: kit.HeaterStrip, MinDiameter: 180, MaxDiameter: 230, Length: 10, Power: 8.5, ForID: host.ID},
		func(x *kit.DewGear) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveDewGear, s.DewGear,
		func(x *kit.DewGear) { alter(&x.Base); x.ForID = 0 })
	keep(t, "battery",
		kit.Battery{Base: base, Kind: kit.LiFePO4, Capacity: 20, Voltage: 12.8, Aged: true, ForID: host.ID},
		func(x *kit.Battery) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveBattery, s.Battery,
		func(x *kit.Battery) { alter(&x.Base); x.Aged = false })
	keep(t, "steps",
		kit.Steps{Base: base, Kind: kit.RailStool, Height: 0.44},
		func(x *kit.Steps) (*int64, *int64) { return &x.ID, &x.Version }, s.SaveSteps, s.Steps,
		func(x *kit.Steps) { alter(&x.Base) })

	t.Run("retired gear is listed on request only", func(t *testing.T) {
		all, err := s.Kit(context.Background(), true)
		must(t, err)
		some, err := s.Kit(context.Background(), false)
		must(t, err)
		if len(all.Instruments) != 2 || len(some.Instruments) != 1 || len(all.Batteries) != 1 || len(some.Batteries) != 0 {
			t.Errorf("got %d and %d instruments, %d and %d batteries; want 2 and 1, 1 and 0",
				len(all.Instruments), len(some.Instruments), len(all.Batteries), len(some.Batteries))
		}
	})
	t.Run("an id of another kind is not found", func(t *testing.T) {
		_, err := s.Eyepiece(context.Background(), host.ID)
		wantKind(t, err, fault.NotFound, "lookup of an instrument as an eyepiece")
		wrong := kit.Eyepiece{Base: kit.Base{ID: host.ID, Version: host.Version, Name: "x"}, FocalLength: 10, ApparentField: 50}
		wantKind(t, s.SaveEyepiece(context.Background(), &wrong), fault.NotFound, "save of an eyepiece over an instrument")
	})
}

func TestClubSettingsAreOneRowWithAVersion(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	c, err := s.Club(ctx)
	must(t, err)
	stale := c
	c.Name, c.Paper, c.Inches, c.MinAltitude, c.Ladders, c.Contact = "Ash Field Skywatchers", "letter", true, 25, true, "0"
	must(t, s.SaveClub(ctx, &c))
	got, err := s.Club(ctx)
	must(t, err)
	same(t, "club", c, got)
	wantKind(t, s.SaveClub(ctx, &stale), fault.Conflict, "save of older settings")
}

func TestOwnTargetsComeBackAndGo(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	x := night.OwnTarget{Target: catalog.Target{
		Name: "Coat hook", Designations: []string{"Club 1"}, Kind: catalog.KindDouble, Constellation: "Vul",
		Star: sky.Star{RA: 291.3, Dec: 20.1, PMRA: -3, PMDec: 2.5}, Magnitude: 3.6, BV: math.NaN(), MajorAxis: 60, MinorAxis: 10,
		PositionAngle: math.NaN(), Brightness: math.NaN(), Distance: "about 400 light-years", LightYears: 400, DistanceError: 12,
		Double:   &catalog.Double{Separation: 14.5, PositionAngle: 87, MagA: 3, MagB: 5.5, Colours: "gold and blue", Year: 2020, Count: 2, Optical: true},
		Variable: &catalog.Variable{Max: 3, Min: 4, Period: 5.4, Colours: "red"}, Reach: catalog.ReachBinoculars,
		Delight: 0.7, Showpiece: true, Source: "the club", Own: true,
		Words: catalog.Words{Line: "l", Facts: []string{"f", "g"}, LookFor: "o", Expect: "e", Find: "h"},
	}}
	must(t, s.SaveOwnTarget(ctx, &x))
	if x.ID != "own-1" || x.Version != 1 {
		t.Errorf("got id %q version %d, want own-1 and 1", x.ID, x.Version)
	}
	got, err := s.OwnTargets(ctx)
	must(t, err)
	same(t, "own targets", []night.OwnTarget{x}, got)

	stale := x
	x.Double, x.Variable, x.Magnitude = nil, nil, math.NaN()
	must(t, s.SaveOwnTarget(ctx, &x))
	one, err := s.OwnTarget(ctx, x.ID)
	must(t, err)
	same(t, "own target", x, one)
	wantKind(t, s.SaveOwnTarget(ctx, &stale), fault.Conflict, "save of an older target")
	wantKind(t, s.RemoveOwnTarget(ctx, x.ID, 1), fault.Conflict, "removal of an older target")

	must(t, s.RemoveOwnTarget(ctx, x.ID, x.Version))
	got, err = s.OwnTargets(ctx)
	must(t, err)
	same(t, "own targets after removal", []night.OwnTarget{}, got)
	if _, err := s.OwnTarget(ctx, x.ID); err != nil {
		t.Errorf("a removed target is not found by its id, which old nights name: %v", err)
	}
	for _, id := range []string{"", "m31", "own-", "own-x", "own-99", "own--1"} {
		_, err := s.OwnTarget(ctx, id)
		wantKind(t, err, fault.NotFound, "lookup of "+id)
	}
	wantKind(t, s.SaveOwnTarget(ctx, &night.OwnTarget{Target: catalog.Target{Name: "x", Moves: true}}), fault.Invalid, "a target that moves")
}

// TestMillisecondsAreKept guards the precision that the store promises.
func TestMillisecondsAreKept(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n := aNight(t, s)
	n.PublicFrom = time.Date(2026, 10, 25, 2, 59, 59, 123_000_000, time.FixedZone("", 7200))
	must(t, s.SaveNight(ctx, &n))
	got, err := s.Night(ctx, n.ID)
	must(t, err)
	if !got.PublicFrom.Equal(n.PublicFrom) || got.PublicFrom.Location() != time.UTC {
		t.Errorf("got %v, want the same instant as %v in UTC", got.PublicFrom, n.PublicFrom)
	}
}
