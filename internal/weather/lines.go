package weather

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// Line is one line of weather as typed into a form. When is "sunset",
// "midnight" or "dawn", or a clock time of the night, or a full date and time.
// Numbers may carry a unit ("50 F", "12 km/h") and a decimal comma; without a
// unit they are degrees Celsius, per cent, m/s and mm. Temp and one of
// Humidity and DewPoint are needed; an empty string means "not known".
type Line struct {
	When, Temp, DewPoint, Humidity, Cloud, Wind, Gust, Rain, RainChance string
}

// Anchors ties typed times to one night: the named instants, and the evening
// whose noon begins the night of a bare clock time.
type Anchors struct {
	Evening  time.Time // any instant between local noon and midnight of the night's date
	Sunset   time.Time // zero when the Sun does not set
	Midnight time.Time // local midnight; zero takes the clock's midnight of the night
	Dawn     time.Time // zero when there is none
	Zone     *time.Location
}

const (
	// MinLines is how many typed lines make a night's weather.
	MinLines = 3
	// typedGap is the longest stretch between two typed lines: from sunset to
	// midnight of a long winter night.
	typedGap = 12 * time.Hour
)

// TypedRule says how the hours between typed lines are found.
const TypedRule = "Between typed lines every value goes in a straight line for up to 12 hours and is marked as estimated; the rain, gusts and thunder of a typed line count for the time since the line before."

// ParseLines makes a series of three or more typed lines, in any order, with
// an hour at least every 60 minutes between them by [TypedRule]. Any fault
// refuses the whole; the error is then a [Faults], with the number of the
// line from 1 and the Col name of the field.
func ParseLines(lines []Line, at Anchors, typed time.Time) (Series, error) {
	var faults Faults
	if at.Zone == nil {
		at.Zone = time.UTC
	}
	if len(lines) < MinLines {
		faults.add(0, "", "at least %d lines are needed, such as sunset, midnight and dawn", MinLines)
		return Series{}, faults
	}

	hours := make([]Hour, 0, len(lines))
	number := map[int64]int{} // line that took an instant
	for i, l := range lines {
		n := i + 1
		when, err := at.when(l.When)
		if err != nil {
			faults.add(n, ColTime, "%s", err)
		}
		h, ok := l.hour(n, &faults)
		if err != nil || !ok {
			continue
		}
		if other, taken := number[when.Unix()]; taken {
			faults.add(n, ColTime, "the same time as line %d", other)
			continue
		}
		number[when.Unix()] = n
		h.Time = when
		hours = append(hours, h)
	}
	sortHours(hours)
	for i := 1; i < len(hours); i++ {
		if gap := hours[i].Time.Sub(hours[i-1].Time); gap > typedGap {
			faults.add(number[hours[i].Time.Unix()], ColTime, "more than %d hours after the line before it; type one in between", int(typedGap/time.Hour))
		}
	}
	if len(faults) > 0 {
		return Series{}, faults
	}
	return Series{Hours: fill(hours), Source: "typed in", IssuedAt: typed}, nil
}

// fill puts hours between typed lines so that no step is longer than one hour.
func fill(typed []Hour) []Hour {
	var out []Hour
	for i, h := range typed {
		if i > 0 {
			prev := typed[i-1]
			gap := h.Time.Sub(prev.Time)
			steps := int(math.Ceil(gap.Hours()))
			for k := 1; k < steps; k++ {
				m := mix(prev, h, prev.Time.Add(gap*time.Duration(k)/time.Duration(steps)))
				m.Estimated = true
				out = append(out, m)
			}
		}
		out = append(out, h)
	}
	return out
}

// when is the instant of a typed time.
func (a Anchors) when(s string) (time.Time, error) {
	named := func(t time.Time) (time.Time, error) {
		if t.IsZero() {
			return t, fmt.Errorf("there is no %s this night; type a clock time", s)
		}
		return t.UTC(), nil
	}
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "sunset":
		return named(a.Sunset)
	case "dawn":
		return named(a.Dawn)
	case "midnight":
		if !a.Midnight.IsZero() {
			return a.Midnight.UTC(), nil
		}
		s = "00:00"
	}
	ts, err := readWhen(s, a.Evening, a.Zone)
	if err != nil {
		return time.Time{}, err
	}
	if len(ts) > 1 {
		return time.Time{}, twice(ts, a.Zone)
	}
	return ts[0], nil
}

// twice is the fault of a clock time that a night has twice.
func twice(ts []time.Time, zone *time.Location) error {
	return fmt.Errorf("the clocks show this time twice this night; write %s or %s",
		ts[0].In(zone).Format("2006-01-02 15:04Z07:00"), ts[1].In(zone).Format("2006-01-02 15:04Z07:00"))
}

// hour reads the values of one typed line.
func (l Line) hour(n int, faults *Faults) (Hour, bool) {
	r := emptyRaw()
	good := true
	read := func(dst *float64, column, s string, k kind) {
		if strings.TrimSpace(s) == "" {
			return
		}
		x, err := quantity(s, k, same)
		if err != nil {
			faults.add(n, column, "%s", err)
			good = false
			return
		}
		*dst = x
	}
	read(&r.temp, ColTemp, l.Temp, temperature)
	read(&r.dewPoint, ColDewPoint, l.DewPoint, temperature)
	read(&r.rh, ColRH, l.Humidity, percentage)
	read(&r.cloud, ColCloud, l.Cloud, percentage)
	read(&r.wind, ColWind, l.Wind, speed)
	read(&r.gust, ColGust, l.Gust, speed)
	read(&r.precip, ColPrecip, l.Rain, depth)
	read(&r.precipProb, ColPrecipProb, l.RainChance, percentage)
	if !good {
		return Hour{}, false
	}
	return r.hour(func(column, reason string) { faults.add(n, column, "%s", reason) })
}
