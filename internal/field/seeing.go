package field

import "math"

// MirrorSeeing is the blur in arcseconds that a mirror delta kelvin warmer
// than the air adds (Racine, Salmon, Cowley & Sovka 1991, PASP 103, 1020: 0.40
// arcseconds per K to the power 1.2; others find it within a quarter). A
// mirror colder than the air does no harm.
func MirrorSeeing(delta float64) float64 {
	if delta <= 0 {
		return 0
	}
	return 0.40 * math.Pow(delta, 1.2)
}

// CombineSeeing adds the blur of the mirror to that of the sky, both full
// widths in arcseconds, as turbulence in layers adds.
func CombineSeeing(sky, mirror float64) float64 {
	return math.Pow(math.Pow(sky, 5.0/3)+math.Pow(mirror, 5.0/3), 3.0/5)
}

const (
	// maxTolerance caps what even the lowest power forgives, K.
	maxTolerance = 6.0
	// lensTolerance is how much more a lens may lag than a mirror: light goes
	// through it once and the warm air does not gather in front.
	lensTolerance = 1.5
)

// Tolerance is how many kelvin a mirror may be warmer than the air before its
// blur shows at a magnification, the eye resolving 2 arcminutes (an
// engineering choice). It is capped at 6 K.
func Tolerance(magnification float64) float64 {
	if magnification <= 0 {
		return maxTolerance
	}
	return math.Min(maxTolerance, math.Pow(300/magnification, 1/1.2))
}
