package lineup

import "math"

// ramp rises from low at a to high at b, linear in between.
func ramp(x, a, b, low, high float64) float64 {
	switch {
	case x <= a:
		return low
	case x >= b:
		return high
	}
	return low + (high-low)*(x-a)/(b-a)
}

// plateau is 1 between lo and hi and falls off on both sides as a bell in the
// logarithm, to about 0.6 at a factor of two and 0.14 at a factor of four
// when width is 1 (in octaves).
func plateau(x, lo, hi, width float64) float64 {
	if x <= 0 {
		return 0
	}
	d := 0.0
	if x < lo {
		d = math.Log2(lo / x)
	} else if x > hi {
		d = math.Log2(x / hi)
	}
	return math.Exp(-0.5 * (d / width) * (d / width))
}
