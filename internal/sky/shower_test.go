package sky_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/sky"
)

func showerOf(n *sky.Night, code string) (sky.ShowerView, bool) {
	for _, s := range n.Showers() {
		if s.Code == code {
			return s, true
		}
	}
	return sky.ShowerView{}, false
}

func TestShowerMaximaByTheSunsLongitude(t *testing.T) {
	var ref struct {
		Rows []struct {
			Code string
			TT   float64
		}
	}
	readReference(t, "showers/longitudes.json", &ref)
	for _, r := range ref.Rows {
		at := atTT(r.TT)
		s, ok := showerOf(nightAround(t, sky.Place{Lat: 40}, at), r.Code)
		if !ok || !s.MaximumTonight {
			t.Errorf("%s %v: not tonight", r.Code, at)
			continue
		}
		near(t, r.Code+" "+at.Format(time.DateOnly)+", s off", s.Maximum.Sub(at).Seconds(), 0, 60)
	}
}

// The dates that the IMO's calendar prints for 2026, by the longitudes alone.
func TestShowerDatesOfTheCalendar(t *testing.T) {
	for code, date := range map[string]sky.Date{
		"QUA": {Year: 2026, Month: 1, Day: 3}, "LYR": {Year: 2026, Month: 4, Day: 22}, "ETA": {Year: 2026, Month: 5, Day: 6}, "SDA": {Year: 2026, Month: 7, Day: 31},
		"PER": {Year: 2026, Month: 8, Day: 13}, "DRA": {Year: 2026, Month: 10, Day: 9}, "ORI": {Year: 2026, Month: 10, Day: 21}, "LEO": {Year: 2026, Month: 11, Day: 17},
		"GEM": {Year: 2026, Month: 12, Day: 14}, "URS": {Year: 2026, Month: 12, Day: 22},
	} {
		found := false
		for back := 1; back >= 0; back-- { // the UT day spans two nights of Greenwich
			d := date.AddDays(-back)
			n, err := sky.NewNight(sky.Place{Lat: 51.5}, d, time.UTC)
			if err != nil {
				t.Fatal(err)
			}
			if s, ok := showerOf(n, code); ok && s.MaximumTonight && sky.DateOf(s.Maximum, time.UTC) == date {
				found = true
			}
		}
		if !found {
			t.Errorf("%s: no maximum on %v", code, date)
		}
	}
}

// Geminids over Denver: the radiant culminates near 2 in the morning (common
// knowledge of the trade), and in the dark of Melbourne it stands low.
func TestBestTimeOfTheGeminids(t *testing.T) {
	n := utcNight(t, sky.Place{Lat: 40, Lon: -105}, 2026, 12, 13, -7)
	s, ok := showerOf(n, "GEM")
	if !ok || !s.Seen {
		t.Fatalf("%+v", s)
	}
	if h := s.Best.In(n.Zone).Hour(); h < 1 || h > 2 {
		t.Errorf("best at %v", s.Best.In(n.Zone))
	}
	// The radiant culminates at 83 degrees an hour later, when the maximum is past.
	near(t, "altitude", s.Altitude, 90-40+33, 6)
	if s.Hourly < 60 || s.Hourly > 150 {
		t.Errorf("%.0f an hour", s.Hourly)
	}
	if all := n.Showers(); all[0].Code != "GEM" {
		t.Errorf("richest is %s", all[0].Code)
	}
	south, _ := showerOf(utcNight(t, sky.Place{Lat: -37.81, Lon: 144.96}, 2026, 12, 13, 11), "GEM")
	if !(south.Altitude < 22 && south.Hourly < s.Hourly/2) {
		t.Errorf("Melbourne: %+v", south)
	}
}

// Where the radiant never rises, or it never gets dark, nothing is promised.
func TestShowersThatCannotBeSeen(t *testing.T) {
	ursids, ok := showerOf(utcNight(t, sky.Place{Lat: -54.8, Lon: -68.3}, 2026, 12, 22, -3), "URS")
	if !ok || ursids.Seen || ursids.Hourly != 0 {
		t.Errorf("Ursids in Tierra del Fuego: %+v", ursids)
	}
	june, ok := showerOf(utcNight(t, sky.Place{Lat: 69.65, Lon: 18.96}, 2026, 6, 27, 2), "JBO")
	if !ok || june.Seen {
		t.Errorf("June Bootids under the midnight Sun: %+v", june)
	}
	if _, ok := showerOf(utcNight(t, sky.Place{Lat: 40}, 2026, 3, 1, 0), "PER"); ok {
		t.Error("Perseids in March")
	}
}

// The Quadrantids run across the turn of the year, the Antipodes of the list's
// longitudes across 0.
func TestActivityAcrossTheWrap(t *testing.T) {
	for _, d := range []sky.Date{{Year: 2026, Month: 12, Day: 30}, {Year: 2027, Month: 1, Day: 10}} {
		n, err := sky.NewNight(sky.Place{Lat: 50}, d, time.UTC)
		if err != nil {
			t.Fatal(err)
		}
		s, ok := showerOf(n, "QUA")
		if !ok || s.MaximumTonight || math.Abs(s.DaysFromMaximum) > 8 {
			t.Errorf("%v: %+v", d, s)
		}
	}
	// gamma-Normids: solar longitudes 336 to 8.
	if _, ok := showerOf(utcNight(t, sky.Place{Lat: -38}, 2027, 3, 22, 0), "GNO"); !ok {
		t.Error("gamma-Normids missing past the equinox")
	}
}

func TestShowerTable(t *testing.T) {
	for _, s := range sky.Showers() {
		length := math.Mod(s.End-s.Start+360, 360)
		into := math.Mod(s.Peak-s.Start+360, 360)
		if !(into < length && length < 80) || len(s.Code) != 3 || s.Speed < 10 || s.Speed > 72 || s.Ratio < 2 || s.Ratio > 3.5 || s.Source == "" {
			t.Errorf("%+v", s)
		}
	}
}
