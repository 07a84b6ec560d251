package catalog

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// row is one line of a table, by column name.
type row struct {
	table  string
	line   int
	cells  []string
	column map[string]int // shared by the rows of a table
	err    *error         // first fault of the table
}

// readTable splits a .psv table: '#' comments, a head line, then rows. Every
// fault names the file and line; the embedded tables are read by a test, so a
// fault there never reaches a club.
func readTable(name string) ([]row, *error, error) {
	text, err := data.ReadFile("data/" + name)
	if err != nil {
		return nil, nil, err
	}

	var column map[string]int
	var rows []row
	fault := new(error)
	for i, line := range strings.Split(string(text), "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		cells := strings.Split(line, "|")
		if column == nil {
			column = make(map[string]int, len(cells))
			for k, c := range cells {
				column[c] = k
			}
			continue
		}
		if len(cells) != len(column) {
			return nil, nil, fmt.Errorf("%s line %d: %d columns, want %d", name, i+1, len(cells), len(column))
		}
		rows = append(rows, row{table: name, line: i + 1, cells: cells, column: column, err: fault})
	}
	return rows, fault, nil
}

// text returns a cell.
func (r row) text(column string) string {
	if i, found := r.column[column]; found {
		return r.cells[i]
	}
	return ""
}

// number returns a cell as a number, or empty when the cell is.
func (r row) number(column string, empty float64) float64 {
	s := r.text(column)
	if s == "" {
		return empty
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		r.fail("%s: %q is not a number", column, s)
	}
	return v
}

// pair returns a cell that holds two numbers.
func (r row) pair(column string) (a, b float64) {
	s := r.text(column)
	if s == "" {
		return 0, 0
	}
	if _, err := fmt.Sscanf(s, "%g %g", &a, &b); err != nil {
		r.fail("%s: %q is not two numbers", column, s)
	}
	return a, b
}

// list returns a cell of several entries.
func (r row) list(column string) []string {
	s := r.text(column)
	if s == "" {
		return nil
	}
	return strings.Split(s, ", ")
}

func (r row) fail(format string, args ...any) {
	if *r.err == nil {
		*r.err = fmt.Errorf("%s line %d: %s", r.table, r.line, fmt.Sprintf(format, args...))
	}
}
