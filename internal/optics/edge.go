package optics

import (
	"fmt"
	"math"

	"duskboard/internal/kit"
)

// Coma returns tangential (full length) and sagittal (the bright part) coma
// of a paraboloid in the unit of theta, the distance from the axis: 3
// theta/(16 F^2) and theta/(16 F^2), third order (Handbook of Optics; Argyle,
// Observing and Measuring Visual Double Stars).
func Coma(theta, ratio float64) (tangential, sagittal float64) {
	sagittal = theta / (16 * ratio * ratio)
	return 3 * sagittal, sagittal
}

// ComaFreeRadius returns the radius in mm of the field in which a paraboloid
// of focal ratio F stays diffraction limited (Strehl 0.80): F^3/90 at 550 nm.
func ComaFreeRadius(ratio float64) float64 { return ratio * ratio * ratio / 90 }

// coma is the sagittal coma at the edge of the apparent field (degrees) as
// the eye sees it, arcminutes: 60 AFOV/(32 F^2), whatever the magnification.
// F is the mirror's own: a Barlow lens magnifies the smaller circle it takes,
// blur and all. Only uncorrected paraboloids have it to a degree that guests
// notice; the coma of Schmidt-Cassegrains is left out.
func (t *Train) coma(apparentField float64) float64 {
	if t.Instrument.Design != kit.Newtonian || t.corrected() {
		return 0
	}
	ratio := t.Instrument.FocalLength / t.Instrument.Aperture
	_, sagittal := Coma(apparentField/2*60, ratio)
	return sagittal
}

// Edge blur, seen in the eyepiece, that people begin to notice and that
// disturbs; arcminutes. Most people do not notice 2 to 3 (common practice).
const (
	blurNoticed   = 2.5
	blurDisturbs  = 5.0
	qualitySoft   = 0.6 // EdgeQuality at the border between soft and poor
	qualityLowest = 0.25
)

// comaQuality maps blur in arcminutes to 1 (clean) .. 0.6 (soft) .. 0.25.
func comaQuality(blur float64) float64 {
	switch {
	case blur <= blurNoticed:
		return 1
	case blur <= blurDisturbs:
		return 1 - (1-qualitySoft)*(blur-blurNoticed)/(blurDisturbs-blurNoticed)
	}
	return math.Max(qualityLowest, qualitySoft*blurDisturbs/blur)
}

// FastestCone is the focal ratio below which stars at the edge of an eyepiece
// of the class lose their shape. From memory: Huygens and Ramsden 10, Kellner
// 7 to 8, Ploessl and orthoscopic 5 to 6, simple wide fields 7 to 8, modern
// corrected wide fields 4 to 5.
func FastestCone(c kit.EyepieceClass) float64 {
	switch c {
	case kit.ClassBasic:
		return 10
	case kit.ClassKellner, kit.ClassWide:
		return 7.5
	case kit.ClassCorrected:
		return 4.5
	}
	return 5.5
}

// eyepieceQuality falls as the cone gets faster than the eyepiece takes: its
// astigmatism grows about as 1/F and its spherical aberration as 1/F^3 (V.
// Sacek); the square lies between.
func eyepieceQuality(c kit.EyepieceClass, ratio float64) float64 {
	q := square(ratio / FastestCone(c))
	return math.Min(1, math.Max(qualityLowest, q))
}

// Edge returns a sentence on the stars at the edge of the field and its
// verdict. It is advice: an edge never forbids a target.
func (o Optics) Edge() (Verdict, string) {
	switch {
	case o.EdgeQuality >= 0.95:
		return OK, "Stars are clean to the edge."
	case o.EdgeQuality >= qualitySoft:
		return Note, "Stars at the edge are a little soft."
	case o.ComaEdge > blurDisturbs:
		return Warn, fmt.Sprintf("Stars at the edge look like small comets (%.0f′): keep the target in the middle or use a coma corrector.", o.ComaEdge)
	}
	return Warn, fmt.Sprintf("Stars at the edge lose their shape: this eyepiece is too simple for f/%.1f.", o.FocalRatio)
}

// Colour tells how much false colour an achromat shows.
type Colour struct {
	Ratio    float64 // focal ratio over aperture in inches; 5.8 is one depth of focus
	Strehl   float64 // polychromatic, 0 to 1
	Verdict  Verdict
	Sentence string // "" when there is nothing to say
}

// ColourOf judges the secondary spectrum of an achromat, about f/2000 (C.
// Lord, Apochromatic vs achromatic colour correction). The polychromatic
// Strehl ratio is V. Sacek's fit for a standard doublet. Other designs have
// none to speak of.
func ColourOf(inst kit.Instrument) Colour {
	if inst.Design != kit.Achromat || !(inst.Aperture > 0) {
		return Colour{Ratio: math.Inf(1), Strehl: 1, Verdict: OK}
	}
	ratio := inst.FocalLength / inst.Aperture
	c := Colour{Ratio: ratio / (inst.Aperture / 25.4), Verdict: OK}
	if x := ratio / inst.Aperture; x < 0.25 {
		c.Strehl = math.Min(1, 1.3*math.Pow(x, 0.25))
	} else {
		c.Strehl = math.Min(1, math.Pow(x, 0.07))
	}
	switch {
	case c.Ratio < 2:
		c.Verdict, c.Sentence = Warn, "A violet fringe at the Moon's edge and on bright planets: best at low power."
	case c.Ratio < 3:
		c.Verdict, c.Sentence = Note, "A faint violet fringe around the brightest objects."
	}
	return c
}
