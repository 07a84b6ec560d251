package catalog

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"duskboard/internal/sky"
)

// Limits of an import, far above what a club has.
const (
	maxCSVBytes = 2 << 20
	maxCSVRows  = 2000
)

// CSVError is one fault of an imported table.
type CSVError struct {
	Line   int    // 1 is the heading
	Column int    // 1 is the first; 0 the whole line
	Field  string // name of the column; may be empty
	Reason string
}

func (e CSVError) Error() string {
	switch {
	case e.Column == 0:
		return fmt.Sprintf("line %d: %s", e.Line, e.Reason)
	case e.Field == "":
		return fmt.Sprintf("line %d, column %d: %s", e.Line, e.Column, e.Reason)
	}
	return fmt.Sprintf("line %d, column %d (%s): %s", e.Line, e.Column, e.Field, e.Reason)
}

// CSVErrors are all faults of an imported table, in order of lines.
type CSVErrors []CSVError

func (e CSVErrors) Error() string {
	lines := make([]string, len(e))
	for i, fault := range e {
		lines[i] = fault.Error()
	}
	return strings.Join(lines, "\n")
}

// csvColumns are the headings, with other spellings that are taken too.
var csvColumns = map[string][]string{
	"name":          {"target", "object"},
	"ra":            {"rightascension", "raj2000"},
	"dec":           {"declination", "decl", "decj2000"},
	"kind":          {"type"},
	"constellation": {"con"},
	"mag":           {"magnitude", "vmag", "v"},
	"major":         {"size", "majoraxis", "diameter"},
	"minor":         {"minoraxis"},
	"pa":            {"positionangle"},
	"ly":            {"lightyears", "distance"},
	"line":          {"openingline"},
	"lookfor":       {},
	"expect":        {},
	"find":          {},
}

// ParseCSV reads the club's own targets: a heading, then one target a line.
// name, ra and dec are needed; the other columns are kind, constellation, mag,
// major and minor (arcminutes), pa (degrees), ly (light-years), line, lookfor,
// expect and find. Separated by comma, semicolon or tab; with semicolons numbers
// may have decimal commas. A byte-order mark is skipped. All or nothing: on any
// fault no target is returned, and the error is CSVErrors with every one.
func ParseCSV(r io.Reader) ([]Target, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxCSVBytes+1))
	if err != nil {
		return nil, err
	}
	if len(text) > maxCSVBytes {
		return nil, CSVErrors{{Line: 1, Reason: "the table is larger than 2 MB"}}
	}
	if line := firstBadUTF8(text); line > 0 {
		return nil, CSVErrors{{Line: line, Reason: "the text is not UTF-8; save the table as CSV UTF-8"}}
	}

	body := strings.TrimPrefix(string(text), "\ufeff")
	c := csv.NewReader(strings.NewReader(body))
	c.Comma = separatorOf(body)
	c.FieldsPerRecord = -1 // told below, in our words
	c.TrimLeadingSpace = true
	t := csvTable{reader: c, ids: make(map[string]int)}
	t.read()
	if len(t.faults) > 0 {
		return nil, t.faults
	}
	return t.targets, nil
}

func firstBadUTF8(text []byte) (line int) {
	if utf8.Valid(text) {
		return 0
	}
	line = 1
	for len(text) > 0 {
		r, n := utf8.DecodeRune(text)
		if r == utf8.RuneError && n == 1 {
			return line
		}
		if r == '\n' {
			line++
		}
		text = text[n:]
	}
	return line
}

// separatorOf is the most frequent of the three in the heading.
func separatorOf(body string) rune {
	heading, _, _ := strings.Cut(body, "\n")
	best, most := ',', 0
	for _, s := range ",;\t" {
		if n := strings.Count(heading, string(s)); n > most {
			best, most = s, n
		}
	}
	return best
}

type csvTable struct {
	reader  *csv.Reader
	columns []string       // our name of each column
	ids     map[string]int // line of each id
	targets []Target
	faults  CSVErrors
}

func (t *csvTable) fault(line, column int, reason string) {
	f := CSVError{Line: line, Column: column, Reason: reason}
	if column > 0 && column <= len(t.columns) {
		f.Field = t.columns[column-1]
	}
	t.faults = append(t.faults, f)
}

func (t *csvTable) read() {
	heading, err := t.reader.Read()
	if err != nil {
		t.fault(1, 0, "the table is empty or has no heading")
		return
	}
	if t.heading(heading); len(t.faults) > 0 {
		return
	}

	for {
		record, err := t.reader.Read()
		if err == io.EOF {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			t.fault(broken.Line, 0, "a quotation mark is missing or stands inside a cell")
			return // where the next cell begins is anyone's guess
		}
		line, _ := t.reader.FieldPos(0)
		if !slices.ContainsFunc(record, func(cell string) bool { return strings.TrimSpace(cell) != "" }) {
			continue
		}
		if len(t.targets) == maxCSVRows {
			t.fault(line, 0, fmt.Sprintf("more than %d targets", maxCSVRows))
			return
		}
		t.row(line, record)
	}
	if len(t.targets) == 0 && len(t.faults) == 0 {
		t.fault(1, 0, "there is a heading but no target below it")
	}
}

func (t *csvTable) heading(cells []string) {
	for i, cell := range cells {
		name := columnOf(cell)
		twice := slices.Contains(t.columns, name)
		t.columns = append(t.columns, name)
		switch {
		case name == "":
			t.fault(1, i+1, unknownColumn(cell))
		case twice:
			t.fault(1, i+1, fmt.Sprintf("column %q stands twice", name))
		}
	}
	for _, needed := range []string{"name", "ra", "dec"} {
		if !slices.Contains(t.columns, needed) {
			t.fault(1, 0, fmt.Sprintf("column %q is missing", needed))
		}
	}
}

func columnOf(cell string) string {
	want := compact(cell)
	for name, others := range csvColumns {
		if want == name || slices.Contains(others, want) {
			return name
		}
	}
	return ""
}

func unknownColumn(cell string) string {
	want := compact(cell)
	best, near := "", 3
	for name, others := range csvColumns {
		for _, s := range append([]string{name}, others...) {
			if d := edits(want, s, near+1); len(s) > 2 && (d < near || d == near && name < best) {
				best, near = name, d
			}
		}
	}
	if best != "" {
		return fmt.Sprintf("column %q is not known; did you mean %q?", cell, best)
	}
	return fmt.Sprintf("column %q is not known", cell)
}

// row reads one target and notes every fault of the line.
func (t *csvTable) row(line int, cells []string) {
	if len(cells) > len(t.columns) {
		t.fault(line, len(t.columns)+1, fmt.Sprintf("%d cells, the heading has %d", len(cells), len(t.columns)))
		return
	}
	before := len(t.faults)
	get := func(column string) (string, int) {
		i := slices.Index(t.columns, column)
		if i < 0 || i >= len(cells) {
			return "", 0
		}
		return strings.TrimSpace(cells[i]), i + 1
	}
	amount := func(column string, low, high, empty float64) float64 {
		s, at := get(column)
		if s == "" {
			return empty
		}
		v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
		if err != nil || math.IsNaN(v) {
			t.fault(line, at, fmt.Sprintf("%q is not a number", s))
		} else if v < low || v > high {
			t.fault(line, at, fmt.Sprintf("%s is not between %g and %g", s, low, high))
		}
		return v
	}

	own := Target{Own: true, BV: math.NaN(), Reach: ReachTelescope, Source: "the club's own table"}
	name, at := get("name")
	switch id := OwnID(name); {
	case name == "":
		t.fault(line, at, "the name is empty")
	case id == "":
		t.fault(line, at, fmt.Sprintf("%q has no letter or digit", name))
	case utf8.RuneCountInString(name) > 60:
		t.fault(line, at, "the name is longer than 60 characters")
	case t.ids[id] > 0:
		t.fault(line, at, fmt.Sprintf("%q stands already in line %d", name, t.ids[id]))
	default:
		t.ids[id] = line
		own.ID, own.Name = id, name
	}

	var err error
	cell, at := get("ra")
	if own.Star.RA, err = ParseRA(cell); err != nil {
		t.fault(line, at, err.Error())
	}
	cell, at = get("dec")
	if own.Star.Dec, err = ParseDec(cell); err != nil {
		t.fault(line, at, err.Error())
	}
	own.Kind = t.kind(line, get)
	own.Constellation = t.constellation(line, own.Star, get)
	own.Magnitude = amount("mag", -30, 30, math.NaN())
	own.MajorAxis = amount("major", 0, 10800, 0)
	own.MinorAxis = amount("minor", 0, 10800, own.MajorAxis)
	own.PositionAngle = amount("pa", 0, 360, math.NaN())
	own.LightYears = amount("ly", 0, 2e10, 0)
	if own.MinorAxis > own.MajorAxis {
		_, at := get("minor")
		t.fault(line, at, "the minor axis is larger than the major one")
	}
	own.Brightness = SurfaceBrightness(own.Magnitude, own.MajorAxis, own.MinorAxis)
	own.Delight = delightOf(own.Kind, own.Magnitude)

	for _, w := range []struct {
		column string
		into   *string
		limit  int
	}{
		{"line", &own.Words.Line, MaxLine}, {"lookfor", &own.Words.LookFor, MaxLookFor},
		{"expect", &own.Words.Expect, MaxExpect}, {"find", &own.Words.Find, MaxFind},
	} {
		s, at := get(w.column)
		if n := utf8.RuneCountInString(s); n > w.limit {
			t.fault(line, at, fmt.Sprintf("%d characters, at most %d fit on a card", n, w.limit))
		}
		*w.into = s
	}
	if len(t.faults) == before {
		t.targets = append(t.targets, own)
	}
}

func (t *csvTable) kind(line int, get func(string) (string, int)) Kind {
	s, at := get("kind")
	if s == "" {
		return KindOther
	}
	want := compact(s)
	for code, kind := range kindCodes {
		if want == code || want == compact(string(kind)) {
			return kind
		}
	}
	known := make([]string, 0, len(kindCodes))
	for _, kind := range kindCodes {
		known = append(known, string(kind))
	}
	slices.Sort(known)
	t.fault(line, at, fmt.Sprintf("kind %q is not known; known are %s", s, strings.Join(known, ", ")))
	return ""
}

// constellation is taken by name or abbreviation; when it is left out, the
// boundaries say it.
func (t *csvTable) constellation(line int, place sky.Star, get func(string) (string, int)) string {
	s, at := get("constellation")
	if s == "" {
		return sky.Constellation(place.RA, place.Dec)
	}
	want := compact(s)
	for _, c := range Constellations() {
		if want == compact(c.ID) || want == compact(c.Name) || want == compact(c.English) || want == compact(c.German) {
			return c.ID
		}
	}
	t.fault(line, at, fmt.Sprintf("%q is not one of the 88 constellations", s))
	return ""
}

// OwnID is the id of an own target by its name: "own-street-lamp"; empty when
// the name has no letter or digit.
func OwnID(name string) string {
	var ascii []string
	for _, w := range foldedWords(name) {
		kept := strings.Map(func(r rune) rune {
			if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, w)
		if kept != "" {
			ascii = append(ascii, kept)
		}
	}
	if len(ascii) == 0 {
		if compact(name) == "" {
			return ""
		}
		// A name in another script: a number that stays the same.
		return "own-" + strconv.FormatUint(uint64(seed(name)), 36)
	}
	return "own-" + strings.Join(ascii, "-")
}
