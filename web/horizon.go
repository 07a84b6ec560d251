package web

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"duskboard/internal/sky"
	"duskboard/web/views"
)

// winds are the names of azimuths that a line of the outline may begin with.
var winds = []string{"N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"}

// wind names the direction of an azimuth in degrees.
func wind(az float64) string {
	return winds[int(math.Round(az/22.5)+16)%16]
}

// maxHorizon is enough for a point at every degree.
const maxHorizon = 361

// parseHorizon reads an outline, one point a line: azimuth and altitude in
// degrees, "135 22", "135, 22" or "SE 22". The error names every line that
// cannot be read. Nothing is a flat horizon.
func parseHorizon(text string) (sky.Horizon, error) {
	var h sky.Horizon
	var bad []string
	seen := map[float64]int{} // two of one azimuth make a vertical edge, as of a wall
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		p, why := horizonPoint(line)
		if seen[p.Az]++; why == "" && seen[p.Az] > 2 {
			why = fmt.Sprintf("azimuth %s stands there more than twice", number(p.Az, 1))
		}
		if why != "" {
			bad = append(bad, fmt.Sprintf("line %d: %s", i+1, why))
			continue
		}
		h = append(h, p)
	}
	if len(h) > maxHorizon {
		bad = append(bad, fmt.Sprintf("at most %d points", maxHorizon))
	}
	if len(bad) > 6 {
		bad = append(bad[:6], fmt.Sprintf("and %d more lines", len(bad)-6))
	}
	if bad != nil {
		return h, fmt.Errorf("%s", strings.Join(bad, "; "))
	}
	return h, nil
}

// horizonPoint reads one line; why is "" when it is sound.
func horizonPoint(line string) (p sky.HorizonPoint, why string) {
	words := strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r == '\t' || r == ';' || r == '°' })
	if len(words) == 1 {
		words = strings.Split(line, ",")
	}
	if len(words) != 2 {
		return p, "write azimuth and altitude, as 135 22"
	}
	az, errAz := azimuth(strings.Trim(words[0], ","))
	alt, errAlt := strconv.ParseFloat(strings.Replace(strings.Trim(words[1], ","), ",", ".", 1), 64)
	switch {
	case errAz != nil || !(az >= 0 && az <= 360):
		return p, "azimuth 0 to 360 degrees from north through east, or N, NE, E"
	case errAlt != nil || !(alt >= -5 && alt <= 85):
		return p, "altitude -5 to 85 degrees"
	}
	return sky.HorizonPoint{Az: math.Mod(az, 360), Alt: alt}, ""
}

func azimuth(s string) (float64, error) {
	for i, w := range winds {
		if strings.EqualFold(w, s) {
			return float64(i) * 22.5, nil
		}
	}
	return strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
}

// printHorizon is the inverse of parseHorizon.
func printHorizon(h sky.Horizon) string {
	var b strings.Builder
	for _, p := range h {
		fmt.Fprintf(&b, "%s %s\n", number(p.Az, 2), number(p.Alt, 2))
	}
	return strings.TrimRight(b.String(), "\n")
}

// drawHorizon draws an outline as one looks around: north at both ends, south
// in the middle, one unit a degree, altitude upwards.
func drawHorizon(h sky.Horizon) views.HorizonDrawing {
	top := 30.0
	peak, peakAz := math.Inf(-1), 0.0
	for az := 0.0; az < 360; az++ {
		if alt := h.AltAt(az); alt > peak {
			peak, peakAz = alt, az
		}
	}
	for top < peak+5 {
		top += 15
	}
	// Two units a degree of altitude: trees look as tall as they feel.
	d := views.HorizonDrawing{Height: 2 * top, Bottom: 2*top + 14}
	var line strings.Builder
	for az := 0; az <= 360; az++ {
		alt := math.Max(0, h.AltAt(float64(az)))
		fmt.Fprintf(&line, "L%d %s", az, number(2*(top-alt), 1))
	}
	d.Land = fmt.Sprintf("M0 %s%sL360 %sZ", number(2*top, 0), line.String(), number(2*top, 0))
	for alt := 15.0; alt < top; alt += 15 {
		d.Levels = append(d.Levels, views.Level{Y: number(2*(top-alt), 0), Label: number(alt, 0) + "°"})
	}
	for i, name := range []string{"N", "NE", "E", "SE", "S", "SW", "W", "NW", "N"} {
		d.Sides = append(d.Sides, views.Bearing{X: strconv.Itoa(45 * i), Name: name})
	}
	d.Words = "Flat horizon all around."
	switch {
	case len(h) == 1:
		d.Words = number(peak, 0) + "° all around."
	case len(h) > 1 && peak > 0:
		d.Words = fmt.Sprintf("Up to %s°, towards %s.", number(peak, 0), wind(peakAz))
	}
	return d
}
