package optics

import (
	"math"

	"duskboard/internal/kit"
)

// degree is one radian in degrees.
const degree = 180 / math.Pi

// What the true field was computed from.
const (
	FromFieldStop     = "field stop"
	FromApparentField = "apparent field" // approximate: 3 to 10 per cent
	FromFixed         = "fixed"          // binoculars, as marked on them
)

// GlassesRelief is the eye relief in mm from which a spectacle wearer sees
// the whole field. Common practice: 15 to 20 mm.
const GlassesRelief = 15.0

// Optics is what a train gives on any target, at any time.
type Optics struct {
	Magnification float64 // times
	TrueField     float64 // degrees
	FieldFrom     string  // FromFieldStop, FromApparentField or FromFixed
	LitField      float64 // degrees that the tube lights at least half; TrueField when all of it
	ApparentField float64 // degrees
	FieldStop     float64 // field stop as the main optics see it, mm; 0 for binoculars
	ExitPupil     float64 // mm
	Aperture      float64 // mm
	Obstruction   float64 // diameter of the secondary over aperture
	FocalLength   float64 // with the amplifier, mm; 0 for binoculars
	FocalRatio    float64 // with the amplifier; 0 for binoculars
	ImageScale    float64 // arcseconds per mm in the focal plane; 0 for binoculars
	Transmission  float64 // light that the parts let through, the obstruction not counted
	BothEyes      bool    // binoculars

	Dawes            float64 // arcseconds, 116/D
	Rayleigh         float64 // arcseconds at 550 nm, 138/D
	MaxPowerAperture float64 // times, 2 D

	ComaEdge    float64 // sagittal coma at the edge of the field as seen, arcminutes
	EdgeQuality float64 // 0 to 1; 1 is clean to the edge
	EyeRelief   float64 // mm; 0 unknown (binoculars)
	Glasses     bool    // spectacles can stay on

	Mirrored bool     // left and right are exchanged
	Assumed  []string // "telescope: central obstruction", sorted; fields that rest on a default

	marks marks
}

// Static returns what the train gives, whatever it is pointed at.
//
// The true field is 57.3 times field stop over focal length; where the field
// stop is unknown, apparent field over magnification, which is right to 3 to
// 10 per cent (common practice). No field stop passes a barrel's bore: an
// unknown one that would is taken as the customary widest of the barrel.
func (t Train) Static() Optics {
	o := t.numbers()
	o.marks = t.marks(o.FieldFrom)
	o.Assumed = o.marks.all()
	return o
}

// numbers is Static without the marks, which cost more than the numbers.
func (t *Train) numbers() Optics {
	inst := &t.Instrument
	o := Optics{
		Aperture:         inst.Aperture,
		Obstruction:      inst.Obstruction,
		Dawes:            Dawes(inst.Aperture),
		Rayleigh:         Rayleigh(inst.Aperture),
		MaxPowerAperture: 2 * inst.Aperture,
		Transmission:     t.transmission(),
		Mirrored:         t.mirrored(),
	}
	if t.Eyepiece == nil {
		o.Magnification, o.TrueField, o.FieldFrom = inst.Power, inst.FixedField, FromFixed
		o.ApparentField = inst.Power * inst.FixedField
		o.LitField, o.BothEyes, o.EdgeQuality = o.TrueField, true, 1
	} else {
		t.throughEyepiece(&o)
	}
	o.ExitPupil = o.Aperture / o.Magnification
	return o
}

func (t *Train) throughEyepiece(o *Optics) {
	inst, e := &t.Instrument, t.Eyepiece
	b := t.factor()
	o.FocalLength = inst.FocalLength * b
	o.FocalRatio = o.FocalLength / inst.Aperture
	o.ImageScale = 3600 * degree / o.FocalLength
	o.Magnification = o.FocalLength / e.FocalLength

	stop := e.FieldStop
	o.FieldFrom = FromFieldStop
	if stop == 0 {
		o.FieldFrom = FromApparentField
		stop = e.ApparentField / degree * e.FocalLength
		if bore := e.Barrel.Bore(); bore > 0 && stop > bore {
			stop = e.Barrel.WidestStop()
		}
	}
	// A Barlow lens shows a smaller, a reducer a larger circle of the main
	// focal plane; that circle must pass the diagonal and the tube.
	if t.Diagonal != nil && t.Diagonal.MaxStop > 0 {
		passes := t.Diagonal.MaxStop
		if t.Amplifier != nil && t.Amplifier.Kind == kit.Barlow {
			passes *= b // the Barlow lens stands behind the diagonal
		}
		stop = math.Min(stop, passes)
	}
	o.TrueField = degree * stop / o.FocalLength
	o.FieldStop = stop / b
	o.LitField = degree * math.Min(o.FieldStop, inst.MaxFieldStop) / inst.FocalLength
	o.ApparentField = math.Min(e.ApparentField, o.TrueField*o.Magnification*1.1)
	o.ComaEdge = t.coma(o.ApparentField)
	o.EdgeQuality = math.Min(comaQuality(o.ComaEdge), eyepieceQuality(e.Class, o.FocalRatio))
	o.EyeRelief = e.EyeRelief
	o.Glasses = e.EyeRelief >= GlassesRelief
}

// Transmissions of single parts; common practice, from memory. A Newtonian
// comes to 0.75, the 1/1.33 that Crumey (2014) uses for a telescope.
const (
	mirrorReflects  = 0.90 // aluminium a few years old
	objectivePasses = 0.95 // doublet or corrector plate
	eyepiecePasses  = 0.93
	diagonalPasses  = 0.93
	lensPasses      = 0.97 // Barlow lens, reducer, corrector
	prismsPass      = 0.85 // a pair of erecting prisms
)

// transmission is the share of light that passes; the filter is not counted,
// since what it takes depends on the target.
func (t *Train) transmission() float64 {
	through := eyepiecePasses
	switch t.Instrument.Design {
	case kit.Newtonian, kit.OtherCassegrain, kit.Custom:
		through *= mirrorReflects * mirrorReflects
	case kit.SchmidtCassegrain, kit.MaksutovCassegrain:
		through *= mirrorReflects * mirrorReflects * objectivePasses
	case kit.Binoculars:
		through *= objectivePasses * prismsPass
	default:
		through *= objectivePasses
	}
	if t.behindDiagonal() {
		through *= diagonalPasses
	}
	if t.Amplifier != nil {
		through *= lensPasses
	}
	return through
}
