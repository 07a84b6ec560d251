package field

import (
	"math"

	"duskboard/internal/weather"
)

const (
	stefanBoltzmann = 5.670374419e-8 // W m^-2 K^-4, CODATA 2018
	kelvin          = 273.15         // K at 0 degrees C
)

// SkyModel is a formula for how much heat the clear night sky sends down.
// Published ones differ by 0.04 in emissivity, which is one kelvin on a plate;
// the spread between them is part of every band we give.
type SkyModel int

// The clear-sky models, with the paper they come from. None of the primary
// texts was at hand; the constants agree in several secondary ones.
const (
	// BerdahlMartin is Berdahl & Martin 1984, Solar Energy 32, 663, without its
	// term for the hour: in the middle of the others, and our likely case.
	BerdahlMartin SkyModel = iota
	// Brunt is Brunt 1932, QJRMS 58, 389: the coldest sky.
	Brunt
	// BruntLi is Brunt's form as refitted by Li, Jiang & Coimbra 2017, Solar Energy 144, 40.
	BruntLi
	// BerdahlLi is Berdahl & Martin's form in the same refit: the warm edge of our band.
	BerdahlLi
	// Brutsaert is Brutsaert 1975, Water Resour. Res. 11, 742.
	Brutsaert
	// ClarkAllen is Clark & Allen 1978, 2nd National Passive Solar Conference, 675.
	ClarkAllen
)

// Emissivity is the share, 0 to 1, of a black body's heat at air temperature
// that a clear night sky sends down, for air of t degrees C with the given dew
// point.
func (m SkyModel) Emissivity(t, dewPoint float64) float64 {
	e := weather.SaturationPressure(dewPoint) // hPa, the vapour pressure by definition
	x := dewPoint / 100
	switch m {
	case Brunt:
		return 0.52 + 0.065*math.Sqrt(e)
	case BruntLi:
		return 0.618 + 0.056*math.Sqrt(e)
	case BerdahlLi:
		return 0.758 + 0.521*x + 0.625*x*x
	case Brutsaert:
		return 1.24 * math.Pow(e/(t+kelvin), 1.0/7)
	case ClarkAllen:
		return 0.787 + 0.764*math.Log((dewPoint+kelvin)/273)
	default:
		return 0.711 + 0.56*x + 0.73*x*x
	}
}

// CloudySky is the emissivity of a sky whose clear part has the emissivity
// clear, under a cover of cloud from 0 to 1 (Unsworth & Monteith 1975, QJRMS
// 101, 13).
func CloudySky(clear, cloud float64) float64 {
	return (1-0.84*cloud)*clear + 0.84*cloud
}

// SkyLoss is the heat in W/m2 that a black face at the air temperature of t
// degrees C loses to a sky of the given emissivity over its whole hemisphere.
func SkyLoss(emissivity, t float64) float64 {
	return (1 - emissivity) * blackBody(t+kelvin)
}

// blackBody is what a black body at T kelvin sends out, W/m2.
func blackBody(T float64) float64 { return stefanBoltzmann * T * T * T * T }

// radiativeFilm is the slope of blackBody at t degrees C, W m^-2 K^-1.
func radiativeFilm(t float64) float64 {
	T := t + kelvin
	return 4 * stefanBoltzmann * T * T * T
}

// WindAt brings a wind measured at 10 m down to a height of z metres over
// short grass (FAO Irrigation and Drainage Paper 56, equation 47, which gives
// the wind at 2 m from one at another height; used both ways). It is meant for
// z from 1 to 10 m.
func WindAt(wind10, z float64) float64 {
	return wind10 * windFactor(10) / windFactor(z)
}

// windFactor is the wind at 2 m over that at z metres.
func windFactor(z float64) float64 { return 4.87 / math.Log(67.8*z-5.42) }

// Shelter is how much of the wind over open ground reaches the instruments.
type Shelter float64

// Classes of shelter; engineering choices.
const (
	OpenField Shelter = 1   // nothing near
	SomeTrees Shelter = 0.6 // a few trees, parked cars
	Walled    Shelter = 0.3 // walls or hedges on most sides
)

// instrumentHeight is where the glass stands, m; the log law over short grass
// gives 0.67 of the 10 m wind there, equation 47 gives 0.71.
const instrumentHeight = 1.5

// SkyFilm is the convective film of a flat surface in a wind of v m/s, in W
// m^-2 K^-1 without radiation (Watmuff, Charters & Proctor 1977).
func SkyFilm(v float64) float64 { return 2.8 + 3.0*v }

// ShieldView is the share of the hemisphere of a round plate that is sky when
// it sits at the bottom of a shield that is ratio times as long as wide:
// equal coaxial discs (Siegel & Howell, Thermal Radiation Heat Transfer).
func ShieldView(ratio float64) float64 {
	if ratio <= 0 {
		return 1
	}
	return DiscView(0.5, 0.5, ratio)
}

// DiscView is the view factor from a disc of radius r1 to a coaxial parallel
// one of radius r2 at distance a (the same source).
func DiscView(r1, r2, a float64) float64 {
	q1, q2 := r1/a, r2/a
	x := 1 + (1+q2*q2)/(q1*q1)
	return (x - math.Sqrt(x*x-4*(q2/q1)*(q2/q1))) / 2
}

// zenithCone is by how much more heat a narrow cone about the zenith takes
// than the mean of the hemisphere; a two-band window model gives 1.07 to 1.25.
const zenithCone = 1.15

// ConeFactor is that factor for a shield of the given ratio of length to width.
func ConeFactor(ratio float64) float64 {
	if ratio >= 0.5 {
		return zenithCone
	}
	return 1
}
