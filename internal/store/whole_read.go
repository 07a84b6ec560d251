package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"github.com/mattn/go-sqlite3"
	"github.com/pressly/goose/v3"

	"duskboard/internal/fault"
	"duskboard/migrations"
)

// Limits of a file with everything. Files come from whoever has them.
const (
	maxRowBytes = 8 << 20 // one row: a night's history holds whole line-ups
	maxRowDepth = 40      // of JSON within JSON; our own records have six
)

// ReadWhole makes a club from a file that [Store.Whole] wrote. There must be no
// database at path yet. The file may be of an earlier schema: it is read into
// tables as they were then, and brought to the newest. All of it or nothing:
// until every row is in and checked, no file is at path.
func ReadWhole(ctx context.Context, r io.Reader, path string, progress Progress) (err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("read a club: %w", translate(err))
		}
	}()
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		if err != nil {
			return err
		}
		return fault.New(fault.Conflict, "There is a club in this folder already. Everything is read into an empty one: name another folder.")
	}
	fresh := path + ".reading"
	clean := func() error { return removeAll(fresh, fresh+"-wal", fresh+"-shm", fresh+"-journal") }
	if err := clean(); err != nil {
		return err
	}
	defer clean()
	if err := readInto(ctx, r, fresh, progress); err != nil {
		return err
	}
	// Brings an older schema to the newest, and leaves one whole file.
	s, err := Open(ctx, fresh)
	if err != nil {
		return err
	}
	if err := errors.Join(intact(ctx, s.reader), s.Close()); err != nil {
		return err
	}
	if err := removeCopies(fresh); err != nil {
		return err
	}
	if err := os.Rename(fresh, path); err != nil {
		return err
	}
	return syncDir(filepath.Dir(path))
}

// removeCopies removes what the migration copied before it changed the file
// that nobody has seen yet.
func removeCopies(fresh string) error {
	copies, err := filepath.Glob(fresh + ".before-update-*")
	if err != nil {
		return err
	}
	return removeAll(copies...)
}

func readInto(ctx context.Context, r io.Reader, fresh string, progress Progress) error {
	d := json.NewDecoder(&lineGuard{r: r})
	in := reading{ctx: ctx, d: d, progress: progress}
	if err := in.head(); err != nil {
		return err
	}
	newest, err := newestVersion()
	if err != nil {
		return err
	}
	if in.schema < 1 || in.schema > newest {
		return fault.New(fault.Invalid, "This file was written by a newer version of Duskboard (schema %d, this program knows %d). Use that version.", in.schema, newest)
	}
	if err := makePrivate(fresh); err != nil {
		return err
	}
	// Without foreign keys, which are checked at the end: rows come table by table.
	conn, err := sql.Open(driver, dsn(fresh, url.Values{"_foreign_keys": {"false"}, "_txlock": {"immediate"}}))
	if err != nil {
		return err
	}
	defer conn.Close()
	conn.SetMaxOpenConns(1)
	g, err := goose.NewProvider(goose.DialectSQLite3, conn, migrations.FS, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	if _, err := g.UpTo(ctx, in.schema); err != nil {
		return err
	}
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := in.body(tx); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	if err := checkLinks(ctx, conn); err != nil {
		return fault.Wrap(fault.Invalid, err, "The file is not whole.")
	}
	return nil
}

// reading is a file being read.
type reading struct {
	ctx      context.Context
	d        *json.Decoder
	progress Progress
	schema   int64
	tables   map[string]table
	done     int64
}

// expect reads one token of the frame.
func (in *reading) expect(want json.Token) error {
	got, err := in.d.Token()
	if err != nil {
		return in.broken(err)
	}
	if got != want {
		return fault.New(fault.Invalid, "This is not a file of a whole club: %v stands where %v should (at byte %d).", clipped(got), want, in.d.InputOffset())
	}
	return nil
}

func clipped(t json.Token) string { return fmt.Sprintf("%.40q", fmt.Sprint(t)) }

func (in *reading) broken(err error) error {
	var own *fault.Error
	if errors.As(err, &own) || in.ctx.Err() != nil {
		return err
	}
	return fault.Wrap(fault.Invalid, err, "The file cannot be read as JSON (at byte %d).", in.d.InputOffset())
}

// head reads what stands before the tables.
func (in *reading) head() error {
	if err := in.expect(json.Delim('{')); err != nil {
		return err
	}
	format := ""
	for _, f := range []struct {
		key  string
		into any
	}{{"format", &format}, {"schema", &in.schema}, {"made", new(string)}} {
		if err := in.expect(f.key); err != nil {
			return err
		}
		if err := in.d.Decode(f.into); err != nil {
			return in.broken(err)
		}
		if f.key == "format" && format != WholeFormat {
			return fault.New(fault.Invalid, "This is not a file of a whole club: its format is %.60q, not %q.", format, WholeFormat)
		}
	}
	if err := in.expect("tables"); err != nil {
		return err
	}
	return in.expect(json.Delim('{'))
}

// body reads all tables and what comes after them.
func (in *reading) body(tx *sql.Tx) error {
	all, err := tables(in.ctx, tx)
	if err != nil {
		return err
	}
	in.tables = map[string]table{}
	for _, t := range all {
		in.tables[t.name] = t
		// What the migrations put there for a new club; the file has its own.
		if _, err := tx.ExecContext(in.ctx, "DELETE FROM "+quoted(t.name)); err != nil {
			return err
		}
	}
	for in.d.More() {
		if err := in.table(tx); err != nil {
			return err
		}
	}
	for _, want := range []json.Token{json.Delim('}'), "sequences"} {
		if err := in.expect(want); err != nil {
			return err
		}
	}
	for name, t := range in.tables {
		if !leftOut(t.name) {
			return fault.New(fault.Invalid, "The file is not whole: the table %q is missing.", name)
		}
	}
	var sequences map[string]int64
	if err := in.d.Decode(&sequences); err != nil {
		return in.broken(err)
	}
	for name, n := range sequences {
		if _, err := tx.ExecContext(in.ctx, "UPDATE sqlite_sequence SET seq = max(seq, ?2) WHERE name = ?1", name, n); err != nil {
			return err
		}
		if _, err := tx.ExecContext(in.ctx, "INSERT INTO sqlite_sequence (name, seq) SELECT name, ?2 FROM sqlite_master WHERE type = 'table' AND name = ?1 AND sql LIKE '%AUTOINCREMENT%' AND NOT EXISTS (SELECT 1 FROM sqlite_sequence WHERE name = ?1)", name, n); err != nil {
			return err
		}
	}
	if err := in.expect(json.Delim('}')); err != nil {
		return err
	}
	if _, err := in.d.Token(); err != io.EOF {
		return fault.New(fault.Invalid, "Something stands behind the end of the file.")
	}
	if in.progress != nil {
		in.progress(in.done, in.done)
	}
	return nil
}

// table reads the rows of one table. A table leaves the list when it was read:
// none may come twice.
func (in *reading) table(tx *sql.Tx) error {
	name, err := in.d.Token()
	if err != nil {
		return in.broken(err)
	}
	t, ok := in.tables[fmt.Sprint(name)]
	if !ok || leftOut(t.name) {
		return fault.New(fault.Invalid, "The file has a table %s, which is not one of schema %d or stands twice.", clipped(name), in.schema)
	}
	delete(in.tables, t.name)
	if err := in.expect(json.Delim('[')); err != nil {
		return err
	}
	put, err := tx.PrepareContext(in.ctx, t.insert())
	if err != nil {
		return err
	}
	defer put.Close()
	for n := 1; in.d.More(); n++ {
		var row json.RawMessage
		if err := in.d.Decode(&row); err != nil {
			return in.broken(err)
		}
		values, err := t.values(row)
		if err == nil {
			_, err = put.ExecContext(in.ctx, values...)
		}
		if err != nil {
			return rowFault(t.name, n, err)
		}
		if in.done++; in.progress != nil && in.done%1000 == 0 {
			in.progress(in.done, 0)
		}
	}
	var rows int
	if err := tx.QueryRowContext(in.ctx, "SELECT count(*) FROM "+quoted(t.name)).Scan(&rows); err != nil {
		return err
	}
	if t.single && rows != 1 {
		return fault.New(fault.Invalid, "The file is not whole: the table %q has no row.", t.name)
	}
	return in.expect(json.Delim(']'))
}

// rowFault names the row at fault, unless the machine is.
func rowFault(name string, n int, err error) error {
	var e sqlite3.Error
	if errors.As(err, &e) && e.Code != sqlite3.ErrConstraint && e.Code != sqlite3.ErrMismatch {
		return err
	}
	return fault.Wrap(fault.Invalid, err, "Row %d of the table %q cannot be taken: %s.", n, name, strings.TrimSuffix(err.Error(), "."))
}

// lineGuard bounds what the decoder takes at once: our files have a row on each
// line, so a line beyond the limit, or brackets deeper than any of ours, are
// refused before they fill the memory.
type lineGuard struct {
	r      io.Reader
	line   int
	depth  int
	quoted bool
	escape bool
}

func (g *lineGuard) Read(p []byte) (int, error) {
	n, err := g.r.Read(p)
	for _, b := range p[:n] {
		g.line++
		switch {
		case b == '\n':
			g.line = 0
		case g.escape:
			g.escape = false
		case g.quoted && b == '\\':
			g.escape = true
		case b == '"':
			g.quoted = !g.quoted
		case !g.quoted && (b == '{' || b == '['):
			g.depth++
		case !g.quoted && (b == '}' || b == ']'):
			g.depth--
		}
		if g.line > maxRowBytes {
			return 0, fault.New(fault.Invalid, "A line of the file is longer than %d MB.", maxRowBytes>>20)
		}
		if g.depth > maxRowDepth {
			return 0, fault.New(fault.Invalid, "The file has brackets within brackets, deeper than %d.", maxRowDepth)
		}
	}
	return n, err
}
