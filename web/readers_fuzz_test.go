package web

import (
	"strings"
	"testing"
)

// FuzzHorizonText feeds any text to the outline of a horizon: an outline whose
// altitudes are finite and between the horizon and the zenith, or a fault.
func FuzzHorizonText(f *testing.F) {
	for _, s := range []string{"E 20\nS 5", "N 5\nE 20..30\n180 10", "0 0", "360 90", "-1 5", "NaN 5", "5 NaN", "1e309 1", "E 12,5", "\u202eE 20", "E\t20;S 5", strings.Repeat("N 5\n", 2000), ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		h, err := parseHorizon(s)
		if err != nil {
			return
		}
		for az := 0.0; az < 360; az += 7.5 {
			if alt := h.AltAt(az); !(alt >= 0 && alt <= 90) {
				t.Fatalf("%q: %g degrees high at azimuth %g", s, alt, az)
			}
		}
	})
}

// FuzzClockText feeds any text to the hours of a night: minutes of a day or a
// fault.
func FuzzClockText(f *testing.F) {
	for _, s := range []string{"20:00", "24:00", "23:59", "8 pm", "8.30pm", "2030", "-1:00", "20:60", "12am", "12 pm", "٢٠:٠٠", "99999999999999999999", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if m, err := parseClock(s); err == nil && (m < 0 || m > 24*60) {
			t.Fatalf("%q is minute %d of a day", s, m)
		}
	})
}
