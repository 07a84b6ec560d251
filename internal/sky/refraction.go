package sky

import (
	"math"
	"sync"
)

const (
	// lowestRefracted is the geometric altitude down to which refraction is
	// computed: the horizon of a hill. Below it nothing is seen, and the
	// formula would soon have a pole; refraction fades to nothing at
	// noRefraction, slowly enough that apparent altitude still grows with the
	// geometric one.
	lowestRefracted = -1.0
	noRefraction    = -5.0
)

// Refraction returns by how many degrees the air lifts an object whose
// geometric altitude is given in degrees: Saemundsson's formula (Meeus,
// Astronomical Algorithms, 2nd ed., 16.4), for 1010 hPa and 10 degrees Celsius,
// good to 0.1 arcminutes above the horizon. Real air near the horizon
// differs by several arcminutes from night to night.
func Refraction(altGeometric float64) float64 {
	if !(altGeometric > noRefraction) { // also NaN
		return 0
	}
	h := max(altGeometric, lowestRefracted)
	r := 1.02 / 60 / math.Tan((h+10.3/(h+5.11))*radian)
	if altGeometric < lowestRefracted {
		r *= (altGeometric - noRefraction) / (lowestRefracted - noRefraction)
	}
	return max(r, 0) // it is -0.1 arcseconds in the zenith
}

// refractionTable holds Refraction every refractionStep degrees from
// noRefraction to the zenith, for the hot loop: a tangent costs more than all
// the rest of a position. Between its points it is linear, within 0.05
// arcseconds (TestRefractionTable).
var refractionTable = sync.OnceValue(func() []float64 {
	table := make([]float64, int((90-noRefraction)/refractionStep)+2)
	for i := range table {
		table[i] = Refraction(noRefraction + float64(i)*refractionStep)
	}
	return table
})

const refractionStep = 1.0 / 32 // a power of two: no rounding

func tabulatedRefraction(table []float64, altGeometric float64) float64 {
	x := (altGeometric - noRefraction) / refractionStep
	if !(x > 0) {
		return 0
	}
	i := min(int(x), len(table)-2)
	return table[i] + (table[i+1]-table[i])*(x-float64(i))
}

// Airmass returns how many times the zenith's air the light crosses, from the
// apparent altitude in degrees: Kasten & Young 1989, Applied Optics 28, 4735.
// At the horizon it is 38; below it is +Inf, for nothing is seen.
func Airmass(altApparent float64) float64 {
	if altApparent < 0 {
		return math.Inf(1)
	}
	return 1 / (math.Sin(altApparent*radian) + 0.50572*math.Pow(altApparent+6.07995, -1.6364))
}
