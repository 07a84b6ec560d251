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
		return importKit(importing{ctx: ctx, q: q, ids: map[int64]int64{}}, k)
	})
}

// importKit saves the pieces. Instruments first: the others may refer to them.
func importKit(in importing, k kit.Kit) error {
	if err := importEach(in, instrumentKind, k.Instruments, putInstrument, func(x *kit.Instrument) (*kit.Base, *int64) { return &x.Base, nil }); err != nil {
		return err
	}
	if err := importEach(in, eyepieceKind, k.Eyepieces, putEyepiece, func(x *kit.Eyepiece) (*kit.Base, *int64) { return &x.Base, nil }); err != nil {
		return err
	}
	if err := importEach(in, amplifierKind, k.Amplifiers, putAmplifier, func(x *kit.Amplifier) (*kit.Base, *int64) { return &x.Base, nil }); err != nil {
		return err
	}
	if err := importEach(in, diagonalKind, k.Diagonals, putDiagonal, func(x *kit.Diagonal) (*kit.Base, *int64) { return &x.Base, &x.ForID }); err != nil {
		return err
	}
	if err := importEach(in, filterKind, k.Filters, putFilter, func(x *kit.Filter) (*kit.Base, *int64) { return &x.Base, nil }); err != nil {
		return err
	}
	if err := importEach(in, finderKind, k.Finders, putFinder, func(x *kit.Finder) (*kit.Base, *int64) { return &x.Base, &x.ForID }); err != nil {
		return err
	}
	if err := importEach(in, dewGearKind, k.DewGear, putDewGear, func(x *kit.DewGear) (*kit.Base, *int64) { return &x.Base, &x.ForID }); err != nil {
		return err
	}
	if err := importEach(in, batteryKind, k.Batteries, putBattery, func(x *kit.Battery) (*kit.Base, *int64) { return &x.Base, &x.ForID }); err != nil {
		return err
	}
	return importEach(in, stepsKind, k.Steps, putSteps, func(x *kit.Steps) (*kit.Base, *int64) { return &x.Base, nil })
}

// importing is an import under way; ids maps the import's own negative
// numbers to the ids that the instruments got.
type importing struct {
	ctx context.Context
	q   *db.Queries
	ids map[int64]int64
	// change is told of each piece before it is saved, and with the id and
	// version that it has then; nil when nobody wants to know.
	change func(kind string, base *kit.Base, save func() error) error
}

// importEach saves copies of xs; parts finds the base of a piece and, where
// there is one, the id of the instrument that it belongs to.
func importEach[T any](in importing, kind string, xs []T, put func(context.Context, *db.Queries, *T) error, parts func(*T) (*kit.Base, *int64)) error {
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
		save := func() error { return put(in.ctx, in.q, &x) }
		if in.change != nil {
			save = func() error { return in.change(kind, base, func() error { return put(in.ctx, in.q, &x) }) }
		}
		if err := refused(save(), base.Name); err != nil {
			return err
		}
		if local < 0 {
			in.ids[local] = base.ID
		}
	}
	return nil
}

// refused names the thing at fault, unless the machine is.
func refused(err error, name string) error {
	err = translate(err)
	if kind := fault.KindOf(err); err != nil && kind != fault.Internal {
		return fault.Wrap(kind, err, "%q was refused.", name)
	}
	return err
}
