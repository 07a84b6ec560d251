package kit

import "math"

// Defaults of an instrument. All are common practice of the trade, from
// memory unless a source is named, and stand in only where the club left a
// field empty; everything computed from one is marked as assumed.

// Fill returns the instrument with a default in every field that is named in
// Assumed or that cannot be true as it stands (a focal length of 0). The
// result's Assumed names every field filled, sorted; i is not changed.
func (i Instrument) Fill() Instrument {
	a := missing(i.Assumed)
	word(a, "Design", &i.Design, Custom)
	i.fillOptics(a)
	i.fillMount(a)
	i.fillPlace(a)
	i.fillCare(a)
	i.Assumed = a.sorted()
	return i
}

func (i *Instrument) fillOptics(a *assumptions) {
	binoculars := i.Design == Binoculars
	// A missing aperture is refused by Check; 100 mm (50 for binoculars) only
	// keeps the arithmetic of an unchecked record alive.
	a.atLeast("Aperture", &i.Aperture, 5, pick(binoculars, 50.0, 100))
	if binoculars {
		a.atLeast("Power", &i.Power, 1, math.Min(60, math.Max(3, round(i.Aperture/5, 1)))) // 10x50, 16x80: exit pupil 5 mm
		a.number("FixedField", &i.FixedField, round(62/i.Power, 0.1))                      // 10x50: 6.2 degrees
	} else {
		a.atLeast("FocalLength", &i.FocalLength, 10, round(i.Aperture*usualRatio(i.Design, i.Aperture), 10))
	}
	if a.has("Obstruction") || math.IsNaN(i.Obstruction) || i.Obstruction < 0 || i.Obstruction > 0.9 || i.Obstruction == 0 && needsSecondary(i.Design) {
		a.mark("Obstruction")
		i.Obstruction = usualObstruction(i.Design, i.ratio())
	}
	a.number("Thickness", &i.Thickness, round(usualThickness(i.Design, i.Aperture), 1))
	word(a, "Glass", &i.Glass, usualGlass(i.Design))
	a.yes("ClosedTube", &i.ClosedTube, i.Design != Newtonian && i.Design != OtherCassegrain && i.Design != Custom)
	word(a, "Focuser", &i.Focuser, usualFocuser(i.Design, i.Aperture))
	if !binoculars {
		a.number("MaxFieldStop", &i.MaxFieldStop, usualFieldStop(i.Design, i.Aperture, i.Focuser))
	}
	a.orZero("BackFocus", &i.BackFocus, usualBackFocus(i.Design, i.Focuser))
}

// ratio is the focal ratio; 0 for binoculars.
func (i *Instrument) ratio() float64 { return i.FocalLength / i.Aperture }

func pick[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}

// usualRatio is the focal ratio most often sold in the design.
func usualRatio(d Design, aperture float64) float64 {
	switch d {
	case Newtonian:
		// Large mirrors are made fast to keep the eyepiece within reach.
		switch {
		case aperture <= 160:
			return 8
		case aperture <= 220:
			return 6
		case aperture <= 300:
			return 5
		}
		return 4.5
	case SchmidtCassegrain:
		return 10
	case MaksutovCassegrain:
		return 13
	case OtherCassegrain:
		return 12
	case Apochromat:
		return 7
	}
	return 8
}

func isCassegrain(d Design) bool {
	return d == SchmidtCassegrain || d == MaksutovCassegrain || d == OtherCassegrain
}

// needsSecondary reports whether a mirror stands in the way of the light. A
// Newtonian of unobstructed (off-axis) form is entered as Custom.
func needsSecondary(d Design) bool { return d == Newtonian || isCassegrain(d) }

// usualObstruction: the diagonal mirror of a Newtonian must take in a cone
// that widens as the focal ratio falls; Cassegrains need a wide baffle.
func usualObstruction(d Design, ratio float64) float64 {
	switch d {
	case Newtonian:
		switch {
		case ratio < 4.4:
			return 0.28
		case ratio < 5.5:
			return 0.25
		case ratio < 7:
			return 0.22
		}
		return 0.20
	case SchmidtCassegrain:
		return 0.34
	case MaksutovCassegrain, OtherCassegrain:
		return 0.33
	case Custom:
		return 0.25 // may be anything; a middling mirror telescope
	}
	return 0
}

// usualThickness in mm: Newtonian mirrors of 152, 203, 254 and 406 mm measure
// about 25, 30, 36 and 50 mm, a Schmidt-Cassegrain's primary a tenth of its
// diameter, a doublet's two lenses a fifth.
func usualThickness(d Design, aperture float64) float64 {
	switch d {
	case Achromat, Apochromat, Binoculars:
		return 0.20 * aperture
	case SchmidtCassegrain:
		return 0.10 * aperture
	case MaksutovCassegrain:
		return 0.18 * aperture // primary and the thick meniscus together cool last
	}
	return 10 + 0.1*aperture
}

func usualGlass(d Design) Glass {
	switch d {
	case Achromat, Apochromat, Binoculars:
		return Crown
	}
	return Borosilicate
}

// usualFocuser is the smaller barrel when in doubt, so that no train is
// promised that does not fit.
func usualFocuser(d Design, aperture float64) Barrel {
	from := math.Inf(1)
	switch d {
	case Binoculars:
		return Fixed
	case Newtonian:
		from = 150
	case Achromat:
		from = 100
	case Apochromat:
		from = 70
	case SchmidtCassegrain, MaksutovCassegrain, OtherCassegrain:
		from = 230
	}
	return pick(aperture >= from, Barrel2, Barrel125)
}

// Customary widest field stops of the barrels, mm. Common practice: 27 mm is
// the stop of a 32 mm eyepiece of 50 degrees, 46 mm that of the widest 2 inch
// eyepieces.
const (
	Stop125 = 27.0
	Stop2   = 46.0
)

// WidestStop is the customary widest field stop of a barrel in mm; 0 for
// Fixed, whose eyepieces cannot be changed.
func (b Barrel) WidestStop() float64 {
	switch b {
	case Barrel125:
		return Stop125
	case Barrel2:
		return Stop2
	}
	return 0
}

// usualFieldStop is the barrel's, cut down to the rear opening of a
// Cassegrain: 38 mm (1.5 in) at 203 mm by a user guide, 46 mm at 235 and
// 54 mm at 280 from memory, in proportion below.
func usualFieldStop(d Design, aperture float64, b Barrel) float64 {
	stop := b.WidestStop()
	if stop == 0 {
		stop = Stop125
	}
	if isCassegrain(d) {
		stop = math.Min(stop, round(38*aperture/203, 1))
	}
	return stop
}

// usualBackFocus in mm: a Newtonian has little in-travel, a refractor is made
// for a diagonal, a Cassegrain focuses by its mirror and reaches far out.
func usualBackFocus(d Design, b Barrel) float64 {
	switch d {
	case Newtonian:
		return 35
	case Achromat, Apochromat:
		return pick(b == Barrel2, 130.0, 90)
	case SchmidtCassegrain, MaksutovCassegrain:
		return 200
	case Binoculars:
		return 0
	}
	return 130
}
