package store

import (
	"bufio"
	"context"
	"database/sql"
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"time"

	"duskboard/internal/privacy"
	"duskboard/internal/store/db"
)

// WholeFormat is the first word of a file with everything that a club entered:
//
//	{"format": "duskboard-club/1", "schema": 15, "made": "2026-09-14T11:00:00Z",
//	 "tables": {"club": [{"id": 1, "name": "…", …}], "sites": […], …},
//	 "sequences": {"showings": 812, …}}
//
// tables holds every table of the schema of that number (see migrations/), each
// after those that it refers to, one object a row, keyed by column; columns
// that hold JSON hold it as JSON. Left out are the tables that let somebody in
// (sessions and links), and passwords are empty: package privacy says which.
// sequences are the highest ids that were given out. testdata/club holds a
// schema of it.
const WholeFormat = "duskboard-club/1"

// Progress is told how many rows of how many were written or read.
type Progress = func(done, all int64)

// Whole writes everything that the club entered, as of one moment. size is told
// the length in bytes before the first one is written; it and progress may be
// nil.
func (s *Store) Whole(ctx context.Context, w io.Writer, now time.Time, size func(bytes int64), progress Progress) error {
	return s.readTx(ctx, "take everything out", func(tx *sql.Tx, _ *db.Queries) error {
		x, err := newWhole(ctx, tx, now)
		if err != nil {
			return err
		}
		if size != nil {
			var n counter
			if err := x.write(ctx, tx, &n, nil); err != nil {
				return err
			}
			size(int64(n))
		}
		return x.write(ctx, tx, w, progress)
	})
}

// counter counts what is written.
type counter int64

func (c *counter) Write(b []byte) (int, error) {
	*c += counter(len(b))
	return len(b), nil
}

// whole is one file about to be written.
type whole struct {
	schema int64
	made   time.Time
	tables []table
	rows   int64
}

func newWhole(ctx context.Context, tx *sql.Tx, now time.Time) (*whole, error) {
	x := &whole{made: now.UTC()}
	all, err := tables(ctx, tx)
	if err != nil {
		return nil, err
	}
	for _, t := range all {
		if !leftOut(t.name) {
			x.tables = append(x.tables, t)
		}
	}
	if err := tx.QueryRowContext(ctx, "SELECT coalesce(max(version_id), 0) FROM goose_db_version").Scan(&x.schema); err != nil {
		return nil, err
	}
	for _, t := range x.tables {
		var n int64
		if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM "+quoted(t.name)).Scan(&n); err != nil {
			return nil, err
		}
		x.rows += n
	}
	return x, nil
}

// leftOut reports whether a table is in no file that is taken out.
func leftOut(name string) bool {
	e, _ := privacy.Of(name)
	return e.Out != ""
}

// secret returns which columns of a table are emptied.
func secret(name string) []string {
	e, _ := privacy.Of(name)
	return privacy.Columns(e.Secret)
}

func (x *whole) write(ctx context.Context, tx *sql.Tx, out io.Writer, progress Progress) error {
	w := bufio.NewWriterSize(out, 1<<16)
	w.WriteString(`{"format":"` + WholeFormat + `","schema":` + strconv.FormatInt(x.schema, 10) + `,"made":"` + x.made.Format(time.RFC3339) + `","tables":{`)
	var done int64
	for i, t := range x.tables {
		if i > 0 {
			w.WriteByte(',')
		}
		w.WriteString("\n" + strconv.Quote(t.name) + ":[")
		err := eachRow(ctx, tx, t, "", nil, func(n int, row []byte) error {
			if n > 0 {
				w.WriteByte(',')
			}
			w.WriteByte('\n')
			if done++; progress != nil && done%1000 == 0 {
				progress(done, x.rows)
			}
			_, err := w.Write(row)
			return err
		})
		if err != nil {
			return err
		}
		w.WriteByte(']')
	}
	w.WriteString("\n},\n\"sequences\":{")
	sequences, err := pairs(ctx, tx, "SELECT name, CAST(seq AS TEXT) FROM sqlite_sequence ORDER BY name")
	if err != nil {
		return err
	}
	sequences = slices.DeleteFunc(sequences, func(p [2]string) bool {
		return !slices.ContainsFunc(x.tables, func(t table) bool { return t.name == p[0] })
	})
	for i, p := range sequences {
		if i > 0 {
			w.WriteByte(',')
		}
		w.WriteString(strconv.Quote(p[0]) + ":" + p[1])
	}
	w.WriteString("}}\n")
	if progress != nil {
		progress(done, x.rows)
	}
	return w.Flush() // an error of any write before is returned here
}

// eachRow gives the rows of a table as JSON, in the order of the key; secret
// columns are empty. where is a condition or "".
func eachRow(ctx context.Context, tx querier, t table, where string, args []any, use func(n int, row []byte) error) error {
	query := "SELECT " + t.columnList() + " FROM " + quoted(t.name)
	if where != "" {
		query += " WHERE " + where
	}
	rows, err := tx.QueryContext(ctx, query+" ORDER BY "+t.keyList(), args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	hidden := secret(t.name)
	values := make([]any, len(t.columns))
	into := make([]any, len(values))
	for i := range values {
		into[i] = &values[i]
	}
	var b []byte
	for n := 0; rows.Next(); n++ {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		for i, c := range t.columns {
			if slices.Contains(hidden, c.name) {
				values[i] = ""
			}
		}
		if b, err = t.appendRow(b[:0], values); err != nil {
			return err
		}
		if err := use(n, b); err != nil {
			return err
		}
	}
	return rows.Err()
}

// Person writes all that is known about one volunteer: their row, every row
// that refers to it, the kit that is theirs, and the lines of the histories
// that name them.
func (s *Store) Person(ctx context.Context, w io.Writer, id int64) error {
	return s.readTx(ctx, "take a person's data out", func(tx *sql.Tx, q *db.Queries) error {
		v, err := q.GetVolunteer(ctx, id)
		if err != nil {
			return missing(err, "volunteer", id)
		}
		all, err := tables(ctx, tx)
		if err != nil {
			return err
		}
		found := map[string][]json.RawMessage{}
		add := func(t table, where string, args ...any) error {
			return eachRow(ctx, tx, t, where, args, func(_ int, row []byte) error {
				found[t.name] = append(found[t.name], slices.Clone(row))
				return nil
			})
		}
		for _, t := range all {
			if t.name == "volunteers" {
				err = add(t, "id = ?", id)
			}
			for _, r := range t.refs {
				if r.table == "volunteers" && err == nil {
					err = add(t, quoted(r.from)+" = ?", id)
				}
			}
			_, who := t.column("who")
			_, what := t.column("what")
			switch {
			case err != nil || v.Forgotten:
			case who && what && t.name != "imports":
				err = add(t, "who = ?1 OR instr(what, ?1) > 0", v.Name)
			case who && t.name != "consents":
				err = add(t, "who = ?", v.Name)
			}
			if err != nil {
				return err
			}
		}
		var told []privacyNote
		for _, e := range privacy.Table {
			if len(found[e.Table]) > 0 {
				told = append(told, privacyNote{e.Table, e.Title, e.About, e.Why, e.Seen, e.Kept, found[e.Table]})
			}
		}
		enc := json.NewEncoder(w)
		enc.SetIndent("", "  ")
		enc.SetEscapeHTML(false)
		return enc.Encode(struct {
			Format string        `json:"format"`
			Name   string        `json:"name"`
			Kept   []privacyNote `json:"kept"`
		}{"duskboard-person/1", v.Name, told})
	})
}

// privacyNote is what one table holds about a person, with the reason.
type privacyNote struct {
	Table string            `json:"table"`
	Title string            `json:"title"`
	About string            `json:"about"`
	Why   string            `json:"why"`
	Seen  string            `json:"seenBy"`
	Kept  string            `json:"keptUntil"`
	Rows  []json.RawMessage `json:"rows"`
}

// Rows returns how many rows a file with everything has.
func (s *Store) Rows(ctx context.Context) (n int64, err error) {
	err = s.readTx(ctx, "count rows", func(tx *sql.Tx, _ *db.Queries) error {
		x, err := newWhole(ctx, tx, time.Time{})
		if err == nil {
			n = x.rows
		}
		return err
	})
	return n, err
}
