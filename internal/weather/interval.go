package weather

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Interval is a stretch of time for which one value holds, Start included and
// End not.
type Interval struct{ Start, End time.Time }

// maxInterval bounds what a forecast can mean and what [Interval.Hours] lists.
const maxInterval = 31 * 24 * time.Hour

// ParseInterval reads an ISO 8601 interval of a start and a duration, such as
// "2019-07-04T18:00:00+00:00/PT3H", the form in which forecast grids merge
// equal hours. Weeks, days, hours, minutes and seconds are taken; months and
// years are refused since their length is not fixed, and so is a duration of
// zero or of more than 31 days.
func ParseInterval(s string) (Interval, error) {
	start, dur, ok := strings.Cut(s, "/")
	if !ok {
		return Interval{}, fmt.Errorf("interval %q has no duration", s)
	}
	t, err := time.Parse(time.RFC3339, start)
	if err != nil {
		return Interval{}, fmt.Errorf("interval %q has no valid start", s)
	}
	d, err := parseDuration(dur)
	if err != nil {
		return Interval{}, err
	}
	t = t.UTC()
	return Interval{t, t.Add(d)}, nil
}

// Hours is every full hour step from Start that lies before End.
func (i Interval) Hours() []time.Time {
	var ts []time.Time
	for t := i.Start; t.Before(i.End); t = t.Add(time.Hour) {
		ts = append(ts, t)
	}
	return ts
}

func parseDuration(s string) (time.Duration, error) {
	bad := func() (time.Duration, error) {
		return 0, fmt.Errorf("duration %q is not of the form P1DT2H30M", s)
	}
	rest, ok := strings.CutPrefix(s, "P")
	if !ok {
		return bad()
	}
	date, clock, timed := strings.Cut(rest, "T")
	if timed && clock == "" {
		return bad()
	}
	day := 24 * time.Hour
	d, n, ok := sumUnits(date, "WD", []time.Duration{7 * day, day})
	c, m, ok2 := sumUnits(clock, "HMS", []time.Duration{time.Hour, time.Minute, time.Second})
	if !ok || !ok2 || n+m == 0 {
		return bad()
	}
	if d += c; d <= 0 || d > maxInterval {
		return 0, fmt.Errorf("duration %q is not between one second and 31 days", s)
	}
	return d, nil
}

// sumUnits adds up parts such as 2H30M, whose letters must come in the order
// of letters. It returns how many parts there were.
func sumUnits(s, letters string, sizes []time.Duration) (sum time.Duration, parts int, ok bool) {
	next := 0
	for s != "" {
		i := strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' })
		if i <= 0 || i > 6 { // six digits keep the product inside a Duration
			return 0, 0, false
		}
		k := strings.IndexByte(letters[next:], s[i])
		if k < 0 {
			return 0, 0, false
		}
		n, err := strconv.Atoi(s[:i])
		if err != nil {
			return 0, 0, false
		}
		sum += time.Duration(n) * sizes[next+k]
		next += k + 1
		parts++
		s = s[i+1:]
	}
	return sum, parts, true
}
