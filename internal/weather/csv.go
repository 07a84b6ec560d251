package weather

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
)

const (
	maxCSVBytes  = 1 << 20
	maxCSVRows   = 5000
	maxCSVFaults = 50 // a wrong column would else repeat itself on every line
)

// CSVOptions says what a file leaves open.
type CSVOptions struct {
	Zone    *time.Location // of times without an offset; nil means UTC
	Evening time.Time      // night of bare clock times: any instant between local noon and midnight
	Made    time.Time      // when the values were made; zero when not known
}

// ParseCSV reads weather from a CSV file (RFC 4180; also with a byte order
// mark, bare line feeds, semicolons or tabs, decimal commas). The first line
// names the columns: a time, a temperature, a humidity or a dew point, and
// what else is known; [CSVColumns] lists the accepted names. A unit may stand
// in the header ("wind (km/h)", "temp_f"), in a line of units below it, in a
// column of its own ("temp unit") or behind the number; without one it is
// degrees Celsius, per cent, m/s at 10 m, mm.
//
// A row with an empty temperature is a gap and is left out with a note. Any
// fault refuses the whole file; the error is then a [Faults] with the line
// and the column as the file's header writes it.
func ParseCSV(r io.Reader, opts CSVOptions) (Series, error) {
	if opts.Zone == nil {
		opts.Zone = time.UTC
	}
	data, err := io.ReadAll(io.LimitReader(r, maxCSVBytes+1))
	if err != nil {
		return Series{}, fmt.Errorf("reading the weather file: %w", err)
	}
	if len(data) > maxCSVBytes {
		return Series{}, Faults{{Reason: fmt.Sprintf("the file is larger than %d KiB", maxCSVBytes>>10)}}
	}
	p := csvParser{opts: opts}
	p.read(data)
	if len(p.faults) > 0 {
		return Series{}, p.faults
	}
	sortHours(p.hours)
	s := Series{Hours: p.hours, Source: "file", IssuedAt: opts.Made}
	if p.gaps > 0 {
		s.Notes = append(s.Notes, fmt.Sprintf("%d lines without values were left out.", p.gaps))
	}
	return s, nil
}

// csvParser carries one file through reading.
type csvParser struct {
	opts    CSVOptions
	columns []column
	hours   []Hour
	faults  Faults
	gaps    int
	taken   map[int64]int // line that took an instant
	last    time.Time     // instant of the row before, for hours the clock shows twice
}

func (p *csvParser) read(data []byte) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	cr := csv.NewReader(bytes.NewReader(data))
	cr.Comma = separator(data)
	cr.FieldsPerRecord = -1 // counted below, to name the line
	cr.TrimLeadingSpace = cr.Comma != '\t'
	p.taken = map[int64]int{}

	for n := 0; ; n++ {
		rec, err := cr.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			p.broken(err)
			return
		}
		line, _ := cr.FieldPos(0)
		switch {
		case n == 0:
			if !p.header(line, rec) {
				return
			}
		case n == 1 && p.unitRow(rec):
		case len(p.hours)+p.gaps >= maxCSVRows:
			p.faults.add(line, "", "more than %d rows", maxCSVRows)
			return
		default:
			p.row(line, rec)
		}
		if len(p.faults) >= maxCSVFaults {
			p.faults.add(0, "", "and perhaps more; only the first %d are shown", maxCSVFaults)
			return
		}
	}
	switch {
	case p.columns == nil:
		p.faults.add(0, "", "the file is empty")
	case len(p.hours) == 0 && len(p.faults) == 0:
		p.faults.add(0, "", "the file has a header and no hours")
	}
}

// broken reports what encoding/csv could not read.
func (p *csvParser) broken(err error) {
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		p.faults.add(pe.Line, "", "not valid CSV: %s", pe.Err)
		return
	}
	p.faults.add(0, "", "not valid CSV: %s", err)
}

// row reads one line of values.
func (p *csvParser) row(line int, rec []string) {
	if blank(rec) {
		return
	}
	if len(rec) != len(p.columns) {
		p.faults.add(line, "", "%d values under %d columns", len(rec), len(p.columns))
		return
	}
	before := len(p.faults)
	r := emptyRaw()
	var when time.Time
	for i, c := range p.columns {
		cell := strings.TrimSpace(rec[i])
		switch {
		case c.name == "" || c.unitFor >= 0:
		case c.name == ColTime:
			t, err := p.when(cell)
			if err != nil {
				p.faults.add(line, c.header, "%s", err)
			}
			when = t
		case missing(cell):
		default:
			x, err := p.value(c, cell, rec)
			if err != nil {
				p.faults.add(line, c.header, "%s", err)
				continue
			}
			*c.cell(&r) = x
		}
	}
	if len(p.faults) > before {
		return
	}
	p.last = when
	if !given(r.temp) && !given(r.rh) && !given(r.dewPoint) {
		p.gaps++
		return
	}
	h, ok := r.hour(func(name, reason string) { p.faults.add(line, p.headerOf(name), "%s", reason) })
	if !ok {
		return
	}
	if other, taken := p.taken[when.Unix()]; taken {
		p.faults.add(line, p.headerOf(ColTime), "the same time as line %d", other)
		return
	}
	p.taken[when.Unix()] = line
	h.Time = when
	p.hours = append(p.hours, h)
}

// value reads one cell with the unit that its row or its column gives.
func (p *csvParser) value(c column, cell string, rec []string) (float64, error) {
	if c.name == ColThunder {
		return yesNo(cell)
	}
	conv := c.conv
	if c.unitIn >= 0 && !missing(rec[c.unitIn]) {
		u, ok := unitOf(c.kind, rec[c.unitIn])
		if !ok {
			return 0, fmt.Errorf("the unit %q does not fit here", rec[c.unitIn])
		}
		conv = u
	}
	return quantity(cell, c.kind, conv)
}

// when reads the time of a row. Of two instants that a clock time can mean in
// the night in which clocks go back, it takes the first that lies after the
// row before: rows of a file follow each other.
func (p *csvParser) when(cell string) (time.Time, error) {
	ts, err := readWhen(cell, p.opts.Evening, p.opts.Zone)
	if err != nil {
		return time.Time{}, err
	}
	for _, t := range ts {
		if p.last.IsZero() || t.After(p.last) {
			return t, nil
		}
	}
	return ts[len(ts)-1], nil
}

// separator is the character between fields: of semicolon, tab and comma the
// first that the header line has outside quotes.
func separator(data []byte) rune {
	line, _ := bufio.NewReader(bytes.NewReader(bytes.TrimLeft(data, "\r\n"))).ReadString('\n')
	quoted := false
	found := map[rune]bool{}
	for _, r := range line {
		if r == '"' {
			quoted = !quoted
		}
		found[r] = found[r] || !quoted
	}
	for _, c := range []rune{';', '\t'} {
		if found[c] {
			return c
		}
	}
	return ','
}

// missing reports a cell that says that there is no value.
func missing(cell string) bool {
	switch strings.ToLower(strings.TrimSpace(cell)) {
	case "", "-", "--", "na", "n/a", "nan", "null", "none":
		return true
	}
	return false
}

func blank(rec []string) bool {
	for _, c := range rec {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// yesNo reads a flag of thunder, or its chance in per cent.
func yesNo(cell string) (float64, error) {
	switch strings.ToLower(cell) {
	case "yes", "y", "true", "x":
		return 1, nil
	case "no", "n", "false":
		return 0, nil
	}
	x, err := quantity(cell, percentage, same)
	if err != nil || x < 0 || x > 100 {
		return 0, fmt.Errorf("%q is not yes, no or a chance in per cent", cell)
	}
	// A bare 1 is a flag; a chance counts from 5 per cent.
	if x == 1 || x >= ThunderChance {
		return 1, nil
	}
	return 0, nil
}

// ThunderChance is the chance in per cent from which a source that gives one
// counts as forecasting thunder; low, since a public field has nowhere to hide.
const ThunderChance = 5
