package web

import (
	"maps"
	"slices"
	"strings"

	"duskboard/internal/exchange"
	"duskboard/internal/fault"
)

// rowTable is how rows become things that one form enters, and back: the form
// that a page has judges each row, so that a table takes what the form takes.
type rowTable[T any] struct {
	kind    string // as the preview names it
	columns []exchange.ColumnInfo
	have    []T
	key     func(cells map[string]string) string // what finds a row's counterpart; "" finds none
	called  func(x T) string
	cells   func(x T) map[string]string
	// parse puts cells over old, the zero value for a new thing. Faults carry
	// the name of the column.
	parse func(cells map[string]string, old T) (T, fault.Fields)
}

// plan says what each row does and returns what is to be saved.
func (t rowTable[T]) plan(text string) (items []T, changes []exchange.Change, err error) {
	known := map[string]bool{}
	for _, c := range t.columns {
		known[exchange.Heading(c.Name)] = true
	}
	table, err := exchange.ReadTable(strings.NewReader(text), func(c string) bool { return known[c] })
	if err != nil {
		return nil, nil, err
	}
	at := map[string][]int{}
	for i, x := range t.have {
		k := t.key(t.cells(x))
		at[k] = append(at[k], i)
	}
	taken := map[string]int{}
	var faults exchange.Faults
	for _, row := range table.Rows {
		bad := func(column, message string) {
			faults = append(faults, exchange.Fault{Line: row.Line, Column: column, Message: message})
		}
		k := t.key(row.Cells)
		switch found := at[k]; {
		case k != "" && taken[k] > 0:
			bad("", "the same stands in an earlier row")
			continue
		case k != "" && len(found) > 1:
			bad("", "there are several that this could mean: change it on its own page")
			continue
		case k != "" && len(found) == 1:
			taken[k] = row.Line
			old := t.have[found[0]]
			before := t.cells(old)
			cells := maps.Clone(before)
			maps.Copy(cells, row.Cells)
			x, fs := t.parse(cells, old)
			for _, f := range fs {
				bad(f.Name, strings.TrimSuffix(f.Message, "."))
			}
			c := exchange.Change{Line: row.Line, Kind: t.kind, Name: t.called(x), Outcome: exchange.Same}
			if len(fs) == 0 {
				if c.Columns = differs(before, t.cells(x), t.columns); len(c.Columns) > 0 {
					c.Outcome = exchange.Changed
					items = append(items, x)
				}
			}
			changes = append(changes, c)
		default:
			taken[k] = row.Line
			var none T
			x, fs := t.parse(row.Cells, none)
			for _, f := range fs {
				bad(f.Name, strings.TrimSuffix(f.Message, "."))
			}
			items = append(items, x)
			changes = append(changes, exchange.Change{Line: row.Line, Kind: t.kind, Name: t.called(x), Outcome: exchange.Added})
		}
	}
	if err := faults.OrNil(); err != nil {
		return nil, nil, err
	}
	return items, changes, nil
}

// differs compares cell by cell, in the order of the columns.
func differs(was, is map[string]string, columns []exchange.ColumnInfo) []exchange.Differ {
	var out []exchange.Differ
	for _, c := range columns {
		if h := exchange.Heading(c.Name); was[h] != is[h] {
			out = append(out, exchange.Differ{Column: c.Name, Was: was[h], Is: is[h]})
		}
	}
	return out
}

// file writes what is there, so that plan reads it back without a change.
func (t rowTable[T]) file(numbers ...string) ([]byte, error) {
	heads := make([]string, len(t.columns))
	for i, c := range t.columns {
		heads[i] = c.Name
	}
	rows := make([][]string, len(t.have))
	for n, x := range t.have {
		cells := t.cells(x)
		rows[n] = make([]string, len(heads))
		for i, h := range heads {
			rows[n][i] = cells[exchange.Heading(h)]
		}
	}
	var b strings.Builder
	err := exchange.WriteTable(&b, heads, rows, func(i int) bool { return slices.Contains(numbers, heads[i]) })
	return []byte(b.String()), err
}

// renamed gives the faults of a form the names of the columns.
func renamed(faults fault.Fields, columns map[string]string) fault.Fields {
	out := make(fault.Fields, len(faults))
	for i, f := range faults {
		out[i] = f
		if c, ok := columns[f.Name]; ok {
			out[i].Name = c
		}
	}
	return out
}

// yesNoCell is a tick as a cell.
func yesNoCell(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// isYes reads such a cell; anything but the words for yes is no, as in the
// table of the crew.
func isYes(cell string) bool {
	return slices.Contains([]string{"yes", "y", "true", "1", "x"}, strings.ToLower(cell))
}
