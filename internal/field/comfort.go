package field

import "math"

// WindChill is the temperature in degrees C that air of t degrees with a wind
// of v km/h at 10 m feels like on bare skin (Environment Canada and the US
// National Weather Service, 2001), and false where the published chart does
// not reach: above 5 degrees or below 5 km/h. It is about people; no wind
// cools glass below the air.
func WindChill(t, v float64) (float64, bool) {
	if t > 5 || v < 5 {
		return t, false
	}
	p := math.Pow(v, 0.16)
	return 13.12 + 0.6215*t - 11.37*p + 0.3965*t*p, true
}

// HeatIndex is the temperature in degrees F that air of f degrees F and rh per
// cent feels like in the shade (US National Weather Service, SR 90-23 with its
// adjustments; full sun adds up to 15). Below 80 the service's simple form
// answers.
func HeatIndex(f, rh float64) float64 {
	simple := 0.5 * (f + 61 + 1.2*(f-68) + 0.094*rh)
	if mean := (simple + f) / 2; mean < 80 {
		return mean
	}
	h := -42.379 + 2.04901523*f + 10.14333127*rh - 0.22475541*f*rh - 0.00683783*f*f - 0.05481717*rh*rh +
		0.00122874*f*f*rh + 0.00085282*f*rh*rh - 0.00000199*f*f*rh*rh
	switch {
	case rh < 13 && f >= 80 && f <= 112:
		h -= (13 - rh) / 4 * math.Sqrt((17-math.Abs(f-95))/17)
	case rh > 85 && f >= 80 && f <= 87:
		h += (rh - 85) / 10 * (87 - f) / 5
	}
	return h
}

// HeatIndexC is [HeatIndex] in degrees C, and false where it says no more than
// the air temperature: below 80 degrees F.
func HeatIndexC(t, rh float64) (float64, bool) {
	h := HeatIndex(t*9/5+32, rh)
	if h < 80 {
		return t, false
	}
	return (h - 32) * 5 / 9, true
}
