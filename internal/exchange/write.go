package exchange

import (
	"encoding/csv"
	"io"
	"strings"
)

// dangerous are the first characters at which a spreadsheet takes a cell for a
// formula (OWASP ASVS 5.0, 1.2.10), the full-width forms of some among them.
const dangerous = "=+-@\t\r\n\x00＝＋－＠"

// guard puts an apostrophe before text that a spreadsheet would run. Numbers
// are written by the caller without it, so that -5 stays a number.
func guard(s string) string {
	if s != "" && strings.ContainsRune(dangerous, []rune(s)[0]) {
		return "'" + s
	}
	return s
}

// unguard takes the apostrophe of guard away again.
func unguard(s string) string {
	if rest, ok := strings.CutPrefix(s, "'"); ok && rest != "" && strings.ContainsRune(dangerous, []rune(rest)[0]) {
		return rest
	}
	return s
}

// WriteTable writes a heading and rows as RFC 4180 has it: commas, CRLF, UTF-8
// with a byte-order mark, without which spreadsheets take it for another
// encoding. Cells are guarded; those of number are not.
func WriteTable(w io.Writer, columns []string, rows [][]string, number func(column int) bool) error {
	if _, err := io.WriteString(w, "\ufeff"); err != nil {
		return err
	}
	c := csv.NewWriter(w)
	c.UseCRLF = true
	if err := c.Write(columns); err != nil {
		return err
	}
	for _, row := range rows {
		safe := make([]string, len(row))
		for i, cell := range row {
			if safe[i] = cell; !number(i) {
				safe[i] = guard(cell)
			}
		}
		if err := c.Write(safe); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}
