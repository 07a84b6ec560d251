package store

import (
	"context"
	"database/sql"
	"slices"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// SaveDuties replaces the roster of a night and notes it, under label, in the
// history. rosterVersion is that of the plan; the new one is returned. A duty
// with an ID of 0 gets one, set in the slice.
func (s *Store) SaveDuties(ctx context.Context, nightID, rosterVersion int64, duties []crew.Duty, label string) (int64, error) {
	saved := slices.Clone(duties)
	version, err := s.saveRoster(ctx, nightID, rosterVersion, label, func(q *db.Queries) error {
		return putDuties(ctx, q, nightID, saved)
	})
	if err == nil {
		copy(duties, saved)
	}
	return version, err
}

// RestoreRoster brings back the roster as it was after an entry of the history.
func (s *Store) RestoreRoster(ctx context.Context, nightID, rosterVersion, entryID int64) (int64, error) {
	return s.saveRoster(ctx, nightID, rosterVersion, "bring back an earlier roster", func(q *db.Queries) error {
		e, err := q.GetLog(ctx, entryID, nightID)
		if err != nil {
			return missing(err, "entry of the history", entryID)
		}
		if e.Roster.V == nil {
			return fault.New(fault.NotFound, "This change did not touch the roster.")
		}
		return putDuties(ctx, q, nightID, dutiesOf(e.Roster.V.Duties))
	})
}

// dutiesOf turns kept duties into those of the domain.
func dutiesOf(kept []column.Duty) []crew.Duty {
	var out []crew.Duty
	for _, x := range kept {
		out = append(out, crew.Duty{
			ID: x.ID, VolunteerID: x.Volunteer, Role: crew.Role(x.Role), InstrumentID: int64(x.Instrument),
			From: x.From.Time, Length: x.Seconds.Duration(), Pinned: x.Pinned,
		})
	}
	return out
}

// saveRoster checks the version, lets put change the roster, and notes it.
func (s *Store) saveRoster(ctx context.Context, nightID, version int64, label string, put func(q *db.Queries) error) (int64, error) {
	if label == "" {
		label = "change the roster"
	}
	err := s.write(ctx, "save roster", func(q *db.Queries) error {
		r := row{
			what:  "roster",
			raise: func(id, v int64) (int64, error) { return q.RaiseRoster(ctx, id, v) },
			find:  func(id int64) error { return found(q.GetNight(ctx, id)) },
		}
		if err := r.check(nightID, version); err != nil {
			return err
		}
		if err := put(q); err != nil {
			return err
		}
		return noteRoster(ctx, q, nightID, label)
	})
	if err != nil {
		return 0, err
	}
	return version + 1, nil
}

func putDuties(ctx context.Context, q *db.Queries, nightID int64, duties []crew.Duty) error {
	if err := q.ClearDuties(ctx, nightID); err != nil {
		return err
	}
	for i := range duties {
		x := &duties[i]
		id, err := q.InsertDuty(ctx, db.InsertDutyParams{
			ID: sql.NullInt64{Int64: x.ID, Valid: x.ID != 0}, NightID: nightID,
			VolunteerID: x.VolunteerID, Role: x.Role, InstrumentID: column.Ref(x.InstrumentID),
			FromAt: column.At(x.From), LengthSeconds: column.Length(x.Length), Pinned: x.Pinned,
		})
		if err != nil {
			return err
		}
		x.ID = id
	}
	return nil
}

// noteRoster writes the roster as it is now into the history.
func noteRoster(ctx context.Context, q *db.Queries, nightID int64, what string) error {
	rows, err := q.ListDuties(ctx, nightID)
	if err != nil {
		return err
	}
	var now column.RosterState
	for _, x := range rows {
		now.Duties = append(now.Duties, column.Duty{
			ID: x.ID, Volunteer: x.VolunteerID, Role: string(x.Role), Instrument: x.InstrumentID,
			From: x.FromAt, Seconds: x.LengthSeconds, Pinned: x.Pinned,
		})
	}
	_, err = q.InsertLog(ctx, db.InsertLogParams{
		NightID: nightID, Who: night.Who(ctx), What: what, Roster: column.Roster{V: &now},
	})
	return err
}
