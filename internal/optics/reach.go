package optics

import (
	"fmt"
	"math"
)

// Stand is how a guest gets an eye to the eyepiece.
type Stand string

// The ways, from easy to hard.
const (
	Upright   Stand = "standing"
	Stooping  Stand = "stooping"
	Sitting   Stand = "sitting" // a chair is offered
	Kneeling  Stand = "kneeling"
	OnStool   Stand = "on a stool"
	OnRail    Stand = "on a stool with a rail"
	OnLadder  Stand = "on a ladder"
	NotWithin Stand = "out of reach"
)

// Reach is what a guest of some eye height needs at an eyepiece.
type Reach struct {
	Stand    Stand
	Rise     float64 // m that the eye must be lifted; negative: lowered
	Steps    int     // steps of 0.22 m to climb
	Verdict  Verdict
	Sentence string
}

// Rules of reach, m.
const (
	stepHeight    = 0.22 // steps of 20 to 25 cm
	tallestTiptoe = 0.05 // on tiptoe for a moment, not for a queue
	deepestStoop  = 0.20
	chairFrom     = 0.35 // lower than this a chair is offered
	SeatedEye     = 1.20 // an adult on an ordinary chair (from memory)
	lowestChair   = 0.30 // how far an observing chair or a lean lowers a seated eye
	highestLadder = 8    // steps; above it no guest is sent up
)

// ReachFor judges an eyepiece at height m over the ground for an eye at eye m.
// Stool for one step, stool with a rail for two, a ladder from three, with a
// volunteer holding it. Whether ladders are allowed is the site's and the
// club's to say.
func ReachFor(height, eye float64) Reach {
	r := Reach{Rise: height - eye, Verdict: OK}
	if r.Rise > 0 {
		return r.climb()
	}
	switch down := -r.Rise; {
	case down <= 0.05:
		r.Stand, r.Sentence = Upright, "At eye height."
	case down <= deepestStoop:
		r.Stand, r.Sentence = Upright, "A small stoop."
	case down <= chairFrom:
		r.Stand, r.Verdict, r.Sentence = Stooping, Note, fmt.Sprintf("The eyepiece is %.0f cm too low: a deep stoop.", 100*down)
	case height >= SeatedEye-lowestChair:
		r.Stand, r.Verdict, r.Sentence = Sitting, Note, fmt.Sprintf("The eyepiece is at %.2f m: offer a chair.", height)
	default:
		r.Stand, r.Verdict, r.Sentence = Kneeling, Warn, fmt.Sprintf("The eyepiece is at %.2f m: grown-ups must kneel or sit very low.", height)
	}
	return r
}

func (r Reach) climb() Reach {
	r.Steps = int(math.Ceil(r.Rise/stepHeight - 1e-9))
	switch {
	case r.Rise <= tallestTiptoe:
		r.Stand, r.Verdict, r.Sentence = OnStool, Note, "Just too high: one step, or tiptoe for a moment."
	case r.Steps == 1:
		r.Stand, r.Verdict, r.Sentence = OnStool, Note, "One step needed: a stool."
	case r.Steps == 2:
		r.Stand, r.Verdict, r.Sentence = OnRail, Note, "Two steps needed: a stool with a rail."
	case r.Steps <= highestLadder:
		r.Stand, r.Verdict, r.Sentence = OnLadder, Warn, fmt.Sprintf("%d steps needed: a ladder, held by a volunteer and lit in red, where local rules allow one.", r.Steps)
	default:
		r.Stand, r.Verdict, r.Sentence = NotWithin, Refuse, fmt.Sprintf("The eyepiece is %.1f m above the eye: out of reach.", r.Rise)
	}
	return r
}

// Eyepiece heights in m that suit a guest in a wheelchair, whose eyes are
// 43 to 51 in, 1.09 to 1.295 m, over the ground (1991 ADA Standards, appendix
// A4.2.4, figure A3; the 2010 ones give no eye height).
const (
	WheelchairLow  = 1.05
	WheelchairHigh = 1.30
)

// Wheelchair judges a range of eyepiece heights for a guest in a wheelchair.
// Part of the range within reach is a note: it fits at some altitudes or
// sides only, or must be set. The straight approach over firm ground is the
// crew's to check.
func Wheelchair(h Heights) (Verdict, string) {
	switch {
	case h.Adjustable && h.High >= WheelchairLow && h.Low <= WheelchairHigh:
		return OK, "Set the arm to a seated eye, 1.05 to 1.30 m."
	case h.Low >= WheelchairLow && h.High <= WheelchairHigh:
		return OK, fmt.Sprintf("Eyepiece at %.2f m: right for a wheelchair, if the ground lets it come close.", (h.Low+h.High)/2)
	case h.High < WheelchairLow:
		return Refuse, fmt.Sprintf("Eyepiece at %.2f m: too low for a wheelchair (%.2f to %.2f m).", h.High, WheelchairLow, WheelchairHigh)
	case h.Low > WheelchairHigh:
		return Refuse, fmt.Sprintf("Eyepiece at %.2f m: too high for a wheelchair (%.2f to %.2f m).", h.Low, WheelchairLow, WheelchairHigh)
	}
	return Note, fmt.Sprintf("Eyepiece between %.2f and %.2f m: right for a wheelchair part of the time.", h.Low, h.High)
}

// Eye heights in m, shoes not counted (they add 2 to 3 cm).
const (
	ManEye        = 1.64  // mean; 1.54 to 1.75 for nine in ten (Gordon et al. 2014, NATICK/TR-15/007)
	WomanEye      = 1.52  // mean; 1.42 to 1.63
	AdultEye      = 1.58  // between the two
	WheelchairEye = 1.205 // mean
)

// childEyes holds median and small (5th percentile) eye heights in m by age
// in years: stature of the CDC growth reference 2000, mean of the sexes,
// minus 10 to 11 cm from the crown to the eye (from memory).
var childEyes = []struct{ age, median, small float64 }{
	{3, 0.85, 0.79}, {4, 0.92, 0.85}, {5, 0.98, 0.91}, {6, 1.05, 0.97}, {7, 1.12, 1.03},
	{8, 1.17, 1.08}, {10, 1.28, 1.17}, {12, 1.39, 1.27}, {14, 1.51, 1.39}, {20, 1.59, 1.48},
}

// ChildEye returns the median and the small (1 in 20) eye height in m at an
// age in years, between rows in proportion; ages outside 3 to 20 are those.
func ChildEye(age float64) (median, small float64) {
	first, last := childEyes[0], childEyes[len(childEyes)-1]
	if !(age > first.age) {
		return first.median, first.small
	}
	for n := 1; n < len(childEyes); n++ {
		if a, b := childEyes[n-1], childEyes[n]; age <= b.age {
			f := (age - a.age) / (b.age - a.age)
			return a.median + f*(b.median-a.median), a.small + f*(b.small-a.small)
		}
	}
	return last.median, last.small
}
