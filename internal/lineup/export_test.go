package lineup

import "duskboard/internal/kit"

// What the tests of the factors need: they are pure functions of numbers, and
// are judged one by one with values at their bounds.
var (
	FieldFactor    = fieldFactor
	MountFactor    = mountFactor
	PlaceFactor    = placeFactor
	SafetyFactor   = safetyFactor
	StateFactor    = stateFactor
	PowerFactor    = powerFactor
	DelightFactor  = delightFactor
	EyeFactor      = eyeFactor
	MarginValue    = marginValue
	ReachOf        = Crowd.reachOf
	Wishes         = wishes
	LookSeconds    = lookSeconds
	ShowAtOnce     = showAtOnce
	WholeWeightsOK = func(r Rules) bool {
		for _, w := range r.Weights {
			if !(w > 0 && w <= 1) {
				return false
			}
		}
		return r.Weights[Safety] == 1
	}
)

type (
	PlaceInput = placeInput
	PowerInput = powerInput
	Glass      = glass
	Wish       = wish
)

// Place and power inputs by name, for the tests.
func MakePlace(alt, horizon, least, minAlt, maxAlt float64, hidden bool) PlaceInput {
	p := PlaceInput{alt: alt, lowest: alt, highest: alt, horizon: horizon, least: least, hidden: hidden}
	p.inst.Name, p.inst.MinAltitude, p.inst.MaxAltitude = "Tube", minAlt, maxAlt
	return p
}

// OnMount is the same place seen from another mount.
func (p PlaceInput) OnMount(m kit.Mount) PlaceInput {
	p.inst.Mount = m
	return p
}

// TurnsOver is turnsOver for the hour angles in degrees of a block's two ends.
func TurnsOver(from, to, overrun float64) bool {
	return turnsOver(scene{hourFrom: from, hourTo: to}, overrun)
}

func MakePower(power, aperture, eye, seeing, obstruction float64, w Wish) PowerInput {
	e := aperture / power
	return PowerInput{power: power, exitPupil: e, eyePupil: eye, topAperture: 2 * aperture, topSeeing: seenWide / seeing, shadow: obstruction * max(1, e/eye), wish: w}
}

func MakeGlass(warm, warmMax float64, dewed, maybe, aligned bool, edge float64, whole bool) Glass {
	return Glass{known: true, warm: warm, warmMax: warmMax, dewed: dewed, dewMaybe: maybe, surface: "corrector plate", aligned: aligned, edge: edge, edgeWhole: whole}
}
