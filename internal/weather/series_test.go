package weather_test

import (
	"strings"
	"testing"
	"time"

	"duskboard/internal/weather"
)

var dusk = time.Date(2027, 10, 9, 18, 0, 0, 0, time.UTC)

func hour(after time.Duration, temp, dew float64) weather.Hour {
	return weather.Hour{Time: dusk.Add(after), Temp: temp, DewPoint: dew, RH: weather.RelativeHumidity(temp, dew), Cloud: 20, Wind: 2}
}

func TestSeriesAt(t *testing.T) {
	s := weather.Series{Hours: []weather.Hour{hour(0, 12, 6), hour(time.Hour, 10, 5), hour(6*time.Hour, 5, 4), hour(13*time.Hour, 4, 3)}}
	for _, c := range []struct {
		name      string
		at        time.Duration
		known     bool
		temp, dew float64
		estimated bool
	}{
		{"on the first hour", 0, true, 12, 6, false},
		{"between neighbouring hours", 30 * time.Minute, true, 11, 5.5, false},
		{"in a gap of five hours", 2 * time.Hour, true, 9, 4.8, true},
		{"in a gap of seven hours", 8 * time.Hour, false, 0, 0, false},
		{"on the hour after that gap", 13 * time.Hour, true, 4, 3, false},
		{"held before the first", -2 * time.Hour, true, 12, 6, true},
		{"too far before the first", -2*time.Hour - time.Minute, false, 0, 0, false},
		{"held after the last", 15 * time.Hour, true, 4, 3, true},
		{"too far after the last", 15*time.Hour + time.Minute, false, 0, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, ok := s.At(dusk.Add(c.at))
			if ok != c.known {
				t.Fatalf("known = %v, want %v", ok, c.known)
			}
			if !ok {
				return
			}
			near(t, "temperature", h.Temp, c.temp, 1e-9)
			near(t, "dew point", h.DewPoint, c.dew, 1e-9)
			near(t, "humidity", h.RH, weather.RelativeHumidity(c.temp, c.dew), 1e-9)
			if h.Estimated != c.estimated || !h.Time.Equal(dusk.Add(c.at)) {
				t.Errorf("estimated %v at %v, want %v at %v", h.Estimated, h.Time, c.estimated, dusk.Add(c.at))
			}
		})
	}
}

func TestSeriesAtEmpty(t *testing.T) {
	if _, ok := (weather.Series{}).At(dusk); ok {
		t.Error("an empty series knows the weather")
	}
}

// Rain and gusts are those of the hour that ends at a time; what one side
// lacks is lacking in between, not half of it.
func TestSeriesAtCarriesHourlyValuesAndLacks(t *testing.T) {
	a, b := hour(0, 12, 6), hour(time.Hour, 10, 5)
	a.Gust, b.Gust, b.Thunder = 3, 9, true
	a.Missing = weather.Cloud
	b.Missing = weather.PrecipProb
	h, _ := weather.Series{Hours: []weather.Hour{a, b}}.At(dusk.Add(10 * time.Minute))
	if h.Gust != 9 || !h.Thunder {
		t.Errorf("gust %g, thunder %v; want those of the hour that ends later: 9, true", h.Gust, h.Thunder)
	}
	if h.Has(weather.Cloud) || h.Has(weather.PrecipProb) || !h.Has(weather.Wind) {
		t.Errorf("missing %b, want cloud and rain chance only", h.Missing)
	}
}

func TestOpaqueCloud(t *testing.T) {
	for _, c := range []struct {
		name  string
		h     weather.Hour
		want  float64
		known bool
	}{
		{"total only", weather.Hour{Cloud: 60}, 0.6, true},
		{"thin high cloud counts little", weather.Hour{Cloud: 100, CloudHigh: 100}, 0.4, true},
		{"layers cap at all", weather.Hour{Cloud: 100, CloudLow: 80, CloudMid: 50, CloudHigh: 50}, 1, true},
		{"not given", weather.Hour{Missing: weather.Cloud}, 0, false},
	} {
		got, ok := c.h.OpaqueCloud()
		if ok != c.known {
			t.Errorf("%s: known = %v", c.name, ok)
		}
		near(t, c.name, got, c.want, 1e-12)
	}
}

func TestAgeWarning(t *testing.T) {
	s := weather.Series{Hours: []weather.Hour{hour(0, 12, 6)}, IssuedAt: dusk}
	if w := s.AgeWarning(dusk.Add(6 * time.Hour)); w != "" {
		t.Errorf("warned at six hours: %q", w)
	}
	if w := s.AgeWarning(dusk.Add(7*time.Hour + time.Minute)); !strings.Contains(w, "7 hours old") {
		t.Errorf("at seven hours: %q", w)
	}
	s.IssuedAt = time.Time{}
	if w := s.AgeWarning(dusk); w == "" {
		t.Error("an unknown age is not mentioned")
	}
	if w := (weather.Series{}).AgeWarning(dusk); w != "" {
		t.Errorf("no weather has no age, got %q", w)
	}
}

func TestSampleLeavesOutTheUnknown(t *testing.T) {
	s := weather.Series{Hours: []weather.Hour{hour(0, 12, 6), hour(8*time.Hour, 10, 5)}}
	got := s.Sample(dusk.Add(-3*time.Hour), dusk.Add(9*time.Hour), time.Hour)
	// Two held and the first itself; nothing in the gap of eight hours; the last and one held.
	if len(got) != 5 {
		t.Errorf("%d samples, want 5", len(got))
	}
}
