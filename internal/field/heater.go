package field

import "math"

const (
	// StripEfficiency is the share of a heater strip's power that reaches the
	// glass, the rest warming cell and air. An engineering choice within 0.3
	// to 0.5.
	StripEfficiency = 0.4
	// DewMargin is by how much a heater shall keep the glass above the dew
	// point, K. More makes air plumes in front of the lens.
	DewMargin = 2.0
)

// GlassHeat is the power in W that must reach a round face of diameter metres
// to hold it margin kelvin above the dew point (degrees C), when it would
// settle at rest degrees C and stiffness W m^-2 K^-1 tie it to the air; 0 when
// it stays above by itself.
func GlassHeat(diameter, stiffness, rest, dewPoint, margin float64) float64 {
	return math.Max(0, area(diameter)*stiffness*(dewPoint+margin-rest))
}

// StripPower is the power in W of a strip that brings heat W to the glass.
func StripPower(heat float64) float64 { return heat / StripEfficiency }

// area is that of a disc, m2.
func area(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }
