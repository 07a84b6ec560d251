package optics

import (
	"fmt"
	"math"
)

// HighPower is the high-power limit of a train.
type HighPower struct {
	Aperture, Seeing, ExitPupil Limit
	Highest                     float64 // highest magnification at which none of them warns, times
	Plan                        float64 // what a planner would choose at most: min(1.2 D, 240/s), times
	Verdict                     Verdict // the worst of the three
	SeeingAssumed               bool    // the seeing was unknown: an average night
}

// AverageSeeing is the FWHM in arcseconds that stands in for an unknown one;
// common practice for a lowland site.
const AverageSeeing = 2.5

// Ceiling is the magnification that the atmosphere allows in practice on all
// but a few nights (common practice: 250 ordinary, 300 at most).
const Ceiling = 300.0

// HighPowerLimits judges the train for a seeing FWHM in arcseconds; 0 or less
// is unknown and taken as AverageSeeing.
//
//   - Aperture: 2 D at most (50 per inch); 1.5 D begins to look soft.
//   - Seeing: the seeing disc looks 4 arcminutes wide at 240/s, soft but fine,
//     and 6 at 360/s, the limit; nothing above 300.
//   - Exit pupil: below 0.7 mm floaters in the eye show, 0.5 mm is the limit.
func HighPowerLimits(o Optics, seeing float64) HighPower {
	h := HighPower{}
	if !(seeing > 0) {
		seeing, h.SeeingAssumed = AverageSeeing, true
	}
	h.Aperture = apertureLimit(o)
	h.Seeing = seeingLimit(o, seeing)
	h.ExitPupil = pupilLimit(o)
	h.Highest = math.Min(2*o.Aperture, h.Seeing.Bound)
	h.Plan = math.Min(1.2*o.Aperture, math.Min(240/seeing, Ceiling))
	h.Verdict = Worst(h.Aperture.Verdict, h.Seeing.Verdict, h.ExitPupil.Verdict)
	return h
}

// rounding lets a train at exactly a limit pass.
const rounding = 1.005

func apertureLimit(o Optics) Limit {
	l := Limit{Name: "aperture", Value: o.Magnification, Unit: "times", Bound: 2 * o.Aperture, Verdict: OK, Assumed: o.Rests(QMagnification)}
	switch per := o.Magnification / o.Aperture; {
	case per > 2*rounding:
		l.Verdict = Refuse
		l.Sentence = fmt.Sprintf("%.0f× is more than %.0f mm of aperture can fill: at most %.0f×.", o.Magnification, o.Aperture, 2*o.Aperture)
	case per > 1.5*rounding:
		l.Verdict = Note
		l.Sentence = fmt.Sprintf("%.0f× is near the most that %.0f mm can fill: soft and dim.", o.Magnification, o.Aperture)
	default:
		l.Sentence = fmt.Sprintf("%.0f× is well within %.0f mm of aperture.", o.Magnification, o.Aperture)
	}
	return l
}

func seeingLimit(o Optics, seeing float64) Limit {
	top := math.Min(360/seeing, Ceiling)
	l := Limit{Name: "seeing", Value: o.Magnification * seeing / 60, Unit: "arcminutes", Bound: top, Verdict: OK, Assumed: o.Rests(QMagnification)}
	switch m := o.Magnification; {
	case m > 1.5*top*rounding:
		l.Verdict = Refuse
		l.Sentence = fmt.Sprintf("Tonight's air (%.1f″) carries %.0f×, not %.0f×.", seeing, top, m)
	case m > top*rounding:
		l.Verdict = Warn
		l.Sentence = fmt.Sprintf("Tonight's air (%.1f″) carries %.0f×: %.0f× boils.", seeing, top, m)
	case m > math.Min(240/seeing, Ceiling)*rounding:
		l.Verdict = Note
		l.Sentence = fmt.Sprintf("In tonight's air (%.1f″) %.0f× is soft, with sharp moments.", seeing, m)
	default:
		l.Sentence = fmt.Sprintf("Tonight's air (%.1f″) carries %.0f×.", seeing, m)
	}
	return l
}

func pupilLimit(o Optics) Limit {
	l := Limit{Name: "exit pupil", Value: o.ExitPupil, Unit: "mm", Bound: o.Aperture / 0.7, Verdict: OK, Assumed: o.Rests(QExitPupil)}
	switch e := o.ExitPupil; {
	case e < 0.5/rounding:
		l.Verdict = Warn
		l.Sentence = fmt.Sprintf("Exit pupil %.1f mm: dim, and specks in the eye get in the way.", e)
	case e < 0.7/rounding:
		l.Verdict = Note
		l.Sentence = fmt.Sprintf("Exit pupil %.1f mm: specks in the eye may show.", e)
	default:
		l.Sentence = fmt.Sprintf("Exit pupil %.1f mm is comfortable.", e)
	}
	return l
}

// Relief returns a sentence on the eye relief and its verdict.
func (o Optics) Relief() (Verdict, string) {
	switch {
	case o.EyeRelief == 0:
		return OK, "Fold the eyecups down for spectacles."
	case o.EyeRelief >= GlassesRelief:
		return OK, fmt.Sprintf("Eye relief %.0f mm: spectacles can stay on.", o.EyeRelief)
	case o.EyeRelief >= 10:
		return Note, fmt.Sprintf("Eye relief %.0f mm: spectacle wearers see less of the field.", o.EyeRelief)
	case o.EyeRelief >= 6:
		return Note, fmt.Sprintf("Eye relief %.0f mm: spectacles come off.", o.EyeRelief)
	}
	return Warn, fmt.Sprintf("Eye relief %.0f mm: the lashes touch the lens; hard for children.", o.EyeRelief)
}
