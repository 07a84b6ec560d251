package catalog

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// ParseCoordinates reads a J2000 place written as right ascension and
// declination and returns both in degrees. Understood are decimal degrees
// ("10.68 41.27") and sexagesimal hours and degrees, with or without letters
// and signs ("00 42 44.3 +41 16 09", "0h42m44.3s, +41°16'09\"",
// "05:35.3 -05:23"). The sign of "-00 30 00" counts. The error is a sentence
// for the person who typed it.
func ParseCoordinates(s string) (ra, dec float64, err error) {
	first, second, err := splitPair(s)
	if err != nil {
		return 0, 0, err
	}
	if ra, err = ParseRA(first); err != nil {
		return 0, 0, err
	}
	if dec, err = ParseDec(second); err != nil {
		return 0, 0, err
	}
	return ra, dec, nil
}

// ParseRA reads a right ascension and returns degrees, 0 to below 360. One
// number is degrees; hours, when a letter h follows or when there are two or
// three numbers.
func ParseRA(s string) (float64, error) {
	a, err := parseAngle(s, "right ascension")
	if err != nil {
		return 0, err
	}
	if a.negative {
		return 0, errors.New("right ascension is negative; it runs from 0 to 360 degrees or 0 to 24 hours")
	}
	if a.hours || a.parts > 1 && !a.degrees {
		if a.value >= 24 {
			return 0, fmt.Errorf("right ascension %s is not below 24 hours", strings.TrimSpace(s))
		}
		// Rounding may reach 360 from just below 24 h.
		return math.Mod(a.value*15, 360), nil
	}
	if a.value > 360 {
		return 0, fmt.Errorf("right ascension %s is over 360 degrees", strings.TrimSpace(s))
	}
	return math.Mod(a.value, 360), nil
}

// ParseDec reads a declination and returns degrees, -90 to 90.
func ParseDec(s string) (float64, error) {
	a, err := parseAngle(s, "declination")
	if err != nil {
		return 0, err
	}
	if a.hours {
		return 0, errors.New("declination has a letter h; it is in degrees")
	}
	if a.value > 90 {
		return 0, fmt.Errorf("declination %s is beyond 90 degrees", strings.TrimSpace(s))
	}
	if a.negative {
		return -a.value, nil
	}
	return a.value, nil
}

// angle is one number or up to three (whole, minutes, seconds), without sign.
type angle struct {
	value          float64
	negative       bool
	parts          int
	hours, degrees bool // a letter or sign said so
}

// plainSigns turns the signs that keyboards and copied texts bring into ASCII.
var plainSigns = strings.NewReplacer("−", "-", "–", "-", "′", "'", "’", "'", "″", "\"", "”", "\"", "''", "\"", "º", "°", "˚", "°")

func parseAngle(s, what string) (angle, error) {
	var a angle
	rest := strings.TrimSpace(plainSigns.Replace(s))
	if rest == "" {
		return a, fmt.Errorf("%s is empty", what)
	}
	switch rest[0] {
	case '-':
		a.negative = true
		rest = strings.TrimSpace(rest[1:])
	case '+':
		rest = strings.TrimSpace(rest[1:])
	}

	unit := 1.0
	decimals := false
	for rest != "" {
		number, after := leadingNumber(rest)
		if number == "" {
			return a, fmt.Errorf("%s: %q is not a number", what, firstWord(rest))
		}
		if a.parts == 3 {
			return a, fmt.Errorf("%s has more than three numbers", what)
		}
		if decimals {
			return a, fmt.Errorf("%s: only the last number may have decimals", what)
		}
		v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
		if err != nil {
			return a, fmt.Errorf("%s: %q is not a number", what, number)
		}
		decimals = strings.ContainsAny(number, ".,")
		if a.parts > 0 && v >= 60 {
			return a, fmt.Errorf("%s: %s minutes or seconds, they end at 60", what, number)
		}
		a.value += v / unit
		unit *= 60
		a.parts++

		if rest, err = a.separator(after, what); err != nil {
			return a, err
		}
	}
	return a, nil
}

// separator takes what stands between two numbers: spaces, one colon, or the
// letter or sign that belongs to the number before.
func (a *angle) separator(s, what string) (rest string, err error) {
	s = strings.TrimLeftFunc(s, unicode.IsSpace)
	if s == "" {
		return "", nil
	}
	allowed := [][]string{{":", "h", "H", "°", "d", "D"}, {":", "m", "M", "'"}, {"s", "S", "\""}}[a.parts-1]
	for _, sign := range allowed {
		after, found := strings.CutPrefix(s, sign)
		if !found {
			continue
		}
		switch sign {
		case "h", "H":
			a.hours = true
		case "°", "d", "D":
			a.degrees = true
		}
		after = strings.TrimLeftFunc(after, unicode.IsSpace)
		if sign == ":" && after == "" {
			return "", fmt.Errorf("%s ends with a colon", what)
		}
		return after, nil
	}
	if s[0] >= '0' && s[0] <= '9' {
		return s, nil // only a space stood between
	}
	return "", fmt.Errorf("%s: %q is not understood", what, firstWord(s))
}

// leadingNumber cuts digits with at most one point or comma among them.
func leadingNumber(s string) (number, rest string) {
	point, digits := false, 0
	for i := range len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			digits++
		case (c == '.' || c == ',') && !point && digits > 0:
			point = true
		default:
			if digits == 0 {
				return "", s
			}
			return s[:i], s[i:]
		}
	}
	if digits == 0 {
		return "", s
	}
	return s, ""
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(strings.TrimSpace(s), " ")
	return word
}

// splitPair finds where right ascension ends: at a comma, semicolon or slash,
// else at the sign of the declination, else in the middle of the numbers.
func splitPair(s string) (ra, dec string, err error) {
	s = strings.TrimSpace(plainSigns.Replace(s))
	fields := strings.Fields(s)
	for _, border := range []string{";", "/"} {
		if parts := strings.Split(s, border); len(parts) == 2 {
			return parts[0], parts[1], nil
		}
	}

	// Two words with a comma inside each are numbers with decimal commas.
	if len(fields) == 2 && strings.Count(fields[0], ",") == 1 && strings.Count(fields[1], ",") == 1 &&
		!strings.HasSuffix(fields[0], ",") && !strings.HasPrefix(fields[1], ",") {
		return fields[0], fields[1], nil
	}
	for _, border := range []string{", ", ","} {
		if parts := strings.Split(s, border); len(parts) == 2 {
			return parts[0], parts[1], nil
		}
	}
	if i := strings.LastIndexAny(s, "+-"); i > 0 {
		return s[:i], s[i:], nil
	}
	if n := len(fields); n == 2 || n == 4 || n == 6 {
		return strings.Join(fields[:n/2], " "), strings.Join(fields[n/2:], " "), nil
	}
	return "", "", errors.New("no place: write right ascension and declination, such as 10.68 41.27 or 00 42 44 +41 16 09")
}
