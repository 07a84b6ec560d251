package sky

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// ParseMPC reads pasted lines in the Minor Planet Center's one-line format of
// orbital elements, "Export Format for Minor-Planet Orbits" or "Ephemerides and
// Orbital Elements Format" for comets, told apart by their columns. Empty lines
// are skipped.
//
// It returns all orbits or, when anything is wrong, none and the Faults, each
// with line, column and reason.
func ParseMPC(text string) ([]Orbit, error) {
	var orbits []Orbit
	var faults Faults
	for i, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		c := newColumns(i+1, line)
		orbit := c.orbit()
		faults = append(faults, c.faults...)
		orbits = append(orbits, orbit)
	}
	if len(orbits) == 0 {
		faults = append(faults, Fault{Line: 1, Reason: "nothing was pasted"})
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return orbits, nil
}

// orbit reads the line as what its columns look like.
func (c *columns) orbit() Orbit {
	switch {
	case len(c.faults) > 0: // a tab or the like: every column would be wrong
		return Orbit{}
	case allDigits(c.raw(15, 18)) && len(c.raw(15, 18)) == 4:
		return c.comet()
	case len(c.text) >= 90:
		return c.minorPlanet()
	}
	c.fault(0, "", "looks neither like a comet (a year in columns 15 to 18) nor like a minor planet (at least 103 columns)")
	return Orbit{}
}

func allDigits(s string) bool { return strings.Trim(s, "0123456789") == "" }

// comet reads a comet's line.
func (c *columns) comet() Orbit {
	c.blank(13, 14, 19, 22, 30, 40, 41, 50, 51, 60, 61, 70, 71, 80, 81, 90, 91, 96, 101, 102)
	if kind := c.raw(5, 5); kind == "" || !strings.Contains("CPDXAI", kind) {
		c.fault(5, "type of orbit", fmt.Sprintf("%q is not one of C, P, D, X, A and I", kind))
	}
	o := Orbit{Comet: true}
	o.Perihelion = c.date(15, 20, 23, 29)
	o.Q = c.decimal(31, 39, "perihelion distance", 0.0001, 1000)
	o.E = c.decimal(42, 49, "eccentricity", 0, 10)
	o.Peri = c.decimal(52, 59, "argument of perihelion", 0, 360)
	o.Node = c.decimal(62, 69, "longitude of the node", 0, 360)
	o.Incl = c.decimal(72, 79, "inclination", 0, 180)
	if c.trimmed(82, 89) != "" {
		o.Epoch = c.packedDay(82)
	}
	o.H = c.optional(92, 95, "absolute magnitude", -10, 35)
	o.Slope = c.optional(97, 100, "slope", 0, 40)
	if math.IsNaN(o.Slope) {
		o.Slope = 4 // the Center's own default
	}
	o.Designation = c.trimmed(103, 158)
	if o.Designation == "" {
		c.fault(103, "designation", "is missing")
	}
	return o
}

// date reads year, month and a day with decimals (TT) as a Julian date.
func (c *columns) date(year, month, day, dayEnd int) float64 {
	y := c.integer(year, year+3, "year of perihelion", 1000, 3000)
	m := c.integer(month, month+1, "month of perihelion", 1, 12)
	d := c.decimal(day, dayEnd, "day of perihelion", 1, 31.99999)
	if y == 0 || m == 0 || math.IsNaN(d) {
		return math.NaN()
	}
	return c.julianDay(y, m, d, day, "day of perihelion")
}

// packedDay reads YYYYMMDD as a Julian date (TT).
func (c *columns) packedDay(from int) float64 {
	y := c.integer(from, from+3, "year of the epoch", 1000, 3000)
	m := c.integer(from+4, from+5, "month of the epoch", 1, 12)
	d := c.integer(from+6, from+7, "day of the epoch", 1, 31)
	return c.julianDay(y, m, float64(d), from+6, "day of the epoch")
}

func (c *columns) julianDay(y, m int, d float64, column int, field string) float64 {
	whole := math.Floor(d)
	t := time.Date(y, time.Month(m), int(whole), 0, 0, 0, 0, time.UTC)
	if m >= 1 && m <= 12 && d >= 1 && t.Month() != time.Month(m) {
		c.fault(column, field, fmt.Sprintf("%d-%02d has no day %.0f", y, m, whole))
	}
	return jdOf(t) + d - whole
}

// minorPlanet reads a minor planet's line.
func (c *columns) minorPlanet() Orbit {
	c.blank(8, 14, 20, 26, 36, 37, 47, 48, 58, 59, 69, 70, 80, 92)
	o := Orbit{}
	o.H = c.optional(9, 13, "absolute magnitude", -5, 40)
	o.Slope = c.optional(15, 19, "slope G", -1, 1)
	if math.IsNaN(o.Slope) {
		o.Slope = 0.15 // the IAU's default
	}
	o.Epoch = c.packedEpoch(21)
	mean := c.decimal(27, 35, "mean anomaly", 0, 360)
	o.Peri = c.decimal(38, 46, "argument of perihelion", 0, 360)
	o.Node = c.decimal(49, 57, "longitude of the node", 0, 360)
	o.Incl = c.decimal(60, 68, "inclination", 0, 180)
	o.E = c.decimal(71, 79, "eccentricity", 0, 0.99999)
	daily := c.decimal(81, 91, "daily motion", 1e-8, 20)
	a := c.decimal(93, 103, "semimajor axis", 0.1, 50000)

	// Kepler's third law ties the two together: a slip in either shows.
	if own := gaussK * degree / math.Sqrt(a*a*a); math.Abs(daily/own-1) > 0.005 {
		c.fault(81, "daily motion", fmt.Sprintf("%g degrees a day does not go with a semimajor axis of %g au (that moves %.7f)", daily, a, own))
	}
	o.Q = a * (1 - o.E)
	// The nearest perihelion: mean anomalies over 180 degrees lie before one.
	o.Perihelion = o.Epoch - math.Remainder(mean, 360)*radian*math.Sqrt(a*a*a)/gaussK
	if o.Designation = c.trimmed(167, 194); o.Designation == "" {
		o.Designation = c.trimmed(1, 7)
	}
	if o.Designation == "" {
		c.fault(1, "designation", "is missing")
	}
	return o
}

// packedEpoch reads the Center's five-character date, such as K205V for 2020
// May 31, as a Julian date (TT).
func (c *columns) packedEpoch(from int) float64 {
	const field = "epoch"
	s := c.raw(from, from+4)
	centuries := map[byte]int{'I': 1800, 'J': 1900, 'K': 2000, 'L': 2100}
	if len(s) != 5 || centuries[s[0]] == 0 || !allDigits(s[1:3]) {
		c.fault(from, field, fmt.Sprintf("%q is not a packed date such as K2555 (2025 May 5)", s))
		return math.NaN()
	}
	year := centuries[s[0]] + int(s[1]-'0')*10 + int(s[2]-'0')
	month, day := packedDigit(s[3]), packedDigit(s[4])
	if month < 1 || month > 12 {
		c.fault(from+3, field, fmt.Sprintf("%q is not a month (1 to 9, A to C)", s[3:4]))
		return math.NaN()
	}
	if day < 1 || day > 31 {
		c.fault(from+4, field, fmt.Sprintf("%q is not a day (1 to 9, A to V)", s[4:5]))
		return math.NaN()
	}
	return c.julianDay(year, month, float64(day), from+4, field)
}

// packedDigit is 0 to 9, A for 10 to V for 31; -1 for anything else.
func packedDigit(b byte) int {
	switch {
	case b >= '0' && b <= '9':
		return int(b - '0')
	case b >= 'A' && b <= 'V':
		return int(b-'A') + 10
	}
	return -1
}
