package weather

import (
	"fmt"
	"math"
	"time"
)

// Reading is one hour as a forecast service gives it, already in our units.
// NaN stands for a null.
type Reading struct {
	Time                                 time.Time
	Temp, DewPoint, RH                   float64 // degrees C, per cent
	Cloud, CloudLow, CloudMid, CloudHigh float64 // per cent
	Wind, Gust                           float64 // m/s at 10 m
	Precip, PrecipProb                   float64 // mm, per cent, of the hour that ends at Time
	Thunder                              float64 // 1 forecast, 0 not
}

// FromReadings makes the hours of a series of what a service sent. Unlike
// typed values nobody can correct them, so small contradictions are repaired
// and noted, and an hour that is absurd or lacks temperature or moisture is
// left out as a gap, which [Series.At] bridges for up to [MaxGap].
func FromReadings(rs []Reading) (hours []Hour, notes []string) {
	dropped, empty, repaired, odd := 0, 0, 0, 0
	for _, r := range rs {
		if !given(r.Temp) || !given(r.DewPoint) && !given(r.RH) {
			empty++
			continue
		}
		w := raw{r.Temp, r.DewPoint, r.RH, r.Cloud, r.CloudLow, r.CloudMid, r.CloudHigh, r.Wind, r.Gust, r.Precip, r.PrecipProb, r.Thunder}
		if w.mend() {
			repaired++
		}
		if given(w.dewPoint) && given(w.rh) && w.rh > 0 && math.Abs(DewPoint(w.temp, w.rh)-w.dewPoint) > disagreement {
			odd++
			w.rh = math.NaN() // the dew point is what dew depends on
		}
		h, ok := w.hour(func(string, string) {})
		if !ok {
			dropped++
			continue
		}
		h.Time = r.Time.UTC()
		hours = append(hours, h)
	}
	sortHours(hours)
	hours = unique(hours)
	bridge(hours)

	note := func(n int, format string) {
		if n > 0 {
			notes = append(notes, fmt.Sprintf(format, n))
		}
	}
	note(empty, "%d hours came without temperature or humidity and were left out.")
	note(dropped, "%d hours held impossible values and were left out.")
	note(repaired, "%d hours were corrected slightly: saturated air, or gusts below the mean wind.")
	note(odd, "In %d hours humidity and dew point disagree by more than 1 degree; the dew point was kept.")
	return hours, notes
}

// mend repairs what rounding in a service does: humidity to 105 per cent, a
// dew point to 0.5 K above the air, gusts below the mean wind.
func (r *raw) mend() bool {
	mended := false
	if r.rh > 100 && r.rh <= 105 {
		r.rh, mended = 100, true
	}
	if r.rh == 0 && given(r.dewPoint) {
		r.rh, mended = math.NaN(), true
	}
	if r.dewPoint > r.temp && r.dewPoint <= r.temp+0.5 {
		r.dewPoint, mended = r.temp, true
	}
	if r.gust < r.wind {
		r.gust, mended = r.wind, true
	}
	return mended
}

// unique keeps the first of hours at the same time.
func unique(hs []Hour) []Hour {
	out := hs[:0]
	for i, h := range hs {
		if i == 0 || !h.Time.Equal(hs[i-1].Time) {
			out = append(out, h)
		}
	}
	return out
}

// bridge fills cloud and wind that a few hours lack from the nearest hours
// that have them, by straight lines over at most [MaxGap], and marks them.
func bridge(hs []Hour) {
	for _, f := range []Fields{Cloud, Wind} {
		last := -1
		for i := range hs {
			if !hs[i].Has(f) {
				continue
			}
			if last >= 0 && i > last+1 && hs[i].Time.Sub(hs[last].Time) <= MaxGap {
				for k := last + 1; k < i; k++ {
					hs[k].fillFrom(mix(hs[last], hs[i], hs[k].Time), f)
				}
			}
			last = i
		}
	}
}

func (h *Hour) fillFrom(m Hour, f Fields) {
	switch f {
	case Cloud:
		h.Cloud, h.CloudLow, h.CloudMid, h.CloudHigh = m.Cloud, m.CloudLow, m.CloudMid, m.CloudHigh
	case Wind:
		h.Wind = m.Wind
	}
	h.Missing &^= f
	h.Estimated = true
}
