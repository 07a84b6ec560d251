package feed

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/url"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/weather"
)

// OpenMeteoBase is the documented address of the forecast service.
const OpenMeteoBase = "https://api.open-meteo.com/v1/forecast"

// OpenMeteoCredit is the attribution that the licence of the data (CC BY 4.0)
// asks for, with the note of changes.
const OpenMeteoCredit = "Weather data by Open-Meteo.com (https://open-meteo.com/), licensed CC BY 4.0 (https://creativecommons.org/licenses/by/4.0/); interpolated by us."

// maxForecastDays is the documented limit of forecast_days.
const maxForecastDays = 16

// OpenMeteo asks the Open-Meteo forecast service, as its public documentation
// describes it. The service does not say when its models ran, so IssuedAt of
// a series is when it was fetched. It must not be copied after first use.
type OpenMeteo struct {
	Client  *Client
	BaseURL string // empty means [OpenMeteoBase]

	memory cache
}

// Name is "Open-Meteo".
func (o *OpenMeteo) Name() string { return "Open-Meteo" }

// Fetch implements [weather.Provider].
func (o *OpenMeteo) Fetch(ctx context.Context, q weather.Query) (weather.Series, error) {
	return source{o.Name(), o.ask, readOpenMeteo, openMeteoReason}.fetch(ctx, client(o.Client), &o.memory, q)
}

func client(c *Client) *Client {
	if c == nil {
		return &Client{}
	}
	return c
}

// openMeteoFields are the variables asked for, in the order of the request.
var openMeteoFields = []string{
	"temperature_2m", "relative_humidity_2m", "dew_point_2m",
	"cloud_cover", "cloud_cover_low", "cloud_cover_mid", "cloud_cover_high",
	"wind_speed_10m", "wind_gusts_10m", "precipitation", "precipitation_probability", "weather_code",
}

func (o *OpenMeteo) ask(q weather.Query, now time.Time) (*url.URL, error) {
	base := o.BaseURL
	if base == "" {
		base = OpenMeteoBase
	}
	u, err := url.Parse(base)
	if err != nil {
		return nil, err
	}
	midnight := now.UTC().Truncate(24 * time.Hour)
	days := int(math.Ceil(q.To.Add(time.Hour).Sub(midnight).Hours() / 24))
	if days > maxForecastDays {
		return nil, fmt.Errorf("the forecast reaches %d days ahead; this night lies further", maxForecastDays)
	}
	v := url.Values{
		"latitude":        {strconv.FormatFloat(q.Latitude, 'f', 3, 64)},
		"longitude":       {strconv.FormatFloat(q.Longitude, 'f', 3, 64)},
		"hourly":          {strings.Join(openMeteoFields, ",")},
		"wind_speed_unit": {"ms"},
		"timeformat":      {"unixtime"},
		"timezone":        {"GMT"},
		"forecast_days":   {strconv.Itoa(max(days, 1))},
	}
	if q.From.Before(midnight) {
		v.Set("past_days", "1")
	}
	if q.Elevation >= 0 {
		v.Set("elevation", strconv.FormatFloat(q.Elevation, 'f', 0, 64))
	}
	u.RawQuery = v.Encode()
	return u, nil
}

// openMeteoReason is the text of a documented refusal.
func openMeteoReason(a answer) string {
	var e struct {
		Error  bool   `json:"error"`
		Reason string `json:"reason"`
	}
	if json.Unmarshal(a.body, &e) != nil || !e.Error {
		return ""
	}
	if r := []rune(e.Reason); len(r) > 200 {
		return string(r[:200])
	}
	return e.Reason
}

// openMeteoReply is the documented reply; hourly holds parallel arrays.
type openMeteoReply struct {
	Error  bool                       `json:"error"`
	Reason string                     `json:"reason"`
	Units  map[string]string          `json:"hourly_units"`
	Hourly map[string]json.RawMessage `json:"hourly"`
}

func readOpenMeteo(body []byte, now time.Time) (weather.Series, error) {
	body = bytes.TrimSpace(body)
	var r openMeteoReply
	if len(body) > 0 && body[0] == '[' {
		// Several places make a list; we ask for one.
		var list []openMeteoReply
		if err := json.Unmarshal(body, &list); err != nil {
			return weather.Series{}, fmt.Errorf("decoding a list: %w", err)
		}
		if len(list) != 1 {
			return weather.Series{}, fmt.Errorf("%d places in the reply to a question for one", len(list))
		}
		r = list[0]
	} else if err := json.Unmarshal(body, &r); err != nil {
		return weather.Series{}, fmt.Errorf("decoding: %w", err)
	}
	if r.Error {
		return weather.Series{}, errors.New(r.Reason)
	}
	// Any other form of time would be local, with one offset across a clock change.
	if u := r.Units["time"]; u != "unixtime" {
		return weather.Series{}, fmt.Errorf("times come as %q, not as unixtime", u)
	}
	var stamps []int64
	if err := json.Unmarshal(r.Hourly["time"], &stamps); err != nil {
		return weather.Series{}, fmt.Errorf("decoding the times: %w", err)
	}
	rs, err := r.readings(stamps)
	if err != nil {
		return weather.Series{}, err
	}
	hours, notes := weather.FromReadings(rs)
	if len(hours) == 0 {
		return weather.Series{}, errors.New("no hour with temperature and humidity")
	}
	return weather.Series{Hours: hours, Source: "Open-Meteo", Attribution: OpenMeteoCredit, IssuedAt: now.UTC(), Notes: notes}, nil
}

// readings turns the parallel arrays into hours in our units.
func (r openMeteoReply) readings(stamps []int64) ([]weather.Reading, error) {
	columns := map[string][]float64{}
	for _, name := range openMeteoFields {
		col, err := r.column(name, len(stamps))
		if err != nil {
			return nil, err
		}
		columns[name] = col
	}
	rs := make([]weather.Reading, len(stamps))
	for i, s := range stamps {
		at := func(name string) float64 { return columns[name][i] }
		rs[i] = weather.Reading{
			Time: time.Unix(s, 0).UTC(),
			Temp: at("temperature_2m"), DewPoint: at("dew_point_2m"), RH: at("relative_humidity_2m"),
			Cloud: at("cloud_cover"), CloudLow: at("cloud_cover_low"), CloudMid: at("cloud_cover_mid"), CloudHigh: at("cloud_cover_high"),
			Wind: at("wind_speed_10m"), Gust: at("wind_gusts_10m"),
			Precip: at("precipitation"), PrecipProb: at("precipitation_probability"),
			Thunder: thunderCode(at("weather_code")),
		}
	}
	return rs, nil
}

// column is one variable in our unit; a variable that the reply lacks is all
// NaN, one of another length or in an unknown unit is an error.
func (r openMeteoReply) column(name string, n int) ([]float64, error) {
	out := make([]float64, n)
	data, ok := r.Hourly[name]
	if !ok {
		for i := range out {
			out[i] = math.NaN()
		}
		return out, nil
	}
	var values []*float64
	if err := json.Unmarshal(data, &values); err != nil {
		return nil, fmt.Errorf("decoding %s: %w", name, err)
	}
	if len(values) != n {
		return nil, fmt.Errorf("%d values of %s for %d times", len(values), name, n)
	}
	scale, offset, err := toOurs(name, r.Units[name])
	if err != nil {
		return nil, err
	}
	for i, v := range values {
		out[i] = math.NaN()
		if v != nil {
			out[i] = *v*scale + offset
		}
	}
	return out, nil
}

// toOurs is how a unit of hourly_units becomes ours. The service may answer
// in another unit than asked for, so the label decides, never the request.
func toOurs(name, unit string) (scale, offset float64, err error) {
	ok := func(s, o float64) (float64, float64, error) { return s, o, nil }
	switch {
	case name == "weather_code" && unit == "wmo code":
		return ok(1, 0)
	case strings.HasPrefix(name, "temperature") || strings.HasPrefix(name, "dew_point"):
		switch unit {
		case "°C":
			return ok(1, 0)
		case "°F":
			return ok(5.0/9, -160.0/9)
		}
	case strings.HasPrefix(name, "wind"):
		switch unit {
		case "m/s":
			return ok(1, 0)
		case "km/h":
			return ok(1/3.6, 0)
		case "mp/h", "mph":
			return ok(0.44704, 0)
		case "kn":
			return ok(1852.0/3600, 0)
		}
	case name == "precipitation":
		switch unit {
		case "mm":
			return ok(1, 0)
		case "inch":
			return ok(25.4, 0)
		}
	case unit == "%":
		return ok(1, 0)
	}
	return 0, 0, fmt.Errorf("%s comes in the unit %q, which we do not know", name, unit)
}

// thunderCode is 1 for the WMO weather codes 95 to 99, thunderstorms.
func thunderCode(code float64) float64 {
	switch {
	case math.IsNaN(code):
		return code
	case code >= 95 && code <= 99:
		return 1
	default:
		return 0
	}
}
