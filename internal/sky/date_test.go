package sky_test

import (
	"strings"
	"testing"
	"time"

	"duskboard/internal/sky"
)

func TestParseDate(t *testing.T) {
	for text, want := range map[string]sky.Date{
		"2027-02-13": {Year: 2027, Month: 2, Day: 13},
		"2028-02-29": {Year: 2028, Month: 2, Day: 29},
		"1900-01-01": {Year: 1900, Month: 1, Day: 1},
		"2100-12-31": {Year: 2100, Month: 12, Day: 31},
	} {
		got, err := sky.ParseDate(text)
		if err != nil || got != want || got.String() != text {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for text, says := range map[string]string{
		"2027-02-29":   "does not exist",
		"1900-02-29":   "does not exist", // no leap year
		"2027-13-01":   "does not exist",
		"2027-00-10":   "does not exist",
		"2027-04-31":   "does not exist",
		"13.02.2027":   "form YYYY-MM-DD",
		"2027-2-13":    "form YYYY-MM-DD",
		"2027/02/13":   "form YYYY-MM-DD",
		"":             "form YYYY-MM-DD",
		"2027-02-13x":  "form YYYY-MM-DD",
		"2027-02-13 ":  "form YYYY-MM-DD",
		"tomorrow":     "form YYYY-MM-DD",
		"2027-02-1\n3": "form YYYY-MM-DD",
		"1899-12-31":   "years 1900 to 2100",
		"2101-01-01":   "years 1900 to 2100",
	} {
		_, err := sky.ParseDate(text)
		if err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: error %v, want one line that says %q", text, err, says)
		}
	}
}

// FuzzParseDate: whatever is accepted is a real date, written the one way.
func FuzzParseDate(f *testing.F) {
	for _, s := range []string{"2027-02-13", "2028-02-29", "2027-02-30", "", "0000-00-00", "２０２７-02-13", "2027-02-13T00:00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := sky.ParseDate(s)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r") {
				t.Errorf("%q: error of more than one line: %q", s, err)
			}
			return
		}
		if d.String() != s {
			t.Errorf("%q read as %v", s, d)
		}
		when := time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
		if when.Day() != d.Day || when.Month() != d.Month || d.AddDays(1).AddDays(-1) != d {
			t.Errorf("%q is no date", s)
		}
	})
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func newNight(t testing.TB, lat, lon float64, zoneName, date string) *sky.Night {
	t.Helper()
	d, err := sky.ParseDate(date)
	if err != nil {
		t.Fatal(err)
	}
	n, err := sky.NewNight(sky.Place{Lat: lat, Lon: lon}, d, zone(t, zoneName))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestNightBounds: local noon to local noon, by the zone's own clock. The
// offsets are those of the IANA zone data, worked out by hand.
func TestNightBounds(t *testing.T) {
	for _, c := range []struct {
		zone, date, from, to string
		why                  string
	}{
		{"Europe/London", "2027-03-27", "2027-03-27T12:00:00Z", "2027-03-28T11:00:00Z", "23 hours: clocks go forward"},
		{"Europe/London", "2027-10-30", "2027-10-30T11:00:00Z", "2027-10-31T12:00:00Z", "25 hours: clocks go back"},
		{"Australia/Lord_Howe", "2027-04-03", "2027-04-03T01:00:00Z", "2027-04-04T01:30:00Z", "+11 to +10:30"},
		{"Asia/Kathmandu", "2026-12-15", "2026-12-15T06:15:00Z", "2026-12-16T06:15:00Z", "+5:45"},
		{"Pacific/Chatham", "2027-04-03", "2027-04-02T22:15:00Z", "2027-04-03T23:15:00Z", "+13:45 to +12:45"},
		{"America/St_Johns", "2027-01-05", "2027-01-05T15:30:00Z", "2027-01-06T15:30:00Z", "-3:30"},
		{"Pacific/Kiritimati", "2027-01-01", "2026-12-31T22:00:00Z", "2027-01-01T22:00:00Z", "+14, still the year before in UTC"},
		{"Pacific/Pago_Pago", "2026-12-31", "2026-12-31T23:00:00Z", "2027-01-01T23:00:00Z", "-11"},
		{"Europe/Madrid", "2028-02-28", "2028-02-28T11:00:00Z", "2028-02-29T11:00:00Z", "into the leap day"},
		{"Europe/Madrid", "2028-02-29", "2028-02-29T11:00:00Z", "2028-03-01T11:00:00Z", "out of the leap day"},
		{"Pacific/Apia", "2011-12-29", "2011-12-29T22:00:00Z", "2011-12-30T22:00:00Z", "its 30 December never was"},
	} {
		n := newNight(t, 0, 0, c.zone, c.date)
		if got := n.From.Format(time.RFC3339); got != c.from {
			t.Errorf("%s %s (%s): from %s, want %s", c.zone, c.date, c.why, got, c.from)
		}
		if got := n.To.Format(time.RFC3339); got != c.to {
			t.Errorf("%s %s (%s): to %s, want %s", c.zone, c.date, c.why, got, c.to)
		}
	}
}

func TestNewNightRefuses(t *testing.T) {
	good := sky.Date{Year: 2027, Month: 2, Day: 13}
	nan := func() float64 { z := 0.0; return z / z }()
	for _, c := range []struct {
		says  string
		place sky.Place
		date  sky.Date
		zone  *time.Location
	}{
		{"latitude 90.1", sky.Place{Lat: 90.1}, good, time.UTC},
		{"latitude -91", sky.Place{Lat: -91}, good, time.UTC},
		{"latitude NaN", sky.Place{Lat: nan}, good, time.UTC},
		{"longitude 181", sky.Place{Lon: 181}, good, time.UTC},
		{"elevation 1e+06", sky.Place{Elev: 1e6}, good, time.UTC},
		{"needs a time zone", sky.Place{}, good, nil},
		{"does not exist in the calendar", sky.Place{}, sky.Date{Year: 2027, Month: 2, Day: 29}, time.UTC},
		{"years 1900 to 2100", sky.Place{}, sky.Date{Year: 1066, Month: 10, Day: 14}, time.UTC},
		{"the zone skips it", sky.Place{}, sky.Date{Year: 2011, Month: 12, Day: 30}, zone(t, "Pacific/Apia")},
	} {
		if _, err := sky.NewNight(c.place, c.date, c.zone); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("error %v, want one that says %q", err, c.says)
		}
	}
	for _, lat := range []float64{90, -90} {
		if _, err := sky.NewNight(sky.Place{Lat: lat}, good, time.UTC); err != nil {
			t.Errorf("latitude %g: %v", lat, err)
		}
	}
}
