package sky

import "math"

// curve is a vector as a function of time: a Chebyshev polynomial over one span.
type curve struct {
	middle, half float64 // seconds since the night's From
	c            []vec3
}

// fitCurve samples f (argument: seconds since From) at the Chebyshev nodes of
// the span and returns the polynomial through them.
func fitCurve(from, to float64, nodes int, f func(s float64) vec3) *curve {
	k := &curve{middle: (from + to) / 2, half: (to - from) / 2, c: make([]vec3, nodes)}
	n := float64(nodes)
	for i := range nodes {
		x := math.Cos(math.Pi * (float64(i) + 0.5) / n)
		v := f(k.middle + x*k.half)
		for j := range nodes {
			w := 2 / n * math.Cos(math.Pi*float64(j)*(float64(i)+0.5)/n)
			k.c[j] = k.c[j].add(v.scale(w))
		}
	}
	k.c[0] = k.c[0].scale(0.5)
	return k
}

// at evaluates the curve (Clenshaw's recurrence).
func (k *curve) at(s float64) vec3 {
	x := (s - k.middle) / k.half
	var b1, b2 vec3
	for i := len(k.c) - 1; i > 0; i-- {
		c := &k.c[i]
		b0 := vec3{2*x*b1.X - b2.X + c.X, 2*x*b1.Y - b2.Y + c.Y, 2*x*b1.Z - b2.Z + c.Z}
		b2, b1 = b1, b0
	}
	c := &k.c[0]
	return vec3{x*b1.X - b2.X + c.X, x*b1.Y - b2.Y + c.Y, x*b1.Z - b2.Z + c.Z}
}
