package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"

	"github.com/pressly/goose/v3"

	"duskboard/migrations"
)

// applicationID marks a database as ours; it is the letters DUSK. The first
// migration writes it.
const applicationID = 1146442571

// errNewer is in the chain when a database is newer than the program.
var errNewer = errors.New("this database was made by a newer version of Duskboard; start that version, or restore a backup made with this one")

// errForeign is in the chain when a database is not ours.
var errForeign = errors.New("this file is a database, but not one of Duskboard's")

// migrate brings the database at path to the newest schema. An older database
// with anything in it is copied first, beside itself. Each migration is one
// transaction; foreign keys are off while they run, because rebuilding a table
// would otherwise delete what refers to it, and are checked when all are done.
func migrate(ctx context.Context, path string) error {
	if err := makePrivate(path); err != nil {
		return err
	}
	// Immediate transactions and one connection, as for every writer; without
	// foreign keys, which cannot be switched inside a transaction.
	conn, err := sql.Open(driver, dsn(path, url.Values{
		"_journal_mode": {"WAL"},
		"_synchronous":  {"FULL"},
		"_foreign_keys": {"false"},
		"_txlock":       {"immediate"},
	}))
	if err != nil {
		return err
	}
	defer conn.Close()
	conn.SetMaxOpenConns(1)

	have, err := version(ctx, conn)
	if err != nil {
		return translate(err)
	}
	newest, err := newestVersion()
	if err != nil {
		return err
	}
	switch {
	case have > newest:
		return fmt.Errorf("%w (it has version %d, this program knows %d)", errNewer, have, newest)
	case have == newest:
		return nil
	}
	if have > 0 {
		name, err := freeName(fmt.Sprintf("%s.before-update-from-%d", path, have))
		if err == nil {
			err = copyTo(ctx, conn, name)
		}
		if err != nil {
			return fmt.Errorf("copy before the migration from version %d to %d: %w", have, newest, err)
		}
	}
	g, err := goose.NewProvider(goose.DialectSQLite3, conn, migrations.FS, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return fmt.Errorf("read migrations: %w", err)
	}
	if _, err := g.Up(ctx); err != nil {
		return fmt.Errorf("migrate from version %d to %d: %w", have, newest, translate(err))
	}
	return checkLinks(ctx, conn)
}

// newestVersion is the number of the newest migration that the program knows.
func newestVersion() (newest int64, err error) {
	files, err := fs.Glob(migrations.FS, "*.sql")
	if err != nil {
		return 0, fmt.Errorf("read migrations: %w", err)
	}
	for _, f := range files {
		v, err := goose.NumericComponent(f)
		if err != nil {
			return 0, fmt.Errorf("read migration %s: %w", f, err)
		}
		newest = max(newest, v)
	}
	return newest, nil
}

// version returns the schema version of an open database: 0 for an empty one,
// an error for one that is not ours.
func version(ctx context.Context, conn *sql.DB) (int64, error) {
	var tables, app int64
	if err := conn.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_master").Scan(&tables); err != nil {
		return 0, err
	}
	if tables == 0 {
		return 0, nil
	}
	var managed, v int64
	if err := conn.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = ?", goose.DefaultTablename).Scan(&managed); err != nil {
		return 0, err
	}
	if managed > 0 {
		if err := conn.QueryRowContext(ctx, "SELECT coalesce(max(version_id), 0) FROM "+goose.DefaultTablename).Scan(&v); err != nil {
			return 0, err
		}
	}
	if err := conn.QueryRowContext(ctx, "PRAGMA application_id").Scan(&app); err != nil {
		return 0, err
	}
	// Killed before the first migration was done, a file has goose's table
	// and nothing of ours: that counts as empty.
	if app != applicationID && (managed == 0 || v > 0) {
		return 0, errForeign
	}
	return v, nil
}

// checkLinks reports foreign keys that point nowhere.
func checkLinks(ctx context.Context, conn *sql.DB) error {
	rows, err := conn.QueryContext(ctx, `SELECT "table", count(*) FROM pragma_foreign_key_check GROUP BY 1`)
	if err != nil {
		return err
	}
	defer rows.Close()
	var bad []error
	for rows.Next() {
		var table string
		var n int64
		if err := rows.Scan(&table, &n); err != nil {
			return err
		}
		bad = append(bad, fmt.Errorf("%d rows of table %s refer to what is not there", n, table))
	}
	return errors.Join(append(bad, rows.Err())...)
}

// makePrivate makes the file when it is not there, readable by its owner only:
// it will hold names and phone numbers. SQLite gives the companions of a
// database the same permissions.
func makePrivate(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}
