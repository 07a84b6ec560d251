package weather_test

import (
	"testing"
	"time"

	"duskboard/internal/weather"
)

// The first text is the example of the US National Weather Service's
// documentation of its forecast grid.
func TestParseInterval(t *testing.T) {
	i, err := weather.ParseInterval("2019-07-04T18:00:00+00:00/PT3H")
	if err != nil {
		t.Fatal(err)
	}
	got := i.Hours()
	if len(got) != 3 {
		t.Fatalf("%d hours, want 3", len(got))
	}
	for k, h := range got {
		if want := time.Date(2019, 7, 4, 18+k, 0, 0, 0, time.UTC); !h.Equal(want) {
			t.Errorf("hour %d is %v, want %v", k, h, want)
		}
	}
	for text, want := range map[string]time.Duration{"P7DT16H": 184 * time.Hour, "P1D": 24 * time.Hour, "PT30M": 30 * time.Minute, "P1W": 168 * time.Hour, "PT1H30M5S": 90*time.Minute + 5*time.Second} {
		i, err := weather.ParseInterval("2019-07-04T20:00:00+02:00/" + text)
		if err != nil || i.End.Sub(i.Start) != want || i.Start.Hour() != 18 {
			t.Errorf("%s: %v to %v, %v; want %v from 18:00", text, i.Start, i.End, err, want)
		}
	}
	for _, bad := range []string{"", "2019-07-04T18:00:00Z", "2019-07-04T18:00:00Z/", "2019-07-04T18:00:00Z/P", "2019-07-04T18:00:00Z/PT", "2019-07-04T18:00:00Z/P1M", "2019-07-04T18:00:00Z/P1Y", "2019-07-04T18:00:00Z/PT0H", "2019-07-04T18:00:00Z/PT3", "2019-07-04T18:00:00Z/P3H", "2019-07-04T18:00:00Z/PT1M1H", "2019-07-04T18:00:00Z/PT-3H", "2019-07-04T18:00:00Z/PT9999999999H", "2019-07-04T18:00:00Z/P32D", "2019-07-04/PT1H"} {
		if i, err := weather.ParseInterval(bad); err == nil {
			t.Errorf("%q was taken as %v", bad, i)
		}
	}
}

func FuzzParseInterval(f *testing.F) {
	f.Add("2019-07-04T18:00:00+00:00/PT3H")
	f.Add("2019-07-04T18:00:00Z/P7DT16H30M")
	f.Fuzz(func(t *testing.T, s string) {
		i, err := weather.ParseInterval(s)
		if err != nil {
			return
		}
		if d := i.End.Sub(i.Start); d <= 0 || d > 31*24*time.Hour {
			t.Fatalf("%q lasts %v", s, d)
		}
		hours := i.Hours()
		if len(hours) == 0 || hours[len(hours)-1].Before(i.Start) || !hours[len(hours)-1].Before(i.End) {
			t.Fatalf("%q has hours %v", s, hours)
		}
	})
}
