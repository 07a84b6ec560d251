package feed

import (
	"math"
	"strings"
	"testing"
	"time"

	"duskboard/internal/weather"
)

// FuzzForecasts feeds any answer of a forecast service to both readers: hours
// with finite numbers, or an error, never a panic.
func FuzzForecasts(f *testing.F) {
	for _, s := range []string{
		`{"hourly":{"time":["2026-09-19T20:00"],"temperature_2m":[12.5],"relative_humidity_2m":[80]},"hourly_units":{"temperature_2m":"°C"}}`,
		`{"hourly":{"time":[1789840800],"temperature_2m":[null]}}`, `{"hourly":{"time":[1,2,3],"temperature_2m":[1]}}`, `{"error":true,"reason":"no"}`,
		`{"properties":{"meta":{"updated_at":"2026-09-19T18:00:00Z","units":{"air_temperature":"celsius"}},"timeseries":[{"time":"2026-09-19T20:00:00Z","data":{"instant":{"details":{"air_temperature":12.5,"relative_humidity":80}}}}]}}`,
		`{"properties":{"timeseries":[{"time":"0000-01-01T00:00:00Z"},{"time":"9999-12-31T23:00:00Z"}]}}`, `null`, `[]`, `{"hourly":{"temperature_2m":[1e309]}}`, strings.Repeat(`{"hourly":`, 3000),
	} {
		f.Add([]byte(s))
	}
	at := time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, b []byte) {
		for name, read := range map[string]func([]byte, time.Time) (weather.Series, error){"open-meteo": readOpenMeteo, "met-norway": readMetNorway} {
			w, err := read(b, at)
			if err != nil {
				continue
			}
			for _, h := range w.Hours {
				if math.IsInf(h.Temp, 0) || math.IsNaN(h.Temp) || h.DewPoint > h.Temp || h.Time.IsZero() {
					t.Errorf("%s: %+v", name, h)
				}
			}
		}
	})
}
