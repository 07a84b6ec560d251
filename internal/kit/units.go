package kit

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Errors of the length parser. Their text is fit for a form.
var (
	ErrEmpty     = errors.New("nothing typed")
	ErrNotNumber = errors.New("not a length: write 203 mm or 8 in")
	ErrSeparator = errors.New("ambiguous comma: write 1200 or 1.2")
	ErrUnit      = errors.New("unknown unit: use mm, cm, m, in or ft")
)

// millimetres holds the length of each unit that a form accepts, in mm. The
// inch is 25.4 mm exactly (international yard and pound agreement, 1959).
var millimetres = map[string]float64{
	"mm": 1, "millimetre": 1, "millimetres": 1, "millimeter": 1, "millimeters": 1,
	"cm": 10, "centimetre": 10, "centimetres": 10, "centimeter": 10, "centimeters": 10,
	"m": 1000, "metre": 1000, "metres": 1000, "meter": 1000, "meters": 1000,
	"in": 25.4, "inch": 25.4, "inches": 25.4, `"`: 25.4, "″": 25.4, "”": 25.4, "''": 25.4,
	"ft": 304.8, "foot": 304.8, "feet": 304.8, "'": 304.8, "′": 304.8, "’": 304.8,
}

// abbreviations drops the point after "in." and "ft.", which would otherwise
// read as the start of a number.
var abbreviations = strings.NewReplacer("in.", "in ", "ft.", "ft ")

// ParseLength reads a length as people type it and returns it in mm. It takes
// "203", "203 mm", "8 in", `8"`, "4 1/2 in", "4½ in", "20,3 cm" and
// `6 ft 2 in`; a number without a unit is in the unit plain ("mm" or "m").
// The error, when there is one, is a sentence for the form.
func ParseLength(s, plain string) (float64, error) {
	rest := abbreviations.Replace(strings.ToLower(clean(s)))
	if rest == "" {
		return 0, ErrEmpty
	}
	total, last := 0.0, math.Inf(1)
	for rest != "" {
		number, unit, tail := cut(rest)
		value, err := parseMixed(number)
		if err != nil {
			return 0, err
		}
		if unit == "" {
			// "6 ft 2" leaves the unit of the 2 open, so only a lone number may be bare.
			if !math.IsInf(last, 1) {
				return 0, ErrUnit
			}
			unit = plain
		}
		size, ok := millimetres[unit]
		if !ok {
			return 0, ErrUnit
		}
		// Parts run from large to small: "6 ft 2 in", never "2 in 6 ft".
		if size >= last || value < 0 {
			return 0, ErrNotNumber
		}
		total, last, rest = total+value*size, size, tail
	}
	if math.IsInf(total, 0) || math.IsNaN(total) {
		return 0, ErrNotNumber
	}
	return total, nil
}

// ParseFocalLength reads a focal length as ParseLength does, and also as a
// focal ratio ("f/10", "F10", "f 4.7") of the given aperture in mm.
func ParseFocalLength(s string, aperture float64) (float64, error) {
	t := strings.ToLower(clean(s))
	if !strings.HasPrefix(t, "f") || strings.HasPrefix(t, "ft") {
		return ParseLength(s, "mm")
	}
	ratio, err := ParseNumber(strings.TrimLeft(t[1:], "/ "))
	if err != nil || ratio <= 0 {
		return 0, fmt.Errorf("not a focal ratio: write f/10 or the focal length in mm")
	}
	if !(aperture > 0) {
		return 0, fmt.Errorf("a focal ratio needs the aperture first")
	}
	return ratio * aperture, nil
}

// ParseNumber reads a decimal number with a point or a comma. A comma before
// exactly three digits could be either a decimal comma or a thousands mark
// and is refused rather than guessed, except in "0,125".
func ParseNumber(s string) (float64, error) {
	t := strings.ReplaceAll(clean(s), " ", "")
	if t == "" {
		return 0, ErrEmpty
	}
	point, comma := strings.LastIndexByte(t, '.'), strings.LastIndexByte(t, ',')
	switch {
	case point >= 0 && comma >= 0:
		// Both present: the later one is the decimal mark.
		if comma > point {
			t = strings.Replace(strings.ReplaceAll(t, ".", ""), ",", ".", 1)
		} else {
			t = strings.ReplaceAll(t, ",", "")
		}
	case comma >= 0:
		if strings.Count(t, ",") > 1 || (len(t)-comma == 4 && strings.TrimLeft(t[:comma], "+-0") != "") {
			return 0, ErrSeparator
		}
		t = strings.Replace(t, ",", ".", 1)
	}
	for _, r := range t {
		// strconv also takes "inf", "nan", "0x1p3", "1e9" and "1_0": not here.
		if (r < '0' || r > '9') && r != '.' && r != '-' && r != '+' {
			return 0, ErrNotNumber
		}
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, ErrNotNumber
	}
	return v, nil
}

// clean trims, joins runs of white space and replaces the typographic minus
// and narrow spaces that copied text brings along.
func clean(s string) string {
	s = strings.NewReplacer("−", "-", "\u00a0", " ", "\u202f", " ", "\u2009", " ").Replace(s)
	return strings.Join(strings.Fields(s), " ")
}

// cut splits "6 ft 2 in" into the number "6", the unit "ft" and the tail "2 in".
func cut(s string) (number, unit, tail string) {
	end := strings.IndexFunc(s, func(r rune) bool { return !isNumeral(r) })
	if end < 0 {
		return strings.TrimSpace(s), "", ""
	}
	number, s = strings.TrimSpace(s[:end]), s[end:]
	end = strings.IndexFunc(s, func(r rune) bool { return isNumeral(r) })
	if end < 0 {
		return number, strings.TrimRight(s, ". "), ""
	}
	return number, strings.TrimRight(s[:end], ". "), strings.TrimSpace(s[end:])
}

var fractions = map[rune]string{'½': " 1/2", '¼': " 1/4", '¾': " 3/4", '⅛': " 1/8", '⅜': " 3/8", '⅝': " 5/8", '⅞': " 7/8"}

func isNumeral(r rune) bool {
	_, vulgar := fractions[r]
	return r >= '0' && r <= '9' || strings.ContainsRune(".,+-/ ", r) || vulgar
}

// parseMixed reads a decimal number or a mixed fraction such as "4 1/2".
func parseMixed(s string) (float64, error) {
	for r, plain := range fractions {
		s = strings.ReplaceAll(s, string(r), plain)
	}
	parts := strings.Fields(s)
	if len(parts) == 0 {
		return 0, ErrNotNumber
	}
	last := parts[len(parts)-1]
	upper, lower, isFraction := strings.Cut(last, "/")
	if !isFraction {
		if len(parts) > 1 && !thousands(parts) {
			return 0, ErrNotNumber
		}
		return ParseNumber(strings.Join(parts, ""))
	}
	u, errU := strconv.ParseUint(upper, 10, 16)
	l, errL := strconv.ParseUint(lower, 10, 16)
	if errU != nil || errL != nil || l == 0 || len(parts) > 2 {
		return 0, ErrNotNumber
	}
	whole := 0.0
	if len(parts) == 2 {
		var err error
		if whole, err = ParseNumber(parts[0]); err != nil || whole != math.Trunc(whole) || whole < 0 {
			return 0, ErrNotNumber
		}
	}
	return whole + float64(u)/float64(l), nil
}

// thousands reports whether the parts are groups of three digits, as in
// "1 200" with a thin space.
func thousands(parts []string) bool {
	for i, p := range parts {
		digits, _, _ := strings.Cut(strings.Replace(p, ",", ".", 1), ".")
		if i > 0 && len(digits) != 3 {
			return false
		}
		if i < len(parts)-1 && digits != p {
			return false
		}
	}
	return true
}
