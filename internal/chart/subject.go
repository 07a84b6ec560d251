package chart

import (
	"math"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

// Subject is what a view is about, as far as it can be drawn.
type Subject struct {
	Kind     catalog.Kind
	Mag      float64 // of the whole; NaN unknown
	Major    float64 // arcminutes; 0 for a star
	Minor    float64 // arcminutes
	Angle    float64 // position angle of the major axis, degrees; NaN unknown
	Pair     *Pair
	Disc     *Disc
	ShowName string // what a label says; "" for none
}

// Pair is a double star.
type Pair struct {
	Separation float64 // arcseconds
	Angle      float64 // position angle of B from A, degrees
	MagA, MagB float64
}

// Disc is a body with a disc. Angles are position angles in degrees.
type Disc struct {
	Diameter   float64 // across the equator, arcminutes
	Flat       float64 // polar over equatorial diameter as seen; 1 round
	Axis       float64 // of the north pole
	BrightLimb float64 // of the middle of the lit edge
	PhaseAngle float64 // 0 full, 180 new
	Ring       *Ring
	Moons      []DiscMoon
	Globe      *Globe // the Moon's face; nil for others
}

// Ring is Saturn's, outer and inner edge as seen along the major axis, in
// equatorial radii of the globe.
type Ring struct {
	Inner, Outer float64
	Tilt         float64 // latitude of the eye above the ring, degrees, north positive
}

// DiscMoon is a moon beside the disc: equatorial radii, X west, Y north along
// the axis.
type DiscMoon struct {
	Name string
	X, Y float64
	// State is "" in plain view, else why there is nothing to see beside the
	// disc: "before the disc", "behind", "in the shadow".
	Before, Behind, Dark bool
}

// flattening of Jupiter, polar over equatorial radius (IAU 2015: 66,854 and
// 71,492 km); its equator is never tilted by more than 3.5 degrees to us, so
// it is seen in full.
const jupiterFlat = 66854.0 / 71492

// jupiterPole is the direction of Jupiter's north pole, J2000 (IAU Working
// Group on Cartographic Coordinates 2015: 268.056595, 64.495303 degrees; its
// change by 2060 is under 0.01 degrees).
var jupiterPole = sky.Star{RA: 268.056595, Dec: 64.495303}

// Saturn's B and A rings, from the inner edge of B, in equatorial radii of
// the globe (NASA Planetary Data System, Ring-Moon Systems Node: 91,975 and
// 136,775 km over 60,268 km). The C ring is not seen by guests.
const ringInner, ringOuter = 91975.0 / 60268, 136775.0 / 60268

// SubjectOf is what a target looks like at an instant of a night.
func SubjectOf(n *sky.Night, t catalog.Target, at time.Time) Subject {
	s := Subject{Kind: t.Kind, Mag: t.Magnitude, Major: t.MajorAxis, Minor: t.MinorAxis, Angle: t.PositionAngle}
	if s.Minor == 0 {
		s.Minor = s.Major
	}
	if d := t.Double; d != nil {
		s.Pair = &Pair{d.Separation, d.PositionAngle, d.MagA, d.MagB}
	}
	if t.Moves {
		s.Disc = discOf(n, t.Body, at)
		s.Mag = n.Planet(t.Body, at).Magnitude
		s.Major, s.Minor = s.Disc.Diameter, s.Disc.Diameter
	}
	return s
}

func discOf(n *sky.Night, b sky.Body, at time.Time) *Disc {
	if b == sky.Moon {
		return moonDisc(n.Moon(at))
	}
	v := n.Planet(b, at)
	d := &Disc{Diameter: v.Diameter / 60, Flat: 1, BrightLimb: v.BrightLimb, PhaseAngle: v.PhaseAngle}
	switch b {
	case sky.Jupiter:
		d.Flat = jupiterFlat
		p, pole := n.At(b, at), n.At(jupiterPole, at)
		d.Axis = sky.PositionAngle(p.RA, p.Dec, pole.RA, pole.Dec)
		for _, m := range n.JupiterMoons(at) {
			d.Moons = append(d.Moons, DiscMoon{Name: m.Name, X: m.X, Y: m.Y, Before: m.InFront, Behind: m.Hidden, Dark: m.Eclipsed})
		}
	case sky.Saturn:
		s := n.Saturn(at)
		d.Flat, d.Axis = s.PolarSize/s.Diameter, s.PoleAngle
		d.Ring = &Ring{Inner: ringInner, Outer: ringOuter, Tilt: s.RingTilt}
		d.Moons = []DiscMoon{{Name: "Titan", X: s.Titan.X, Y: s.Titan.Y}}
	}
	return d
}

// Span is how wide a subject reaches, arcminutes: with ring and moons.
func (s Subject) Span() float64 {
	switch {
	case s.Pair != nil:
		return s.Pair.Separation / 60
	case s.Disc != nil:
		reach := 1.0
		if s.Disc.Ring != nil {
			reach = s.Disc.Ring.Outer
		} else {
			for _, m := range s.Disc.Moons {
				reach = math.Max(reach, math.Hypot(m.X, m.Y)+0.3)
			}
		}
		return s.Disc.Diameter * reach
	}
	return s.Major
}
