package store

import (
	"context"
	"database/sql"

	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Nights returns every night, retired ones too, by date.
func (s *Store) Nights(ctx context.Context) (ns []night.Night, err error) {
	err = s.read(ctx, "load nights", func(q *db.Queries) error {
		rows, err := q.ListNights(ctx)
		ns, err = each(rows, err, nightOf)
		return err
	})
	return ns, err
}

// Night returns one night.
func (s *Store) Night(ctx context.Context, id int64) (n night.Night, err error) {
	err = s.read(ctx, "load night", func(q *db.Queries) error {
		r, err := q.GetNight(ctx, id)
		n = nightOf(r)
		return missing(err, "night", id)
	})
	return n, err
}

// SaveNight inserts or changes a night. Its history begins with the first save.
func (s *Store) SaveNight(ctx context.Context, x *night.Night) error {
	return s.saveRow(ctx, "night", &x.ID, &x.Version, func(q *db.Queries) row { return nightRow(ctx, q, x) })
}

// nightRow is how a night is saved.
func nightRow(ctx context.Context, q *db.Queries, x *night.Night) row {
	return row{
		what:  "night",
		raise: func(id, v int64) (int64, error) { return q.RaiseNight(ctx, id, v) },
		find:  func(id int64) error { return found(q.GetNight(ctx, id)) },
		put: func(id sql.NullInt64) (int64, error) {
			saved, err := q.PutNight(ctx, nightParams(id, x))
			if err == nil {
				err = binned(ctx, q, night.BinNight, saved, x.Name, x.Retired)
			}
			switch {
			case err != nil:
				return 0, err
			case id.Valid:
				return saved, note(ctx, q, saved, "change the night")
			default:
				return saved, beginSteps(ctx, q, saved)
			}
		},
	}
}

func nightParams(id sql.NullInt64, x *night.Night) db.PutNightParams {
	return db.PutNightParams{
		ID: id, Name: x.Name, Date: column.Date{Date: x.Date}, SiteID: x.SiteID,
		PublicFromAt: column.At(x.PublicFrom), PublicSeconds: column.Length(x.Public),
		BlockSeconds: column.Length(x.Block), Guests: int64(x.Guests), Audience: x.Audience,
		Seeing: x.Seeing, Notes: x.Notes, Retired: x.Retired,
	}
}

func nightOf(r db.Night) night.Night {
	return night.Night{
		ID: r.ID, Version: r.Version, Name: r.Name, Date: r.Date.Date, SiteID: r.SiteID,
		PublicFrom: r.PublicFromAt.Time, Public: r.PublicSeconds.Duration(),
		Block: r.BlockSeconds.Duration(), Guests: int(r.Guests), Audience: r.Audience,
		Seeing: r.Seeing, Notes: r.Notes, Retired: r.Retired,
	}
}
