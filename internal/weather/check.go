package weather

import (
	"fmt"
	"math"
)

// Limits past which a value is refused. They bound what has been measured on
// the ground at an inhabited place, with room.
const (
	minTemp     = -60.0 // degrees C
	maxTemp     = 60.0
	minDewPoint = -80.0
	maxWind     = 75.0  // m/s, mean
	maxGust     = 110.0 // m/s
	maxPrecip   = 300.0 // mm in an hour

	// disagreement is how far a dew point may lie from the one that
	// temperature and humidity give before the line contradicts itself, K.
	// Rounding humidity to a whole per cent moves the dew point by 0.2 K.
	disagreement = 1.0
)

// raw is one line before it is an hour: NaN stands for a value not given.
type raw struct {
	temp, dewPoint, rh                    float64
	cloud, cloudLow, cloudMid, cloudHigh  float64
	wind, gust, precip, precipProb, storm float64
}

// emptyRaw is a line on which nothing was given.
func emptyRaw() raw {
	n := math.NaN()
	return raw{n, n, n, n, n, n, n, n, n, n, n, n}
}

// given reports whether a value is there.
func given(x float64) bool { return !math.IsNaN(x) }

// hour checks the line and completes it: a dew point from the humidity or the
// other way round. Every fault goes to report with the name of its field.
func (r raw) hour(report func(column, reason string)) (Hour, bool) {
	good := true
	fail := func(column, format string, args ...any) {
		good = false
		report(column, fmt.Sprintf(format, args...))
	}
	within := func(column string, x, lo, hi float64, unit string) bool {
		if given(x) && !(x >= lo && x <= hi) {
			fail(column, "%s %s is outside %s to %s %s", text(x), unit, text(lo), text(hi), unit)
			return false
		}
		return true
	}

	if !given(r.temp) {
		fail(ColTemp, "the air temperature is needed")
	}
	if !given(r.dewPoint) && !given(r.rh) {
		fail(ColRH, "either the humidity or the dew point is needed")
	}
	okTemp := within(ColTemp, r.temp, minTemp, maxTemp, "degrees C")
	okDew := within(ColDewPoint, r.dewPoint, minDewPoint, maxTemp, "degrees C")
	okRH := true
	if given(r.rh) && !(r.rh > 0 && r.rh <= 100) {
		okRH = false
		fail(ColRH, "a humidity of %s per cent cannot be; it lies above 0 and up to 100", text(r.rh))
	}
	if okTemp && okDew && given(r.temp) && given(r.dewPoint) && r.dewPoint > r.temp {
		okDew = false
		fail(ColDewPoint, "a dew point of %s above the air temperature of %s degrees C cannot be", text(r.dewPoint), text(r.temp))
	}
	if okTemp && okDew && okRH && given(r.temp) && given(r.dewPoint) && given(r.rh) {
		if want := DewPoint(r.temp, r.rh); math.Abs(want-r.dewPoint) > disagreement {
			fail(ColDewPoint, "%s does not go with %s degrees C and %s per cent, which give %.1f; leave one of them out", text(r.dewPoint), text(r.temp), text(r.rh), want)
		}
	}
	within(ColCloud, r.cloud, 0, 100, "per cent")
	within(ColCloudLow, r.cloudLow, 0, 100, "per cent")
	within(ColCloudMid, r.cloudMid, 0, 100, "per cent")
	within(ColCloudHigh, r.cloudHigh, 0, 100, "per cent")
	okWind := within(ColWind, r.wind, 0, maxWind, "m/s")
	okGust := within(ColGust, r.gust, 0, maxGust, "m/s")
	if okWind && okGust && given(r.wind) && given(r.gust) && r.gust < r.wind {
		fail(ColGust, "gusts of %s below the mean wind of %s m/s cannot be", text(r.gust), text(r.wind))
	}
	within(ColPrecip, r.precip, 0, maxPrecip, "mm")
	within(ColPrecipProb, r.precipProb, 0, 100, "per cent")
	if !good {
		return Hour{}, false
	}
	return r.complete(), true
}

// complete turns a checked line into an hour.
func (r raw) complete() Hour {
	h := Hour{Temp: r.temp, DewPoint: r.dewPoint, RH: r.rh}
	if !given(h.DewPoint) {
		h.DewPoint = DewPoint(h.Temp, h.RH)
	}
	if !given(h.RH) {
		h.RH = RelativeHumidity(h.Temp, h.DewPoint)
	}
	set := func(dst *float64, x float64, f Fields) {
		if given(x) {
			*dst = x
		} else {
			h.Missing |= f
		}
	}
	layers := given(r.cloudLow) && given(r.cloudMid) && given(r.cloudHigh)
	if layers {
		h.CloudLow, h.CloudMid, h.CloudHigh = r.cloudLow, r.cloudMid, r.cloudHigh
		if !given(r.cloud) {
			// Layers overlap at random over each other, so the clear parts multiply.
			r.cloud = 100 * (1 - (1-r.cloudLow/100)*(1-r.cloudMid/100)*(1-r.cloudHigh/100))
		}
	}
	set(&h.Cloud, r.cloud, Cloud)
	set(&h.Wind, r.wind, Wind)
	set(&h.Gust, r.gust, Gust)
	set(&h.Precip, r.precip, Precip)
	set(&h.PrecipProb, r.precipProb, PrecipProb)
	if given(r.storm) {
		h.Thunder = r.storm > 0
	} else {
		h.Missing |= Thunder
	}
	return h
}

// text prints a number the way a person typed it.
func text(x float64) string { return fmt.Sprintf("%.4g", x) }
