package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// What walks every table asks the database for them: a table that a later
// migration adds cannot be forgotten.

// table is one of our tables as the database describes it.
type table struct {
	name    string
	columns []tableColumn
	refs    []reference
	single  bool // has one row, for ever
}

type tableColumn struct {
	name string
	kind string // TEXT, INTEGER, REAL or BLOB: the tables are strict
	json bool   // holds JSON
	key  bool   // part of the primary key
}

// reference is a foreign key of one column. Of a key over several columns each
// is one.
type reference struct {
	from, to string // columns
	table    string // referred to
	onDelete string
}

func (t table) column(name string) (tableColumn, bool) {
	i := slices.IndexFunc(t.columns, func(c tableColumn) bool { return c.name == name })
	if i < 0 {
		return tableColumn{}, false
	}
	return t.columns[i], true
}

func (t table) columnList() string {
	names := make([]string, len(t.columns))
	for i, c := range t.columns {
		names[i] = quoted(c.name)
	}
	return strings.Join(names, ", ")
}

// keyList orders rows the same way every time.
func (t table) keyList() string {
	var names []string
	for _, c := range t.columns {
		if c.key {
			names = append(names, quoted(c.name))
		}
	}
	return strings.Join(names, ", ")
}

// quoted is a name from the schema as SQL wants it.
func quoted(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

// querier is a transaction or a connection.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

var jsonCheck = regexp.MustCompile(`json_valid\((\w+)\)`)

// tables returns our tables, each behind those that it refers to.
func tables(ctx context.Context, db querier) ([]table, error) {
	made, err := pairs(ctx, db, `SELECT name, sql FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version' ORDER BY name`)
	if err != nil {
		return nil, err
	}
	var all []table
	for _, m := range made {
		t := table{name: m[0]}
		if err := describe(ctx, db, &t, m[1]); err != nil {
			return nil, err
		}
		all = append(all, t)
	}
	return inOrder(all), nil
}

// describe fills columns and references.
func describe(ctx context.Context, db querier, t *table, made string) error {
	asJSON := map[string]bool{}
	for _, m := range jsonCheck.FindAllStringSubmatch(made, -1) {
		asJSON[m[1]] = true
	}
	t.single = strings.Contains(made, "CHECK (id = 1)")
	rows, err := db.QueryContext(ctx, `SELECT name, type, pk FROM pragma_table_info(?) ORDER BY cid`, t.name)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var c tableColumn
		var pk int
		if err := rows.Scan(&c.name, &c.kind, &pk); err != nil {
			return err
		}
		c.json, c.key = asJSON[c.name], pk > 0
		t.columns = append(t.columns, c)
	}
	if err := rows.Err(); err != nil {
		return err
	}
	keys, err := db.QueryContext(ctx, `SELECT "from", coalesce("to", 'id'), "table", on_delete FROM pragma_foreign_key_list(?) ORDER BY id, seq`, t.name)
	if err != nil {
		return err
	}
	defer keys.Close()
	for keys.Next() {
		var r reference
		if err := keys.Scan(&r.from, &r.to, &r.table, &r.onDelete); err != nil {
			return err
		}
		t.refs = append(t.refs, r)
	}
	return keys.Err()
}

// inOrder puts each table behind those that it refers to. No table refers in a
// circle; the tests of migrations fill all of them in such an order.
func inOrder(all []table) []table {
	var out []table
	done := map[string]bool{}
	var visit func(t table)
	visit = func(t table) {
		if done[t.name] {
			return
		}
		done[t.name] = true
		for _, r := range t.refs {
			for _, other := range all {
				if other.name == r.table {
					visit(other)
				}
			}
		}
		out = append(out, t)
	}
	for _, t := range all {
		visit(t)
	}
	return out
}

// pairs returns the rows of a query of two texts.
func pairs(ctx context.Context, db querier, query string, args ...any) (out [][2]string, err error) {
	rows, err := db.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var p [2]string
		if err := rows.Scan(&p[0], &p[1]); err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, rows.Err()
}

// appendRow appends a row as a JSON object, columns in the order of the table.
// JSON in a column stands in it as JSON, byte for byte; a blob is refused.
func (t table) appendRow(b []byte, values []any) ([]byte, error) {
	b = append(b, '{')
	for i, c := range t.columns {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(strconv.AppendQuote(b, c.name), ':')
		switch v := values[i].(type) {
		case nil:
			b = append(b, "null"...)
		case int64:
			b = strconv.AppendInt(b, v, 10)
		case float64:
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, fmt.Errorf("%s.%s holds a number that JSON cannot write", t.name, c.name)
			}
			// The shortest text that reads back to the same number.
			b = strconv.AppendFloat(b, v, 'g', -1, 64)
		case string:
			if c.json {
				b = append(b, v...)
				continue
			}
			s, err := json.Marshal(v)
			if err != nil {
				return nil, err
			}
			b = append(b, s...)
		default:
			return nil, fmt.Errorf("%s.%s holds %T, which has no place in a JSON row", t.name, c.name, v)
		}
	}
	return append(b, '}'), nil
}

// values turns a JSON object into the values of the columns, in their order.
// Every column must be there and nothing else.
func (t table) values(raw json.RawMessage) ([]any, error) {
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(raw, &fields); err != nil {
		return nil, fmt.Errorf("not a row: %w", err)
	}
	out := make([]any, len(t.columns))
	for i, c := range t.columns {
		f, ok := fields[c.name]
		if !ok {
			return nil, fmt.Errorf("%q is missing", c.name)
		}
		v, err := c.value(f)
		if err != nil {
			return nil, fmt.Errorf("%q: %w", c.name, err)
		}
		out[i] = v
	}
	if len(fields) != len(t.columns) {
		for name := range fields {
			if _, known := t.column(name); !known {
				return nil, fmt.Errorf("%.60q is not known", name)
			}
		}
	}
	return out, nil
}

// value reads one column.
func (c tableColumn) value(f json.RawMessage) (any, error) {
	if bytes.Equal(f, []byte("null")) {
		return nil, nil
	}
	if c.json {
		return string(f), nil
	}
	switch c.kind {
	case "INTEGER":
		var n int64
		err := json.Unmarshal(f, &n)
		return n, err
	case "REAL":
		var x float64
		err := json.Unmarshal(f, &x) // 1e309 is refused here
		return x, err
	case "TEXT":
		var s string
		err := json.Unmarshal(f, &s)
		return s, err
	}
	return nil, fmt.Errorf("a column of type %s cannot be read", c.kind)
}

// rowOf returns one row as JSON by its id; nil when there is none.
func (t table) rowOf(ctx context.Context, db querier, id int64) (json.RawMessage, error) {
	values := make([]any, len(t.columns))
	into := make([]any, len(values))
	for i := range values {
		into[i] = &values[i]
	}
	err := db.QueryRowContext(ctx, "SELECT "+t.columnList()+" FROM "+quoted(t.name)+" WHERE id = ?", id).Scan(into...)
	if err == sql.ErrNoRows {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return t.appendRow(nil, values)
}

// insert is the statement that writes a whole row.
func (t table) insert() string {
	return "INSERT INTO " + quoted(t.name) + " (" + t.columnList() + ") VALUES (?" + strings.Repeat(", ?", len(t.columns)-1) + ")"
}
