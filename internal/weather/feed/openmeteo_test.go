package feed_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"duskboard/internal/weather"
	"duskboard/internal/weather/feed"
)

// openMeteoBody writes an answer in the documented format: parallel arrays and
// their units. The values are invented: 10 degrees falling by half a degree an
// hour at 80 per cent. change may alter it before it is sent.
func openMeteoBody(from time.Time, n int, change func(m map[string]any)) string {
	var stamps []int64
	column := func(f func(i int) any) []any {
		out := make([]any, n)
		for i := range out {
			out[i] = f(i)
		}
		return out
	}
	for i := range n {
		stamps = append(stamps, from.Add(time.Duration(i)*time.Hour).Unix())
	}
	temp := func(i int) float64 { return 10 - 0.5*float64(i) }
	m := map[string]any{
		"latitude": 51.5, "longitude": -0.120000124, "generationtime_ms": 0.21, "utc_offset_seconds": 0, "timezone": "GMT", "timezone_abbreviation": "GMT", "elevation": 23.0,
		"hourly_units": map[string]any{
			"time": "unixtime", "temperature_2m": "°C", "relative_humidity_2m": "%", "dew_point_2m": "°C",
			"cloud_cover": "%", "cloud_cover_low": "%", "cloud_cover_mid": "%", "cloud_cover_high": "%",
			"wind_speed_10m": "m/s", "wind_gusts_10m": "m/s", "precipitation": "mm", "precipitation_probability": "%", "weather_code": "wmo code",
		},
		"hourly": map[string]any{
			"time":                      stamps,
			"temperature_2m":            column(func(i int) any { return temp(i) }),
			"relative_humidity_2m":      column(func(int) any { return 80 }),
			"dew_point_2m":              column(func(i int) any { return weather.DewPoint(temp(i), 80) }),
			"cloud_cover":               column(func(i int) any { return 10 * (i % 5) }),
			"cloud_cover_low":           column(func(int) any { return 0 }),
			"cloud_cover_mid":           column(func(int) any { return 0 }),
			"cloud_cover_high":          column(func(i int) any { return 10 * (i % 5) }),
			"wind_speed_10m":            column(func(int) any { return 3.2 }),
			"wind_gusts_10m":            column(func(int) any { return 6.0 }),
			"precipitation":             column(func(int) any { return 0.0 }),
			"precipitation_probability": column(func(i int) any { return i }),
			"weather_code":              column(func(int) any { return 1 }),
		},
	}
	if change != nil {
		change(m)
	}
	b, err := json.Marshal(m)
	if err != nil {
		panic(err)
	}
	return string(b)
}

func hourly(m map[string]any, name string) []any { return m["hourly"].(map[string]any)[name].([]any) }
func unit(m map[string]any, name, u string)      { m["hourly_units"].(map[string]any)[name] = u }

func fetchOpenMeteo(t *testing.T, text string) (weather.Series, error) {
	t.Helper()
	srv, _ := replay(t, body(text))
	return (&feed.OpenMeteo{Client: newRig().client, BaseURL: srv.URL}).Fetch(t.Context(), londonNight)
}

func TestOpenMeteoAsksAsDocumented(t *testing.T) {
	var got *http.Request
	srv, _ := replay(t, func(w http.ResponseWriter, r *http.Request) {
		got = r
		body(openMeteoBody(londonNight.From.Add(-time.Hour), 12, nil))(w, r)
	})
	s, err := (&feed.OpenMeteo{Client: newRig().client, BaseURL: srv.URL + "/v1/forecast"}).Fetch(t.Context(), londonNight)
	if err != nil {
		t.Fatal(err)
	}
	q := got.URL.Query()
	for name, want := range map[string]string{
		"latitude": "51.500", "longitude": "-0.120", "elevation": "20",
		"timeformat": "unixtime", "timezone": "GMT", "wind_speed_unit": "ms", "forecast_days": "2",
	} {
		if q.Get(name) != want {
			t.Errorf("%s = %q, want %q", name, q.Get(name), want)
		}
	}
	for _, old := range []string{"windspeed_10m", "relativehumidity_2m", "dewpoint_2m"} {
		if strings.Contains(q.Get("hourly"), old) {
			t.Errorf("asks for the outdated name %s", old)
		}
	}
	if a := got.Header.Get("User-Agent"); !strings.Contains(a, "duskboard") {
		t.Errorf("User-Agent %q does not say who asks", a)
	}
	if s.Source != "Open-Meteo" || !strings.Contains(s.Attribution, "CC BY 4.0") || !s.IssuedAt.Equal(now) {
		t.Errorf("source %q, attribution %q, issued %v", s.Source, s.Attribution, s.IssuedAt)
	}
}

// The hours of the query and one to either side, in UTC, an hour apart across
// London's clock change.
func TestOpenMeteoHoursAcrossClockChange(t *testing.T) {
	s, err := fetchOpenMeteo(t, openMeteoBody(londonNight.From.Add(-18*time.Hour), 72, nil))
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Hours) != 12 {
		t.Fatalf("%d hours, want 18:00 to 03:00 and one to either side", len(s.Hours))
	}
	for i, h := range s.Hours {
		if want := londonNight.From.Add(time.Duration(i-1) * time.Hour); !h.Time.Equal(want) || h.Time.Location() != time.UTC {
			t.Errorf("hour %d at %v, want %v", i, h.Time, want)
		}
	}
	// By London's clock 01:00 comes twice; the two are different hours here.
	z, err := time.LoadLocation("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	ones := 0
	for _, h := range s.Hours {
		if h.Time.In(z).Format("15:04") == "01:00" {
			ones++
		}
	}
	if ones != 2 {
		t.Errorf("01:00 by London's clock occurs %d times, want 2", ones)
	}
}

func TestOpenMeteoConvertsByLabel(t *testing.T) {
	s, err := fetchOpenMeteo(t, openMeteoBody(londonNight.From, 10, func(m map[string]any) {
		unit(m, "temperature_2m", "°F")
		unit(m, "dew_point_2m", "°F")
		unit(m, "wind_speed_10m", "km/h")
		unit(m, "wind_gusts_10m", "mp/h")
		hourly(m, "temperature_2m")[0] = 50.0
		hourly(m, "dew_point_2m")[0] = 44.07 // 6.706 C
		hourly(m, "wind_speed_10m")[0] = 18.0
		hourly(m, "wind_gusts_10m")[0] = 20.0
	}))
	if err != nil {
		t.Fatal(err)
	}
	h := s.Hours[0]
	near(t, "50 F", h.Temp, 10, 1e-9)
	near(t, "dew point", h.DewPoint, 6.706, 0.001)
	near(t, "18 km/h", h.Wind, 5, 1e-9)
	near(t, "20 mph", h.Gust, 8.9408, 1e-9)
}

func TestOpenMeteoNullsAndGaps(t *testing.T) {
	s, err := fetchOpenMeteo(t, openMeteoBody(londonNight.From, 12, func(m map[string]any) {
		hourly(m, "temperature_2m")[2] = nil       // the whole hour goes
		hourly(m, "dew_point_2m")[4] = nil         // made from humidity
		hourly(m, "cloud_cover")[5] = nil          // bridged
		hourly(m, "cloud_cover_high")[5] = nil     // else the layers would make a total
		hourly(m, "wind_gusts_10m")[6] = nil       // lacking
		hourly(m, "relative_humidity_2m")[7] = 103 // rounding of saturated air
		hourly(m, "temperature_2m")[8] = 4000.0    // absurd
		delete(m["hourly"].(map[string]any), "precipitation_probability")
	}))
	if err != nil {
		t.Fatal(err)
	}
	at := func(i int) (weather.Hour, bool) { return s.At(londonNight.From.Add(time.Duration(i) * time.Hour)) }
	for _, i := range []int{2, 8} {
		h, ok := at(i)
		if !ok || !h.Estimated {
			t.Errorf("hour %d: known %v estimated %v, want a bridged gap", i, ok, h.Estimated)
		}
		near(t, "temperature in the gap", h.Temp, 10-0.5*float64(i), 1e-6)
	}
	h, _ := at(4)
	near(t, "dew point from humidity", h.DewPoint, weather.DewPoint(8, 80), 1e-6)
	h, _ = at(5)
	if !h.Has(weather.Cloud) || !h.Estimated {
		t.Errorf("cloud of hour 5: known %v estimated %v, want bridged and marked", h.Has(weather.Cloud), h.Estimated)
	}
	near(t, "bridged cloud", h.Cloud, 25, 1e-9) // half way between 40 and 10
	h, _ = at(6)
	if h.Has(weather.Gust) || h.Has(weather.PrecipProb) {
		t.Error("a null and a missing variable count as given")
	}
	if len(s.Notes) < 2 {
		t.Errorf("notes %q do not tell of the repairs", s.Notes)
	}
}

func TestOpenMeteoRefuses(t *testing.T) {
	from := londonNight.From
	for _, c := range []struct {
		name, text string
		kind       weather.Trouble
	}{
		{"local time", openMeteoBody(from, 12, func(m map[string]any) { unit(m, "time", "iso8601") }), weather.Unreadable},
		{"a strange unit", openMeteoBody(from, 12, func(m map[string]any) { unit(m, "temperature_2m", "K") }), weather.Unreadable},
		{"no units", openMeteoBody(from, 12, func(m map[string]any) { delete(m, "hourly_units") }), weather.Unreadable},
		{"arrays of unlike length", openMeteoBody(from, 12, func(m map[string]any) {
			h := m["hourly"].(map[string]any)
			h["dew_point_2m"] = h["dew_point_2m"].([]any)[:5]
		}), weather.Unreadable},
		{"only nulls", openMeteoBody(from, 12, func(m map[string]any) {
			for i := range 12 {
				hourly(m, "temperature_2m")[i] = nil
			}
		}), weather.Unreadable},
		{"an error with status 200", `{"error":true,"reason":"model run missing"}`, weather.Unreadable},
		{"cut JSON", openMeteoBody(from, 12, nil)[:900], weather.Unreadable},
		{"two places", "[" + openMeteoBody(from, 12, nil) + "," + openMeteoBody(from, 12, nil) + "]", weather.Unreadable},
		{"another week", openMeteoBody(from.AddDate(0, 0, 7), 12, nil), weather.NotCovered},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := fetchOpenMeteo(t, c.text)
			wantTrouble(t, err, c.kind)
			if !s.Empty() {
				t.Error("weather came with the error")
			}
		})
	}
}

func TestOpenMeteoListOfOne(t *testing.T) {
	s, err := fetchOpenMeteo(t, "["+openMeteoBody(londonNight.From, 12, nil)+"]")
	if err != nil || s.Empty() {
		t.Errorf("%d hours, %v", len(s.Hours), err)
	}
}

// The reason of a 400 is documented and must reach the person who can mend it.
func TestOpenMeteoShowsTheReason(t *testing.T) {
	srv, n := replay(t, func(w http.ResponseWriter, _ *http.Request) {
		w.WriteHeader(400)
		_, _ = w.Write([]byte(`{"error":true,"reason":"Latitude must be in range of -90 to 90°. Given: 522.52."}`))
	})
	_, err := (&feed.OpenMeteo{Client: newRig().client, BaseURL: srv.URL}).Fetch(t.Context(), londonNight)
	fe := wantTrouble(t, err, weather.Refused)
	if !strings.Contains(fe.Reason, "Latitude must be in range") || *n != 1 {
		t.Errorf("reason %q after %d questions", fe.Reason, *n)
	}
}

func TestOpenMeteoThunder(t *testing.T) {
	s, err := fetchOpenMeteo(t, openMeteoBody(londonNight.From, 12, func(m map[string]any) {
		hourly(m, "weather_code")[3] = 95
		hourly(m, "weather_code")[4] = nil
	}))
	if err != nil {
		t.Fatal(err)
	}
	if !s.Hours[3].Thunder || s.Hours[2].Thunder || s.Hours[4].Has(weather.Thunder) {
		t.Errorf("thunder %v %v, hour 4 known %v; want false true, unknown", s.Hours[2].Thunder, s.Hours[3].Thunder, s.Hours[4].Has(weather.Thunder))
	}
}

// After midnight in UTC the evening lies in the day before.
func TestOpenMeteoAsksForYesterday(t *testing.T) {
	var past []string
	srv, _ := replay(t, func(w http.ResponseWriter, r *http.Request) {
		past = append(past, r.URL.Query().Get("past_days"))
		body(openMeteoBody(londonNight.From, 12, nil))(w, r)
	})
	rig := newRig()
	for _, clock := range []time.Time{now, now.Add(13 * time.Hour)} {
		rig.clock = clock
		if _, err := (&feed.OpenMeteo{Client: rig.client, BaseURL: srv.URL}).Fetch(t.Context(), londonNight); err != nil {
			t.Fatal(err)
		}
	}
	if strings.Join(past, ",") != ",1" {
		t.Errorf("past days %q, want none before midnight and 1 after", past)
	}
}

// An hour that comes twice counts once, and gusts are never below the wind.
func TestOpenMeteoRepairs(t *testing.T) {
	s, err := fetchOpenMeteo(t, openMeteoBody(londonNight.From, 12, func(m map[string]any) {
		stamps := m["hourly"].(map[string]any)["time"].([]int64)
		stamps[4] = stamps[3]
		hourly(m, "wind_gusts_10m")[1] = 1.0
	}))
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < len(s.Hours); i++ {
		if !s.Hours[i].Time.After(s.Hours[i-1].Time) {
			t.Errorf("hour %d at %v after %v", i, s.Hours[i].Time, s.Hours[i-1].Time)
		}
	}
	near(t, "gust", s.Hours[1].Gust, 3.2, 1e-9)
	if len(s.Notes) == 0 {
		t.Error("the repair is not noted")
	}
}
