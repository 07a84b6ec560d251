package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// Check is one finding of Doctor.
type Check struct {
	Name  string // "integrity"
	OK    bool
	Words string // what was found and, when it is not OK, what to do
}

// lowSpace is the free space below which Doctor warns: a database of a club is
// a few megabytes, and backups and logs need room beside it.
const lowSpace = 200 << 20 // bytes

// Doctor looks at the database at path without changing it. It also works
// while a server uses the database, and on one that Open refuses.
func Doctor(ctx context.Context, path string) []Check {
	checks := []Check{space(filepath.Dir(path)), folder(filepath.Dir(path))}
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		return append(checks, Check{"database", true, "there is none yet at " + path + "; the first start makes it"})
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return append(checks, Check{"database", false, err.Error()})
	}
	conn, err := sql.Open(driver, readDSN(abs))
	if err != nil {
		return append(checks, Check{"database", false, err.Error()})
	}
	defer conn.Close()
	return append(checks, schema(ctx, conn), integrity(ctx, conn))
}

func schema(ctx context.Context, conn *sql.DB) Check {
	const name = "version"
	have, err := version(ctx, conn)
	if err != nil {
		return Check{name, false, translate(err).Error()}
	}
	newest, err := newestVersion()
	switch {
	case err != nil:
		return Check{name, false, err.Error()}
	case have > newest:
		return Check{name, false, fmt.Sprintf("%v (it has version %d, this program knows %d)", errNewer, have, newest)}
	case have < newest:
		return Check{name, true, fmt.Sprintf("the database has version %d; the next start copies it and brings it to %d", have, newest)}
	}
	return Check{name, true, fmt.Sprintf("the database has version %d, the newest", have)}
}

func integrity(ctx context.Context, conn *sql.DB) Check {
	const name = "integrity"
	if err := intact(ctx, conn); err != nil {
		return Check{name, false, translate(err).Error() + "; stop the server, keep the file and restore a backup"}
	}
	var pages, size int64
	if err := conn.QueryRowContext(ctx, "SELECT page_count, page_size FROM pragma_page_count, pragma_page_size").Scan(&pages, &size); err != nil {
		return Check{name, false, translate(err).Error()}
	}
	return Check{name, true, fmt.Sprintf("the database is whole (%s)", megabytes(pages*size))}
}

// folder tries whether the data folder can be written: SQLite needs that for
// its log, even where the database itself can be written.
func folder(dir string) Check {
	const name = "folder"
	f, err := os.CreateTemp(dir, ".duskboard-check-*")
	if err != nil {
		return Check{name, false, fmt.Sprintf("the folder %s cannot be written (%v); check its owner and permissions", dir, err)}
	}
	if err := errors.Join(f.Close(), os.Remove(f.Name())); err != nil {
		return Check{name, false, err.Error()}
	}
	return Check{name, true, fmt.Sprintf("the folder %s can be written", dir)}
}

func space(dir string) Check {
	const name = "free space"
	free, err := freeSpace(dir)
	switch {
	case errors.Is(err, errors.ErrUnsupported):
		return Check{name, true, "not known on this system"}
	case err != nil:
		return Check{name, false, err.Error()}
	case free < lowSpace:
		return Check{name, false, fmt.Sprintf("only %s are free in %s; make room, or writes will be refused", megabytes(free), dir)}
	}
	return Check{name, true, fmt.Sprintf("%s are free in %s", megabytes(free), dir)}
}

func megabytes(n int64) string { return fmt.Sprintf("%.1f MB", float64(n)/1e6) }
