package sky_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"duskboard/internal/sky"
)

// readReference reads a file of testdata/reference into v; the file says where
// its values come from.
func readReference(tb testing.TB, name string, v any) {
	tb.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", filepath.FromSlash(name)))
	if err != nil {
		tb.Fatal(err)
	}
	if err := json.Unmarshal(data, v); err != nil {
		tb.Fatalf("%s: %v", name, err)
	}
}

// atTT returns the UTC instant of a time in TT, days from J2000.0, so that a
// reference library's own delta T does not enter the comparison.
func atTT(days float64) time.Time {
	year := 2000 + days/365.25
	seconds := days*86400 - sky.DeltaT(year)
	return time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC).Add(time.Duration(math.Round(seconds*1e6)) * time.Microsecond)
}

// nightAround returns a night at a place that contains the instant.
func nightAround(tb testing.TB, place sky.Place, t time.Time) *sky.Night {
	tb.Helper()
	y, m, d := t.UTC().Add(-12 * time.Hour).Date()
	n, err := sky.NewNight(place, sky.Date{Year: y, Month: m, Day: d}, time.UTC)
	if err != nil {
		tb.Fatal(err)
	}
	return n
}

// apart is the absolute difference of two angles in degrees.
func apart(a, b float64) float64 { return math.Abs(math.Remainder(a-b, 360)) }

func near(tb testing.TB, what string, got, want, tolerance float64) {
	tb.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		tb.Errorf("%s = %v, want %v within %v", what, got, want, tolerance)
	}
}
