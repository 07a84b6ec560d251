package sky

import (
	"errors"
	"fmt"
	"time"
)

// The theories and the delta-T model are checked for these years; outside
// them a date is refused rather than answered badly.
const (
	firstYear = 1900
	lastYear  = 2100
)

// ParseDate reads a date as YYYY-MM-DD and nothing else. Its errors are one
// line fit for the visitor.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		// time.Parse says "out of range" for a day that the month lacks and
		// for a month above 12; everything else is a matter of form.
		var parse *time.ParseError
		if errors.As(err, &parse) && parse.Message != "" && len(s) == len(time.DateOnly) {
			return Date{}, fmt.Errorf("date %q does not exist in the calendar", s)
		}
		return Date{}, fmt.Errorf("date %q is not of the form YYYY-MM-DD", s)
	}
	if t.Year() < firstYear || t.Year() > lastYear {
		return Date{}, fmt.Errorf("date %q lies outside the years %d to %d", s, firstYear, lastYear)
	}
	return Date{t.Year(), t.Month(), t.Day()}, nil
}

// DateOf returns the civil date that a clock in zone shows at t.
func DateOf(t time.Time, zone *time.Location) Date {
	y, m, d := t.In(zone).Date()
	return Date{y, m, d}
}

// String writes the date as YYYY-MM-DD.
func (d Date) String() string {
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// AddDays returns the date n days later, by the calendar.
func (d Date) AddDays(n int) Date {
	return DateOf(time.Date(d.Year, d.Month, d.Day+n, 12, 0, 0, 0, time.UTC), time.UTC)
}

// noon returns local noon of the date, and whether the zone has that date at
// all (a zone that crosses the date line skips a day).
func (d Date) noon(zone *time.Location) (time.Time, bool) {
	t := time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, zone)
	return t.UTC(), DateOf(t, zone) == d
}
