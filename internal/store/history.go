package store

import (
	"context"

	"duskboard/internal/night"
	"duskboard/internal/store/db"
)

// History returns what was changed in a night, newest first.
func (s *Store) History(ctx context.Context, nightID int64) (es []night.Entry, err error) {
	err = s.read(ctx, "load history", func(q *db.Queries) error {
		rows, err := q.ListLog(ctx, nightID)
		es, err = each(rows, err, func(r db.ListLogRow) night.Entry {
			return night.Entry{
				ID: r.ID, At: r.At.Time, Who: r.Who, What: r.What,
				LineUp: r.HasLineUp != 0, Roster: r.HasRoster != 0,
			}
		})
		return err
	})
	return es, err
}

// note writes a change into the history that touches neither line-up nor
// roster.
func note(ctx context.Context, q *db.Queries, nightID int64, what string) error {
	_, err := q.InsertLog(ctx, db.InsertLogParams{NightID: nightID, Who: night.Who(ctx), What: what})
	return err
}
