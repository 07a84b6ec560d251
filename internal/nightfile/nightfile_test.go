package nightfile_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
	"duskboard/internal/sky"
	"duskboard/internal/weather"
)

func plan() night.Plan {
	from := time.Date(2027, 2, 13, 2, 0, 0, 0, time.UTC)
	return night.Plan{
		Club:  night.Club{Name: "Test club", MinAltitude: 20, Ladders: true},
		Site:  night.Site{ID: 1, Name: "Field", Place: sky.Place{Lat: 40, Lon: -105, Elev: 1600}, Zone: "America/Denver", Horizon: sky.Horizon{{Az: 0, Alt: 5}, {Az: 180, Alt: 10}}, Brightness: 20.5, Ladders: true, Ground: "grass"},
		Night: night.Night{ID: 1, Name: "Winter night", Date: sky.Date{Year: 2027, Month: 2, Day: 12}, SiteID: 1, PublicFrom: from, Public: 150 * time.Minute, Block: 15 * time.Minute, Guests: 80, Audience: night.Families, Seeing: 2.5},
		Kit: kit.Kit{
			Instruments: []kit.Instrument{{Base: kit.Base{ID: 1, Name: "Tube", Count: 1}, Design: kit.Newtonian, Aperture: 203, FocalLength: 1218, Mount: kit.RockerBox, Focuser: kit.Barrel2}},
			Eyepieces:   []kit.Eyepiece{{Base: kit.Base{ID: 2, Name: "25 mm", Count: 2}, FocalLength: 25, ApparentField: 50, Barrel: kit.Barrel125, Class: kit.ClassPlossl}},
			Batteries:   []kit.Battery{{Base: kit.Base{ID: 3, Name: "Battery", Count: 1}, Kind: kit.LeadAcid, Capacity: 17, Voltage: 12}},
		},
		Targets: []string{"moon", "m42"}, MustShow: []string{"moon"},
		Volunteers:   []crew.Volunteer{{ID: 7, Name: "Ana", Roles: []crew.Role{crew.Operator}, Skills: []crew.Skill{{InstrumentID: 1, Level: crew.Alone}}, Limits: crew.Limits{NoLadder: true}, DriveMinutes: 20}},
		Availability: []crew.Availability{{VolunteerID: 7, Answer: crew.Yes, From: from}},
		Weather:      weather.Series{Source: "typed", Hours: []weather.Hour{{Time: from, Temp: 4, DewPoint: 1, RH: weather.RelativeHumidity(4, 1), Cloud: 10, Missing: weather.Wind | weather.Gust | weather.Precip | weather.PrecipProb | weather.Thunder}}},
		Showings:     []lineup.Showing{{ID: 1, InstrumentID: 1, TargetID: "moon", EyepieceID: 2, From: from, Length: 30 * time.Minute, Pinned: true, BackupID: "m42"}},
		Forbidden:    []lineup.Pair{{InstrumentID: 1, TargetID: "m42"}},
		Duties:       []crew.Duty{{ID: 1, VolunteerID: 7, Role: crew.Operator, InstrumentID: 1, From: from, Length: time.Hour}},
	}
}

// TestRoundTrip guards that nothing of a night is lost on the way out and in.
func TestRoundTrip(t *testing.T) {
	want := plan()
	var b bytes.Buffer
	if err := nightfile.Write(&b, want); err != nil {
		t.Fatal(err)
	}
	got, err := nightfile.Read(&b)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got, cmpopts.EquateEmpty(), cmpopts.EquateApprox(1e-9, 0)); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

// TestFaultsHavePaths guards that every fault of a file is named by its place.
func TestFaultsHavePaths(t *testing.T) {
	var b bytes.Buffer
	if err := nightfile.Write(&b, plan()); err != nil {
		t.Fatal(err)
	}
	good := b.String()
	for _, c := range []struct{ name, old, new, path string }{
		{"unknown field", `"seeing": 2.5`, `"seeing": 2.5, "moonbeams": 3`, "/night"},
		{"wrong type", `"guests": 80`, `"guests": "many"`, "/night/guests"},
		{"wrong format", `duskboard-night/1`, `duskboard-night/9`, "/format"},
		{"aperture 0", `"aperture": 203`, `"aperture": -1`, "/kit/instruments/0/aperture"},
		{"wild eyepiece", `"apparentField": 50`, `"apparentField": 300`, "/kit/eyepieces/0/apparentField"},
		{"no such zone", `America/Denver`, `America/Nowhere`, "/site/zone"},
		{"no such date", `2027-02-12`, `2027-02-31`, "/night/date"},
		{"showing without instrument", `"instrument": 1,
      "target": "moon"`, `"instrument": 9,
      "target": "moon"`, "/showings/0/instrument"},
		{"too damp", `"dew_point": 1`, `"dew_point": 30`, "/weather/hours"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(good, c.old, c.new, 1)
			if bad == good {
				t.Fatalf("the file has no %q", c.old)
			}
			_, err := nightfile.Read(strings.NewReader(bad))
			if fault.KindOf(err) != fault.Invalid {
				t.Fatalf("got %v, want an Invalid error", err)
			}
			var fs fault.Fields
			if !errors.As(err, &fs) || fs.For(c.path) == "" {
				t.Errorf("no fault at %s; got %+v", c.path, fs)
			}
		})
	}
}

// FuzzRead guards that no bytes crash the reader, and that what it accepts can
// be written and read again.
func FuzzRead(f *testing.F) {
	var b bytes.Buffer
	if err := nightfile.Write(&b, plan()); err != nil {
		f.Fatal(err)
	}
	f.Add(b.String())
	f.Add(string(written(f, laidOut())))
	f.Add(`{"format":"duskboard-night/1"}`)
	f.Add(`{"format":"duskboard-night/1","site":{"name":"x","latitude":1e309}}`)
	f.Add(strings.Repeat("[", 10000))
	f.Fuzz(func(t *testing.T, s string) {
		p, err := nightfile.Read(strings.NewReader(s))
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := nightfile.Write(&out, p); err != nil {
			t.Fatalf("accepted, but cannot be written: %v", err)
		}
		if _, err := nightfile.Read(&out); err != nil {
			t.Fatalf("accepted, but not after writing: %v", err)
		}
	})
}
