package store

import (
	"context"
	"database/sql"

	"duskboard/internal/store/db"
)

// row is how one kind of row is saved.
type row struct {
	what  string                                 // as a message names it: "site"
	raise func(id, version int64) (int64, error) // raises the version, touches no row when it is old
	find  func(id int64) error                   // sql.ErrNoRows when there is no such row
	put   func(id sql.NullInt64) (int64, error)  // writes every column
}

// save inserts a new row or changes the one whose version is still the
// present one, and returns the id and version that the row has then.
func (r row) save(id, version int64) (newID, newVersion int64, err error) {
	if id == 0 {
		newID, err = r.put(sql.NullInt64{})
		return newID, 1, err
	}
	if err := r.check(id, version); err != nil {
		return 0, 0, err
	}
	newID, err = r.put(sql.NullInt64{Int64: id, Valid: true})
	return newID, version + 1, err
}

// check raises the version, or tells apart why it could not.
func (r row) check(id, version int64) error {
	n, err := r.raise(id, version)
	if err != nil || n > 0 {
		return err
	}
	if err := r.find(id); err != nil {
		return missing(err, r.what, id)
	}
	return changed(r.what)
}

// saveRow saves one row in a transaction of its own and, once that is
// committed, tells the caller's value its id and version.
func (s *Store) saveRow(ctx context.Context, what string, id, version *int64, use func(q *db.Queries) row) error {
	var i, v int64
	err := s.write(ctx, "save "+what, func(q *db.Queries) (err error) {
		r := use(q)
		r.what = what
		i, v, err = r.save(*id, *version)
		return err
	})
	if err == nil {
		*id, *version = i, v
	}
	return err
}

// found runs a lookup by id that drops the row it finds.
func found[T any](_ T, err error) error { return err }

// each turns rows into values of the domain.
func each[R, T any](rows []R, err error, of func(R) T) ([]T, error) {
	if err != nil {
		return nil, err
	}
	var out []T
	for _, r := range rows {
		out = append(out, of(r))
	}
	return out, nil
}
