package feed

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/url"
	"strconv"
	"time"

	"duskboard/internal/weather"
)

// MetNorwayBase is the documented address of the complete product; the
// compact one has no dew point.
const MetNorwayBase = "https://api.met.no/weatherapi/locationforecast/2.0/complete"

// MetNorwayCredit is the attribution that the licence of the data asks for.
const MetNorwayCredit = "Weather data from MET Norway (https://api.met.no/), licensed CC BY 4.0 (https://creativecommons.org/licenses/by/4.0/); interpolated by us."

// MetNorway asks the Locationforecast 2.0 service, as its public documentation
// describes it. Its terms ask for an identifying User-Agent. It must not be
// copied after first use.
type MetNorway struct {
	Client  *Client
	BaseURL string // empty means [MetNorwayBase]

	memory cache
}

// Name is "MET Norway".
func (m *MetNorway) Name() string { return "MET Norway" }

// Fetch implements [weather.Provider].
func (m *MetNorway) Fetch(ctx context.Context, q weather.Query) (weather.Series, error) {
	return source{m.Name(), m.ask, readMetNorway, metNorwayReason}.fetch(ctx, client(m.Client), &m.memory, q)
}

func (m *MetNorway) ask(q weather.Query, _ time.Time) (*url.URL, error) {
	base := m.BaseURL
	if base == "" {
		base = MetNorwayBase
	}
	u, err := url.Parse(base)
	if err != nil {
		return nil, err
	}
	v := url.Values{
		"lat": {strconv.FormatFloat(q.Latitude, 'f', 3, 64)},
		"lon": {strconv.FormatFloat(q.Longitude, 'f', 3, 64)},
	}
	if q.Elevation >= 0 {
		v.Set("altitude", strconv.FormatFloat(q.Elevation, 'f', 0, 64))
	}
	u.RawQuery = v.Encode()
	return u, nil
}

// metNorwayReason explains the documented status codes, whose bodies are HTML.
func metNorwayReason(a answer) string {
	switch a.status {
	case 403:
		return "it wants to know who asks; set a contact in the settings"
	case 422:
		return "it has no forecast for this place"
	default:
		return ""
	}
}

// metDetails are the values of one instant or of the hour after it.
type metDetails map[string]float64

type metReply struct {
	Properties struct {
		Meta struct {
			UpdatedAt time.Time         `json:"updated_at"`
			Units     map[string]string `json:"units"`
		} `json:"meta"`
		Timeseries []struct {
			Time time.Time `json:"time"`
			Data struct {
				Instant struct {
					Details metDetails `json:"details"`
				} `json:"instant"`
				NextHour *struct {
					Details metDetails `json:"details"`
				} `json:"next_1_hours"`
			} `json:"data"`
		} `json:"timeseries"`
	} `json:"properties"`
}

// metUnits are the documented units; anything else is refused.
var metUnits = map[string]string{
	"air_temperature": "celsius", "dew_point_temperature": "celsius", "relative_humidity": "%",
	"cloud_area_fraction": "%", "cloud_area_fraction_low": "%", "cloud_area_fraction_medium": "%", "cloud_area_fraction_high": "%",
	"wind_speed": "m/s", "wind_speed_of_gust": "m/s",
	"precipitation_amount": "mm", "probability_of_precipitation": "%", "probability_of_thunder": "%",
}

func readMetNorway(body []byte, now time.Time) (weather.Series, error) {
	var r metReply
	if err := json.Unmarshal(body, &r); err != nil {
		return weather.Series{}, fmt.Errorf("decoding: %w", err)
	}
	p := r.Properties
	for name, want := range metUnits {
		if got, ok := p.Meta.Units[name]; ok && got != want {
			return weather.Series{}, fmt.Errorf("%s comes in the unit %q, not %q", name, got, want)
		}
	}
	if _, ok := p.Meta.Units["air_temperature"]; !ok {
		return weather.Series{}, errors.New("the reply does not name its units")
	}
	rs := make([]weather.Reading, len(p.Timeseries))
	// The service gives rain for the hour after an instant, we keep the hour
	// before it; next carries one to the following entry.
	var next metDetails
	var nextEnd time.Time
	for i, e := range p.Timeseries {
		d := e.Data.Instant.Details
		rain := metDetails(nil)
		if nextEnd.Equal(e.Time) {
			rain = next
		}
		rs[i] = weather.Reading{
			Time: e.Time, Temp: d.get("air_temperature"), DewPoint: d.get("dew_point_temperature"), RH: d.get("relative_humidity"),
			Cloud: d.get("cloud_area_fraction"), CloudLow: d.get("cloud_area_fraction_low"),
			CloudMid: d.get("cloud_area_fraction_medium"), CloudHigh: d.get("cloud_area_fraction_high"),
			Wind: d.get("wind_speed"), Gust: d.get("wind_speed_of_gust"),
			Precip: rain.get("precipitation_amount"), PrecipProb: rain.get("probability_of_precipitation"),
			Thunder: thunderChance(rain.get("probability_of_thunder")),
		}
		next, nextEnd = nil, time.Time{}
		if e.Data.NextHour != nil {
			next, nextEnd = e.Data.NextHour.Details, e.Time.Add(time.Hour)
		}
	}
	hours, notes := weather.FromReadings(rs)
	if len(hours) == 0 {
		return weather.Series{}, errors.New("no hour with temperature and humidity")
	}
	issued := p.Meta.UpdatedAt.UTC()
	if p.Meta.UpdatedAt.IsZero() {
		issued = now.UTC()
	}
	return weather.Series{Hours: hours, Source: "MET Norway", Attribution: MetNorwayCredit, IssuedAt: issued, Notes: notes}, nil
}

func (d metDetails) get(name string) float64 {
	if x, ok := d[name]; ok {
		return x
	}
	return math.NaN()
}

func thunderChance(p float64) float64 {
	switch {
	case math.IsNaN(p):
		return p
	case p >= weather.ThunderChance:
		return 1
	default:
		return 0
	}
}
