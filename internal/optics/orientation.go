package optics

import (
	"math"

	"duskboard/internal/kit"
)

// Path is how the light runs to the eye, as far as it decides which way round
// the picture stands.
type Path string

// The paths. Handedness is set by the number of reflections alone: even reads
// correctly, odd is a mirror image. Lenses and the eyepiece turn by 180
// degrees and never mirror.
const (
	RefractorStraight  Path = "refractor, straight through"    // 0 reflections
	CassegrainStraight Path = "cassegrain, straight through"   // 2
	NewtonianSide      Path = "newtonian"                      // 2
	PlainDiagonal      Path = "mirror diagonal"                // 1 or 3
	RoofDiagonal       Path = "roof prism at 90 degrees"       // 2 or 4
	RoofDiagonal45     Path = "roof prism at 45 degrees"       // 2 or 4
	ErectBinoculars    Path = "binoculars"                     // even
	NakedEye           Path = "naked eye or unit-power finder" // 0
)

// Path returns the train's path. Barlow lenses, reducers and correctors are
// lenses and change nothing.
func (t *Train) Path() Path {
	switch {
	case t.Eyepiece == nil:
		return ErectBinoculars
	case t.Diagonal != nil && t.Diagonal.Kind == kit.Amici90:
		return RoofDiagonal
	case t.Diagonal != nil && t.Diagonal.Kind == kit.Amici45:
		return RoofDiagonal45
	case t.behindDiagonal():
		return PlainDiagonal
	case t.Instrument.EyepiecePlace == kit.AtSide || t.Instrument.Design == kit.Newtonian:
		return NewtonianSide
	case isCassegrain(t.Instrument.Design):
		return CassegrainStraight
	}
	return RefractorStraight
}

// FinderPath returns the path of a finder.
func FinderPath(k kit.FinderKind) Path {
	switch k {
	case kit.UnitPower:
		return NakedEye
	case kit.RightAngleFinder:
		return PlainDiagonal
	case kit.CorrectAngleFinder:
		return RoofDiagonal
	}
	return RefractorStraight
}

// Mirrored reports whether the path exchanges left and right.
func (p Path) Mirrored() bool { return p == PlainDiagonal }

// Turn is how far the picture stands turned against the naked-eye view,
// degrees: 0 upright, 180 upside down. A Newtonian's 180 holds for a head in
// line with the tube.
func (p Path) Turn() float64 {
	switch p {
	case RefractorStraight, CassegrainStraight, NewtonianSide:
		return 180
	}
	return 0
}

func (p Path) words() string {
	switch {
	case p.Mirrored():
		return "Upright, but left and right are exchanged."
	case p == NewtonianSide:
		return "Turned upside down; it turns further as you tilt your head."
	case p.Turn() == 180:
		return "Upside down and left to right, as a card turned on its head."
	}
	return "Upright and the right way round."
}

// Orientation is which way things lie in the eyepiece. Directions are degrees
// clockwise from the top of the picture, 0 to 360.
type Orientation struct {
	Path     Path
	Mirrored bool
	Turn     float64 // of the picture against the naked-eye view: 0 or 180
	Zenith   float64 // where "up in the sky" lies
	North    float64 // where celestial north lies
	East     float64
	Drift    float64  // where a star leaves the field when the drive is off: west
	Sentence string   // how the picture stands, for an operator
	Assumed  []string // fields of the kit it rests on that hold a default
}

// Orientation returns which way the picture stands for a target whose
// parallactic angle is q degrees, positive west of the meridian: in the
// naked-eye view celestial north lies q clockwise from the zenith. The
// instrument's ImageMirrored, when set, overrides the handedness.
func (t *Train) Orientation(q float64) Orientation {
	o := t.Path().Orientation(q)
	if m := t.mirrored(); m != o.Mirrored {
		// Someone looked through and saw otherwise: flip left and right.
		o = oriented(o.Path, m, o.Turn, q)
		o.Sentence = map[bool]string{true: "Left and right are exchanged, as the club noted.", false: "The right way round, as the club noted."}[m]
	}
	o.Assumed = t.marks("").pick(rests[QOrientation])
	return o
}

// Orientation returns which way the picture of the path stands for a target
// of parallactic angle q, degrees.
func (p Path) Orientation(q float64) Orientation {
	o := oriented(p, p.Mirrored(), p.Turn(), q)
	o.Sentence = p.words()
	return o
}

func oriented(p Path, mirrored bool, turn, q float64) Orientation {
	// Clockwise from the zenith in the naked-eye view; east is a quarter turn
	// anticlockwise from north there.
	north, east, west := q, q-90, q+90
	if mirrored {
		north, east, west = -north, -east, -west
	}
	return Orientation{
		Path: p, Mirrored: mirrored, Turn: turn,
		Zenith: circle(turn), North: circle(north + turn), East: circle(east + turn), Drift: circle(west + turn),
	}
}

// PositionAngle returns where a position angle (degrees from north through
// east) points in the picture, degrees clockwise from the top. It grows
// anticlockwise, in a mirrored view clockwise.
func (o Orientation) PositionAngle(pa float64) float64 {
	if o.Mirrored {
		return circle(o.North + pa)
	}
	return circle(o.North - pa)
}

// mirrored is the handedness of the train, the club's word first.
func (t *Train) mirrored() bool {
	if t.Instrument.ImageMirrored != nil {
		return *t.Instrument.ImageMirrored
	}
	return t.Path().Mirrored()
}

// circle brings an angle in degrees to 0 (inclusive) .. 360.
func circle(a float64) float64 {
	a = math.Mod(a, 360)
	if a < 0 {
		a += 360
	}
	if a >= 360-1e-9 {
		return 0
	}
	return a
}
