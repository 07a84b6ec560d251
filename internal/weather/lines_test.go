package weather_test

import (
	"errors"
	"testing"
	"time"

	"duskboard/internal/weather"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// anchors of Denver, 13 February 2027; sunset as scenario 7 of the references has it.
func denver(t testing.TB) weather.Anchors {
	z := zone(t, "America/Denver")
	return weather.Anchors{
		Evening: time.Date(2027, 2, 13, 18, 0, 0, 0, z),
		Sunset:  time.Date(2027, 2, 13, 17, 33, 0, 0, z),
		Dawn:    time.Date(2027, 2, 14, 5, 30, 0, 0, z),
		Zone:    z,
	}
}

func TestParseLinesThreeAreEnough(t *testing.T) {
	at := denver(t)
	s, err := weather.ParseLines([]weather.Line{
		{When: "dawn", Temp: "-6", DewPoint: "-8", Cloud: "0", Wind: "1"},
		{When: "sunset", Temp: "8,5", Humidity: "45", Cloud: "20", Wind: "7.2 km/h"},
		{When: "midnight", Temp: "30 F", Humidity: "60", Cloud: "10", Wind: "3"},
	}, at, dusk)
	if err != nil {
		t.Fatal(err)
	}
	first := s.Hours[0]
	if !first.Time.Equal(at.Sunset) || first.Estimated {
		t.Errorf("first hour %v estimated %v, want the typed sunset", first.Time, first.Estimated)
	}
	near(t, "decimal comma", first.Temp, 8.5, 1e-9)
	near(t, "km/h", first.Wind, 2, 1e-9)
	midnight, _ := s.At(time.Date(2027, 2, 14, 0, 0, 0, 0, at.Zone))
	near(t, "30 F", midnight.Temp, -1.1111, 1e-3)
	if midnight.Estimated {
		t.Error("a typed hour is marked as estimated")
	}

	// Half way between sunset and midnight everything is half way, and marked.
	mid := at.Sunset.Add(midnight.Time.Sub(at.Sunset) / 2)
	h, ok := s.At(mid)
	if !ok || !h.Estimated {
		t.Fatalf("known %v, estimated %v in between", ok, h.Estimated)
	}
	near(t, "temperature", h.Temp, (8.5+midnight.Temp)/2, 1e-9)
	near(t, "dew point", h.DewPoint, (first.DewPoint+midnight.DewPoint)/2, 1e-9)
	for i := 1; i < len(s.Hours); i++ {
		if d := s.Hours[i].Time.Sub(s.Hours[i-1].Time); d > time.Hour || d <= 0 {
			t.Errorf("step of %v", d)
		}
	}
	if s.Source != "typed in" || !s.IssuedAt.Equal(dusk) {
		t.Errorf("source %q issued %v", s.Source, s.IssuedAt)
	}
}

// Every fault must name its line and field, so that a form can show it there.
func TestParseLinesRefuses(t *testing.T) {
	good := []weather.Line{
		{When: "sunset", Temp: "8", Humidity: "50"},
		{When: "midnight", Temp: "4", Humidity: "70"},
		{When: "dawn", Temp: "1", Humidity: "80"},
	}
	for _, c := range []struct {
		name   string
		change func(l []weather.Line) []weather.Line
		line   int
		column string
	}{
		{"humidity of 130", func(l []weather.Line) []weather.Line { l[1].Humidity = "130"; return l }, 2, weather.ColRH},
		{"humidity of zero", func(l []weather.Line) []weather.Line { l[1].Humidity = "0"; return l }, 2, weather.ColRH},
		{"dew point above the air", func(l []weather.Line) []weather.Line { l[0].Humidity, l[0].DewPoint = "", "9"; return l }, 1, weather.ColDewPoint},
		{"dew point against humidity", func(l []weather.Line) []weather.Line { l[0].DewPoint = "7"; return l }, 1, weather.ColDewPoint},
		{"no moisture at all", func(l []weather.Line) []weather.Line { l[2].Humidity = ""; return l }, 3, weather.ColRH},
		{"no temperature", func(l []weather.Line) []weather.Line { l[2].Temp = ""; return l }, 3, weather.ColTemp},
		{"not a number", func(l []weather.Line) []weather.Line { l[2].Temp = "cold"; return l }, 3, weather.ColTemp},
		{"a unit of another kind", func(l []weather.Line) []weather.Line { l[2].Temp = "5 km/h"; return l }, 3, weather.ColTemp},
		{"temperature of a furnace", func(l []weather.Line) []weather.Line { l[2].Temp = "300"; return l }, 3, weather.ColTemp},
		{"cloud over all", func(l []weather.Line) []weather.Line { l[2].Cloud = "101"; return l }, 3, weather.ColCloud},
		{"negative wind", func(l []weather.Line) []weather.Line { l[2].Wind = "-1"; return l }, 3, weather.ColWind},
		{"gusts below the wind", func(l []weather.Line) []weather.Line { l[2].Wind, l[2].Gust = "5", "3"; return l }, 3, weather.ColGust},
		{"unknown time", func(l []weather.Line) []weather.Line { l[2].When = "tea time"; return l }, 3, weather.ColTime},
		{"the same time twice", func(l []weather.Line) []weather.Line { l[2].When = "00:00"; return l }, 3, weather.ColTime},
		{"too long a gap", func(l []weather.Line) []weather.Line { l[2].When = "2027-02-14 12:30"; return l }, 3, weather.ColTime},
		{"two lines only", func(l []weather.Line) []weather.Line { return l[:2] }, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			lines := c.change(append([]weather.Line(nil), good...))
			s, err := weather.ParseLines(lines, denver(t), dusk)
			var faults weather.Faults
			if !errors.As(err, &faults) || len(faults) != 1 {
				t.Fatalf("got %v, want one fault", err)
			}
			if f := faults[0]; f.Line != c.line || f.Column != c.column || f.Reason == "" {
				t.Errorf("fault %+v, want line %d, column %q", f, c.line, c.column)
			}
			if !s.Empty() {
				t.Error("a refused form left weather behind")
			}
		})
	}
	if _, err := weather.ParseLines(good, denver(t), dusk); err != nil {
		t.Errorf("the unchanged lines are refused: %v", err)
	}
}

// London's clocks: 28 March 2027 skips 01:00 to 02:00, 31 October 2027 has it
// twice (IANA time zone database).
func TestParseLinesAcrossClockChanges(t *testing.T) {
	z := zone(t, "Europe/London")
	lines := func(middle string) []weather.Line {
		return []weather.Line{{When: "22:00", Temp: "8", Humidity: "60"}, {When: middle, Temp: "6", Humidity: "70"}, {When: "03:00", Temp: "5", Humidity: "75"}}
	}
	spring := weather.Anchors{Evening: time.Date(2027, 3, 27, 19, 0, 0, 0, z), Zone: z}
	if _, err := weather.ParseLines(lines("01:15"), spring, dusk); err == nil {
		t.Error("01:15 does not exist on 28 March and was taken")
	}
	s, err := weather.ParseLines(lines("02:15"), spring, dusk)
	if err != nil {
		t.Fatal(err)
	}
	if d := s.Hours[len(s.Hours)-1].Time.Sub(s.Hours[0].Time); d != 4*time.Hour {
		t.Errorf("22:00 to 03:00 lasts %v, want 4h", d)
	}

	autumn := weather.Anchors{Evening: time.Date(2027, 10, 30, 19, 0, 0, 0, z), Zone: z}
	if _, err := weather.ParseLines(lines("01:15"), autumn, dusk); err == nil {
		t.Error("01:15 happens twice on 31 October and was taken")
	}
	if s, err = weather.ParseLines(lines("01:15+00:00"), autumn, dusk); err != nil {
		t.Fatal(err)
	}
	if want := time.Date(2027, 10, 31, 1, 15, 0, 0, time.UTC); !hasHour(s, want) {
		t.Errorf("no hour at %v", want)
	}
}

func hasHour(s weather.Series, at time.Time) bool {
	for _, h := range s.Hours {
		if h.Time.Equal(at) && !h.Estimated {
			return true
		}
	}
	return false
}

// Polar night: there is no sunset to hang a line on.
func TestParseLinesWithoutSunset(t *testing.T) {
	at := denver(t)
	at.Sunset = time.Time{}
	_, err := weather.ParseLines([]weather.Line{
		{When: "sunset", Temp: "8", Humidity: "50"}, {When: "midnight", Temp: "4", Humidity: "70"}, {When: "05:00", Temp: "1", Humidity: "80"},
	}, at, dusk)
	var faults weather.Faults
	if !errors.As(err, &faults) || faults[0].Line != 1 || faults[0].Column != weather.ColTime {
		t.Errorf("got %v, want a fault at the time of line 1", err)
	}
}
