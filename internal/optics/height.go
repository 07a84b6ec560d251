package optics

import (
	"math"

	"duskboard/internal/kit"
)

// Heights is how high over the ground one looks in, m.
type Heights struct {
	Low, High  float64 // the same unless the mount moves the tube around
	Adjustable bool    // the mount can be set anywhere between without losing the target
}

// Parallelogram arms rise and sink by about this much with the target kept,
// m each way (common practice).
const armTravel = 0.45

// saddleOffset is the distance in m from the polar axis to the tube's axis of
// a German equatorial, besides half the tube (common practice).
const saddleOffset = 0.20

// EyepieceHeight returns the height of the eyepiece over the ground in m with
// the tube at altitude altDeg, in the middle of its range:
//
//   - at the side: pivot + l sin h (focuser sideways, as usual); it rises
//   - behind a diagonal: pivot - l sin h + s cos h; it sinks
//   - straight through: pivot - l sin h
//
// l is the distance from the altitude axis to the eyepiece along the tube, s
// the eyepiece's from the axis (kit PivotToEye, EyeOffset).
func EyepieceHeight(inst kit.Instrument, altDeg float64) float64 {
	return EyepieceHeightTurned(inst, altDeg, 90)
}

// EyepieceHeightTurned is EyepieceHeight with the focuser of a Newtonian
// turned focuserDeg from vertical-up (0 on top, 90 sideways), which adds r
// cos h cos b, r being its distance from the tube's axis. Other tubes ignore it.
func EyepieceHeightTurned(inst kit.Instrument, altDeg, focuserDeg float64) float64 {
	sin, cos := math.Sincos(altDeg / degree)
	switch inst.EyepiecePlace {
	case kit.AtSide:
		return inst.PivotHeight + inst.PivotToEye*sin + inst.EyeOffset*cos*math.Cos(focuserDeg/degree)
	case kit.Straight:
		return inst.PivotHeight - inst.PivotToEye*sin
	}
	return inst.PivotHeight - inst.PivotToEye*sin + inst.EyeOffset*cos
}

// EyepieceHeights returns the range of heights with the tube at altitude
// altDeg. A German equatorial carries its tube around the polar axis, so the
// eyepiece is higher or lower by up to that offset, depending on the side of
// the meridian; a parallelogram can be set.
func EyepieceHeights(inst kit.Instrument, altDeg float64) Heights {
	h := EyepieceHeight(inst, altDeg)
	switch inst.Mount {
	case kit.GermanEquatorial:
		offset := saddleOffset + inst.Aperture/2000
		return Heights{Low: math.Max(0, h-offset), High: h + offset}
	case kit.Parallelogram:
		return Heights{Low: math.Max(0, h-armTravel), High: h + armTravel, Adjustable: true}
	}
	return Heights{Low: h, High: h}
}

// HeightsOver returns the range over a span of altitudes in degrees, such as
// a target's between two instants. The eyepiece moves monotonically for a
// side or straight place; behind a diagonal it is lowest at the highest point.
func HeightsOver(inst kit.Instrument, fromDeg, toDeg float64) Heights {
	out := EyepieceHeights(inst, fromDeg)
	const steps = 8
	for n := 1; n <= steps; n++ {
		h := EyepieceHeights(inst, fromDeg+(toDeg-fromDeg)*float64(n)/steps)
		out.Low, out.High = math.Min(out.Low, h.Low), math.Max(out.High, h.High)
	}
	return out
}
