package store

import (
	"context"

	"duskboard/internal/kit"
	"duskboard/internal/store/db"
)

// For each kind of gear: look up, save, and the part of a save that ImportKit
// shares. A piece is retired by saving it with Retired set; it is never
// deleted, because nights that were still name it.

// Instrument returns an instrument.
func (s *Store) Instrument(ctx context.Context, id int64) (kit.Instrument, error) {
	return loadGear(ctx, s, instrumentKind, id, func(q *db.Queries) (db.ListInstrumentsRow, error) {
		r, err := q.GetInstrument(ctx, id)
		return db.ListInstrumentsRow(r), err
	}, instrumentOf)
}

// SaveInstrument inserts or changes an instrument.
func (s *Store) SaveInstrument(ctx context.Context, x *kit.Instrument) error {
	return saveGear(ctx, s, instrumentKind, x, putInstrument)
}

func putInstrument(ctx context.Context, q *db.Queries, x *kit.Instrument) error {
	return saveBase(ctx, q, instrumentKind, &x.Base, func(id int64) error { return q.PutInstrument(ctx, instrumentParams(id, *x)) })
}

// Eyepiece returns an eyepiece.
func (s *Store) Eyepiece(ctx context.Context, id int64) (kit.Eyepiece, error) {
	return loadGear(ctx, s, eyepieceKind, id, func(q *db.Queries) (db.ListEyepiecesRow, error) {
		r, err := q.GetEyepiece(ctx, id)
		return db.ListEyepiecesRow(r), err
	}, eyepieceOf)
}

// SaveEyepiece inserts or changes an eyepiece.
func (s *Store) SaveEyepiece(ctx context.Context, x *kit.Eyepiece) error {
	return saveGear(ctx, s, eyepieceKind, x, putEyepiece)
}

func putEyepiece(ctx context.Context, q *db.Queries, x *kit.Eyepiece) error {
	return saveBase(ctx, q, eyepieceKind, &x.Base, func(id int64) error { return q.PutEyepiece(ctx, eyepieceParams(id, *x)) })
}

// Amplifier returns a Barlow lens, reducer or corrector.
func (s *Store) Amplifier(ctx context.Context, id int64) (kit.Amplifier, error) {
	return loadGear(ctx, s, amplifierKind, id, func(q *db.Queries) (db.ListAmplifiersRow, error) {
		r, err := q.GetAmplifier(ctx, id)
		return db.ListAmplifiersRow(r), err
	}, amplifierOf)
}

// SaveAmplifier inserts or changes a Barlow lens, reducer or corrector.
func (s *Store) SaveAmplifier(ctx context.Context, x *kit.Amplifier) error {
	return saveGear(ctx, s, amplifierKind, x, putAmplifier)
}

func putAmplifier(ctx context.Context, q *db.Queries, x *kit.Amplifier) error {
	return saveBase(ctx, q, amplifierKind, &x.Base, func(id int64) error { return q.PutAmplifier(ctx, amplifierParams(id, *x)) })
}

// Diagonal returns a diagonal.
func (s *Store) Diagonal(ctx context.Context, id int64) (kit.Diagonal, error) {
	return loadGear(ctx, s, diagonalKind, id, func(q *db.Queries) (db.ListDiagonalsRow, error) {
		r, err := q.GetDiagonal(ctx, id)
		return db.ListDiagonalsRow(r), err
	}, diagonalOf)
}

// SaveDiagonal inserts or changes a diagonal.
func (s *Store) SaveDiagonal(ctx context.Context, x *kit.Diagonal) error {
	return saveGear(ctx, s, diagonalKind, x, putDiagonal)
}

func putDiagonal(ctx context.Context, q *db.Queries, x *kit.Diagonal) error {
	return saveBase(ctx, q, diagonalKind, &x.Base, func(id int64) error { return q.PutDiagonal(ctx, diagonalParams(id, *x)) })
}

// Filter returns a filter.
func (s *Store) Filter(ctx context.Context, id int64) (kit.Filter, error) {
	return loadGear(ctx, s, filterKind, id, func(q *db.Queries) (db.ListFiltersRow, error) {
		r, err := q.GetFilter(ctx, id)
		return db.ListFiltersRow(r), err
	}, filterOf)
}

// SaveFilter inserts or changes a filter.
func (s *Store) SaveFilter(ctx context.Context, x *kit.Filter) error {
	return saveGear(ctx, s, filterKind, x, putFilter)
}

func putFilter(ctx context.Context, q *db.Queries, x *kit.Filter) error {
	return saveBase(ctx, q, filterKind, &x.Base, func(id int64) error { return q.PutFilter(ctx, filterParams(id, *x)) })
}

// Finder returns a finder.
func (s *Store) Finder(ctx context.Context, id int64) (kit.Finder, error) {
	return loadGear(ctx, s, finderKind, id, func(q *db.Queries) (db.ListFindersRow, error) {
		r, err := q.GetFinder(ctx, id)
		return db.ListFindersRow(r), err
	}, finderOf)
}

// SaveFinder inserts or changes a finder.
func (s *Store) SaveFinder(ctx context.Context, x *kit.Finder) error {
	return saveGear(ctx, s, finderKind, x, putFinder)
}

func putFinder(ctx context.Context, q *db.Queries, x *kit.Finder) error {
	return saveBase(ctx, q, finderKind, &x.Base, func(id int64) error { return q.PutFinder(ctx, finderParams(id, *x)) })
}

// DewGear returns a piece of dew gear.
func (s *Store) DewGear(ctx context.Context, id int64) (kit.DewGear, error) {
	return loadGear(ctx, s, dewGearKind, id, func(q *db.Queries) (db.ListDewGearRow, error) {
		r, err := q.GetDewGear(ctx, id)
		return db.ListDewGearRow(r), err
	}, dewGearOf)
}

// SaveDewGear inserts or changes a piece of dew gear.
func (s *Store) SaveDewGear(ctx context.Context, x *kit.DewGear) error {
	return saveGear(ctx, s, dewGearKind, x, putDewGear)
}

func putDewGear(ctx context.Context, q *db.Queries, x *kit.DewGear) error {
	return saveBase(ctx, q, dewGearKind, &x.Base, func(id int64) error { return q.PutDewGear(ctx, dewGearParams(id, *x)) })
}

// Battery returns a battery.
func (s *Store) Battery(ctx context.Context, id int64) (kit.Battery, error) {
	return loadGear(ctx, s, batteryKind, id, func(q *db.Queries) (db.ListBatteriesRow, error) {
		r, err := q.GetBattery(ctx, id)
		return db.ListBatteriesRow(r), err
	}, batteryOf)
}

// SaveBattery inserts or changes a battery.
func (s *Store) SaveBattery(ctx context.Context, x *kit.Battery) error {
	return saveGear(ctx, s, batteryKind, x, putBattery)
}

func putBattery(ctx context.Context, q *db.Queries, x *kit.Battery) error {
	return saveBase(ctx, q, batteryKind, &x.Base, func(id int64) error { return q.PutBattery(ctx, batteryParams(id, *x)) })
}

// Steps returns a step, stool, ladder or chair.
func (s *Store) Steps(ctx context.Context, id int64) (kit.Steps, error) {
	return loadGear(ctx, s, stepsKind, id, func(q *db.Queries) (db.ListStepsRow, error) {
		r, err := q.GetSteps(ctx, id)
		return db.ListStepsRow(r), err
	}, stepsOf)
}

// SaveSteps inserts or changes a step, stool, ladder or chair.
func (s *Store) SaveSteps(ctx context.Context, x *kit.Steps) error {
	return saveGear(ctx, s, stepsKind, x, putSteps)
}

func putSteps(ctx context.Context, q *db.Queries, x *kit.Steps) error {
	return saveBase(ctx, q, stepsKind, &x.Base, func(id int64) error { return q.PutSteps(ctx, stepsParams(id, *x)) })
}
