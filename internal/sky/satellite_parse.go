package sky

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// Satellite is an Earth satellite: a set of two-line elements.
type Satellite struct {
	Name       string    // of the line before the two; "" when there is none
	Number     string    // catalogue number, five characters
	Designator string    // international designator: launch year, number, piece
	Epoch      time.Time // UTC
	Incl       float64   // inclination, degrees
	Node       float64   // right ascension of the ascending node, degrees
	E          float64   // eccentricity
	Peri       float64   // argument of perigee, degrees
	Mean       float64   // mean anomaly, degrees
	Motion     float64   // mean motion, revolutions a day
	Drag       float64   // B*, per Earth radius
	// Standard is the magnitude at 1000 km, half lit; NaN when the club does not
	// know it. The elements do not say; ParseTLE leaves NaN.
	Standard float64
}

// Title is the name or, when there is none, the number.
func (s Satellite) Title() string {
	if s.Name != "" {
		return s.Name
	}
	return "satellite " + strings.TrimSpace(s.Number)
}

// ParseTLE reads pasted two-line elements, one or more sets, each with or
// without a line with the name before it. Empty lines are skipped.
//
// It returns all satellites or, when anything is wrong, none and the Faults,
// each with line, column and reason; a wrong checksum is one.
func ParseTLE(text string) ([]Satellite, error) {
	var satellites []Satellite
	var faults Faults
	var first, name *columns
	for i, line := range strings.Split(text, "\n") {
		c := newColumns(i+1, line)
		switch {
		case c.text == "":
			continue
		case first != nil && c.raw(1, 2) == "2 ":
			s := elementSet(first, c)
			if name != nil {
				s.Name = strings.TrimSpace(strings.TrimPrefix(name.text, "0 "))
				faults = append(faults, name.faults...)
			}
			faults = append(append(faults, first.faults...), c.faults...)
			satellites = append(satellites, s)
			first, name = nil, nil
		case first != nil:
			first.fault(1, "", "the line that begins with 2 is missing after it")
			faults = append(faults, first.faults...)
			first, name = nil, nil
		case c.raw(1, 2) == "1 ":
			first = c
		case c.raw(1, 2) == "2 ":
			c.fault(1, "", "the line that begins with 1 is missing before it")
			faults = append(faults, c.faults...)
		case name != nil:
			c.fault(1, "", "neither a line of elements (begins with 1 or 2 and a blank) nor the name before one")
			faults = append(faults, c.faults...)
		default:
			name = c
		}
	}
	switch {
	case first != nil:
		first.fault(1, "", "the line that begins with 2 is missing after it")
		faults = append(faults, first.faults...)
	case name != nil:
		name.fault(1, "", "no elements follow")
		faults = append(faults, name.faults...)
	case len(satellites) == 0 && len(faults) == 0:
		faults = Faults{{Line: 1, Reason: "nothing was pasted"}}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return satellites, nil
}

// elementSet reads the two lines; what is wrong is left in them.
func elementSet(a, b *columns) Satellite {
	s := Satellite{Standard: math.NaN()}
	if !a.checked() || !b.checked() {
		return s
	}
	a.blank(9, 18, 33, 44, 53, 62, 64)
	s.Number = a.raw(3, 7)
	s.Designator = a.trimmed(10, 17)
	s.Epoch = a.tleEpoch()
	a.decimal(34, 43, "first derivative of the mean motion", -1, 1)
	a.exponent(45, "second derivative of the mean motion")
	s.Drag = a.exponent(54, "drag term B*")

	b.blank(8, 17, 26, 34, 43, 52)
	if number := b.raw(3, 7); number != s.Number {
		b.fault(3, "catalogue number", fmt.Sprintf("%q differs from %q in the line before", number, s.Number))
	}
	s.Incl = b.decimal(9, 16, "inclination", 0, 180)
	s.Node = b.decimal(18, 25, "right ascension of the node", 0, 360)
	s.E = b.fraction(27, 33, "eccentricity")
	s.Peri = b.decimal(35, 42, "argument of perigee", 0, 360)
	s.Mean = b.decimal(44, 51, "mean anomaly", 0, 360)
	s.Motion = b.decimal(53, 63, "mean motion", 0.05, 18)
	if len(a.faults)+len(b.faults) == 0 {
		if _, err := newSGP4(s); err != nil {
			b.fault(53, "mean motion", err.Error())
		}
	}
	return s
}

// checked wants a line of 69 columns whose last is its checksum: the digits'
// sum, each minus sign counting 1, modulo 10.
func (c *columns) checked() bool {
	if len(c.faults) > 0 {
		return false
	}
	if len(c.text) != 69 {
		c.fault(min(len(c.text)+1, 70), "", fmt.Sprintf("the line has %d columns, not 69", len(c.text)))
		return false
	}
	sum := 0
	for _, r := range c.text[:68] {
		switch {
		case r >= '0' && r <= '9':
			sum += int(r - '0')
		case r == '-':
			sum++
		}
	}
	if got, want := c.text[68], byte('0'+sum%10); got != want {
		c.fault(69, "checksum", fmt.Sprintf("is %q, the line adds up to %q: a character was changed or lost", string(got), string(want)))
		return false
	}
	return true
}

// tleEpoch reads the year (57 to 99: 1957 to 1999) and day of the epoch.
func (c *columns) tleEpoch() time.Time {
	year := c.integer(19, 20, "year of the epoch", 0, 99)
	if year < 57 {
		year += 100
	}
	day := c.decimal(21, 32, "day of the epoch", 1, 366.99999999)
	if math.IsNaN(day) {
		return time.Time{}
	}
	start := time.Date(1900+year, 1, 1, 0, 0, 0, 0, time.UTC)
	return start.Add(time.Duration(math.Round((day-1)*86400*1e6)) * time.Microsecond)
}

// fraction reads digits after a decimal point that is not written.
func (c *columns) fraction(from, to int, field string) float64 {
	s := strings.ReplaceAll(c.raw(from, to), " ", "0")
	if !allDigits(s) {
		c.fault(from, field, fmt.Sprintf("%q are not seven digits", s))
		return math.NaN()
	}
	v, _ := plainNumber("." + s)
	return v
}

// exponent reads the format's eight columns such as "-11606-4" for -0.11606e-4.
func (c *columns) exponent(from int, field string) float64 {
	s := c.raw(from, from+7)
	bad := func() float64 {
		c.fault(from, field, fmt.Sprintf("%q is not of the form \" 12345-6\"", s))
		return math.NaN()
	}
	digits := strings.ReplaceAll(s[1:6], " ", "0")
	if !strings.Contains(" +-", s[:1]) || !allDigits(digits) || !strings.Contains(" +-", s[6:7]) || !allDigits(s[7:]) {
		return bad()
	}
	v, _ := plainNumber("." + digits)
	power := float64(s[7] - '0')
	if s[6] == '-' {
		power = -power
	}
	if s[0] == '-' {
		v = -v
	}
	return v * math.Pow(10, power)
}
