package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"github.com/mattn/go-sqlite3"

	"duskboard/internal/fault"
)

// Backup writes a copy of the database, as it is at one moment, to a new file;
// readers and writers go on meanwhile. An existing file is left alone and the
// answer is fault.Conflict. The copy is one file without companions.
func (s *Store) Backup(ctx context.Context, file string) error {
	if _, err := os.Lstat(file); err == nil {
		return fault.New(fault.Conflict, "The file %s is there already; name a new one.", file)
	}
	if err := copyTo(ctx, s.reader, file); err != nil {
		return fmt.Errorf("back up to %s: %w", file, translate(err))
	}
	return nil
}

// copyTo copies a database with SQLite's online backup to file. It writes to a
// temporary name first, so that file never holds half a copy.
func copyTo(ctx context.Context, from *sql.DB, file string) error {
	temp := file + ".part"
	if err := os.Remove(temp); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	if err := makePrivate(temp); err != nil {
		return err
	}
	if err := copyPages(ctx, from, temp); err != nil {
		os.Remove(temp)
		return err
	}
	if err := syncFile(temp); err != nil {
		return err
	}
	if err := os.Rename(temp, file); err != nil {
		return err
	}
	return syncDir(filepath.Dir(file))
}

func copyPages(ctx context.Context, from *sql.DB, file string) error {
	to, err := sql.Open(driver, dsn(file, url.Values{}))
	if err != nil {
		return err
	}
	defer to.Close()
	to.SetMaxOpenConns(1)
	if err := onlineBackup(ctx, from, to); err != nil {
		return err
	}
	// The copied header asks for a write-ahead log; a copy that is carried
	// about should be one file.
	var mode string
	if err := to.QueryRowContext(ctx, "PRAGMA journal_mode = DELETE").Scan(&mode); err != nil {
		return err
	}
	if err := intact(ctx, to); err != nil {
		return err
	}
	return to.Close()
}

// onlineBackup copies all pages in one step: with a write-ahead log that holds
// up nobody, and a copy in several steps would begin again with every write
// that happens between two of them.
func onlineBackup(ctx context.Context, from, to *sql.DB) error {
	return raw(ctx, to, func(dst *sqlite3.SQLiteConn) error {
		return raw(ctx, from, func(src *sqlite3.SQLiteConn) error {
			b, err := dst.Backup("main", src, "main")
			if err != nil {
				return err
			}
			for {
				done, err := b.Step(-1)
				if err != nil {
					return errors.Join(err, b.Finish())
				}
				if done {
					return b.Finish()
				}
				// Locked by someone: wait as long as the caller does.
				select {
				case <-ctx.Done():
					return errors.Join(ctx.Err(), b.Finish())
				case <-time.After(10 * time.Millisecond):
				}
			}
		})
	})
}

func raw(ctx context.Context, pool *sql.DB, fn func(*sqlite3.SQLiteConn) error) error {
	conn, err := pool.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	return conn.Raw(func(c any) error { return fn(c.(*sqlite3.SQLiteConn)) })
}

// intact runs SQLite's own check of a whole database file and looks for links
// that point nowhere.
func intact(ctx context.Context, conn *sql.DB) error {
	rows, err := conn.QueryContext(ctx, "PRAGMA integrity_check(20)")
	if err != nil {
		return err
	}
	defer rows.Close()
	var faults []error
	for rows.Next() {
		var line string
		if err := rows.Scan(&line); err != nil {
			return err
		}
		if line != "ok" {
			faults = append(faults, errors.New(line))
		}
	}
	if err := errors.Join(append(faults, rows.Err())...); err != nil {
		return fmt.Errorf("the integrity check found damage: %w", err)
	}
	return checkLinks(ctx, conn)
}

func syncFile(name string) error {
	f, err := os.OpenFile(name, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// syncDir makes a rename last. Windows cannot sync a folder and needs not.
func syncDir(name string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
