package store

import (
	"context"
	"database/sql"
	"errors"

	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Ground returns what stands on the ground of a site; an empty one of version
// 0 when nobody has described it.
func (s *Store) Ground(ctx context.Context, siteID int64) (g ground.Ground, err error) {
	err = s.read(ctx, "load ground", func(q *db.Queries) error {
		if _, err := q.GetSite(ctx, siteID); err != nil {
			return missing(err, "site", siteID)
		}
		g, err = loadGround(ctx, q, siteID)
		return err
	})
	return g, err
}

func loadGround(ctx context.Context, q *db.Queries, siteID int64) (g ground.Ground, err error) {
	r, err := q.GetGround(ctx, siteID)
	if errors.Is(err, sql.ErrNoRows) {
		return g, nil
	} else if err != nil {
		return g, err
	}
	g.Version, g.Outline, g.CanUndo = r.Version, pointsOf(r.Outline), r.Before.V != nil
	rows, err := q.ListFeatures(ctx, siteID)
	g.Features, err = each(rows, err, func(f db.GroundFeature) ground.Feature {
		return ground.Feature{Kind: f.Kind, Name: f.Name, At: pointsOf(f.Points), Radius: f.Radius, Width: f.Width, Height: f.Height, Wheels: f.Wheels}
	})
	return g, err
}

// SaveGround replaces the description of a site's ground and keeps the one
// before it for UndoGround. Invalid when it cannot be, Conflict when somebody
// else saved it since g.Version was read; raises g.Version.
func (s *Store) SaveGround(ctx context.Context, siteID int64, g *ground.Ground) error {
	if err := g.Check().OrNil(); err != nil {
		return err
	}
	return s.putGround(ctx, siteID, g)
}

// UndoGround puts the ground before the last change in force and keeps the
// present one in its stead: a second undo is a redo. Conflict when there is
// nothing to go back to, or the version is not the present one.
func (s *Store) UndoGround(ctx context.Context, siteID, version int64) (g ground.Ground, err error) {
	err = s.read(ctx, "load ground", func(q *db.Queries) error {
		r, err := q.GetGround(ctx, siteID)
		if err != nil {
			return missing(err, "ground of the site", siteID)
		}
		if r.Before.V == nil {
			return fault.New(fault.Conflict, "There is nothing to undo.")
		}
		g = groundOf(*r.Before.V)
		return nil
	})
	if err != nil {
		return g, err
	}
	g.Version = version // checked when it is written
	return g, s.putGround(ctx, siteID, &g)
}

func (s *Store) putGround(ctx context.Context, siteID int64, g *ground.Ground) error {
	err := s.write(ctx, "save ground", func(q *db.Queries) error { return writeGround(ctx, q, siteID, g) })
	if err == nil {
		g.Version++
	}
	return err
}

// writeGround replaces the ground of a site within a transaction; g.Version
// stays what it was.
func writeGround(ctx context.Context, q *db.Queries, siteID int64, g *ground.Ground) error {
	if _, err := q.GetSite(ctx, siteID); err != nil {
		return missing(err, "site", siteID)
	}
	if err := q.BeginGround(ctx, siteID); err != nil {
		return err
	}
	was, err := loadGround(ctx, q, siteID)
	if err != nil {
		return err
	}
	before := column.Ground{}
	if was.Version > 0 {
		state := stateOf(was)
		before.V = &state
	}
	n, err := q.PutGround(ctx, db.PutGroundParams{Outline: pairsOf(g.Outline), Before: before, SiteID: siteID, Version: g.Version})
	if err == nil && n == 0 {
		return changed("ground")
	}
	if err != nil {
		return err
	}
	if err := q.ClearFeatures(ctx, siteID); err != nil {
		return err
	}
	for i, f := range g.Features {
		err := q.InsertFeature(ctx, db.InsertFeatureParams{
			SiteID: siteID, Position: int64(i), Kind: f.Kind, Name: f.Name, Points: pairsOf(f.At),
			Radius: f.Radius, Width: f.Width, Height: f.Height, Wheels: f.Wheels,
		})
		if err != nil {
			return err
		}
	}
	g.CanUndo = before.V != nil
	return nil
}

func pointsOf(c [][2]float64) []ground.Point {
	var out []ground.Point
	for _, p := range c {
		out = append(out, ground.Point{X: p[0], Y: p[1]})
	}
	return out
}

func pairsOf(at []ground.Point) column.Corners {
	var out column.Corners
	for _, p := range at {
		out = append(out, [2]float64{p.X, p.Y})
	}
	return out
}

func stateOf(g ground.Ground) column.GroundState {
	s := column.GroundState{Outline: pairsOf(g.Outline)}
	for _, f := range g.Features {
		s.Features = append(s.Features, column.Feature{Kind: string(f.Kind), Name: f.Name, Points: pairsOf(f.At), Radius: f.Radius, Width: f.Width, Height: f.Height, Wheels: f.Wheels})
	}
	return s
}

func groundOf(s column.GroundState) ground.Ground {
	g := ground.Ground{Outline: pointsOf(s.Outline)}
	for _, f := range s.Features {
		g.Features = append(g.Features, ground.Feature{Kind: ground.Kind(f.Kind), Name: f.Name, At: pointsOf(f.Points), Radius: f.Radius, Width: f.Width, Height: f.Height, Wheels: f.Wheels})
	}
	return g
}
