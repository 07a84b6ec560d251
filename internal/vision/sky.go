package vision

import (
	"fmt"
	"math"

	"duskboard/internal/sky"
)

// Extinction returns V magnitudes per airmass at an elevation in m for an
// aerosol amount: 0.035 winter, 0.05 mean, 0.065 summer (Green 1992, Int.
// Comet Quarterly 14, 55): 0.28 at sea level, 0.21 at 1 km for the mean.
func Extinction(elevation, aerosol float64) float64 {
	km := elevation / 1000
	return 0.1451*math.Exp(-km/7.996) + 0.016 + aerosol*math.Pow(0.51, -1.3)*math.Exp(-km/1.5)
}

// MeanAerosol is the yearly mean for Extinction.
const MeanAerosol = 0.05

// airmass is the sky's for an apparent altitude in degrees, for dimming; below
// the horizon its value there.
func airmass(alt float64) float64 { return sky.Airmass(math.Max(alt, 0)) }

// path is the length of the glowing or scattering layer along the line of
// sight at zenith distance z in degrees, 1 in the zenith: (1 - 0.96 sin^2
// z)^(-1/2), van Rhijn's function as Krisciunas & Schaefer use it. Not an
// airmass for dimming.
func path(z float64) float64 {
	s := math.Sin(z / degree)
	return 1 / math.Sqrt(1-0.96*s*s)
}

// Sky is a moment's sky as far as brightness goes, before a target is chosen.
type Sky struct {
	Dark       float64 // zenith on a moonless night, V mag per square arcsecond
	Extinction float64 // mag per airmass; 0 or less: 0.28, an average lowland night
	Elevation  float64 // of the site, m; a high site has a darker twilight

	SunAltitude float64 // degrees

	MoonAltitude   float64 // degrees; below 0 the Moon gives no light
	MoonPhaseAngle float64 // degrees: 0 full, 90 quarter, 180 new
	MoonDistance   float64 // km; 0: the mean, 384400
}

// Toward is the direction of a target as far as brightness goes.
type Toward struct {
	Altitude       float64 // apparent, degrees
	MoonSeparation float64 // degrees; 0 for the Moon itself, whose glare then surrounds it
	SunSeparation  float64 // degrees; 0: unknown, twilight as in the zenith
	Dome           float64 // light dome of a town in this azimuth: mag brighter
}

// Background is the sky behind a target.
type Background struct {
	Mu        float64 // V mag per square arcsecond
	Luminance float64 // cd/m^2, the sum of:
	Dark      float64 // airglow, stars, towns
	Moon      float64
	Twilight  float64
}

// DefaultExtinction in mag per airmass stands in for an unknown one; common
// practice: 0.20 clear, 0.28 average, 0.4 to 0.5 hazy.
const DefaultExtinction = 0.28

func (s Sky) extinction() float64 {
	if s.Extinction > 0 {
		return s.Extinction
	}
	return DefaultExtinction
}

// At returns the sky behind a target: dark sky, moonlight and twilight, added
// as luminances.
func (s Sky) At(t Toward) Background {
	z := 90 - math.Min(math.Max(t.Altitude, 0), 90)
	b := Background{
		Dark:     s.darkAt(z) * math.Pow(10, 0.4*t.Dome),
		Moon:     s.moonAt(z, t.MoonSeparation),
		Twilight: s.twilightAt(z, t.SunSeparation),
	}
	b.Luminance = b.Dark + b.Moon + b.Twilight
	b.Mu = Brightness(b.Luminance)
	return b
}

// Dimming returns the magnitudes that the air takes from a target at an
// apparent altitude in degrees.
func (s Sky) Dimming(altitude float64) float64 { return s.extinction() * airmass(altitude) }

// Sentence says what makes the sky as bright as it is.
func (b Background) Sentence() string {
	cause := "the site's own darkness"
	switch {
	case b.Twilight > b.Dark && b.Twilight >= b.Moon:
		cause = "twilight"
	case b.Moon > b.Dark:
		cause = "moonlight"
	case b.Moon+b.Twilight > 0.3*b.Dark:
		cause = "the site's darkness and some moonlight"
		if b.Twilight > b.Moon {
			cause = "the site's darkness and the last twilight"
		}
	}
	return fmt.Sprintf("Sky %.1f mag per square arcsecond: %s.", b.Mu, cause)
}

// airglowShare of the dark zenith's light comes from a thin high layer; the
// rest does not change with zenith distance (Patat 2003, A&A 400, 1183,
// appendix C, after Garstang 1989, PASP 101, 306, eq. 29).
const airglowShare = 0.6

// darkAt is the moonless sky in cd/m^2 at zenith distance z. The path is held
// constant below 10 degrees of altitude, where the layer model means nothing.
func (s Sky) darkAt(z float64) float64 {
	x := path(math.Min(z, 80))
	mag := -2.5*math.Log10(1-airglowShare+airglowShare*x) + s.extinction()*(x-1)
	return Luminance(s.Dark + mag)
}
