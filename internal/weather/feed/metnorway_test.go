package feed_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"duskboard/internal/weather"
	"duskboard/internal/weather/feed"
)

// metBody is an answer in the documented GeoJSON format of the complete
// product with invented values: n hourly entries, the last with an instant only.
func metBody(from time.Time, n int) string {
	var entries []string
	for i := range n {
		next := `,"next_1_hours":{"summary":{"symbol_code":"fair_night"},"details":{"precipitation_amount":0.` + fmt.Sprint(i%10) + `,"probability_of_precipitation":5.0,"probability_of_thunder":` + fmt.Sprint(i%2*10) + `}}`
		if i == n-1 {
			next = ""
		}
		entries = append(entries, fmt.Sprintf(`{"time":%q,"data":{"instant":{"details":{"air_temperature":%.1f,"dew_point_temperature":4.0,"relative_humidity":%.1f,"cloud_area_fraction":50.0,"cloud_area_fraction_low":10.0,"cloud_area_fraction_medium":0.0,"cloud_area_fraction_high":45.0,"wind_speed":3.0,"wind_speed_of_gust":6.5}}%s}}`,
			from.Add(time.Duration(i)*time.Hour).Format(time.RFC3339), 10-0.5*float64(i), weather.RelativeHumidity(10-0.5*float64(i), 4), next))
	}
	return `{"type":"Feature","geometry":{"type":"Point","coordinates":[-0.12,51.5,20]},"properties":{"meta":{"updated_at":"2027-10-30T11:42:10Z","units":{"air_temperature":"celsius","dew_point_temperature":"celsius","relative_humidity":"%","cloud_area_fraction":"%","cloud_area_fraction_low":"%","cloud_area_fraction_medium":"%","cloud_area_fraction_high":"%","wind_speed":"m/s","wind_speed_of_gust":"m/s","precipitation_amount":"mm","probability_of_precipitation":"%","probability_of_thunder":"%"}},"timeseries":[` + strings.Join(entries, ",") + `]}}`
}

func TestMetNorway(t *testing.T) {
	var asked []*http.Request
	const modified = "Sat, 30 Oct 2027 11:42:30 GMT"
	srv, _ := replay(t, func(w http.ResponseWriter, r *http.Request) {
		asked = append(asked, r)
		w.Header().Set("Expires", now.Add(31*time.Minute).Format(http.TimeFormat))
		w.Header().Set("Last-Modified", modified)
		if r.Header.Get("If-Modified-Since") == modified {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		body(metBody(londonNight.From.Add(-time.Hour), 12))(w, r)
	})
	rig := newRig()
	m := &feed.MetNorway{Client: rig.client, BaseURL: srv.URL}
	s, err := m.Fetch(t.Context(), londonNight)
	if err != nil {
		t.Fatal(err)
	}
	if want := time.Date(2027, 10, 30, 11, 42, 10, 0, time.UTC); !s.IssuedAt.Equal(want) || len(s.Hours) != 12 || !strings.Contains(s.Attribution, "MET Norway") {
		t.Errorf("issued %v, %d hours, %q", s.IssuedAt, len(s.Hours), s.Attribution)
	}
	// Rain of the hour after an instant belongs to the instant that ends it.
	h := s.Hours[2]
	near(t, "temperature", h.Temp, 9, 1e-9)
	near(t, "rain of the hour before", h.Precip, 0.1, 1e-9)
	if !h.Thunder || s.Hours[1].Thunder || s.Hours[0].Has(weather.Precip) {
		t.Errorf("thunder %v then %v, first hour's rain known %v; want false, true, unknown", s.Hours[1].Thunder, h.Thunder, s.Hours[0].Has(weather.Precip))
	}
	if c, _ := h.OpaqueCloud(); c < 0.27 || c > 0.29 {
		t.Errorf("opaque cloud %g, want 0.10 + 0.4 x 0.45", c)
	}

	rig.clock = now.Add(32 * time.Minute)
	if again, err := m.Fetch(t.Context(), londonNight); err != nil || len(again.Hours) != 12 {
		t.Fatalf("not modified: %d hours, %v", len(again.Hours), err)
	}
	if len(asked) != 2 || asked[1].Header.Get("If-Modified-Since") != modified {
		t.Errorf("%d questions, the second since %q", len(asked), asked[len(asked)-1].Header.Get("If-Modified-Since"))
	}
	if q := asked[0].URL.Query(); q.Get("lat") != "51.500" || q.Get("lon") != "-0.120" || q.Get("altitude") != "20" {
		t.Errorf("asked with %v", q)
	}
}

func TestMetNorwayRefuses(t *testing.T) {
	for _, c := range []struct {
		name    string
		handler http.HandlerFunc
		kind    weather.Trouble
		say     string
	}{
		{"403", status(403), weather.Refused, "who asks"},
		{"422", status(422), weather.Refused, "no forecast for this place"},
		{"another unit", body(strings.Replace(metBody(londonNight.From, 12), `"air_temperature":"celsius"`, `"air_temperature":"fahrenheit"`, 1)), weather.Unreadable, ""},
		{"no units", body(`{"properties":{"meta":{},"timeseries":[]}}`), weather.Unreadable, ""},
		{"no hours", body(metBody(londonNight.From, 0)), weather.Unreadable, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			srv, _ := replay(t, c.handler)
			_, err := (&feed.MetNorway{Client: newRig().client, BaseURL: srv.URL}).Fetch(t.Context(), londonNight)
			if fe := wantTrouble(t, err, c.kind); !strings.Contains(fe.Reason, c.say) {
				t.Errorf("reason %q does not say %q", fe.Reason, c.say)
			}
		})
	}
}
