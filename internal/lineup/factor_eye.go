package lineup

import (
	"fmt"

	"duskboard/internal/optics"
)

// What an eyepiece height means for a guest, in metres (common practice; the
// eye heights stand in the science sheet of optics, 7.2). The steps themselves
// are counted by optics.ReachFor.
const (
	kneelBelow  = 0.90 // a standing adult kneels, or sits
	seatedFrom  = 0.95 // a free knee and a short neck still reach it
	ladderSteps = 3    // from here on it is a ladder
)

// stepsNeeded is how many steps lift an eye to the eyepiece, both in metres.
func stepsNeeded(eyepiece, eye float64) int { return optics.ReachFor(eyepiece, eye).Steps }

// seatedHeight reports whether a seated guest or a wheelchair user reaches the
// eyepiece.
func seatedHeight(eyepiece float64) bool {
	return eyepiece >= seatedFrom && eyepiece <= optics.WheelchairHigh
}

// reach is how a guest of typical height and the smallest one get to the
// eyepiece.
type reach struct {
	height            float64 // of the eyepiece, m
	adult, childSteps int
}

// eyeFactor judges the height of the eyepiece for a typical guest and the
// smallest one.
func eyeFactor(r reach, ladders bool, say bool) Factor {
	f := Factor{Key: EyePlace, Number: r.height, Unit: "m", Value: 1, Wanted: "0.95 to 1.50 m"}
	if r.adult >= ladderSteps && !ladders {
		return veto(f, say, "The eyepiece stands at %.2f m: it needs a ladder, and ladders are not allowed.", r.height)
	}
	switch {
	case r.adult >= ladderSteps:
		f.Value = 0.55
	case r.adult > 0:
		f.Value = 0.85
	case r.height < kneelBelow:
		f.Value = ramp(r.height, 0.4, kneelBelow, 0.55, 0.95)
	}
	f.Value *= ramp(float64(r.childSteps), 0, 4, 1, 0.86)
	if say {
		f.Sentence = fmt.Sprintf("The eyepiece stands at %.2f m: %s", r.height, r.words())
	}
	return f
}

// words say who needs what, without the height.
func (r reach) words() string {
	switch {
	case r.adult >= ladderSteps:
		return "a ladder, with a volunteer holding it and red light on its steps."
	case r.adult > 0:
		return "a stool for most guests."
	case r.height < kneelBelow:
		return "adults kneel or sit, children stand."
	case r.childSteps >= ladderSteps:
		return "no step for adults; too high for small children."
	case r.childSteps > 0:
		return "no step for adults, a stool for children."
	}
	return "no step."
}

// reachOf counts the steps for this night's crowd.
func (c Crowd) reachOf(height float64) reach {
	r := reach{height: height, adult: stepsNeeded(height, c.EyeHeight)}
	if c.ChildHeight > 0 {
		r.childSteps = stepsNeeded(height, c.ChildHeight)
	}
	return r
}

// ReachWords says what guests of this night need at an eyepiece height in
// metres: "no step for adults, a stool for children."
func (in *Input) ReachWords(height float64) string { return in.Crowd.reachOf(height).words() }

// Seated reports whether a seated guest or a wheelchair user reaches an
// eyepiece at a height in metres.
func (in *Input) Seated(height float64) bool { return seatedHeight(height) }
