package weather

import (
	"math"
	"time"
)

// Entry is one hour as a night file and other JSON holds it: nil for what
// nobody gave. Units are those of [Hour]. Temperature and one of humidity and
// dew point are needed.
type Entry struct {
	Time       time.Time `json:"time"`
	Temp       *float64  `json:"temp"`
	DewPoint   *float64  `json:"dew_point,omitempty"`
	Humidity   *float64  `json:"humidity,omitempty"`
	Cloud      *float64  `json:"cloud,omitempty"`
	CloudLow   *float64  `json:"cloud_low,omitempty"`
	CloudMid   *float64  `json:"cloud_mid,omitempty"`
	CloudHigh  *float64  `json:"cloud_high,omitempty"`
	Wind       *float64  `json:"wind,omitempty"`
	Gust       *float64  `json:"gust,omitempty"`
	Rain       *float64  `json:"rain,omitempty"`
	RainChance *float64  `json:"rain_chance,omitempty"`
	Thunder    *bool     `json:"thunder,omitempty"`
}

// FromEntries checks entries, in any order, and makes hours of them. The error
// is a [Faults] with the number of the entry from 1 and the name of the field.
func FromEntries(es []Entry) ([]Hour, error) {
	var faults Faults
	var hours []Hour
	taken := map[int64]int{}
	value := func(p *float64) float64 {
		if p == nil {
			return math.NaN()
		}
		return *p
	}
	for i, e := range es {
		n := i + 1
		if _, err := plausible(e.Time); err != nil {
			faults.add(n, ColTime, "%s", err)
			continue
		}
		storm := math.NaN()
		if e.Thunder != nil {
			storm = 0
			if *e.Thunder {
				storm = 1
			}
		}
		r := raw{value(e.Temp), value(e.DewPoint), value(e.Humidity), value(e.Cloud), value(e.CloudLow), value(e.CloudMid), value(e.CloudHigh),
			value(e.Wind), value(e.Gust), value(e.Rain), value(e.RainChance), storm}
		h, ok := r.hour(func(column, reason string) { faults.add(n, column, "%s", reason) })
		if !ok {
			continue
		}
		if other, dup := taken[e.Time.Unix()]; dup {
			faults.add(n, ColTime, "the same time as line %d", other)
			continue
		}
		taken[e.Time.Unix()] = n
		h.Time = e.Time.UTC()
		hours = append(hours, h)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	sortHours(hours)
	return hours, nil
}

// Entries is the series for a night file. The dew point stands for the
// moisture; humidity follows from it.
func (s Series) Entries() []Entry {
	es := make([]Entry, len(s.Hours))
	for i, h := range s.Hours {
		e := Entry{Time: h.Time, Temp: &h.Temp, DewPoint: &h.DewPoint}
		keep := func(dst **float64, x *float64, f Fields) {
			if h.Has(f) {
				*dst = x
			}
		}
		keep(&e.Cloud, &h.Cloud, Cloud)
		keep(&e.Wind, &h.Wind, Wind)
		keep(&e.Gust, &h.Gust, Gust)
		keep(&e.Rain, &h.Precip, Precip)
		keep(&e.RainChance, &h.PrecipProb, PrecipProb)
		if h.Has(Cloud) && h.layered() {
			e.CloudLow, e.CloudMid, e.CloudHigh = &h.CloudLow, &h.CloudMid, &h.CloudHigh
		}
		if h.Has(Thunder) {
			e.Thunder = &h.Thunder
		}
		es[i] = e
	}
	return es
}
