package sky

import (
	_ "embed" // the boundaries
	"fmt"
	"strings"
	"sync"
)

// The boundaries are written by data/make-constellations.mjs, which says where
// they come from.
//
//go:embed data/constellations.txt
var constellationFile string

// strip is a piece of the sky between two hour circles, north of a parallel.
type strip struct {
	name     string
	from, to float64 // right ascension, hours, equinox B1875
	south    float64 // declination, degrees
}

var strips = sync.OnceValue(func() []strip {
	var all []strip
	for line := range strings.Lines(constellationFile) {
		var s strip
		if _, err := fmt.Sscan(line, &s.name, &s.from, &s.to, &s.south); err != nil {
			panic("sky: embedded constellations: " + err.Error())
		}
		all = append(all, s)
	}
	return all
})

// b1875 is the Julian date of B1875.0, the equinox of the boundaries.
const b1875 = 2405889.258550475

var toB1875 = sync.OnceValue(func() mat3 { return precession(b1875) })

// Constellation returns the three letters of the constellation that holds a
// place (J2000, degrees), by the boundaries of 1930: every place has one.
func Constellation(raDeg, decDeg float64) string {
	ra, dec := toB1875().mul(direction(raDeg*radian, decDeg*radian)).spherical()
	hours, degrees := ra*degree/15, dec*degree
	for _, s := range strips() {
		if s.south <= degrees && s.from <= hours && hours < s.to {
			return s.name
		}
	}
	return "Oct" // the south pole itself, a rounding below -90 degrees
}

// ConstellationOf returns the constellation in which the object is seen at the
// position, whose coordinates are of date.
func (n *Night) ConstellationOf(p Position) string {
	v := n.middleFrame.fromICRS.transposed().mul(direction(p.RA*radian, p.Dec*radian))
	ra, dec := v.spherical()
	return Constellation(ra*degree, dec*degree)
}
