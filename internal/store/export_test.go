package store

import (
	"context"
	"database/sql"
	"io"
	"time"
)

// Exec runs a statement on the writer, so that a test can break what the
// methods would not.
func (s *Store) Exec(ctx context.Context, statement string) error {
	_, err := s.writer.ExecContext(ctx, statement)
	return translate(err)
}

// Count returns the rows of a table, read through the read-only pool.
func (s *Store) Count(ctx context.Context, table string) (n int, err error) {
	err = s.reader.QueryRowContext(ctx, "SELECT count(*) FROM "+table).Scan(&n)
	return n, err
}

// ReadPoolExec runs a statement on the read-only pool.
func (s *Store) ReadPoolExec(ctx context.Context, statement string) error {
	_, err := s.reader.ExecContext(ctx, statement)
	return err
}

// Setting returns what a PRAGMA answers on the writer and on the readers.
func (s *Store) Setting(ctx context.Context, pragma string) (writer, reader string, err error) {
	if err = s.writer.QueryRowContext(ctx, "PRAGMA "+pragma).Scan(&writer); err != nil {
		return "", "", err
	}
	err = s.reader.QueryRowContext(ctx, "PRAGMA "+pragma).Scan(&reader)
	return writer, reader, err
}

var (
	NewestVersion = newestVersion
	ErrNewer      = errNewer
	ErrForeign    = errForeign
)

// Columns returns the names of the columns of each table.
func (s *Store) Columns(ctx context.Context) (map[string][]string, error) {
	all, err := tables(ctx, s.reader)
	out := map[string][]string{}
	for _, t := range all {
		for _, c := range t.columns {
			out[t.name] = append(out[t.name], c.name)
		}
	}
	return out, err
}

// Dump returns every row of every table that is taken out, as text, with
// secrets empty.
func Dump(ctx context.Context, path string) (map[string][]string, error) {
	conn, err := sql.Open(driver, readDSN(path))
	if err != nil {
		return nil, err
	}
	defer conn.Close()
	all, err := tables(ctx, conn)
	out := map[string][]string{}
	for _, t := range all {
		if leftOut(t.name) || err != nil {
			continue
		}
		out[t.name] = []string{}
		err = eachRow(ctx, conn, t, "", nil, func(_ int, row []byte) error {
			out[t.name] = append(out[t.name], string(row))
			return nil
		})
	}
	return out, err
}

// WholeOf writes the file of a database as it is, without bringing it to the
// newest schema first.
func WholeOf(ctx context.Context, path string, w io.Writer, now time.Time) error {
	conn, err := sql.Open(driver, readDSN(path))
	if err != nil {
		return err
	}
	defer conn.Close()
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	x, err := newWhole(ctx, tx, now)
	if err != nil {
		return err
	}
	return x.write(ctx, tx, w, nil)
}
