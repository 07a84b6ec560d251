package field_test

import (
	"strings"
	"testing"
	"time"

	"duskboard/internal/field"
	"duskboard/internal/weather"
)

// The wind chill chart of Environment Canada, which prints whole degrees.
func TestWindChillAgainstChart(t *testing.T) {
	for _, c := range []struct{ temp, wind, chart, exact float64 }{
		{-25, 20, -37, -36.79}, {-10, 20, -18, -17.86}, {-20, 30, -33, -32.57}, {0, 20, -5, -5.24}, {5, 10, 3, 2.66},
	} {
		w, ok := field.WindChill(c.temp, c.wind)
		if !ok {
			t.Errorf("%g degrees, %g km/h is on the chart", c.temp, c.wind)
		}
		near(t, "chart", w, c.chart, 0.5)
		near(t, "formula", w, c.exact, 0.005)
	}
	// US chart: 30 F at 10 mph is 21 F, 0 F at 20 mph is -22 F.
	for _, c := range []struct{ f, mph, want float64 }{{30, 10, 21}, {0, 20, -22}} {
		w, _ := field.WindChill((c.f-32)*5/9, c.mph*1.609344)
		near(t, "US chart", w*9/5+32, c.want, 0.5)
	}
	for _, c := range [][2]float64{{6, 20}, {-5, 4}} {
		if w, ok := field.WindChill(c[0], c[1]); ok || w != c[0] {
			t.Errorf("outside the chart: %g, %v; want the air temperature", w, ok)
		}
	}
}

// The heat index table of the US National Weather Service.
func TestHeatIndexAgainstTable(t *testing.T) {
	for _, c := range []struct{ f, rh, table, exact float64 }{
		{90, 70, 106, 105.92}, {96, 65, 121, 121.03}, {86, 90, 105, 105.39}, {100, 40, 109, 109.26}, {84, 100, 103, 103.56},
	} {
		near(t, "table", field.HeatIndex(c.f, c.rh), c.table, 0.7)
		near(t, "formula", field.HeatIndex(c.f, c.rh), c.exact, 0.01)
	}
	near(t, "simple form", field.HeatIndex(75, 60), 75.0, 0.2)
	if x, ok := field.HeatIndexC(20, 60); ok || x != 20 {
		t.Errorf("a mild evening: %g, %v", x, ok)
	}
	x, ok := field.HeatIndexC(32.222, 70)
	if !ok {
		t.Error("90 F at 70 per cent has no index")
	}
	near(t, "in Celsius", x, 41.07, 0.05)
}

func TestPeopleWarnings(t *testing.T) {
	end := gate.Add(4 * time.Hour)
	l := field.DefaultPeopleLimits()
	find := func(ws []field.Warning, word string) (field.Warning, bool) {
		for _, w := range ws {
			if strings.Contains(w.Sentence, word) {
				return w, true
			}
		}
		return field.Warning{}, false
	}
	h := humid(-18, 70, 20, 8)
	if w, ok := find(field.PeopleWarnings(steady(9, h), gate, end, l), "skin can freeze"); !ok || w.Importance != field.Danger {
		t.Errorf("wind chill of -30: %+v", w)
	}
	if w, ok := find(field.PeopleWarnings(steady(9, humid(-2, 70, 20, 3)), gate, end, l), "one layer more"); !ok || w.Importance != field.Caution {
		t.Errorf("a cold night: %+v", w)
	}
	if ws := field.PeopleWarnings(steady(9, humid(15, 60, 20, 2)), gate, end, l); len(ws) != 0 {
		t.Errorf("a mild night: %+v", ws)
	}
	if w, ok := find(field.PeopleWarnings(steady(9, humid(36, 60, 20, 2)), gate, end, l), "calling it off"); !ok || w.Importance != field.Danger {
		t.Errorf("a hot one: %+v", w)
	}

	storm := steady(9, humid(20, 80, 80, 4))
	storm.Hours[4].Thunder, storm.Hours[5].Gust, storm.Hours[3].PrecipProb = true, 14, 60
	ws := field.PeopleWarnings(storm, gate, end, l)
	thunder, ok := find(ws, "Hear thunder")
	if !ok || thunder.Importance != field.Danger || thunder.At.Before(gate.Add(time.Hour)) || !strings.Contains(thunder.Sentence, "30 minutes") {
		t.Errorf("thunder: %+v", thunder)
	}
	if w, ok := find(ws, "lower the tripods"); !ok || w.Importance != field.Danger {
		t.Errorf("gusts of 14 m/s: %+v", w)
	}
	if _, ok := find(ws, "chance 60"); !ok {
		t.Error("rain is not mentioned")
	}
	for i := 1; i < len(ws); i++ {
		if ws[i].Importance < ws[i-1].Importance {
			t.Errorf("%q comes after %q", ws[i].Sentence, ws[i-1].Sentence)
		}
	}
	if ws := field.PeopleWarnings(weather.Series{}, gate, end, l); len(ws) != 0 {
		t.Errorf("warnings without weather: %+v", ws)
	}
}

// Every caution leaves the decision to those on the ground.
func TestCautionsDefer(t *testing.T) {
	for _, c := range []string{field.LightningCaution, field.SunCaution, field.SunsetCaution} {
		if !strings.HasSuffix(c, field.Defer) {
			t.Errorf("%q does not defer to local rules", c)
		}
	}
}

func TestSunWarning(t *testing.T) {
	sunset := gate
	for _, c := range []struct {
		name    string
		onField time.Time
		sunset  time.Time
		up      bool
		warn    bool
		say     string
	}{
		{"after sunset", sunset, sunset, true, false, ""},
		{"in the last half hour", sunset.Add(-20 * time.Minute), sunset, true, true, "last half hour"},
		{"in the afternoon", sunset.Add(-3 * time.Hour), sunset, true, true, "purpose-made filter"},
		{"midnight sun", sunset, time.Time{}, true, true, "purpose-made filter"},
		{"polar night", sunset, time.Time{}, false, false, ""},
	} {
		w, ok := field.SunWarning(c.onField, c.sunset, c.up)
		if c.say == "last half hour" && w.Sentence != field.SunsetCaution {
			t.Errorf("%s: says more than it must: %q", c.name, w.Sentence)
		}
		if ok != c.warn || !strings.Contains(w.Sentence, c.say) || ok && w.Importance != field.Danger {
			t.Errorf("%s: %v %+v", c.name, ok, w)
		}
	}
}
