package vision

import "math"

const degree = 180 / math.Pi

// Luminance returns the luminance in cd/m^2 of a surface brightness mu in V
// mag per square arcsecond: 10^(0.4 (12.58 - mu)), the zero point of Crumey
// (2014).
func Luminance(mu float64) float64 { return math.Pow(10, 0.4*(12.58-mu)) }

// Brightness returns the surface brightness in V mag per square arcsecond of
// a luminance in cd/m^2; +Inf for none.
func Brightness(luminance float64) float64 {
	if luminance <= 0 {
		return math.Inf(1)
	}
	return 12.58 - 2.5*math.Log10(luminance)
}

// Illuminance returns the lux of a star of V magnitude m: 2.54e-6 10^(-0.4 m).
func Illuminance(m float64) float64 { return 2.54e-6 * math.Pow(10, -0.4*m) }

// StarMagnitude returns the V magnitude of an illuminance in lux.
func StarMagnitude(lux float64) float64 { return -13.99 - 2.5*math.Log10(lux) }

// Nanolambert is one nL in cd/m^2.
const Nanolambert = 1e-5 / math.Pi

// fromNanolamberts returns the surface brightness in V mag per square
// arcsecond of a luminance in nL by Garstang (1986, PASP 98, 364, eq. 19), as
// Krisciunas & Schaefer use it; within 0.01 mag of Brightness.
func fromNanolamberts(nl float64) float64 { return (20.7233 - math.Log(nl/34.08)) / 0.92104 }

// squareArcsecond in steradians.
const squareArcsecond = 2.3504e-11

// ellipse returns the solid angle in sr of an ellipse with axes in arcminutes.
func ellipse(major, minor float64) float64 {
	return math.Pi / 4 * major * minor * 3600 * squareArcsecond
}

// SurfaceBrightness returns the mean surface brightness in V mag per square
// arcsecond of an integrated magnitude spread over an ellipse with axes in
// arcminutes: m + 2.5 log(a b) + 8.63.
func SurfaceBrightness(magnitude, major, minor float64) float64 {
	return magnitude + 2.5*math.Log10(major*minor) + 2.5*math.Log10(3600*math.Pi/4)
}
