package vision

import "math"

// Twilight in the zenith: Patat, Ugolnikov & Postylyakov (2006), A&A 455,
// 385-393, for the Sun 5 to 15 degrees down (V = 11.84 + 1.518 x - 0.057 x^2,
// x its zenith distance - 95, rms 0.18; a site of 2600 m), and Koomen et al.
// (1952), J. Opt. Soc. Am. 42, 353, for the Sun higher than that.

// The parabola of Patat turns over at a zenith distance of 108 and brightens
// again: nothing is taken from it beyond 105. His night sky is 21.6.
const (
	patatEnds  = 105.0
	patatNight = 21.6
)

// A low site sees a brighter twilight than Patat's at 2600 m: by 1.4.
const (
	lowSiteFactor = 1.4
	patatSite     = 2600.0
	koomenSite    = 2800.0
)

// koomen holds zenith luminance in cd/m^2 by the Sun's altitude in degrees,
// for a low site and for 2800 m.
var koomen = []struct{ sun, low, high float64 }{
	{-6, 0.65, 0.24}, {-3, 21.5, 10.8}, {0, 161, 86},
}

// daylightRise is the decimal logarithm of the brightening per degree after
// sunrise, and daylightTop a bright day's zenith, cd/m^2; both from memory,
// good enough to know that nothing faint is seen.
const (
	daylightRise = 0.14
	daylightTop  = 4000.0
)

// ZenithTwilight returns the luminance in cd/m^2 that the Sun adds to the
// zenith at altitude sun in degrees over a site at elevation m. Between 5 and
// 6 degrees down the two sources are blended.
func ZenithTwilight(sun, elevation float64) float64 {
	switch {
	case 90-sun >= patatEnds:
		return 0
	case sun <= -6:
		return patatTwilight(sun, elevation)
	case sun >= -5:
		return koomenTwilight(sun, elevation)
	}
	w := sun + 6 // 0 at -6, 1 at -5
	return math.Exp((1-w)*math.Log(patatTwilight(sun, elevation)) + w*math.Log(koomenTwilight(sun, elevation)))
}

func patatTwilight(sun, elevation float64) float64 {
	x := 90 - sun - 95
	v := 11.84 + 1.518*x - 0.057*x*x
	height := math.Min(math.Max(elevation, 0)/patatSite, 1)
	return math.Max(0, Luminance(v)-Luminance(patatNight)) * (lowSiteFactor + (1-lowSiteFactor)*height)
}

func koomenTwilight(sun, elevation float64) float64 {
	height := math.Min(math.Max(elevation, 0)/koomenSite, 1)
	at := func(n int) float64 {
		return (1-height)*math.Log10(koomen[n].low) + height*math.Log10(koomen[n].high)
	}
	last := len(koomen) - 1
	if sun >= koomen[last].sun {
		return math.Min(daylightTop, math.Pow(10, at(last)+daylightRise*sun))
	}
	n := 0
	for n < last-1 && sun > koomen[n+1].sun {
		n++
	}
	f := (sun - koomen[n].sun) / (koomen[n+1].sun - koomen[n].sun)
	return math.Pow(10, (1-f)*at(n)+f*at(n+1))
}

// twilightAt is the twilight in cd/m^2 at zenith distance z and an angle from
// the Sun: the zenith's, times how much brighter the sky is there by Schaefer
// (1993, Vistas in Astronomy 36, 311): 10^(0.4 z/(360 k)) (100/R) (1 -
// 10^(-0.4 k X)). At 30 degrees of altitude 9 times toward the Sun, 2 away.
func (s Sky) twilightAt(z, sunSeparation float64) float64 {
	zenith := ZenithTwilight(s.SunAltitude, s.Elevation)
	if zenith == 0 || sunSeparation <= 0 {
		return zenith
	}
	k := s.extinction()
	// The formula runs away at the Sun and at the horizon.
	r := math.Max(sunSeparation, 10)
	zc := math.Min(z, 80)
	here := math.Pow(10, 0.4*zc/(360*k)) / r * (1 - math.Pow(10, -0.4*k*airmass(90-zc)))
	above := 1 / (90 - s.SunAltitude) * (1 - math.Pow(10, -0.4*k))
	return zenith * here / above
}
