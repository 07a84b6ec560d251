package optics

import "duskboard/internal/kit"

// Zenith zone of a rocker box pushed by hand, degrees of altitude. The lever
// arm shrinks as cos h: from 75 the push sideways is four times that at the
// horizon, from 80 six times.
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
		return Note, "High up: push the tube gently, sideways it turns about four times as hard as low down."
	}
	return OK, ""
}

// MinutesToFlip returns the clock minutes until a German equatorial has to
// change sides, from the hour angle in degrees (west positive, -180 to 180)
// and the mount's overrun in minutes. Zero or less means now; from then on the
// tube is taken to be on the other side and the answer is negative.
func MinutesToFlip(hourAngle, overrun float64) float64 {
	// 15.0411 degrees of hour angle pass in a clock hour.
	return -hourAngle/SiderealRate*60 + overrun
}
