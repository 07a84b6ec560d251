package store

import (
	"context"
	"database/sql"

	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/store/db"
)

// The kinds of gear, as the table gear knows them.
const (
	instrumentKind = "instrument"
	eyepieceKind   = "eyepiece"
	amplifierKind  = "amplifier"
	diagonalKind   = "diagonal"
	filterKind     = "filter"
	finderKind     = "finder"
	dewGearKind    = "dew-gear"
	batteryKind    = "battery"
	stepsKind      = "steps"
)

// kindNames are the kinds as a message names them.
var kindNames = map[string]string{
	instrumentKind: "instrument", eyepieceKind: "eyepiece", amplifierKind: "Barlow, reducer or corrector",
	diagonalKind: "diagonal", filterKind: "filter", finderKind: "finder", dewGearKind: "piece of dew gear",
	batteryKind: "battery", stepsKind: "step",
}

// Kit returns all the gear of the club, each kind by name.
func (s *Store) Kit(ctx context.Context, withRetired bool) (k kit.Kit, err error) {
	err = s.read(ctx, "load kit", func(q *db.Queries) error {
		k, err = loadKit(ctx, q, 0, withRetired)
		return err
	})
	return k, err
}

// loadKit returns the gear chosen for a night, or all of it when nightID is 0.
func loadKit(ctx context.Context, q *db.Queries, nightID int64, withRetired bool) (k kit.Kit, err error) {
	load := func(part func() error) {
		if err == nil {
			err = part()
		}
	}
	load(func() error {
		rows, err := q.ListInstruments(ctx, withRetired, nightID)
		k.Instruments, err = each(rows, err, instrumentOf)
		return err
	})
	load(func() error {
		rows, err := q.ListEyepieces(ctx, withRetired, nightID)
		k.Eyepieces, err = each(rows, err, eyepieceOf)
		return err
	})
	load(func() error {
		rows, err := q.ListAmplifiers(ctx, withRetired, nightID)
		k.Amplifiers, err = each(rows, err, amplifierOf)
		return err
	})
	load(func() error {
		rows, err := q.ListDiagonals(ctx, withRetired, nightID)
		k.Diagonals, err = each(rows, err, diagonalOf)
		return err
	})
	load(func() error {
		rows, err := q.ListFilters(ctx, withRetired, nightID)
		k.Filters, err = each(rows, err, filterOf)
		return err
	})
	load(func() error {
		rows, err := q.ListFinders(ctx, withRetired, nightID)
		k.Finders, err = each(rows, err, finderOf)
		return err
	})
	load(func() error {
		rows, err := q.ListDewGear(ctx, withRetired, nightID)
		k.DewGear, err = each(rows, err, dewGearOf)
		return err
	})
	load(func() error {
		rows, err := q.ListBatteries(ctx, withRetired, nightID)
		k.Batteries, err = each(rows, err, batteryOf)
		return err
	})
	load(func() error {
		rows, err := q.ListSteps(ctx, withRetired, nightID)
		k.Steps, err = each(rows, err, stepsOf)
		return err
	})
	return k, err
}

// saveBase saves what every piece of gear has; detail then saves the rest
// under the id it is given.
func saveBase(ctx context.Context, q *db.Queries, kind string, b *kit.Base, detail func(id int64) error) error {
	r := row{
		what: kindNames[kind],
		raise: func(id, v int64) (int64, error) {
			return q.RaiseGear(ctx, db.RaiseGearParams{ID: id, Version: v, Kind: kind})
		},
		find: func(id int64) error {
			n, err := q.CountGear(ctx, id, kind)
			if err == nil && n == 0 {
				return sql.ErrNoRows
			}
			return err
		},
		put: func(id sql.NullInt64) (int64, error) { return q.PutGear(ctx, gearParams(id, kind, *b)) },
	}
	id, version, err := r.save(b.ID, b.Version)
	if err != nil {
		return err
	}
	b.ID, b.Version = id, version
	if err := binned(ctx, q, night.BinGear, id, b.Name, b.Retired); err != nil {
		return err
	}
	return detail(id)
}

// saveGear saves one piece of gear in a transaction of its own.
func saveGear[T any](ctx context.Context, s *Store, kind string, x *T, put func(context.Context, *db.Queries, *T) error) error {
	saved := *x // the caller's value learns id and version only once they are committed
	err := s.write(ctx, "save "+kindNames[kind], func(q *db.Queries) error { return put(ctx, q, &saved) })
	if err == nil {
		*x = saved
	}
	return err
}

// loadGear looks one piece of gear up.
func loadGear[R, T any](ctx context.Context, s *Store, kind string, id int64, get func(*db.Queries) (R, error), of func(R) T) (x T, err error) {
	err = s.read(ctx, "load "+kindNames[kind], func(q *db.Queries) error {
		r, err := get(q)
		if err == nil {
			x = of(r)
		}
		return missing(err, kindNames[kind], id)
	})
	return x, err
}
