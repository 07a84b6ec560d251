package store

import "context"

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
