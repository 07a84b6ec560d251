package store

import (
	"context"

	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Club returns the settings of the club.
func (s *Store) Club(ctx context.Context) (c night.Club, err error) {
	err = s.read(ctx, "load club", func(q *db.Queries) error {
		c, err = club(ctx, q)
		return err
	})
	return c, err
}

func club(ctx context.Context, q *db.Queries) (night.Club, error) {
	r, err := q.GetClub(ctx)
	return night.Club{
		Version: r.Version, Name: r.Name, Paper: r.Paper, Inches: r.Inches,
		MinAltitude: r.MinAltitude, Ladders: r.Ladders, Contact: r.Contact, SpotLongitude: float64(r.SpotLongitude),
	}, err
}

// SaveClub changes the settings of the club.
func (s *Store) SaveClub(ctx context.Context, c *night.Club) error {
	err := s.write(ctx, "save club", func(q *db.Queries) error {
		n, err := q.UpdateClub(ctx, db.UpdateClubParams{
			Version: c.Version, Name: c.Name, Paper: c.Paper, Inches: c.Inches,
			MinAltitude: c.MinAltitude, Ladders: c.Ladders, Contact: c.Contact, SpotLongitude: column.Real(c.SpotLongitude),
		})
		if err == nil && n == 0 {
			return changed("page of settings")
		}
		return err
	})
	if err == nil {
		c.Version++
	}
	return err
}
