package optics

import (
	"math"

	"duskboard/internal/kit"
)

// PushFactor returns how much harder an alt-azimuth mount is to push sideways
// at altitude altDeg than at the horizon: the lever arm shrinks as cos h.
// +Inf at the zenith.
func PushFactor(altDeg float64) float64 {
	c := math.Cos(altDeg / degree)
	if c < 1e-9 {
		return math.Inf(1)
	}
	return 1 / c
}

// Zenith zone of a rocker box pushed by hand, degrees of altitude: from 75
// the push is four times that at the horizon, from 80 six times.
const (
	ZenithNotes = 75.0
	ZenithWarns = 80.0
)

// AltitudeVerdict judges an altitude in degrees for the mount: outside its
// reach it refuses, near the zenith it cautions where the mount is pushed by
// hand. The sentence is "" when there is nothing to say.
func AltitudeVerdict(inst kit.Instrument, altDeg float64) (Verdict, string) {
	byHand := inst.Mount == kit.RockerBox || inst.Mount == kit.AltAzHand
	switch {
	case altDeg < inst.MinAltitude:
		return Refuse, "Too low: the mount does not reach down there."
	case inst.MaxAltitude > 0 && altDeg > inst.MaxAltitude:
		return Refuse, "Too near the zenith for this mount."
	case byHand && altDeg >= ZenithWarns:
		return Warn, "Near the zenith: the tube hardly turns sideways by hand."
	case byHand && altDeg >= ZenithNotes:
		return Note, "High up: push the tube gently, it turns hard here."
	}
	return OK, ""
}

// FieldRotation returns how fast the picture turns in an alt-azimuth mount,
// degrees an hour: -15.04 cos phi cos A / cos h, azimuth from north through
// east. Of no matter to the eye; cards may show it. +-Inf at the zenith.
func FieldRotation(latDeg, azDeg, altDeg float64) float64 {
	c := math.Cos(altDeg / degree)
	return -SiderealRate * math.Cos(latDeg/degree) * math.Cos(azDeg/degree) / c
}

// BlindRadius returns the radius in degrees around the zenith in which a
// motorised alt-azimuth mount of the given top speed (degrees a second)
// cannot follow the sky.
func BlindRadius(latDeg, topSpeed float64) float64 {
	omega := SiderealRate / 3600
	room := topSpeed - omega*math.Sin(latDeg/degree)
	if room <= 0 {
		return 90
	}
	return math.Atan(omega*math.Cos(latDeg/degree)/room) * degree
}

// MinutesToFlip returns the clock minutes until a German equatorial has to
// change sides, from the hour angle in degrees (west positive, -180 to 180)
// and the mount's overrun in minutes. Zero or less means now; from then on the
// tube is taken to be on the other side and the answer is negative.
func MinutesToFlip(hourAngle, overrun float64) float64 {
	// 15.0411 degrees of hour angle pass in a clock hour.
	return -hourAngle/SiderealRate*60 + overrun
}
