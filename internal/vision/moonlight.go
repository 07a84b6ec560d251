package vision

import "math"

// Moonlight by Krisciunas & Schaefer (1991), "A model of the brightness of
// moonlight", PASP 103, 1033-1039; accuracy 8 to 23 per cent by its authors.

// moonMagnitude is the V magnitude of the Moon at a phase angle in degrees
// and mean distance (eq. 20).
func moonMagnitude(phaseAngle float64) float64 {
	a := math.Abs(phaseAngle)
	return -12.73 + 0.026*a + 4e-9*a*a*a*a
}

// meanMoonDistance in km.
const meanMoonDistance = 384400.0

// Moonlight returns the surface brightness of moonlit air alone in V mag per
// square arcsecond: phase angle, separation Moon to target, zenith distances
// of the Moon and of the target in degrees, extinction in mag per airmass.
func Moonlight(phaseAngle, separation, moonZ, z, extinction float64) float64 {
	return fromNanolamberts(moonNanolamberts(phaseAngle, separation, moonZ, z, extinction))
}

// moonNanolamberts is eq. 15.
func moonNanolamberts(phaseAngle, separation, moonZ, z, k float64) float64 {
	light := math.Pow(10, -0.4*(moonMagnitude(phaseAngle)+16.57)) // eq. 20: 3.84 = 16.57 - 12.73
	return scattering(separation) * light * math.Pow(10, -0.4*k*path(moonZ)) * (1 - math.Pow(10, -0.4*k*path(z)))
}

// scattering is f(rho), eq. 21 with the aureole of eq. 19 within 10 degrees.
func scattering(rho float64) float64 {
	c := math.Cos(rho / degree)
	rayleigh := math.Pow(10, 5.36) * (1.06 + c*c)
	if rho < 10 {
		return rayleigh + 6.2e7/math.Pow(math.Max(rho, 0.25), 2)
	}
	return rayleigh + math.Pow(10, 6.15-rho/40)
}

// moonAt is the moonlight in cd/m^2 at zenith distance z; none while the Moon
// is down.
func (s Sky) moonAt(z, separation float64) float64 {
	if s.MoonAltitude <= 0 {
		return 0
	}
	nl := moonNanolamberts(s.MoonPhaseAngle, separation, 90-s.MoonAltitude, z, s.extinction())
	if s.MoonDistance > 0 {
		near := meanMoonDistance / s.MoonDistance
		nl *= near * near
	}
	return nl * Nanolambert
}
