package web

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"duskboard/internal/kit"
)

// axis is one of the two coordinates of a place.
type axis struct {
	word     string  // "latitude"
	plus     string  // letter of the positive side
	minus    string  // letter of the negative side
	limit    float64 // degrees
	examples string
}

var (
	latitude  = axis{"latitude", "N", "S", 90, "52.5163 N, or 52° 30′ 59″ N"}
	longitude = axis{"longitude", "E", "W", 180, "13.3777 E, or 13° 22′ 40″ E"}
)

var angleParts = regexp.MustCompile(`[0-9]+(?:[.,][0-9]+)?`)

// parse reads a coordinate in degrees as people write it: "52.5163", "-33.9",
// "33.9 S", "52 30 59 N", "N 52° 30.98'". The error is a sentence for the form.
func (a axis) parse(s string) (float64, error) {
	wrong := fmt.Errorf("write the %s as %s", a.word, a.examples)
	t := strings.ToUpper(strings.TrimSpace(strings.NewReplacer("−", "-", "º", "°").Replace(s)))

	sign, lettered := 1.0, false
	for letter, g := range map[string]float64{a.plus: 1, a.minus: -1} {
		if rest, ok := cutLetter(t, letter); ok {
			t, sign, lettered = rest, g, true
		}
	}
	if rest, ok := strings.CutPrefix(t, "-"); ok {
		if lettered {
			return 0, fmt.Errorf("a minus and %s or %s together leave the side open: write one of them", a.plus, a.minus)
		}
		t, sign = rest, -1
	}
	t = strings.TrimPrefix(t, "+")

	// What is left may hold numbers and their marks only.
	if strings.Trim(angleParts.ReplaceAllString(t, ""), " °′″'\"’”:DMS") != "" {
		return 0, wrong
	}
	parts := angleParts.FindAllString(t, -1)
	if len(parts) == 0 || len(parts) > 3 {
		return 0, wrong
	}
	deg, unit := 0.0, 1.0
	for i, p := range parts {
		x, err := strconv.ParseFloat(strings.Replace(p, ",", ".", 1), 64)
		if err != nil || (i < len(parts)-1 && x != math.Trunc(x)) {
			return 0, wrong // only the last part may have decimals
		}
		if i > 0 && x >= 60 {
			return 0, fmt.Errorf("minutes and seconds of the %s run from 0 to below 60", a.word)
		}
		deg += x / unit
		unit *= 60
	}
	if deg > a.limit {
		return 0, fmt.Errorf("the %s runs from %s° %s to %s° %s", a.word, number(a.limit, 0), a.minus, number(a.limit, 0), a.plus)
	}
	return sign * deg, nil
}

// cutLetter takes the letter of a side from the front or the end. An S at the
// end may be that of a compass only, since seconds are marked ″ or not at all.
func cutLetter(s, letter string) (string, bool) {
	if rest, ok := strings.CutPrefix(s, letter); ok {
		return strings.TrimSpace(rest), true
	}
	if rest, ok := strings.CutSuffix(s, letter); ok {
		return strings.TrimSpace(rest), true
	}
	return s, false
}

// print writes a coordinate as "52.5163 N".
func (a axis) print(deg float64, decimals int) string {
	side := a.plus
	if deg < 0 {
		side = a.minus
	}
	return number(math.Abs(deg), decimals) + " " + side
}

// splitPair takes "52.5163, 13.3777" apart, as maps copy it, when both were put
// into the first box. A comma with a space behind it is no decimal comma.
func splitPair(lat, lon string) (string, string) {
	if strings.TrimSpace(lon) != "" {
		return lat, lon
	}
	if a, b, ok := strings.Cut(lat, ", "); ok && strings.TrimSpace(b) != "" {
		return strings.TrimSpace(a), strings.TrimSpace(b)
	}
	return lat, lon
}

// parseElevation reads a height above the sea in m; "1200 ft" and heights below
// the sea are read as well.
func parseElevation(s string) (float64, error) {
	m, err := kit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(s, "m")))
	if err != nil {
		var mm float64
		if mm, err = kit.ParseLength(s, "m"); err != nil {
			return 0, fmt.Errorf("write the elevation as 120 m or 390 ft")
		}
		m = mm / 1000
	}
	if m < -430 || m > 6000 {
		return 0, fmt.Errorf("-430 to 6000 m above the sea")
	}
	return roundTo(m, 1), nil
}
