package exchange

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"duskboard/internal/fault"
)

// Limits of a table, far above what a club has.
const (
	MaxSize = 1 << 20 // bytes
	maxRows = 5000
	maxCell = 4000 // characters
)

// Table is a spreadsheet as it was read.
type Table struct {
	Columns []string // headings, lower case, letters and digits only
	Rows    []Row
}

// Row is one line below the heading. Line is where it begins in the file, 1
// being the heading.
type Row struct {
	Line  int
	Cells map[string]string // trimmed, by column; empty cells are missing
}

// Fault is one thing wrong with a table. Line 0 means the whole file.
type Fault struct {
	Line    int
	Column  string // heading as the format knows it; "" means the whole row
	Message string
}

func (f Fault) String() string {
	switch {
	case f.Line == 0:
		return f.Message
	case f.Column == "":
		return fmt.Sprintf("row %d: %s", f.Line, f.Message)
	}
	return fmt.Sprintf("row %d, %s: %s", f.Line, f.Column, f.Message)
}

// Faults are all that is wrong with a table. As an error they are Invalid.
type Faults []Fault

func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, x := range f {
		lines[i] = x.String()
	}
	return strings.Join(lines, "\n")
}

// OrNil returns nil when there is no fault, else an error of kind Invalid.
func (f Faults) OrNil() error {
	if len(f) == 0 {
		return nil
	}
	return fault.Wrap(fault.Invalid, f, "nothing was imported: %d faults", len(f))
}

func whole(format string, args ...any) error {
	return Faults{{Message: fmt.Sprintf(format, args...)}}.OrNil()
}

// ReadTable reads a spreadsheet with a heading. Columns that known does not
// take are faults, so that a misspelt one is not dropped in silence.
func ReadTable(r io.Reader, known func(column string) bool) (Table, error) {
	b, err := io.ReadAll(io.LimitReader(r, MaxSize+1))
	if err != nil {
		return Table{}, err
	}
	if len(b) > MaxSize {
		return Table{}, whole("the file is larger than %d kB", MaxSize>>10)
	}
	b = bytes.TrimPrefix(b, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(b) {
		return Table{}, whole("the file is not UTF-8: choose “CSV UTF-8” when saving it in the spreadsheet")
	}
	if bytes.IndexByte(b, 0) >= 0 {
		return Table{}, whole("the file holds bytes that are no text: it is not CSV")
	}
	comma := separator(b)
	c := csv.NewReader(strings.NewReader(inchMarks(string(b), comma)))
	c.Comma, c.FieldsPerRecord = comma, -1
	return read(c, known)
}

func read(c *csv.Reader, known func(string) bool) (t Table, err error) {
	var faults Faults
	heading, err := c.Read()
	if err != nil {
		return t, whole("the table is empty or its heading cannot be read")
	}
	seen := map[string]bool{}
	for _, cell := range heading {
		name := Heading(cell)
		switch {
		case name == "":
			// A column without a heading may stand there while it is empty.
		case !known(name):
			faults = append(faults, Fault{1, strings.TrimSpace(cell), "there is no such column"})
		case seen[name]:
			faults = append(faults, Fault{1, name, "this column stands twice"})
		}
		seen[name] = true
		t.Columns = append(t.Columns, name)
	}
	for {
		cells, err := c.Read()
		if err == io.EOF {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			return Table{}, append(faults, Fault{broken.Line, "", "a quotation mark is missing or stands inside a cell"}).OrNil()
		}
		if err != nil {
			return Table{}, err
		}
		line, _ := c.FieldPos(0)
		if len(t.Rows) == maxRows {
			return Table{}, append(faults, Fault{line, "", fmt.Sprintf("more than %d rows", maxRows)}).OrNil()
		}
		row := Row{line, map[string]string{}}
		for i, cell := range cells {
			cell = strings.TrimSpace(cell)
			switch {
			case cell == "":
			case i >= len(t.Columns) || t.Columns[i] == "":
				faults = append(faults, Fault{line, "", fmt.Sprintf("“%s” stands in a column without a heading", clip(cell))})
			case utf8.RuneCountInString(cell) > maxCell:
				faults = append(faults, Fault{line, t.Columns[i], fmt.Sprintf("longer than %d characters", maxCell)})
			default:
				row.Cells[t.Columns[i]] = unguard(cell)
			}
		}
		if len(row.Cells) > 0 {
			t.Rows = append(t.Rows, row)
		}
	}
	if len(t.Rows) == 0 && len(faults) == 0 {
		return Table{}, whole("there is a heading but nothing below it")
	}
	return t, faults.OrNil()
}

// inchMarks turns a quotation mark inside a bare cell, as in 8", into the sign
// for inches: people type it, and RFC 4180 knows it only in quoted cells. The
// quotes around cells stay as they are, so that an open one is still a fault.
func inchMarks(s string, comma rune) string {
	var b strings.Builder
	const atStart, bare, quoted = 0, 1, 2
	state := atStart
	for _, r := range s {
		switch {
		case state == quoted:
			if r == '"' {
				state = atStart // its end, or the first of a doubled one
			}
		case r == comma || r == '\n':
			state = atStart
		case r == '"' && state == atStart:
			state = quoted
		case r == '"':
			r = '″'
		case r != '\r':
			state = bare
		}
		b.WriteRune(r)
	}
	return b.String()
}

// separator is the mark that stands most often in the heading, outside quotes.
func separator(b []byte) rune {
	counts, quoted := map[rune]int{}, false
	for _, r := range string(b[:min(len(b), 8192)]) {
		if r == '"' {
			quoted = !quoted
		}
		if r == '\n' && !quoted {
			break
		}
		if !quoted {
			counts[r]++
		}
	}
	best := ','
	for _, r := range []rune{';', '\t'} {
		if counts[r] > counts[best] {
			best = r
		}
	}
	return best
}

// Heading is a column's name with what does not matter taken away: case,
// spaces, signs, and a unit in brackets.
func Heading(cell string) string {
	cell, _, _ = strings.Cut(cell, "(")
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, cell)
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
