package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// What is taken away lies in the bin first. A thing with a row of its own stays
// in its table, retired; satellites and kept line-ups leave theirs and lie in
// the bin as content. What a night still names is not deleted, however long it
// has lain there: past nights would lose it.

// binned keeps the bin in step with a row that is saved: in it while retired.
func binned(ctx context.Context, q *db.Queries, kind night.BinKind, id int64, name string, retired bool) error {
	if retired {
		return q.PutBin(ctx, db.PutBinParams{Kind: string(kind), Ref: id, Name: name, Who: night.Who(ctx)})
	}
	_, err := q.TakeBin(ctx, string(kind), id)
	return err
}

// Bin returns what lies in the bin, what is deleted first standing first.
func (s *Store) Bin(ctx context.Context) (out []night.Binned, err error) {
	err = s.readTx(ctx, "load bin", func(tx *sql.Tx, q *db.Queries) error {
		rows, err := q.ListBin(ctx)
		if err != nil {
			return err
		}
		all, err := tables(ctx, tx)
		if err != nil {
			return err
		}
		for _, r := range rows {
			b := night.Binned{Kind: night.BinKind(r.Kind), Ref: r.Ref, Name: r.Name, At: r.At.Time, Who: r.Who}
			if b.Held, err = held(ctx, tx, all, b.Kind, b.Ref); err != nil {
				return err
			}
			var why *fault.Error
			if err := barred(ctx, q, b.Kind, b.Ref); errors.As(err, &why) {
				b.Barred = why.Message
			} else if err != nil {
				return err
			}
			out = append(out, b)
		}
		return nil
	})
	return out, err
}

// TakeBack takes a thing out of the bin. The answer is fault.NotFound when it
// is not there any more, and fault.Conflict with the reason when what it
// belongs to is not there.
func (s *Store) TakeBack(ctx context.Context, kind night.BinKind, ref int64) (name string, err error) {
	err = s.write(ctx, "take back", func(q *db.Queries) error {
		b, err := q.GetBin(ctx, string(kind), ref)
		if err != nil {
			return missingInBin(err)
		}
		name = b.Name
		if err := barred(ctx, q, kind, ref); err != nil {
			return err
		}
		if err := unbin(ctx, q, kind, b); err != nil {
			return err
		}
		_, err = q.TakeBin(ctx, string(kind), ref)
		return err
	})
	return name, err
}

func missingInBin(err error) error {
	if err == sql.ErrNoRows {
		return fault.New(fault.NotFound, "This is not in the bin any more.")
	}
	return err
}

// unbin gives a thing its place again.
func unbin(ctx context.Context, q *db.Queries, kind night.BinKind, b db.Bin) error {
	var n int64 = 1
	var err error
	switch kind {
	case night.BinGear:
		n, err = q.UnretireGear(ctx, b.Ref)
	case night.BinSite:
		n, err = q.UnretireSite(ctx, b.Ref)
	case night.BinNight:
		if n, err = q.UnretireNight(ctx, b.Ref); err == nil && n > 0 {
			err = note(ctx, q, b.Ref, "take the night out of the bin")
		}
	case night.BinVolunteer:
		n, err = q.UnretireVolunteer(ctx, b.Ref)
	case night.BinTarget:
		n, err = q.UnremoveTarget(ctx, b.Ref)
	case night.BinSatellite:
		err = q.PutSatellite(ctx, db.PutSatelliteParams{ID: b.Ref, Name: b.Name, Elements: b.Content.V.Elements, AddedAt: b.Content.V.At})
	case night.BinLineUp:
		c := b.Content.V
		err = translate(q.PutKeptLineUp(ctx, db.PutKeptLineUpParams{
			ID: b.Ref, NightID: c.Night, Name: b.Name, Who: c.Who, At: c.At, LineUp: column.LineUp{V: c.LineUp},
		}))
		if fault.KindOf(err) == fault.Conflict {
			return fault.Wrap(fault.Conflict, err, "The night keeps another line-up called “%s” by now; that one has the name.", b.Name)
		}
	default:
		return fault.New(fault.NotFound, "Nothing of this kind lies in the bin.")
	}
	if err == nil && n == 0 {
		return fault.New(fault.NotFound, "This is not there any more.")
	}
	return err
}

// barred says why a thing cannot be taken back: what it belongs to is gone, or
// lies in the bin itself. nil when it can.
func barred(ctx context.Context, q *db.Queries, kind night.BinKind, ref int64) error {
	switch kind {
	case night.BinNight:
		n, err := q.GetNight(ctx, ref)
		if err != nil {
			return missing(err, "night", ref)
		}
		site, err := q.GetSite(ctx, n.SiteID)
		if err != nil {
			return missing(err, "site", n.SiteID)
		}
		if site.Retired {
			return fault.New(fault.Conflict, "Its site, %s, is in the bin too. Take that back first.", site.Name)
		}
	case night.BinLineUp:
		b, err := q.GetBin(ctx, string(kind), ref)
		if err != nil {
			return missingInBin(err)
		}
		n, err := q.GetNight(ctx, b.Content.V.Night)
		switch {
		case err == sql.ErrNoRows:
			return fault.New(fault.Conflict, "Its night is deleted.")
		case err != nil:
			return err
		case n.Retired:
			return fault.New(fault.Conflict, "Its night, %s, is in the bin too. Take that back first.", n.Name)
		}
	}
	return nil
}

// Discard deletes a thing in the bin now. What nights still name is refused
// with fault.Conflict. today is that of ForgetVolunteer.
func (s *Store) Discard(ctx context.Context, kind night.BinKind, ref int64, today sky.Date) error {
	err := s.writeTx(ctx, "discard", func(tx *sql.Tx, q *db.Queries) error {
		b, err := q.GetBin(ctx, string(kind), ref)
		if err != nil {
			return missingInBin(err)
		}
		all, err := tables(ctx, tx)
		if err != nil {
			return err
		}
		words, err := held(ctx, tx, all, kind, ref)
		if err != nil {
			return err
		}
		if words != "" {
			return fault.New(fault.Conflict, "%s is still needed by %s.", b.Name, words)
		}
		return discard(ctx, tx, q, kind, b, today)
	})
	if err != nil {
		return err
	}
	return s.wipe(ctx)
}

// PurgeBin deletes what has lain in the bin for its time at now, and returns
// what was deleted. Things that nights name stay. Nights go first, and with
// them what only they named.
func (s *Store) PurgeBin(ctx context.Context, now time.Time) (gone []night.Binned, err error) {
	bin, err := s.Bin(ctx)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(bin, func(a, b night.Binned) int {
		return slices.Index(night.BinKinds, a.Kind) - slices.Index(night.BinKinds, b.Kind)
	})
	for _, b := range bin {
		if b.Ends().After(now) {
			continue
		}
		switch err := s.Discard(ctx, b.Kind, b.Ref, sky.DateOf(now, time.UTC).AddDays(-1)); fault.KindOf(err) {
		case fault.Conflict, fault.NotFound: // needed, or gone meanwhile
			continue
		default:
			if err != nil {
				return gone, err
			}
		}
		gone = append(gone, b)
	}
	return gone, nil
}

// discard deletes for good. A volunteer is forgotten: past duties stay.
func discard(ctx context.Context, tx querier, q *db.Queries, kind night.BinKind, b db.Bin, today sky.Date) error {
	var err error
	what := "delete for good: " + b.Name
	switch kind {
	case night.BinGear:
		_, err = q.DeleteGear(ctx, b.Ref)
	case night.BinSite:
		_, err = q.DeleteSite(ctx, b.Ref)
	case night.BinNight:
		_, err = q.DeleteNight(ctx, b.Ref)
	case night.BinVolunteer:
		return forget(ctx, tx, q, b.Ref, today)
	case night.BinTarget:
		_, err = q.DeleteTarget(ctx, b.Ref)
	}
	if err != nil {
		return err
	}
	if _, err := q.TakeBin(ctx, string(kind), b.Ref); err != nil {
		return err
	}
	return q.InsertClubLog(ctx, night.Who(ctx), what)
}

// held says how many rows of which tables still need a thing; "" when none.
// The tables are asked for what refers to it, so that a new one counts too.
func held(ctx context.Context, tx querier, all []table, kind night.BinKind, ref int64) (string, error) {
	switch kind {
	case night.BinGear:
		return heldBy(ctx, tx, all, "gear", ref)
	case night.BinSite:
		return heldBy(ctx, tx, all, "sites", ref)
	case night.BinTarget:
		return heldTarget(ctx, tx, all, ownID(ref))
	}
	return "", nil // a night takes what is its own along; the rest has no one
}

// heldBy counts the nights that name a row, and others that do. What merely
// loses its reference does not hold it, nor do parts of the thing itself.
func heldBy(ctx context.Context, tx querier, all []table, of string, id int64) (string, error) {
	parts := []string{of}
	for _, t := range all {
		for _, r := range t.refs {
			if r.table == of && r.from == "id" {
				parts = append(parts, t.name)
			}
		}
	}
	var unions []string
	for _, t := range all {
		if slices.Contains(parts, t.name) && t.name != of {
			continue
		}
		for _, r := range t.refs {
			if slices.Contains(parts, r.table) && r.to == "id" && r.onDelete != "SET NULL" {
				unions = append(unions, heldQuery(t, r.from))
			}
		}
	}
	return countHolders(ctx, tx, unions, id)
}

// heldTarget is heldBy for what is named by its text id.
func heldTarget(ctx context.Context, tx querier, all []table, id string) (string, error) {
	var unions []string
	for _, t := range all {
		for _, c := range t.columns {
			if c.kind == "TEXT" && (c.name == "target_id" || c.name == "backup_id") {
				unions = append(unions, heldQuery(t, c.name))
			}
		}
	}
	return countHolders(ctx, tx, unions, id)
}

// heldQuery selects what names ?1: the night, where the table is a night's.
func heldQuery(t table, column string) string {
	by, n := "'"+t.name+"'", "0"
	switch _, ofNight := t.column("night_id"); {
	case ofNight:
		by, n = "'night'", "night_id"
	case t.name == "nights":
		by, n = "'night'", "id"
	}
	return "SELECT " + by + " AS holder, " + n + " AS n FROM " + quoted(t.name) + " WHERE " + quoted(column) + " = ?1"
}

func countHolders(ctx context.Context, tx querier, unions []string, id any) (string, error) {
	if len(unions) == 0 {
		return "", nil
	}
	rows, err := tx.QueryContext(ctx, "SELECT holder, count(DISTINCT n) FROM ("+strings.Join(unions, " UNION ALL ")+") GROUP BY holder ORDER BY holder", id)
	if err != nil {
		return "", err
	}
	defer rows.Close()
	var words []string
	for rows.Next() {
		var holder string
		var n int
		if err := rows.Scan(&holder, &n); err != nil {
			return "", err
		}
		switch {
		case holder == "night" && n == 1:
			words = append(words, "one night")
		case holder == "night":
			words = append(words, fmt.Sprintf("%d nights", n))
		default:
			words = append(words, strings.ReplaceAll(holder, "_", " "))
		}
	}
	return strings.Join(words, ", "), rows.Err()
}
