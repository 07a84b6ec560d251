package store

import (
	"context"

	"duskboard/internal/fault"
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

// RemoveSatellite forgets a satellite.
func (s *Store) RemoveSatellite(ctx context.Context, id int64) error {
	return s.write(ctx, "remove satellite", func(q *db.Queries) error {
		n, err := q.RemoveSatellite(ctx, id)
		if err == nil && n == 0 {
			return fault.New(fault.NotFound, "There is no satellite %d here.", id)
		}
		return err
	})
}
