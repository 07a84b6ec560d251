package sky

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// columns reads one line by its columns and gathers what is wrong.
type columns struct {
	number int // of the line
	text   string
	faults Faults
}

// newColumns takes a line without its line end. Tabs and characters beyond
// ASCII would shift every column after them, so they are faults by themselves.
func newColumns(number int, text string) *columns {
	c := &columns{number: number, text: strings.TrimRight(text, " \r\n")}
	for i, r := range c.text {
		if r == '\t' {
			c.fault(i+1, "", "a tab: the format goes by columns, paste the line with its blanks")
			break
		}
		if r < ' ' || r > '~' {
			c.fault(i+1, "", fmt.Sprintf("the character %q does not belong here", r))
			break
		}
	}
	return c
}

func (c *columns) fault(column int, field, reason string) {
	c.faults = append(c.faults, Fault{c.number, column, field, reason})
}

// raw returns the characters from one column to another, both counted from 1,
// as far as the line goes.
func (c *columns) raw(from, to int) string {
	if from > len(c.text) {
		return ""
	}
	return c.text[from-1 : min(to, len(c.text))]
}

func (c *columns) trimmed(from, to int) string { return strings.TrimSpace(c.raw(from, to)) }

// blank wants an empty column: a character there means that the line is shifted.
func (c *columns) blank(at ...int) {
	for _, i := range at {
		if s := c.raw(i, i); s != "" && s != " " {
			c.fault(i, "", fmt.Sprintf("found %q where a blank should stand: the line is shifted", s))
		}
	}
}

// number reads a decimal number and wants it between low and high.
func (c *columns) decimal(from, to int, field string, low, high float64) float64 {
	s := c.trimmed(from, to)
	if s == "" {
		c.fault(from, field, "is missing")
		return math.NaN()
	}
	v, ok := plainNumber(s)
	switch {
	case !ok:
		c.fault(from, field, fmt.Sprintf("%q is not a number", s))
		return math.NaN()
	case v < low || v > high:
		c.fault(from, field, fmt.Sprintf("%s is not between %g and %g", s, low, high))
	}
	return v
}

// optional is decimal for what may be left blank: NaN then.
func (c *columns) optional(from, to int, field string, low, high float64) float64 {
	if c.trimmed(from, to) == "" {
		return math.NaN()
	}
	return c.decimal(from, to, field, low, high)
}

// integer reads digits only.
func (c *columns) integer(from, to int, field string, low, high int) int {
	v := c.decimal(from, to, field, float64(low), float64(high))
	if math.IsNaN(v) {
		return 0
	}
	if v != math.Trunc(v) {
		c.fault(from, field, fmt.Sprintf("%g is not a whole number", v))
	}
	return int(v)
}

// plainNumber reads digits with one optional sign and point: not the forms
// like 1e5, 0x1, 1_000, inf and nan that ParseFloat would take.
func plainNumber(s string) (float64, bool) {
	digits := strings.TrimLeft(s, "+-")
	if len(s)-len(digits) > 1 || strings.Trim(digits, "0123456789.") != "" || strings.Trim(digits, ".") == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}
