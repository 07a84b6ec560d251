package store

import (
	"context"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// KeepLineUp keeps the line-up of a night as it is now under a name and
// returns the id of what was kept. The answer is fault.Conflict when the night
// keeps another one under this name, and when lineUpVersion is not that of the
// present line-up: what is kept must be what was looked at.
func (s *Store) KeepLineUp(ctx context.Context, nightID, lineUpVersion int64, name string) (id int64, err error) {
	err = s.write(ctx, "keep line-up", func(q *db.Queries) error {
		n, err := q.GetNight(ctx, nightID)
		if err != nil {
			return missing(err, "night", nightID)
		}
		if n.LineUpVersion != lineUpVersion {
			return changed("line-up")
		}
		is, err := lineUpNow(ctx, q, nightID)
		if err != nil {
			return err
		}
		id, err = q.InsertKeptLineUp(ctx, db.InsertKeptLineUpParams{NightID: nightID, Name: name, Who: night.Who(ctx), LineUp: column.LineUp{V: &is}})
		if err := translate(err); fault.KindOf(err) == fault.Conflict {
			return fault.Wrap(fault.Conflict, err, "This night keeps a line-up called “%s” already; choose another name.", name)
		}
		return err
	})
	return id, err
}

// KeptLineUps returns the line-ups that a night keeps under a name, newest
// first.
func (s *Store) KeptLineUps(ctx context.Context, nightID int64) (kept []night.Kept, err error) {
	err = s.read(ctx, "list kept line-ups", func(q *db.Queries) error {
		rows, err := q.ListKeptLineUps(ctx, nightID)
		kept, err = each(rows, err, keptOf)
		return err
	})
	return kept, err
}

// KeptLineUp returns one of them.
func (s *Store) KeptLineUp(ctx context.Context, nightID, id int64) (k night.Kept, err error) {
	err = s.read(ctx, "load kept line-up", func(q *db.Queries) error {
		r, err := q.GetKeptLineUp(ctx, id, nightID)
		if err != nil {
			return missing(err, "kept line-up", id)
		}
		k = keptOf(r)
		return nil
	})
	return k, err
}

// RestoreKept puts a kept line-up in force; that is a step of undo, and the
// kept one stays. The new version is returned.
func (s *Store) RestoreKept(ctx context.Context, nightID, lineUpVersion, id int64) (int64, error) {
	return s.saveLineUp(ctx, nightID, lineUpVersion, "bring back a kept line-up", func(q *db.Queries) error {
		r, err := q.GetKeptLineUp(ctx, id, nightID)
		if err != nil {
			return missing(err, "kept line-up", id)
		}
		return putLineUp(ctx, q, nightID, *r.LineUp.V)
	})
}

// ForgetKept puts a kept line-up into the bin; the one in force is not touched.
func (s *Store) ForgetKept(ctx context.Context, nightID, id int64) error {
	return s.write(ctx, "forget kept line-up", func(q *db.Queries) error {
		k, err := q.GetKeptLineUp(ctx, id, nightID)
		if err != nil {
			return missing(err, "kept line-up", id)
		}
		if _, err := q.DeleteKeptLineUp(ctx, id, nightID); err != nil {
			return err
		}
		return q.PutBin(ctx, db.PutBinParams{
			Kind: string(night.BinLineUp), Ref: id, Name: k.Name, Who: night.Who(ctx),
			Content: column.BinContent{V: &column.Binned{At: k.At, Night: nightID, Who: k.Who, LineUp: k.LineUp.V}},
		})
	})
}

func keptOf(r db.KeptLineUp) night.Kept {
	k := night.Kept{ID: r.ID, Name: r.Name, Who: r.Who, At: r.At.Time}
	if r.LineUp.V != nil {
		k.Showings, k.Forbidden = lineUpOf(*r.LineUp.V)
	}
	return k
}
