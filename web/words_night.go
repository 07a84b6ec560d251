package web

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"duskboard/internal/kit"
)

// capital makes the first letter of a sentence a capital.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// instrumentLine describes an instrument in a few words: "254 mm f/4.7
// Newtonian on a rocker box".
func instrumentLine(i kit.Instrument) string {
	if i.Design == kit.Binoculars {
		return fmt.Sprintf("%.0f × %.0f binoculars, %s", i.Power, i.Aperture, mountShort[i.Mount])
	}
	f := 0.0
	if i.Aperture > 0 {
		f = i.FocalLength / i.Aperture
	}
	words := fmt.Sprintf("%.0f mm f/%s %s, %s", i.Aperture, strings.TrimSuffix(fmt.Sprintf("%.1f", f), ".0"), designShort[i.Design], mountShort[i.Mount])
	if i.GoTo && i.Mount != kit.AltAzGoTo {
		words += " with go-to"
	}
	return words
}

var designShort = map[kit.Design]string{
	kit.Newtonian: "Newtonian", kit.Achromat: "refractor", kit.Apochromat: "refractor", kit.SchmidtCassegrain: "Schmidt-Cassegrain",
	kit.MaksutovCassegrain: "Maksutov", kit.OtherCassegrain: "Cassegrain", kit.Binoculars: "binoculars", kit.Custom: "telescope",
}

var mountShort = map[kit.Mount]string{
	kit.RockerBox: "rocker box", kit.AltAzHand: "hand-pushed", kit.AltAzGoTo: "go-to", kit.GermanEquatorial: "German equatorial",
	kit.ForkWedge: "fork on a wedge", kit.Tripod: "photo tripod", kit.Parallelogram: "parallelogram",
}

// directions are the sixteen points of the compass in words.
var directions = []string{"north", "north-north-east", "north-east", "east-north-east", "east", "east-south-east", "south-east", "south-south-east",
	"south", "south-south-west", "south-west", "west-south-west", "west", "west-north-west", "north-west", "north-north-west"}

// directionWord names an azimuth in degrees.
func directionWord(az float64) string { return directions[int(az/22.5+0.5)%16] }
