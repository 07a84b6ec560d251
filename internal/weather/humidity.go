package weather

import "math"

// Constants of the Magnus form in the WMO Guide to Instruments and Methods of
// Observation (WMO-No. 8, Part I, chapter 4, annex 4.B). Over water they hold
// from -45 to 60 degrees C, over ice from -65 to 0; they read 0.2 to 0.3 per
// cent below Sonntag's fuller formula between 10 and 30 degrees C, which is
// 0.04 K of dew point.
const (
	magnusE0     = 6.112 // hPa at 0 degrees C
	magnusWaterA = 17.62
	magnusWaterB = 243.12 // degrees C
	magnusIceA   = 22.46
	magnusIceB   = 272.62 // degrees C
)

// SaturationPressure is the vapour pressure in hPa of air saturated over
// liquid water at t degrees C.
func SaturationPressure(t float64) float64 {
	return magnusE0 * math.Exp(magnusWaterA*t/(magnusWaterB+t))
}

// SaturationPressureIce is the vapour pressure in hPa of air saturated over
// ice at t degrees C, for t of 0 and below.
func SaturationPressureIce(t float64) float64 {
	return magnusE0 * math.Exp(magnusIceA*t/(magnusIceB+t))
}

// VapourPressure is the vapour pressure in hPa of air at t degrees C with a
// relative humidity of rh per cent over liquid water. Weather services give
// humidity over water below freezing too.
func VapourPressure(t, rh float64) float64 {
	return rh / 100 * SaturationPressure(t)
}

// DewPoint is the temperature in degrees C at which air of t degrees C and rh
// per cent becomes saturated over liquid water. It is NaN for a humidity of
// zero or less, which means "not known", not "dry".
func DewPoint(t, rh float64) float64 {
	return DewPointOf(VapourPressure(t, rh))
}

// DewPointOf is the dew point in degrees C of a vapour pressure e in hPa; NaN
// when e is not positive.
func DewPointOf(e float64) float64 {
	if !(e > 0) {
		return math.NaN()
	}
	x := math.Log(e / magnusE0)
	return magnusWaterB * x / (magnusWaterA - x)
}

// FrostPoint is the temperature in degrees C at which air with the given dew
// point becomes saturated over ice. Below 0 it lies above the dew point, so
// frost comes first; from 0 up ice cannot form and the dew point is returned.
func FrostPoint(dewPoint float64) float64 {
	if dewPoint >= 0 {
		return dewPoint
	}
	y := magnusWaterA * dewPoint / (magnusWaterB + dewPoint)
	return magnusIceB * y / (magnusIceA - y)
}

// RelativeHumidity is the humidity in per cent over liquid water of air at t
// degrees C with the given dew point.
func RelativeHumidity(t, dewPoint float64) float64 {
	return 100 * SaturationPressure(dewPoint) / SaturationPressure(t)
}
