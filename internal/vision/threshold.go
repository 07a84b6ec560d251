package vision

import "math"

// Contrast threshold by Crumey (2014), "Human contrast threshold and
// astronomical visibility", MNRAS 442, 2600-2619; equation numbers are his.
// Valid for backgrounds of 1e-5 to 3e3 cd/m^2 and targets of 0.6 to 360
// arcminutes, achromatic, free viewing, observers of 19 to 26 years.

// darkest is the background in cd/m^2 below which it counts as black and the
// threshold increment stays as it is here (eqs. 50-52).
const darkest = 1e-5

// branches holds the two asymptotes of the threshold at one background: R in
// sr for points (contrast = R/A), infinite for very large targets, and the
// exponent that joins them.
type branches struct{ point, infinite, join float64 }

// branchesAt returns the asymptotes for a background b in cd/m^2, not below
// darkest.
func branchesAt(b float64) branches {
	x := 1 / math.Sqrt(math.Sqrt(b))
	// The forms for all backgrounds, eqs. 25, 28 and 35-40. The simpler ones
	// for the rods alone (eqs. 23, 35) are the same within 0.08 mag up to 1e-3
	// cd/m^2, but run off by up to half a magnitude in twilight, where guests
	// look too.
	sqrtR := math.Sqrt((5.949e-8*x-2.389e-7)*x+2.459e-7) + 4.120e-4*x - 4.225e-4
	infinite := math.Sqrt((9.606e-6*x-4.112e-5)*x+5.019e-5) + 4.837e-3*x - 4.884e-3
	// Eqs. 42-44.
	join := 0.6
	switch {
	case b > 3.40:
		join = 1.146 - 0.0885*math.Log10(b)
	case b >= 0.193:
		join = 0.8861 + 0.4*math.Log10(b)
	}
	return branches{point: sqrtR * sqrtR, infinite: infinite, join: join}
}

// Threshold returns the contrast (target minus background, over background)
// that half of laboratory observers detect for a target of solid angle area
// in sr on a background in cd/m^2, times the field factor (eq. 41). Below
// 1e-5 cd/m^2 the increment is kept, so the contrast grows as the background
// falls.
func Threshold(area, background, fieldFactor float64) float64 {
	b := math.Max(background, darkest)
	t := branchesAt(b)
	c := math.Pow(math.Pow(t.point/area, t.join)+math.Pow(t.infinite, t.join), 1/t.join)
	return fieldFactor * c * b / background
}

// StarLimit returns the V magnitude of the faintest star against a background
// in cd/m^2 with the naked eye, for a field factor: dI = F B R (lux).
func StarLimit(background, fieldFactor float64) float64 {
	b := math.Max(background, darkest)
	return StarMagnitude(fieldFactor * b * branchesAt(b).point)
}

// LargeLimit returns the surface brightness in V mag per square arcsecond of
// the faintest very large glow against a background in cd/m^2, its own light
// alone: 12.58 - 2.5 log(F B C_inf).
func LargeLimit(background, fieldFactor float64) float64 {
	b := math.Max(background, darkest)
	return Brightness(fieldFactor * b * branchesAt(b).infinite)
}

// RiccoRadius returns the radius in arcminutes up to which only the total
// light of a target counts at a background in cd/m^2: where the asymptotes
// meet.
func RiccoRadius(background float64) float64 {
	t := branchesAt(math.Max(background, darkest))
	return math.Sqrt(t.point/t.infinite/math.Pi) * degree * 60
}
