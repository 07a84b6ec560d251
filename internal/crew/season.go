package crew

import (
	"fmt"
	"time"
)

// Season is the year of a club, from one month to the month before it: a
// calendar year, or for example September to August.
type Season struct {
	Year  int        // in which it begins
	Month time.Month // with which it begins
}

// SeasonOf returns the season in which a day lies, for seasons that begin with
// a month.
func SeasonOf(year int, month, begins time.Month) Season {
	if month < begins {
		year--
	}
	return Season{year, begins}
}

// First and Last are its first and last day, as year, month and day.
func (s Season) First() (int, time.Month, int) { return s.Year, s.Month, 1 }

// Last is the day before the next season begins.
func (s Season) Last() (int, time.Month, int) {
	return time.Date(s.Year+1, s.Month, 0, 0, 0, 0, 0, time.UTC).Date()
}

// Name is "2026", or "2026/27" where it runs into the next year.
func (s Season) Name() string {
	if s.Month == time.January {
		return fmt.Sprint(s.Year)
	}
	return fmt.Sprintf("%d/%02d", s.Year, (s.Year+1)%100)
}
