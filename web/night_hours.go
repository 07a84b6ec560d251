package web

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/sky"
)

var clockForm = regexp.MustCompile(`^(\d{1,2})(?:[:.h ]?(\d{2}))?\s*(am|pm|a\.m\.|p\.m\.)?$`)

// parseClock reads a time of day and returns minutes since midnight. It takes
// "20:30", "20.30", "2030", "20", "8:30 pm" and "12 am".
func parseClock(s string) (int, error) {
	wrong := fmt.Errorf("write the time as 20:30 or 8:30 pm")
	m := clockForm.FindStringSubmatch(strings.ToLower(strings.TrimSpace(s)))
	if m == nil {
		return 0, wrong
	}
	h, _ := strconv.Atoi(m[1]) // digits by the pattern
	min := 0
	if m[2] != "" {
		min, _ = strconv.Atoi(m[2])
	}
	if half := m[3]; half != "" {
		if h < 1 || h > 12 {
			return 0, wrong
		}
		h %= 12
		if half[0] == 'p' {
			h += 12
		}
	}
	if h == 24 && min == 0 {
		h = 0
	}
	if h > 23 || min > 59 {
		return 0, wrong
	}
	return 60*h + min, nil
}

// instants returns the instants at which a clock in the zone shows the given
// minutes after midnight on a date, in order: one on most days, none when the
// clocks jump over it, two when they are set back across it.
func instants(d sky.Date, minutes int, zone *time.Location) []time.Time {
	wall := time.Date(d.Year, d.Month, d.Day, 0, minutes, 0, 0, time.UTC)
	var found []time.Time
	// Whatever offset is right, it is in force within a day of the wall time.
	for _, near := range []time.Duration{-26 * time.Hour, -13 * time.Hour, 0, 13 * time.Hour, 26 * time.Hour} {
		_, offset := wall.Add(near).In(zone).Zone()
		t := wall.Add(-time.Duration(offset) * time.Second)
		_, there := t.In(zone).Zone()
		if there == offset && !slices.ContainsFunc(found, t.Equal) {
			found = append(found, t)
		}
	}
	slices.SortFunc(found, time.Time.Compare)
	return found
}

// clockOf returns the minutes after midnight that a clock in the zone shows.
func clockOf(t time.Time, zone *time.Location) int {
	l := t.In(zone)
	return 60*l.Hour() + l.Minute()
}

// dateIn returns the date on which a clock time of a night falls: a night runs
// from noon to noon, so what comes before noon belongs to the next day.
func dateIn(evening sky.Date, minutes int) sky.Date {
	if minutes < 12*60 {
		return evening.AddDays(1)
	}
	return evening
}

// gap says in words how the clocks jump over a time that does not exist.
func gap(d sky.Date, minutes int, zone *time.Location) string {
	t := time.Date(d.Year, d.Month, d.Day, 0, minutes, 0, 0, time.UTC).Add(-26 * time.Hour)
	_, before := t.In(zone).Zone()
	for end := t.Add(52 * time.Hour); t.Before(end); t = t.Add(time.Minute) {
		if _, now := t.In(zone).Zone(); now > before {
			last := t.Add(time.Duration(before) * time.Second).UTC().Format("15:04")
			return fmt.Sprintf("%s does not exist that night: the clocks jump from %s to %s", clock(minutes), last, t.In(zone).Format("15:04"))
		} else {
			before = now
		}
	}
	return clock(minutes) + " does not exist that night"
}

// which answers a clock time that occurs twice.
const (
	firstTime  = "first"
	secondTime = "second"
)

// localTime is a clock time of a night turned into an instant.
type localTime struct {
	at     time.Time
	twice  []time.Time // set when the clock shows the time twice
	fault  string      // why there is no instant, for the form
	answer string      // which of the two it is, when it was asked
}

// resolve turns a clock time as typed into an instant of the night. answer says
// which of two is meant; without it a time that occurs twice is asked back.
func resolve(evening sky.Date, typed, answer string, zone *time.Location) localTime {
	minutes, err := parseClock(typed)
	if err != nil {
		return localTime{fault: first(err.Error()) + "."}
	}
	d := dateIn(evening, minutes)
	all := instants(d, minutes, zone)
	switch {
	case len(all) == 0:
		return localTime{fault: gap(d, minutes, zone) + ". Choose a time before or after."}
	case len(all) == 1:
		return localTime{at: all[0]}
	}
	l := localTime{twice: all, answer: answer}
	switch answer {
	case firstTime:
		l.at = all[0]
	case secondTime:
		l.at = all[1]
	default:
		l.fault = clock(minutes) + " occurs twice that night, because the clocks are set back. Say which one."
	}
	return l
}

// whichOf is the answer that leads back to an instant: "" when its clock time
// occurs once.
func whichOf(evening sky.Date, t time.Time, zone *time.Location) string {
	minutes := clockOf(t, zone)
	all := instants(dateIn(evening, minutes), minutes, zone)
	switch {
	case len(all) < 2:
		return ""
	case t.Equal(all[0]):
		return firstTime
	}
	return secondTime
}
