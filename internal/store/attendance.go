package store

import (
	"context"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/sky"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Attendance returns what was noted after a night, by volunteer.
func (s *Store) Attendance(ctx context.Context, nightID int64) (as []crew.Attendance, err error) {
	err = s.read(ctx, "load attendance", func(q *db.Queries) error {
		as, err = attendanceOf(ctx, q, nightID)
		return err
	})
	return as, err
}

func attendanceOf(ctx context.Context, q *db.Queries, nightID int64) ([]crew.Attendance, error) {
	rows, err := q.ListNightAttendance(ctx, nightID)
	return each(rows, err, func(r db.Attendance) crew.Attendance { return attendance(r.VolunteerID, r.There, r.Minutes) })
}

func attendance(volunteer int64, there bool, minutes int64) crew.Attendance {
	return crew.Attendance{VolunteerID: volunteer, There: there, AsRoster: minutes < 0, Served: time.Duration(max(minutes, 0)) * time.Minute}
}

// SaveAttendance replaces what was noted after a night. seen is the mark of what
// was there when the page was opened; another one is a Conflict.
func (s *Store) SaveAttendance(ctx context.Context, nightID int64, seen string, as []crew.Attendance) error {
	return s.write(ctx, "save attendance", func(q *db.Queries) error {
		if _, err := q.GetNight(ctx, nightID); err != nil {
			return missing(err, "night", nightID)
		}
		now, err := attendanceOf(ctx, q, nightID)
		if err != nil {
			return err
		}
		if crew.AttendanceMark(now) != seen {
			return changed("page of who was there")
		}
		if err := q.ClearAttendance(ctx, nightID); err != nil {
			return err
		}
		for _, a := range as {
			p := db.InsertAttendanceParams{NightID: nightID, VolunteerID: a.VolunteerID, There: a.There, Minutes: int64(a.Served / time.Minute)}
			if a.AsRoster {
				p.Minutes = -1
			}
			if err := q.InsertAttendance(ctx, p); err != nil {
				return err
			}
		}
		return note(ctx, q, nightID, "note who was there")
	})
}

// Served returns the hours served on all nights between two dates, both
// included: the duties of the rosters, corrected by what was noted afterwards.
func (s *Store) Served(ctx context.Context, from, to sky.Date) (ds []crew.Served, err error) {
	err = s.read(ctx, "load hours served", func(q *db.Queries) error {
		rows, err := q.ListServed(ctx, column.Date{Date: from}, column.Date{Date: to})
		rostered, err := each(rows, err, func(r db.ListServedRow) crew.Served {
			return crew.Served{
				NightID: r.NightID, Night: r.NightName, Date: r.Date.String(), VolunteerID: r.VolunteerID, Name: r.VolunteerName,
				Role: r.Role, Length: r.LengthSeconds.Duration(),
			}
		})
		if err != nil {
			return err
		}
		notes, err := q.ListAttendance(ctx, column.Date{Date: from}, column.Date{Date: to})
		noted, err := each(notes, err, func(r db.ListAttendanceRow) crew.Attended {
			return crew.Attended{Attendance: attendance(r.VolunteerID, r.There, r.Minutes), NightID: r.NightID, Night: r.NightName, Date: r.Date.String(), Name: r.VolunteerName}
		})
		ds = crew.Correct(rostered, noted)
		return err
	})
	return ds, err
}
