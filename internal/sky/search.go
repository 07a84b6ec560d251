package sky

import "math"

// root is where a function of time crosses zero.
type root struct {
	s      float64 // seconds
	rising bool    // from below to above
}

// tolerance of a root in seconds: far below what the air allows anybody to see.
const rootTolerance = 1e-3

// findRoots returns the zero crossings of f, in order, from its values at
// ascending instants. Where three neighbouring values suggest a peak or a dip
// that only just reaches zero between the samples, the extremum is looked up,
// so that an object which barely rises is not lost. bend bounds how far f may
// stray from the parabola through three neighbours. Touching zero without
// crossing is no root. A value of exactly zero counts as above.
func findRoots(at, value []float64, bend float64, f func(s float64) float64) []root {
	var roots []root
	between := func(a, fa, b, fb float64) {
		if (fa >= 0) != (fb >= 0) {
			roots = append(roots, root{bracketed(a, fa, b, fb, f), fb >= 0})
		}
	}
	for i := 1; i < len(at); i++ {
		a, b := at[i-1], at[i]
		fa, fb := value[i-1], value[i]
		if (fa >= 0) == (fb >= 0) {
			// The extremum may lie in this interval if f turns at either end.
			if e, fe, ok := hiddenExtremum(at, value, i, bend, f); ok {
				between(a, fa, e, fe)
				between(e, fe, b, fb)
			}
			continue
		}
		between(a, fa, b, fb)
	}
	return roots
}

// hiddenExtremum looks between samples i-1 and i, of equal sign, for an
// extremum of the other sign.
func hiddenExtremum(at, value []float64, i int, bend float64, f func(s float64) float64) (s, fs float64, ok bool) {
	a, b := at[i-1], at[i]
	fa, fb := value[i-1], value[i]
	sign := 1.0
	if fa >= 0 {
		sign = -1 // look for a dip
	}
	// Make it a peak that may rise above zero.
	ga, gb := sign*fa, sign*fb
	// A peak between a and b needs f to climb towards the interval from the
	// left or the right; an interval at the end of the table lacks one witness.
	fromLeft := i < 2 || sign*value[i-2] <= ga
	fromRight := i+1 >= len(value) || sign*value[i+1] <= gb
	if !fromLeft || !fromRight {
		return 0, 0, false
	}
	// How high can it be? The parabola's peak is within an eighth of the
	// second difference of the higher end.
	curvature := 0.0
	if i >= 2 {
		curvature = math.Abs(value[i-2] - 2*fa + fb)
	}
	if i+1 < len(value) {
		curvature = max(curvature, math.Abs(fa-2*fb+value[i+1]))
	}
	if max(ga, gb)+curvature/2+bend < 0 {
		return 0, 0, false
	}
	s = peak(a, b, func(s float64) float64 { return sign * f(s) })
	fs = f(s)
	return s, fs, (fs >= 0) != (fa >= 0)
}

// peak returns where f, with one peak in a..b, is highest (golden section).
func peak(a, b float64, f func(s float64) float64) float64 {
	const g = 0.6180339887498949
	c, d := b-g*(b-a), a+g*(b-a)
	fc, fd := f(c), f(d)
	for b-a > rootTolerance {
		if fc > fd {
			b, d, fd = d, c, fc
			c = b - g*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + g*(b-a)
			fd = f(d)
		}
	}
	return (a + b) / 2
}

// bracketed returns the root of f between a and b, whose values differ in
// sign, by the ITP method (Oliveira & Takahashi 2020, ACM Trans. Math. Softw.
// 47, 5): as safe as halving, nearly as fast as the secant.
func bracketed(a, fa, b, fb float64, f func(s float64) float64) float64 {
	switch {
	case fa == 0:
		return a
	case fb == 0:
		return b
	}
	const eps = rootTolerance / 2
	sign := 1.0
	if fa > 0 {
		sign = -1 // the method wants a rising function
	}
	fa, fb = sign*fa, sign*fb
	k1 := 0.2 / (b - a)
	reach := eps * math.Exp2(math.Ceil(math.Log2((b-a)/(2*eps)))+1)
	for b-a > 2*eps {
		half := (a + b) / 2
		secant := (b*fa - a*fb) / (fa - fb)
		toHalf := math.Copysign(1, half-secant)
		m := half
		if shift := k1 * (b - a) * (b - a); shift <= math.Abs(half-secant) {
			m = secant + toHalf*shift
		}
		if r := reach - (b-a)/2; math.Abs(m-half) > r {
			m = half - toHalf*r
		}
		switch fm := sign * f(m); {
		case fm > 0:
			b, fb = m, fm
		case fm < 0:
			a, fa = m, fm
		default:
			return m
		}
		reach /= 2
	}
	return (a + b) / 2
}
