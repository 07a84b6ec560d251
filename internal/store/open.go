package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"path/filepath"
	"time"

	_ "github.com/mattn/go-sqlite3" // registers the driver "sqlite3"

	"duskboard/internal/store/db"
)

const (
	driver = "sqlite3"
	// busyTimeout is how long a connection waits for a lock, for example
	// while a copy is made by another process.
	busyTimeout = 10 * time.Second
	// readers bounds the read-only pool: more than this many pages are
	// hardly ever loaded at once, and each connection has its own cache.
	readers = 4
)

// Store is an open database. It is safe for concurrent use.
type Store struct {
	path   string
	writer *sql.DB // one connection
	reader *sql.DB // read-only pool
	watch  watch
}

// Open opens the database at path, makes it when there is none, and brings an
// older one to the newest schema after copying it (see migrate). A database
// that is newer than the program or not one of ours is refused unchanged.
func Open(ctx context.Context, path string) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("open database %s: %w", path, err)
	}
	if err := migrate(ctx, path); err != nil {
		return nil, fmt.Errorf("open database %s: %w", path, err)
	}
	s := &Store{path: path}
	if s.writer, err = sql.Open(driver, writeDSN(path)); err != nil {
		return nil, fmt.Errorf("open database %s: %w", path, err)
	}
	s.writer.SetMaxOpenConns(1)
	if s.reader, err = sql.Open(driver, readDSN(path)); err != nil {
		return nil, errors.Join(fmt.Errorf("open database %s: %w", path, err), s.writer.Close())
	}
	s.reader.SetMaxOpenConns(readers)
	s.reader.SetMaxIdleConns(readers)
	for _, pool := range []*sql.DB{s.writer, s.reader} {
		if err := pool.PingContext(ctx); err != nil {
			return nil, errors.Join(fmt.Errorf("open database %s: %w", path, translate(err)), s.Close())
		}
	}
	return s, nil
}

// Close moves what is in the write-ahead log into the database file and closes
// it, so that the file alone holds everything.
func (s *Store) Close() error {
	err := errors.Join(s.watch.close(), s.reader.Close())
	if _, e := s.writer.Exec("PRAGMA wal_checkpoint(TRUNCATE)"); e != nil {
		err = errors.Join(err, e)
	}
	if err = errors.Join(err, s.writer.Close()); err != nil {
		return fmt.Errorf("close database %s: %w", s.path, err)
	}
	return nil
}

// write runs fn in one immediate transaction on the writer: all of it is
// kept, or nothing. The error of the commit is returned like any other.
func (s *Store) write(ctx context.Context, what string, fn func(q *db.Queries) error) error {
	return inTx(ctx, s.writer, nil, what, fn)
}

// read runs fn in one read transaction, so that all it reads is of one moment.
func (s *Store) read(ctx context.Context, what string, fn func(q *db.Queries) error) error {
	return inTx(ctx, s.reader, &sql.TxOptions{ReadOnly: true}, what, fn)
}

// writeTx is write for what also walks the tables.
func (s *Store) writeTx(ctx context.Context, what string, fn func(tx *sql.Tx, q *db.Queries) error) error {
	return inPlainTx(ctx, s.writer, nil, what, fn)
}

// readTx is read for what also walks the tables.
func (s *Store) readTx(ctx context.Context, what string, fn func(tx *sql.Tx, q *db.Queries) error) error {
	return inPlainTx(ctx, s.reader, &sql.TxOptions{ReadOnly: true}, what, fn)
}

func inTx(ctx context.Context, pool *sql.DB, opts *sql.TxOptions, what string, fn func(q *db.Queries) error) error {
	return inPlainTx(ctx, pool, opts, what, func(_ *sql.Tx, q *db.Queries) error { return fn(q) })
}

func inPlainTx(ctx context.Context, pool *sql.DB, opts *sql.TxOptions, what string, fn func(tx *sql.Tx, q *db.Queries) error) (err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("%s: %w", what, translate(err))
		}
	}()
	tx, err := pool.BeginTx(ctx, opts)
	if err != nil {
		return err
	}
	defer tx.Rollback() // does nothing after a commit; ends it on error and panic
	if err := fn(tx, db.New(tx)); err != nil {
		return err
	}
	return tx.Commit()
}

// writeDSN is the connection string of whatever may write.
func writeDSN(path string) string {
	return dsn(path, url.Values{
		"_journal_mode": {"WAL"},
		"_synchronous":  {"FULL"},
		"_foreign_keys": {"true"},
		"_txlock":       {"immediate"},
		// What is deleted or overwritten is zeroed in the file: a person who is
		// forgotten must not be found in its empty pages.
		"_secure_delete": {"true"},
	})
}

// readDSN is the connection string of whatever only reads.
func readDSN(path string) string {
	return dsn(path, url.Values{
		"mode":          {"ro"},
		"_query_only":   {"true"},
		"_foreign_keys": {"true"},
	})
}

func dsn(path string, v url.Values) string {
	v.Set("_busy_timeout", fmt.Sprint(busyTimeout.Milliseconds()))
	// A URI needs its path escaped: a folder may be called "club #2".
	u := url.URL{Scheme: "file", OmitHost: true, Path: filepath.ToSlash(path), RawQuery: v.Encode()}
	return u.String()
}
