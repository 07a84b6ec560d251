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

// SkyOfNakedEye returns the zenith brightness in mag per square arcsecond for
// a naked-eye limiting magnitude, by a conversion in wide use (attributed to
// Schaefer 1990; the constants are not known to stand there). A rounded hint
// only; above magnitude 6.6 the darkest natural sky, 21.9.
func SkyOfNakedEye(limit float64) float64 {
	x := math.Pow(10, 1.586-limit/5) - 1
	if limit >= 6.6 || x <= 0 {
		return 21.9
	}
	return 21.58 - 5*math.Log10(x)
}

// SkyOfBortle returns a central zenith brightness in mag per square arcsecond
// for a class of the Bortle scale (2001), 1 to 9; others are the nearest. The
// published bands disagree by up to 0.5 mag: an input default, nothing more.
func SkyOfBortle(class int) float64 {
	central := [...]float64{21.9, 21.6, 21.4, 20.9, 19.8, 18.8, 18.3, 17.8, 17.0}
	return central[min(max(class, 1), len(central))-1]
}
