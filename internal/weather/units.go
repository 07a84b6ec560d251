package weather

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// kind is the kind of quantity that a column holds.
type kind int

const (
	plain kind = iota
	temperature
	percentage
	speed
	depth
)

// conversion turns a value in some unit into ours: value*scale + offset.
type conversion struct{ scale, offset float64 }

var same = conversion{1, 0}

// units are the spellings we take for each kind, in lower case and without
// spaces, dots and degree signs. The first mile is the statute mile of
// 1609.344 m, the knot 1852 m an hour.
var units = map[kind]map[string]conversion{
	temperature: {
		"c": same, "degc": same, "celsius": same, "centigrade": same, "degreesc": same,
		"f": {5.0 / 9, -160.0 / 9}, "degf": {5.0 / 9, -160.0 / 9}, "fahrenheit": {5.0 / 9, -160.0 / 9}, "degreesf": {5.0 / 9, -160.0 / 9},
		"k": {1, -273.15}, "kelvin": {1, -273.15},
	},
	percentage: {
		"%": same, "percent": same, "pct": same, "percentage": same,
		"okta": {12.5, 0}, "oktas": {12.5, 0}, "/8": {12.5, 0}, "tenths": {10, 0}, "/10": {10, 0},
	},
	speed: {
		"m/s": same, "ms": same, "mps": same, "ms-1": same, "m/sec": same,
		"km/h": {1 / 3.6, 0}, "kmh": {1 / 3.6, 0}, "kph": {1 / 3.6, 0}, "km/hr": {1 / 3.6, 0}, "kmh-1": {1 / 3.6, 0},
		"mph": {0.44704, 0}, "mi/h": {0.44704, 0}, "mp/h": {0.44704, 0},
		"kn": {1852.0 / 3600, 0}, "kt": {1852.0 / 3600, 0}, "kts": {1852.0 / 3600, 0}, "knot": {1852.0 / 3600, 0}, "knots": {1852.0 / 3600, 0},
	},
	depth: {
		"mm": same, "mm/h": same, "millimetres": same, "millimeters": same,
		"cm": {10, 0}, "in": {25.4, 0}, "inch": {25.4, 0}, "inches": {25.4, 0},
	},
	plain: {},
}

// unitOf is the conversion of a written unit, and false for one that the kind
// does not know.
func unitOf(k kind, s string) (conversion, bool) {
	c, ok := units[k][unitKey(s)]
	return c, ok
}

func unitKey(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r), r == '.', r == '°', r == 'º', r == '_', r == '^':
			return -1
		default:
			return unicode.ToLower(r)
		}
	}, s)
}

// number reads a number as people in many countries type it: a decimal comma
// or point, a typographic minus. Grouped thousands are refused, since "1,234"
// means two things.
func number(s string) (float64, error) {
	t := strings.TrimSpace(s)
	t = strings.NewReplacer("−", "-", "–", "-", "\u00a0", "", "\u202f", "").Replace(t)
	if strings.Count(t, ",")+strings.Count(t, ".") > 1 {
		return 0, fmt.Errorf("%q has more than one decimal sign", s)
	}
	t = strings.Replace(t, ",", ".", 1)
	for _, r := range t {
		// ParseFloat also takes hexadecimal, underscores, "inf" and "nan".
		if !strings.ContainsRune("+-.0123456789eE", r) {
			return 0, fmt.Errorf("%q is not a number", s)
		}
	}
	x, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	return x, nil
}

// quantity reads a number that may carry its own unit ("50 F", "12 km/h");
// without one the column's conversion applies.
func quantity(s string, k kind, column conversion) (float64, error) {
	t := strings.TrimSpace(s)
	end := strings.LastIndexFunc(t, unicode.IsDigit)
	if end < 0 {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	unit := strings.TrimSpace(t[end+1:])
	if strings.HasPrefix(unit, ".") || strings.HasPrefix(unit, ",") {
		unit = unit[1:] // "5." is a number
	}
	if unit == "" {
		x, err := number(t[:end+1])
		return x*column.scale + column.offset, err
	}
	conv, ok := unitOf(k, unit)
	if !ok {
		return 0, fmt.Errorf("%q has a unit that does not fit here", s)
	}
	x, err := number(t[:end+1])
	return x*conv.scale + conv.offset, err
}
