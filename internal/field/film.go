package field

import "math"

// Air at 280 K; textbook values.
const (
	airConductivity = 0.0246  // W m^-1 K^-1
	airViscosity    = 1.39e-5 // m2/s, kinematic
	airDiffusivity  = 1.95e-5 // m2/s, of heat
	airPrandtl      = 0.713
	gravity         = 9.80665 // m/s2
	filmTemperature = 280.0   // K
)

// rayleigh is the Rayleigh number of a surface of length l m, delta K warmer
// than the air. The sign of delta does not matter.
func rayleigh(delta, l float64) float64 {
	return gravity * math.Abs(delta) * l * l * l / (filmTemperature * airViscosity * airDiffusivity)
}

// FilmUp is the natural convection of a disc of diameter d m lying warm face
// up and delta K warmer than still air, W m^-2 K^-1 (Incropera & DeWitt,
// chapter 9, with area over perimeter as the length).
func FilmUp(delta, d float64) float64 {
	l := d / 4
	ra := rayleigh(delta, l)
	nu := 0.54 * math.Sqrt(math.Sqrt(ra))
	if ra > 1e7 {
		nu = 0.15 * math.Cbrt(ra)
	}
	return nu * airConductivity / l
}

// FilmDown is the same for a warm face down (Incropera & DeWitt, chapter 9,
// newer editions).
func FilmDown(delta, d float64) float64 {
	l := d / 4
	return 0.52 * math.Pow(rayleigh(delta, l), 0.2) * airConductivity / l
}

// FilmFan is the film in air that a fan drives at v m/s along a disc of
// diameter d m: a laminar flat plate. A fan that blows straight at the glass
// does up to twice as well.
func FilmFan(v, d float64) float64 {
	re := v * d / airViscosity
	return 0.664 * math.Sqrt(re) * math.Cbrt(airPrandtl) * airConductivity / d
}

// SlabRoot is the first root z of z tan z = bi, and the factor of the leading
// term of the temperature in the middle of a slab that cools from both faces
// (Incropera & DeWitt, chapter 5): ratio = c exp(-z^2 Fo) for Fo > 0.2.
func SlabRoot(bi float64) (z, c float64) {
	lo, hi := 0.0, math.Pi/2
	for range 60 {
		z = (lo + hi) / 2
		if z*math.Tan(z) < bi {
			lo = z
		} else {
			hi = z
		}
	}
	return z, 4 * math.Sin(z) / (2*z + math.Sin(2*z))
}
