package store

import (
	"context"

	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/store/db"
)

// ImportKit saves many pieces of gear in one transaction: all of them, or none
// when one is refused; the error then names it.
//
// A piece whose ID is positive changes the row of that id, if its version is
// still the one in the database. A piece whose ID is 0 or negative is new. A
// negative ID is a name within this import: a ForID with the same number means
// that instrument.
func (s *Store) ImportKit(ctx context.Context, k kit.Kit) error {
	return s.write(ctx, "import kit", func(q *db.Queries) error {
		in := importing{ctx, q, map[int64]int64{}}
		// Instruments first: the others may refer to them.
		if err := importEach(in, k.Instruments, putInstrument, func(x *kit.Instrument) (*kit.Base, *int64) { return &x.Base, nil }); err != nil {
			return err
		}
		if err := importEach(in, k.Eyepieces, putEyepiece, func(x *kit.Eyepiece) (*kit.Base, *int64) { return &x.Base, nil }); err != nil {
			return err
		}
		if err := importEach(in, k.Amplifiers, putAmplifier, func(x *kit.Amplifier) (*kit.Base, *int64) { return &x.Base, nil }); err != nil {
			return err
		}
		if err := importEach(in, k.Diagonals, putDiagonal, func(x *kit.Diagonal) (*kit.Base, *int64) { return &x.Base, &x.ForID }); err != nil {
			return err
		}
		if err := importEach(in, k.Filters, putFilter, func(x *kit.Filter) (*kit.Base, *int64) { return &x.Base, nil }); err != nil {
			return err
		}
		if err := importEach(in, k.Finders, putFinder, func(x *kit.Finder) (*kit.Base, *int64) { return &x.Base, &x.ForID }); err != nil {
			return err
		}
		if err := importEach(in, k.DewGear, putDewGear, func(x *kit.DewGear) (*kit.Base, *int64) { return &x.Base, &x.ForID }); err != nil {
			return err
		}
		if err := importEach(in, k.Batteries, putBattery, func(x *kit.Battery) (*kit.Base, *int64) { return &x.Base, &x.ForID }); err != nil {
			return err
		}
		return importEach(in, k.Steps, putSteps, func(x *kit.Steps) (*kit.Base, *int64) { return &x.Base, nil })
	})
}

// importing is an import under way; ids maps the import's own negative
// numbers to the ids that the instruments got.
type importing struct {
	ctx context.Context
	q   *db.Queries
	ids map[int64]int64
}

// importEach saves copies of xs; parts finds the base of a piece and, where
// there is one, the id of the instrument that it belongs to.
func importEach[T any](in importing, xs []T, put func(context.Context, *db.Queries, *T) error, parts func(*T) (*kit.Base, *int64)) error {
	for _, x := range xs {
		base, forID := parts(&x)
		if forID != nil && *forID < 0 {
			id, ok := in.ids[*forID]
			if !ok {
				return fault.New(fault.Invalid, "%s belongs to an instrument that is not in the import.", base.Name)
			}
			*forID = id
		}
		local := base.ID
		base.ID = max(local, 0)
		if err := translate(put(in.ctx, in.q, &x)); err != nil {
			kind := fault.KindOf(err)
			if kind == fault.Internal {
				return err // the machine's fault, not the piece's
			}
			return fault.Wrap(kind, err, "%q was refused.", base.Name)
		}
		if local < 0 {
			in.ids[local] = base.ID
		}
	}
	return nil
}
