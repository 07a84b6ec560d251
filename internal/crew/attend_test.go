package crew_test

import (
	"testing"
	"time"

	"duskboard/internal/crew"
)

// TestCorrect guards hours served: what was noted after a night goes before the
// roster, and what nobody noted counts as it stands there.
func TestCorrect(t *testing.T) {
	d := func(night, who int64, role crew.Role, minutes int) crew.Served {
		return crew.Served{NightID: night, VolunteerID: who, Role: role, Length: time.Duration(minutes) * time.Minute}
	}
	said := func(night, who int64, there bool, minutes int) crew.Attended {
		return crew.Attended{NightID: night, Name: "x", Attendance: crew.Attendance{VolunteerID: who, There: there, AsRoster: minutes < 0, Served: time.Duration(max(minutes, 0)) * time.Minute}}
	}
	got := crew.Correct(
		[]crew.Served{d(1, 1, crew.Parking, 60), d(1, 1, crew.Operator, 120), d(1, 2, crew.Greeter, 60), d(1, 3, crew.Safety, 90), d(2, 2, crew.Greeter, 60), d(1, 5, crew.Greeter, 30)},
		[]crew.Attended{said(1, 1, true, 90), said(1, 2, false, -1), said(1, 3, true, -1), said(1, 4, true, 45), said(1, 5, true, 0)})
	want := []crew.Served{d(1, 1, crew.Parking, 30), d(1, 1, crew.Operator, 60), d(1, 3, crew.Safety, 90), d(2, 2, crew.Greeter, 60), {NightID: 1, VolunteerID: 4, Name: "x", Role: crew.Helped, Length: 45 * time.Minute}}
	if len(got) != len(want) {
		t.Fatalf("%+v, want %+v", got, want)
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("%d: %+v, want %+v", i, got[i], want[i])
		}
	}
}

func TestSeasons(t *testing.T) {
	for _, c := range []struct {
		year       int
		month      time.Month
		begins     time.Month
		name, last string
	}{
		{2026, time.March, time.January, "2026", "2026-12-31"},
		{2026, time.August, time.September, "2025/26", "2026-08-31"},
		{2026, time.September, time.September, "2026/27", "2027-08-31"},
		{2028, time.February, time.March, "2027/28", "2028-02-29"}, // a leap day is the last
		{1999, time.December, time.July, "1999/00", "2000-06-30"},
	} {
		s := crew.SeasonOf(c.year, c.month, c.begins)
		y, m, d := s.Last()
		if last := time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Format(time.DateOnly); s.Name() != c.name || last != c.last {
			t.Errorf("%d %v: %s until %s, want %s until %s", c.year, c.month, s.Name(), last, c.name, c.last)
		}
	}
}
