package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// detailTables hold what only one kind of gear has.
var detailTables = map[string]string{
	instrumentKind: "instruments", eyepieceKind: "eyepieces", amplifierKind: "amplifiers", diagonalKind: "diagonals",
	filterKind: "filters", finderKind: "finders", dewGearKind: "dew_gear", batteryKind: "batteries", stepsKind: "steps",
}

// batch is an import under way that keeps what each row was before.
type batch struct {
	ctx  context.Context
	tx   *sql.Tx
	q    *db.Queries
	all  []table
	done column.ImportDone
}

// Import saves a batch in one transaction, all of it or nothing, and keeps what
// was there before for [Store.UndoImport]. what names it: "kit from a table".
// The ids and versions of what is new are set in the batch's slices, those of
// the kit apart.
func (s *Store) Import(ctx context.Context, what string, x night.Batch) (id int64, err error) {
	sites, nights, targets, volunteers := slices.Clone(x.Sites), slices.Clone(x.Nights), slices.Clone(x.Targets), slices.Clone(x.Volunteers)
	err = s.writeTx(ctx, "import", func(tx *sql.Tx, q *db.Queries) error {
		all, err := tables(ctx, tx)
		if err != nil {
			return err
		}
		b := batch{ctx: ctx, tx: tx, q: q, all: all}
		if err := importKit(importing{ctx, q, map[int64]int64{}, b.gear}, x.Kit); err != nil {
			return err
		}
		for i := range sites {
			y := &sites[i]
			if err := b.row("sites", y.Name, &y.ID, &y.Version, siteRow(ctx, q, y)); err != nil {
				return err
			}
		}
		for i := range nights {
			y := &nights[i]
			if err := b.row("nights", y.Name, &y.ID, &y.Version, nightRow(ctx, q, y)); err != nil {
				return err
			}
		}
		for i := range targets {
			if err := b.target(&targets[i]); err != nil {
				return err
			}
		}
		for i := range volunteers {
			y := &volunteers[i]
			y.ID = 0 // a row that was changed would be kept as it was, beyond the reach of who asks to be forgotten
			if err := b.row("volunteers", y.Name, &y.ID, &y.Version, volunteerRow(ctx, q, y)); err != nil {
				return err
			}
		}
		added := 0
		for _, d := range b.done {
			if d.Before == nil {
				added++
			}
		}
		line := fmt.Sprintf("import %s: %d added, %d changed", what, added, len(b.done)-added)
		if err := q.InsertClubLog(ctx, night.Who(ctx), line); err != nil {
			return err
		}
		id, err = q.InsertImport(ctx, db.InsertImportParams{Who: night.Who(ctx), What: what, Done: b.done})
		return err
	})
	if err == nil {
		copy(x.Sites, sites)
		copy(x.Nights, nights)
		copy(x.Targets, targets)
		copy(x.Volunteers, volunteers)
	}
	return id, err
}

// gear keeps what a piece was, saves it, and notes what it is.
func (b *batch) gear(kind string, base *kit.Base, save func() error) error {
	d := column.Imported{Table: "gear", Detail: detailTables[kind]}
	if base.ID > 0 {
		var err error
		if d.Before, err = b.before("gear", base.ID); err != nil {
			return err
		}
		if d.Rest, err = b.before(d.Detail, base.ID); err != nil {
			return err
		}
	}
	if err := save(); err != nil {
		return err
	}
	d.ID, d.Version = base.ID, base.Version
	b.done = append(b.done, d)
	return nil
}

// row does the same for a row of one table.
func (b *batch) row(name, called string, id, version *int64, r row) error {
	d := column.Imported{Table: name}
	if *id > 0 {
		var err error
		if d.Before, err = b.before(name, *id); err != nil {
			return err
		}
	}
	i, v, err := r.save(max(*id, 0), *version)
	if err := refused(err, called); err != nil {
		return err
	}
	*id, *version, d.ID, d.Version = i, v, i, v
	b.done = append(b.done, d)
	return nil
}

func (b *batch) target(x *night.OwnTarget) error {
	var id int64
	if x.ID != "" {
		n, err := ownNumber(x.ID)
		if err != nil {
			return err
		}
		id = n
	}
	r := ownTargetRow(b.ctx, b.q)
	r.what = "target"
	r.put = func(id sql.NullInt64) (int64, error) { return b.q.PutOwnTarget(b.ctx, ownTargetParams(id, x)) }
	if err := b.row("own_targets", x.Name, &id, &x.Version, r); err != nil {
		return err
	}
	x.ID = ownID(id)
	return nil
}

func (b *batch) table(name string) (table, error) {
	for _, t := range b.all {
		if t.name == name {
			return t, nil
		}
	}
	return table{}, fmt.Errorf("there is no table %q", name)
}

func (b *batch) before(name string, id int64) (json.RawMessage, error) {
	t, err := b.table(name)
	if err != nil {
		return nil, err
	}
	return t.rowOf(b.ctx, b.tx, id)
}

// Imports returns the imports that can be taken back, newest first.
func (s *Store) Imports(ctx context.Context) (is []night.ImportEntry, err error) {
	err = s.read(ctx, "load imports", func(q *db.Queries) error {
		rows, err := q.ListImports(ctx)
		is, err = each(rows, err, func(r db.ListImportsRow) night.ImportEntry {
			return night.ImportEntry{ID: r.ID, At: r.At.Time, Who: r.Who, What: r.What}
		})
		return err
	})
	return is, err
}

// UndoImport takes an import back, all of it or nothing: what it added goes to
// the bin, what it changed is as it was before. The answer is fault.Conflict
// when something that it changed was changed again since.
func (s *Store) UndoImport(ctx context.Context, id int64) (what string, err error) {
	err = s.writeTx(ctx, "take an import back", func(tx *sql.Tx, q *db.Queries) error {
		r, err := q.GetImport(ctx, id)
		if err != nil {
			return fault.Wrap(fault.NotFound, err, "This import was taken back already, or is too long ago.")
		}
		what = r.What
		all, err := tables(ctx, tx)
		if err != nil {
			return err
		}
		b := batch{ctx: ctx, tx: tx, q: q, all: all}
		// Backwards: what belongs to an instrument goes before it.
		for i := len(r.Done) - 1; i >= 0; i-- {
			if err := b.undo(r.Done[i]); err != nil {
				return err
			}
		}
		if _, err := q.DeleteImport(ctx, id); err != nil {
			return err
		}
		return q.InsertClubLog(ctx, night.Who(ctx), "take back: import "+what)
	})
	return what, err
}

// binKinds are the kinds of what an import can add, by table, and the column
// that says it is in the bin.
var binKinds = map[string]struct {
	kind   night.BinKind
	column string
}{
	"gear": {night.BinGear, "retired"}, "sites": {night.BinSite, "retired"}, "nights": {night.BinNight, "retired"}, "own_targets": {night.BinTarget, "removed"},
	"volunteers": {night.BinVolunteer, "retired"},
}

func (b *batch) undo(d column.Imported) error {
	t, err := b.table(d.Table)
	if err != nil {
		return err
	}
	var version int64
	var name string
	err = b.tx.QueryRowContext(b.ctx, "SELECT version, name FROM "+quoted(t.name)+" WHERE id = ?", d.ID).Scan(&version, &name)
	switch {
	case err == sql.ErrNoRows && d.Before == nil:
		return nil // added, and deleted for good since
	case err != nil:
		return missing(err, "row", d.ID)
	case d.Before == nil:
		k := binKinds[t.name]
		if k.kind == night.BinVolunteer {
			v, err := b.q.GetVolunteer(b.ctx, d.ID)
			if err != nil || v.Forgotten {
				return err // what is left names nobody; there is nothing to take back
			}
		}
		if _, err := b.tx.ExecContext(b.ctx, "UPDATE "+quoted(t.name)+" SET version = version + 1, "+k.column+" = 1 WHERE id = ? AND "+k.column+" = 0", d.ID); err != nil {
			return err
		}
		return binned(b.ctx, b.q, k.kind, d.ID, name, true)
	case version != d.Version:
		return fault.New(fault.Conflict, "%s was changed again since the import, so nothing was taken back. Change it by hand.", name)
	}
	if err := b.putBack(t, d.ID, d.Before); err != nil {
		return err
	}
	if t.name == "nights" {
		if err := note(b.ctx, b.q, d.ID, "take an import back"); err != nil {
			return err
		}
	}
	if err := b.keepBin(t, d.ID); err != nil {
		return err
	}
	if d.Rest == nil {
		return nil
	}
	rest, err := b.table(d.Detail)
	if err != nil {
		return err
	}
	return b.putBack(rest, d.ID, d.Rest)
}

// keepBin keeps the bin in step: an import may have put something there.
func (b *batch) keepBin(t table, id int64) error {
	k := binKinds[t.name]
	var name string
	var in bool
	if err := b.tx.QueryRowContext(b.ctx, "SELECT name, "+k.column+" FROM "+quoted(t.name)+" WHERE id = ?", id).Scan(&name, &in); err != nil {
		return err
	}
	return binned(b.ctx, b.q, k.kind, id, name, in)
}

// putBack writes what a row was before, under a new version. A night's line-up
// and roster are not part of that, nor are their versions.
func (b *batch) putBack(t table, id int64, before json.RawMessage) error {
	values, err := t.values(before)
	if err != nil {
		return fault.Wrap(fault.Conflict, err, "The program was updated since this import; it cannot be taken back any more.")
	}
	var sets []string
	var args []any
	for i, c := range t.columns {
		switch c.name {
		case "id", "line_up_version", "roster_version", "line_up_step":
		case "version":
			sets = append(sets, "version = version + 1")
		default:
			sets, args = append(sets, quoted(c.name)+" = ?"), append(args, values[i])
		}
	}
	_, err = b.tx.ExecContext(b.ctx, "UPDATE "+quoted(t.name)+" SET "+strings.Join(sets, ", ")+" WHERE id = ?", append(args, id)...)
	return err
}
