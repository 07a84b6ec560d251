package weather

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Layouts with an offset are instants; without one they are local clock time.
var (
	instantLayouts = []string{time.RFC3339, "2006-01-02T15:04Z07:00", "2006-01-02 15:04:05Z07:00", "2006-01-02 15:04Z07:00", "2006-01-02 15:04:05 Z07:00", "2006-01-02 15:04 Z07:00"}
	localLayouts   = []string{"2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02 15:04", "02.01.2006 15:04:05", "02.01.2006 15:04"}
	clockLayouts   = []string{"15:04", "15:04:05", "15.04"}
	offsetLayouts  = []string{"15:04Z07:00", "15:04 Z07:00"}
)

// readWhen reads a time as a full instant, a local date and clock, an epoch in
// seconds, or a clock alone, which is then of the night that runs from noon of
// evening to the next noon. It returns every instant that the text can mean:
// two when the clock runs twice through it, an error when it skips it.
func readWhen(s string, evening time.Time, zone *time.Location) ([]time.Time, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return nil, errors.New("the time is missing")
	}
	for _, l := range instantLayouts {
		if t, err := time.Parse(l, s); err == nil {
			return plausible(t.UTC())
		}
	}
	if n, err := strconv.ParseInt(s, 10, 64); err == nil && len(s) >= 9 && len(s) <= 11 {
		return plausible(time.Unix(n, 0).UTC())
	}
	for _, l := range localLayouts {
		if t, err := time.Parse(l, s); err == nil {
			return localInstants(t, zone)
		}
	}
	for _, l := range clockLayouts {
		if t, err := time.Parse(l, s); err == nil {
			return localInstants(ofNight(t, evening.In(zone)), zone)
		}
	}
	for _, l := range offsetLayouts {
		if t, err := time.Parse(l, s); err == nil {
			day := ofNight(t, evening.In(zone))
			_, off := t.Zone()
			return plausible(day.Add(-time.Duration(off) * time.Second))
		}
	}
	return nil, fmt.Errorf("%q is not a time; write 2026-10-31 19:00 or 19:00", s)
}

// plausible refuses instants that no night of ours can have.
func plausible(t time.Time) ([]time.Time, error) {
	if t.Year() < 1970 || t.Year() > 2200 {
		return nil, fmt.Errorf("the year %d is not one we plan for", t.Year())
	}
	return []time.Time{t}, nil
}

// ofNight puts a clock on the date of the evening, or on the next when it is
// before noon. The result carries the wall clock in UTC fields.
func ofNight(clock, evening time.Time) time.Time {
	day := evening.Day()
	if clock.Hour() < 12 {
		day++
	}
	return time.Date(evening.Year(), evening.Month(), day, clock.Hour(), clock.Minute(), clock.Second(), 0, time.UTC)
}

// localInstants is every instant at which the clocks of zone show the wall
// time held in the UTC fields of wall, earliest first.
func localInstants(wall time.Time, zone *time.Location) ([]time.Time, error) {
	if _, err := plausible(wall); err != nil {
		return nil, err
	}
	var found []time.Time
	for _, probe := range []time.Duration{-24 * time.Hour, 24 * time.Hour} {
		_, off := wall.Add(probe).In(zone).Zone()
		t := wall.Add(-time.Duration(off) * time.Second)
		if _, real := t.In(zone).Zone(); real != off {
			continue
		}
		if len(found) == 0 || !found[0].Equal(t) {
			found = append(found, t)
		}
	}
	switch {
	case len(found) == 0:
		return nil, fmt.Errorf("%s does not exist: the clocks go forward over it", wall.Format("15:04"))
	case len(found) == 2 && found[1].Before(found[0]):
		found[0], found[1] = found[1], found[0]
	}
	return found, nil
}
