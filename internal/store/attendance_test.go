package store_test

import (
	"context"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/sky"
)

// TestAttendanceOfVersionEighteen reads what rows_0018.sql put there: Ada served
// 45 minutes of a duty of an hour, brings gear 1 as a rule, and seasons begin
// with September.
func TestAttendanceOfVersionEighteen(t *testing.T) {
	ctx := context.Background()
	s := openAt(t, oldDatabase(t, 18))
	defer s.Close()
	year := func() []crew.Served {
		t.Helper()
		served, err := s.Served(ctx, sky.Date{Year: 2026, Month: 1, Day: 1}, sky.Date{Year: 2026, Month: 12, Day: 31})
		must(t, err)
		return served
	}
	if got := year(); len(got) != 1 || got[0].Length != 45*time.Minute {
		t.Errorf("served %+v, want 45 minutes", got)
	}
	v, err := s.Volunteer(ctx, 3)
	must(t, err)
	if len(v.Brings) != 1 || v.Brings[0] != 1 {
		t.Errorf("brings %v", v.Brings)
	}
	r, err := s.CrewRules(ctx)
	must(t, err)
	if r.SeasonMonth != time.September {
		t.Errorf("a season begins with %v", r.SeasonMonth)
	}
	seen, err := s.Attendance(ctx, 8)
	must(t, err)
	absent := []crew.Attendance{{VolunteerID: 3, AsRoster: true}}
	if err := s.SaveAttendance(ctx, 8, "another page", absent); fault.KindOf(err) != fault.Conflict {
		t.Errorf("an older page is saved: %v", err)
	}
	must(t, s.SaveAttendance(ctx, 8, crew.AttendanceMark(seen), absent))
	if got := year(); len(got) != 0 {
		t.Errorf("who was not there served %+v", got)
	}
	v.Brings = nil
	must(t, s.SaveVolunteer(ctx, &v))
	if v, err := s.Volunteer(ctx, 3); err != nil || len(v.Brings) != 0 {
		t.Errorf("brings %v, %v", v.Brings, err)
	}
}
