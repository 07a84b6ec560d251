package sky

import (
	"math"
	"time"

	"github.com/soniakeys/meeus/v3/base"
)

const (
	unixEpochJD    = 2440587.5 // 1970-01-01T00:00Z
	secondsPerDay  = 86400.0
	daysPerCentury = 36525.0
)

// jdOf returns the Julian date of t in UTC, which this package takes as UT1
// (they differ by less than 0.9 s by the definition of UTC, that is by less
// than 14 arcseconds of hour angle).
func jdOf(t time.Time) float64 {
	// Days and the rest are added separately: nanoseconds since 1970 as one
	// float64 would lose a quarter of a microsecond for nothing.
	seconds := t.Unix()
	days := math.Floor(float64(seconds) / secondsPerDay)
	rest := float64(seconds) - days*secondsPerDay + float64(t.Nanosecond())*1e-9
	return unixEpochJD + days + rest/secondsPerDay
}

// ttOf returns the Julian date of t in terrestrial time (meeus calls it JDE).
func ttOf(t time.Time) float64 {
	jd := jdOf(t)
	return jd + DeltaT(julianYear(jd))/secondsPerDay
}

// timeOf is the inverse of jdOf, to a few tens of microseconds.
func timeOf(jd float64) time.Time {
	days := math.Floor(jd - unixEpochJD)
	rest := jd - unixEpochJD - days
	return time.Unix(int64(days)*86400, 0).UTC().Add(time.Duration(rest * secondsPerDay * 1e9))
}

// utcOfTT is the inverse of ttOf.
func utcOfTT(tt float64) time.Time {
	jd := tt - DeltaT(julianYear(tt))/secondsPerDay
	return timeOf(jd)
}

// julianYear turns a Julian date into a decimal year: 2451545.0 is 2000.0.
func julianYear(jd float64) float64 { return 2000 + (jd-base.J2000)/365.25 }

// julianCentury returns the centuries since J2000.0.
func julianCentury(jd float64) float64 { return (jd - base.J2000) / daysPerCentury }

// measuredDeltaT holds TT-UT1 in seconds on 1 January of each year from 1973.
// 1973 to 2023: US Naval Observatory's monthly determinations, as distributed
// with the npm package astronomia 4.2.0 (data/deltat.txt; 1973 is its
// February). 2024 to 2026: from memory of the Earth rotation service's
// bulletins, sure to 0.05 s. testdata/reference/delta-t.json checks the table
// against the Earth rotation series in Debian's astropy.
var measuredDeltaT = [...]float64{
	43.37, 44.48, 45.48, 46.46, 47.52, 48.53, 49.59, // 1973-1979
	50.54, 51.38, 52.17, 52.96, 53.79, 54.34, 54.87, 55.32, 55.82, 56.30, // 1980-1989
	56.86, 57.57, 58.31, 59.12, 59.98, 60.79, 61.63, 62.30, 62.97, 63.47, // 1990-1999
	63.83, 64.09, 64.30, 64.47, 64.57, 64.69, 64.85, 65.15, 65.46, 65.78, // 2000-2009
	66.07, 66.32, 66.60, 66.91, 67.28, 67.64, 68.10, 68.59, 68.97, 69.22, // 2010-2019
	69.36, 69.36, 69.29, 69.17, 69.18, 69.14, 69.11, // 2020-2026
}

const (
	firstMeasured = 1973.0
	lastMeasured  = firstMeasured + float64(len(measuredDeltaT)) - 1
)

// DeltaT returns TT-UT1 in seconds for a decimal year.
//
// Measured values (see measuredDeltaT) serve 1973 to 2026, linear between
// them: within 0.1 s. Later years continue the last measured value with the
// growth of Espenak's 2014 polynomial for 2015-3000 ("Polynomial Expressions
// for Delta T", Thousand Year Canon of Solar Eclipses, 2014); the polynomial
// itself is already 3 s too high in 2026, its slope is not. Nobody can know
// the Earth's rotation in advance: the published predictions for 2060 lie
// between 69 s (no change) and 114 s (Espenak & Meeus 2006), ours is 89 s, and
// the 25 s either way move the Moon by 14 arcseconds and the Sun by 1.
// Earlier years use Espenak & Meeus 2006 (Five Millennium Canon of Solar
// Eclipses, NASA TP-2006-214141), within 1 s from 1900.
func DeltaT(year float64) float64 {
	switch {
	case year > lastMeasured:
		last := measuredDeltaT[len(measuredDeltaT)-1]
		return last + espenak2014(year) - espenak2014(lastMeasured)
	case year >= firstMeasured:
		i := min(int(year-firstMeasured), len(measuredDeltaT)-2)
		f := year - firstMeasured - float64(i)
		return measuredDeltaT[i]*(1-f) + measuredDeltaT[i+1]*f
	}
	return espenakMeeus2006(year)
}

func espenak2014(year float64) float64 {
	return base.Horner(year-2015, 67.62, 0.3645, 0.0039755)
}

func espenakMeeus2006(year float64) float64 {
	switch {
	case year >= 1961:
		t := year - 1975
		return 45.45 + 1.067*t - t*t/260 - t*t*t/718
	case year >= 1941:
		t := year - 1950
		return 29.07 + 0.407*t - t*t/233 + t*t*t/2547
	case year >= 1920:
		return base.Horner(year-1920, 21.20, 0.84493, -0.076100, 0.0020936)
	case year >= 1900:
		return base.Horner(year-1900, -2.79, 1.494119, -0.0598939, 0.0061966, -0.000197)
	}
	u := (year - 1820) / 100
	return -20 + 32*u*u
}
