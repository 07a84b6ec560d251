package store

import (
	"context"
	"database/sql"
	"fmt"
	"strconv"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// ownPrefix begins the id of each target that the club added itself.
const ownPrefix = "own-"

// OwnTargets returns the targets that the club added itself, by name, without
// the removed ones.
func (s *Store) OwnTargets(ctx context.Context) (ts []night.OwnTarget, err error) {
	err = s.read(ctx, "load own targets", func(q *db.Queries) error {
		rows, err := q.ListOwnTargets(ctx)
		ts, err = each(rows, err, ownTargetOf)
		return err
	})
	return ts, err
}

// OwnTarget returns one of them by its id, removed or not: an old night may
// name it.
func (s *Store) OwnTarget(ctx context.Context, id string) (t night.OwnTarget, err error) {
	err = s.read(ctx, "load own target", func(q *db.Queries) error {
		n, err := ownNumber(id)
		if err != nil {
			return err
		}
		r, err := q.GetOwnTarget(ctx, n)
		t = ownTargetOf(r)
		return missing(err, "target", id)
	})
	return t, err
}

// SaveOwnTarget inserts a target when its ID is empty, else changes it. What
// moves is kept as its published Elements; a Sun, Moon or planet is Invalid.
func (s *Store) SaveOwnTarget(ctx context.Context, x *night.OwnTarget) error {
	if x.Moves {
		return fault.New(fault.Invalid, "The Sun, the Moon and the planets are in the catalogue already.")
	}
	var id int64
	if x.ID != "" {
		n, err := ownNumber(x.ID)
		if err != nil {
			return err
		}
		id = n
	}
	err := s.saveRow(ctx, "target", &id, &x.Version, func(q *db.Queries) row {
		r := ownTargetRow(ctx, q)
		r.put = func(id sql.NullInt64) (int64, error) { return q.PutOwnTarget(ctx, ownTargetParams(id, x)) }
		return r
	})
	if err == nil {
		x.ID = ownID(id)
	}
	return err
}

// RemoveOwnTarget takes a target off the list. Nights that name it keep doing
// so and OwnTarget still finds it.
func (s *Store) RemoveOwnTarget(ctx context.Context, id string, version int64) error {
	n, err := ownNumber(id)
	if err != nil {
		return err
	}
	return s.write(ctx, "remove own target", func(q *db.Queries) error {
		r := ownTargetRow(ctx, q)
		r.what = "target"
		if err := r.check(n, version); err != nil {
			return err
		}
		t, err := q.GetOwnTarget(ctx, n)
		if err != nil {
			return err
		}
		if err := q.RemoveOwnTarget(ctx, n); err != nil {
			return err
		}
		return binned(ctx, q, night.BinTarget, n, t.Name, true)
	})
}

func ownTargetRow(ctx context.Context, q *db.Queries) row {
	return row{
		raise: func(id, v int64) (int64, error) { return q.RaiseOwnTarget(ctx, id, v) },
		find:  func(id int64) error { return found(q.GetOwnTarget(ctx, id)) },
	}
}

func ownID(n int64) string { return fmt.Sprint(ownPrefix, n) }

func ownNumber(id string) (int64, error) {
	digits, ok := strings.CutPrefix(id, ownPrefix)
	n, err := strconv.ParseInt(digits, 10, 64)
	if !ok || err != nil || n <= 0 {
		return 0, fault.New(fault.NotFound, "%q is not a target of the club's own.", id)
	}
	return n, nil
}

func ownTargetParams(id sql.NullInt64, x *night.OwnTarget) db.PutOwnTargetParams {
	p := db.PutOwnTargetParams{
		ID: id, Name: x.Name, Designations: x.Designations, Kind: x.Kind, Constellation: x.Constellation,
		RA: x.Star.RA, Dec: x.Star.Dec, PMRA: x.Star.PMRA, PMDec: x.Star.PMDec,
		Magnitude: column.Real(x.Magnitude), BV: column.Real(x.BV), MajorAxis: x.MajorAxis, MinorAxis: x.MinorAxis,
		PositionAngle: column.Real(x.PositionAngle), Brightness: column.Real(x.Brightness),
		Distance: x.Distance, LightYears: x.LightYears, DistanceError: x.DistanceError,
		Reach: x.Reach, Delight: x.Delight, Showpiece: x.Showpiece, Source: x.Source, Elements: x.Elements,
		Words: column.TargetWords{V: &column.Words{
			Line: x.Words.Line, Facts: x.Words.Facts, LookFor: x.Words.LookFor,
			Expect: x.Words.Expect, Find: x.Words.Find,
		}},
	}
	if d := x.Double; d != nil {
		p.Double.V = &column.Double{
			Separation: d.Separation, PositionAngle: d.PositionAngle,
			MagA: d.MagA, MagB: d.MagB, Colours: d.Colours, Year: d.Year,
			Count: d.Count, Optical: d.Optical,
		}
	}
	if v := x.Variable; v != nil {
		p.Variable.V = &column.Variable{Max: v.Max, Min: v.Min, Period: v.Period, Colours: v.Colours}
	}
	return p
}

func ownTargetOf(r db.OwnTarget) night.OwnTarget {
	t := catalog.Target{
		ID: ownID(r.ID), Name: r.Name, Designations: r.Designations, Kind: r.Kind, Constellation: r.Constellation,
		Star:      sky.Star{RA: r.RA, Dec: r.Dec, PMRA: r.PMRA, PMDec: r.PMDec},
		Magnitude: float64(r.Magnitude), BV: float64(r.BV), MajorAxis: r.MajorAxis, MinorAxis: r.MinorAxis,
		PositionAngle: float64(r.PositionAngle), Brightness: float64(r.Brightness),
		Distance: r.Distance, LightYears: r.LightYears, DistanceError: r.DistanceError,
		Own: true, Reach: r.Reach, Delight: r.Delight, Showpiece: r.Showpiece, Source: r.Source,
	}
	if w := r.Words.V; w != nil {
		t.Words = catalog.Words{Line: w.Line, Facts: w.Facts, LookFor: w.LookFor, Expect: w.Expect, Find: w.Find}
	}
	if d := r.Double.V; d != nil {
		t.Double = &catalog.Double{
			Separation: d.Separation, PositionAngle: d.PositionAngle,
			MagA: d.MagA, MagB: d.MagB, Colours: d.Colours, Year: d.Year,
			Count: d.Count, Optical: d.Optical,
		}
	}
	if v := r.Variable.V; v != nil {
		t.Variable = &catalog.Variable{Max: v.Max, Min: v.Min, Period: v.Period, Colours: v.Colours}
	}
	return night.OwnTarget{Target: t, Version: r.Version, Elements: r.Elements}
}
