package weather_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/weather"
)

// A service's small contradictions are repaired and told, its absurd hours
// left out and told.
func TestFromReadings(t *testing.T) {
	nan := math.NaN()
	at := func(i int, change func(r *weather.Reading)) weather.Reading {
		r := weather.Reading{Time: dusk.Add(time.Duration(i) * time.Hour), Temp: 10, DewPoint: nan, RH: 80, Cloud: 30, CloudLow: nan, CloudMid: nan, CloudHigh: nan, Wind: 3, Gust: 5, Precip: 0, PrecipProb: 0, Thunder: 0}
		change(&r)
		return r
	}
	hours, notes := weather.FromReadings([]weather.Reading{
		at(0, func(r *weather.Reading) {}),
		at(1, func(r *weather.Reading) { r.RH = 104 }),
		at(2, func(r *weather.Reading) { r.RH = 106 }), // out
		at(3, func(r *weather.Reading) { r.RH, r.DewPoint = nan, 10.4 }),
		at(4, func(r *weather.Reading) { r.RH, r.DewPoint = nan, 10.6 }), // out
		at(5, func(r *weather.Reading) { r.DewPoint = 2 }),               // 80 per cent says 6.7
		at(6, func(r *weather.Reading) { r.Temp = nan }),                 // out
		at(7, func(r *weather.Reading) { r.Wind = 90 }),                  // out
		at(8, func(r *weather.Reading) { r.RH, r.DewPoint = 0, 3 }),
	})
	want := []struct {
		hour    int
		dew, rh float64
	}{
		{0, 6.706, 80}, {1, 10, 100}, {3, 10, 100}, {5, 2, weather.RelativeHumidity(10, 2)}, {8, 3, weather.RelativeHumidity(10, 3)},
	}
	if len(hours) != len(want) {
		t.Fatalf("%d hours, want %d: %+v", len(hours), len(want), hours)
	}
	for i, w := range want {
		if !hours[i].Time.Equal(dusk.Add(time.Duration(w.hour) * time.Hour)) {
			t.Errorf("hour %d at %v", i, hours[i].Time)
		}
		near(t, "dew point", hours[i].DewPoint, w.dew, 0.001)
		near(t, "humidity", hours[i].RH, w.rh, 0.01)
	}
	if len(notes) != 4 {
		t.Errorf("notes %q, want one each for empty, impossible, corrected and odd hours", notes)
	}
}
