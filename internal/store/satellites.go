package store

import (
	"context"

	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Satellites returns the satellites whose passes the club wants, by name.
func (s *Store) Satellites(ctx context.Context) (out []night.Satellite, err error) {
	err = s.read(ctx, "load satellites", func(q *db.Queries) error {
		rows, err := q.ListSatellites(ctx)
		out, err = each(rows, err, func(r db.Satellite) night.Satellite {
			return night.Satellite{ID: r.ID, Name: r.Name, Elements: r.Elements, AddedAt: r.AddedAt.Time}
		})
		return err
	})
	return out, err
}

// AddSatellite keeps a satellite's elements and sets its ID.
func (s *Store) AddSatellite(ctx context.Context, x *night.Satellite) error {
	return s.write(ctx, "add satellite", func(q *db.Queries) (err error) {
		x.ID, err = q.AddSatellite(ctx, db.AddSatelliteParams{Name: x.Name, Elements: x.Elements, AddedAt: column.At(x.AddedAt)})
		return err
	})
}

// RemoveSatellite puts a satellite into the bin.
func (s *Store) RemoveSatellite(ctx context.Context, id int64) error {
	return s.write(ctx, "remove satellite", func(q *db.Queries) error {
		x, err := q.GetSatellite(ctx, id)
		if err != nil {
			return missing(err, "satellite", id)
		}
		if _, err := q.RemoveSatellite(ctx, id); err != nil {
			return err
		}
		return q.PutBin(ctx, db.PutBinParams{
			Kind: string(night.BinSatellite), Ref: id, Name: x.Name, Who: night.Who(ctx),
			Content: column.BinContent{V: &column.Binned{At: x.AddedAt, Elements: x.Elements}},
		})
	})
}
