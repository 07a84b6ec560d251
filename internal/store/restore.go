package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"

	"duskboard/internal/fault"
)

// Restore puts a copy made by Backup in the place of the database at target,
// which no program may have open. The copy is checked first (it is ours, not
// newer than the program, whole); when it is refused nothing is touched. What
// was at target is kept under another name beside it, which is returned; ""
// when there was nothing. The next Open brings an older copy up to date.
func Restore(ctx context.Context, file, target string) (kept string, err error) {
	fail := func(err error) (string, error) {
		return "", fmt.Errorf("restore %s: %w", file, translate(err))
	}
	fresh := target + ".restoring"
	if err := removeAll(fresh, fresh+".part"); err != nil {
		return fail(err)
	}
	defer removeAll(fresh, fresh+".part") // gone already when all went well
	if err := copyChecked(ctx, file, fresh); err != nil {
		return fail(err)
	}
	there, err := settle(ctx, target)
	if err != nil {
		return fail(err)
	}
	if there {
		if kept, err = setAside(target); err != nil {
			return fail(err)
		}
	}
	// One rename replaces the file: there is no moment without a database.
	if err := os.Rename(fresh, target); err != nil {
		return fail(err)
	}
	if err := syncDir(filepath.Dir(target)); err != nil {
		return fail(err)
	}
	return kept, nil
}

// copyChecked copies a database to fresh if it is one that this program can
// use. It copies by SQLite, so that a write-ahead log beside the file counts.
func copyChecked(ctx context.Context, file, fresh string) error {
	if _, err := os.Stat(file); err != nil {
		return fault.Wrap(fault.NotFound, err, "There is no copy called %s.", file)
	}
	abs, err := filepath.Abs(file)
	if err != nil {
		return err
	}
	from, err := sql.Open(driver, readDSN(abs))
	if err != nil {
		return err
	}
	defer from.Close()
	if err := usable(ctx, from); err != nil {
		return fault.Wrap(fault.Invalid, translate(err), "%s cannot be restored.", filepath.Base(file))
	}
	if err := copyTo(ctx, from, fresh); err != nil {
		return fault.Wrap(fault.Invalid, translate(err), "%s cannot be restored.", filepath.Base(file))
	}
	return nil
}

// usable reports why this program cannot use a database, or nil.
func usable(ctx context.Context, conn *sql.DB) error {
	have, err := version(ctx, conn)
	if err != nil {
		return err
	}
	newest, err := newestVersion()
	switch {
	case err != nil:
		return err
	case have == 0:
		return errors.New("it holds no club")
	case have > newest:
		return fmt.Errorf("%w (it has version %d, this program knows %d)", errNewer, have, newest)
	}
	return intact(ctx, conn)
}

// settle makes the database at target one file without companions and reports
// whether there is one. It fails when another program has it open. A damaged
// database is not opened any further: it is set aside as it is.
func settle(ctx context.Context, target string) (there bool, err error) {
	if _, err := os.Stat(target); errors.Is(err, os.ErrNotExist) {
		return false, nil
	} else if err != nil {
		return false, err
	}
	conn, err := sql.Open(driver, dsn(target, url.Values{}))
	if err != nil {
		return true, err
	}
	defer conn.Close()
	conn.SetMaxOpenConns(1)
	// Leaving the write-ahead log needs the database for oneself alone, which
	// is just what has to be known here.
	var mode string
	switch err := conn.QueryRowContext(ctx, "PRAGMA journal_mode = DELETE").Scan(&mode); {
	case isBusy(err):
		return true, fault.Wrap(fault.Conflict, err, "The database is in use; stop the server first.")
	case isDamage(err):
		return true, nil
	case err != nil:
		return true, err
	}
	return true, conn.Close()
}

// setAside gives the database at target a second name and returns it. Logs
// that a damaged database may have left go to that name, too: they must not be
// played into the restored one.
func setAside(target string) (string, error) {
	kept, err := freeName(target + ".replaced")
	if err != nil {
		return "", err
	}
	if err := os.Link(target, kept); err != nil {
		// A file system without links: a moment without a database it is.
		if err := os.Rename(target, kept); err != nil {
			return "", err
		}
	}
	for _, tail := range []string{"-wal", "-shm", "-journal"} {
		if err := os.Rename(target+tail, kept+tail); err != nil && !errors.Is(err, os.ErrNotExist) {
			return "", err
		}
	}
	return kept, nil
}

// freeName returns name, or name with the lowest number that is not taken.
func freeName(name string) (string, error) {
	for i := 1; ; i++ {
		try := name
		if i > 1 {
			try = fmt.Sprintf("%s.%d", name, i)
		}
		if _, err := os.Lstat(try); errors.Is(err, os.ErrNotExist) {
			return try, nil
		} else if err != nil {
			return "", err
		}
	}
}

func removeAll(names ...string) error {
	var errs []error
	for _, n := range names {
		if err := os.Remove(n); err != nil && !errors.Is(err, os.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}
