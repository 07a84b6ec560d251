package field_test

import (
	"strings"
	"testing"
	"time"

	"duskboard/internal/field"
	"duskboard/internal/weather"
)

// The thresholds are the club's; these nights are what common practice calls
// go, doubtful and off with the usual ones.
func TestJudge(t *testing.T) {
	end := gate.Add(4 * time.Hour)
	set := func(change func(hs []weather.Hour)) weather.Series {
		s := steady(9, humid(10, 60, 10, 2))
		change(s.Hours[2:]) // from the gate on
		return s
	}
	for _, c := range []struct {
		name string
		s    weather.Series
		out  field.Outlook
		want field.Verdict
		say  string
	}{
		{"a fine night", set(func([]weather.Hour) {}), field.Outlook{}, field.Go, "4 of 4 hours are good"},
		{"one hour of broken cloud", set(func(hs []weather.Hour) { hs[3].Cloud = 50 }), field.Outlook{}, field.Go, "Cloud at 22:00"},
		{"broken cloud", set(func(hs []weather.Hour) {
			for i := range hs {
				hs[i].Cloud = 50
			}
		}), field.Outlook{}, field.Doubtful, "50 per cent, doubtful from 40"},
		{"overcast late", set(func(hs []weather.Hour) { hs[3].Cloud = 95 }), field.Outlook{}, field.Doubtful, "3.0 hours in one stretch"},
		{"overcast from the second hour", set(func(hs []weather.Hour) {
			for i := 1; i < len(hs); i++ {
				hs[i].Cloud = 95
			}
		}), field.Outlook{}, field.Off, "off from 75"},
		{"overcast every second hour", set(func(hs []weather.Hour) { hs[1].Cloud, hs[3].Cloud = 95, 95 }), field.Outlook{}, field.Off, "Only 1.0 hours in one stretch"},
		{"thunder once", set(func(hs []weather.Hour) { hs[3].Thunder = true }), field.Outlook{}, field.Off, "Thunder"},
		{"a gale", set(func(hs []weather.Hour) {
			for i := range hs {
				hs[i].Wind = 12
			}
		}), field.Outlook{}, field.Off, "Wind at 19:00"},
		{"damp air", set(func(hs []weather.Hour) {
			for i := range hs {
				hs[i].DewPoint = 8.5
			}
		}), field.Outlook{}, field.Doubtful, "1.5 K above the dew point"},
		{"poor seeing", set(func([]weather.Hour) {}), field.Outlook{Seeing: 4}, field.Doubtful, "4.0 arcseconds"},
		{"dark only late", set(func([]weather.Hour) {}), field.Outlook{Dark: []field.Span{{From: gate.Add(3 * time.Hour), To: end}}}, field.Doubtful, "not dark yet"},
		{"cloud not given", set(func(hs []weather.Hour) {
			for i := range hs {
				hs[i].Missing = weather.Cloud
			}
		}), field.Outlook{}, field.Doubtful, "nobody gave it"},
		{"half the night unknown", weather.Series{Hours: steady(9, humid(10, 60, 10, 2)).Hours[:3]}, field.Outlook{}, field.Doubtful, "have no weather"},
		{"no weather", weather.Series{}, field.Outlook{}, field.Unknown, "no weather"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := field.Judge(c.s, gate, end, field.DefaultThresholds(), c.out, nil)
			if j.Verdict != c.want {
				t.Errorf("%s, want %s: %q", j.Verdict, c.want, j.Reasons)
			}
			if !strings.Contains(strings.Join(j.Reasons, "\n"), c.say) {
				t.Errorf("reasons %q do not say %q", j.Reasons, c.say)
			}
			if len(j.Hours) != 4 {
				t.Errorf("%d hours", len(j.Hours))
			}
		})
	}
}

// A club that sets its own thresholds gets its own answer.
func TestJudgeByTheClubsThresholds(t *testing.T) {
	th := field.DefaultThresholds()
	th.Cloud = field.Limit{Doubt: 5, Off: 8}
	s := steady(9, humid(10, 60, 10, 2))
	if j := field.Judge(s, gate, gate.Add(3*time.Hour), th, field.Outlook{}, nil); j.Verdict != field.Off {
		t.Errorf("10 per cent against 8: %s", j.Verdict)
	}
}
