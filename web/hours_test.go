package web

import (
	"strings"
	"testing"
	"time"

	"duskboard/internal/sky"
)

func TestParseClock(t *testing.T) {
	for text, want := range map[string]int{
		"20:30": 1230, "20.30": 1230, "2030": 1230, "20": 1200, "8:30 pm": 1230, "8pm": 1200, "12 am": 0, "12:15 pm": 735,
		"0:05": 5, "24:00": 0, "20h30": 1230, "8:30 P.M.": 1230,
	} {
		if got, err := parseClock(text); err != nil || got != want {
			t.Errorf("%q: %d, %v; want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"", "25:00", "20:60", "13 pm", "0 am", "eight", "-1", "24:01", "20:30:40:50", "٢٠:٣٠"} {
		if got, err := parseClock(text); err == nil {
			t.Errorf("%q is read as %d, want it refused", text, got)
		}
	}
}

// TestInstants guards the clock changes. Dates and hours: European Union,
// directive 2000/84/EC (last Sundays of March and October, 01:00 UTC);
// the others from the tz database's own comments (files northamerica and
// australasia): United States second Sunday of March and first of November at
// 02:00 local time, Lord Howe Island by half an hour, Samoa without 30
// December 2011.
func TestInstants(t *testing.T) {
	for _, c := range []struct {
		name, zone string
		date       sky.Date
		minutes    int
		want       []string // UTC
	}{
		{"a usual evening", "Europe/Berlin", sky.Date{Year: 2026, Month: 6, Day: 20}, 22*60 + 30, []string{"2026-06-20T20:30"}},
		{"the hour that is jumped over", "Europe/Berlin", sky.Date{Year: 2027, Month: 3, Day: 28}, 2*60 + 30, nil},
		{"the last minute before the jump", "Europe/Berlin", sky.Date{Year: 2027, Month: 3, Day: 28}, 1*60 + 59, []string{"2027-03-28T00:59"}},
		{"the first minute after it", "Europe/Berlin", sky.Date{Year: 2027, Month: 3, Day: 28}, 3 * 60, []string{"2027-03-28T01:00"}},
		{"the hour that occurs twice", "Europe/Berlin", sky.Date{Year: 2026, Month: 10, Day: 25}, 2*60 + 30, []string{"2026-10-25T00:30", "2026-10-25T01:30"}},
		{"twice in the United States", "America/New_York", sky.Date{Year: 2026, Month: 11, Day: 1}, 1*60 + 30, []string{"2026-11-01T05:30", "2026-11-01T06:30"}},
		{"half an hour twice", "Australia/Lord_Howe", sky.Date{Year: 2027, Month: 4, Day: 4}, 1*60 + 45, []string{"2027-04-03T14:45", "2027-04-03T15:15"}},
		{"a day that Samoa left out", "Pacific/Apia", sky.Date{Year: 2011, Month: 12, Day: 30}, 20 * 60, nil},
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, at := range instants(c.date, c.minutes, zone) {
			got = append(got, at.UTC().Format("2006-01-02T15:04"))
		}
		if strings.Join(got, " ") != strings.Join(c.want, " ") {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestInstantsAgreeWithClocks walks a year of zones with odd rules: whatever is
// returned shows the clock time that was asked for, and every instant is found.
func TestInstantsAgreeWithClocks(t *testing.T) {
	for _, name := range []string{"Europe/London", "America/St_Johns", "Australia/Lord_Howe", "Africa/Casablanca", "Asia/Kathmandu", "Pacific/Chatham", "America/Santiago"} {
		zone, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		for at := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); at.Year() == 2026; at = at.Add(15 * time.Minute) {
			found := false
			for _, i := range instants(sky.DateOf(at, zone), clockOf(at, zone), zone) {
				if clockOf(i, zone) != clockOf(at, zone) || sky.DateOf(i, zone) != sky.DateOf(at, zone) {
					t.Fatalf("%s: asked for the clock at %v, got one at %v", name, at.In(zone), i.In(zone))
				}
				found = found || i.Equal(at)
			}
			if !found {
				t.Fatalf("%s: %v is not among the instants of its own clock time", name, at.In(zone))
			}
		}
	}
}

func TestGapInWords(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	l := resolve(sky.Date{Year: 2027, Month: 3, Day: 27}, "2:30", "", zone)
	if !strings.Contains(l.fault, "02:30 does not exist") || !strings.Contains(l.fault, "from 02:00 to 03:00") {
		t.Errorf("fault %q does not say how the clocks jump", l.fault)
	}
}
