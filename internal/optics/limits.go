package optics

import (
	"fmt"
	"math"

	"duskboard/internal/kit"
)

// Verdict is how a limit judges a train, from fine to refused.
type Verdict string

// The verdicts.
const (
	OK     Verdict = "ok"
	Note   Verdict = "note"   // worth a word to the operator
	Warn   Verdict = "warn"   // a guest will notice
	Refuse Verdict = "refuse" // not shown this way
)

func (v Verdict) rank() int {
	switch v {
	case Note:
		return 1
	case Warn:
		return 2
	case Refuse:
		return 3
	}
	return 0
}

// Worst returns the strictest of the verdicts; OK for none.
func Worst(all ...Verdict) Verdict {
	worst := OK
	for _, v := range all {
		if v.rank() > worst.rank() {
			worst = v
		}
	}
	return worst
}

// Limit is one bound on the magnification and how the train stands to it.
type Limit struct {
	Name     string  // "light", "shadow", "field stop", "aperture", "seeing", "exit pupil"
	Value    float64 // what was judged
	Unit     string  // of Value; "" for a ratio
	Bound    float64 // the magnification at this limit, times: lowest or highest
	Verdict  Verdict
	Sentence string
	Assumed  []string // fields of the kit it rests on that hold a default
}

// LowPower is the low-power limit of a train: three limits, of which the
// first to bite depends on the eye.
type LowPower struct {
	Light, Shadow, FieldStop Limit
	Lowest                   float64 // lowest magnification at which none of them warns, times
	Verdict                  Verdict // the worst of the three
}

// Shares of the light that enters the eye, (p/e)^2, below which the light
// limit warns and refuses. Common practice: a 250 mm f/4.8 at an exit pupil
// of 8.3 mm is warned of, a 200 mm f/4 at 10 mm refused, for any adult pupil
// from 5.5 to 6.3 mm.
const (
	lightWarns   = 0.70
	lightRefuses = 0.40
)

// Effective obstruction, eps max(1, e/p), from which the shadow of the
// secondary is noted, warned of and refused: 0.19, 0.31 (a quarter of the
// light) and 0.73 mag (half of it) missing. The best eye just sees 0.1 mag,
// many people not 0.2 (D. Knisely, Central obstructions and their effects).
const (
	ShadowNotes   = 0.4
	ShadowWarns   = 0.5
	ShadowRefuses = 0.7
)

// LowPowerLimits judges the train for an eye's pupil in mm. lightToSpare
// waives the light limit: on the Moon a wasted half is still plenty.
//
//   - Light: an exit pupil wider than the eye's wastes light; lowest
//     magnification D/p.
//   - Shadow: the dark core of the exit pupil, eps e, against the eye's pupil.
//     It matters only while e > p, so on a dark sky light bites first; when
//     the pupil shrinks (the Moon's disc, twilight) the shadow does.
//   - Field stop: the widest that barrel and tube pass; a longer eyepiece
//     shows no more sky.
func LowPowerLimits(o Optics, inst kit.Instrument, pupil float64, lightToSpare bool) LowPower {
	l := LowPower{
		Light:     lightLimit(o, pupil, lightToSpare),
		Shadow:    shadowLimit(o, pupil),
		FieldStop: stopLimit(o, inst),
	}
	l.Lowest = math.Max(l.Shadow.Bound, l.FieldStop.Bound)
	if !lightToSpare {
		l.Lowest = math.Max(l.Lowest, l.Light.Bound*math.Sqrt(lightWarns))
	}
	l.Verdict = Worst(l.Light.Verdict, l.Shadow.Verdict, l.FieldStop.Verdict)
	return l
}

func lightLimit(o Optics, pupil float64, spare bool) Limit {
	l := Limit{Name: "light", Value: o.ExitPupil, Unit: "mm", Bound: o.Aperture / pupil, Verdict: OK, Assumed: o.Rests(QExitPupil)}
	enters := LightEntering(o.ExitPupil, pupil)
	switch {
	case enters >= 1:
		l.Sentence = fmt.Sprintf("Exit pupil %.1f mm: all the light enters an eye open to %.1f mm.", o.ExitPupil, pupil)
		return l
	case spare:
		l.Sentence = fmt.Sprintf("Exit pupil %.1f mm, eye %.1f mm: %s of the light enters, with plenty to spare.", o.ExitPupil, pupil, percent(enters))
		return l
	case enters < lightRefuses:
		l.Verdict = Refuse
	case enters < lightWarns:
		l.Verdict = Warn
	default:
		l.Verdict = Note
	}
	l.Sentence = fmt.Sprintf("Exit pupil %.1f mm, eye %.1f mm: only %s of the light enters.", o.ExitPupil, pupil, percent(enters))
	return l
}

// LightEntering returns the share of the light that enters an eye's pupil p
// from an exit pupil e: 1 while e <= p, then (p/e)^2.
func LightEntering(e, p float64) float64 {
	if e <= p {
		return 1
	}
	return square(p / e)
}

// EffectiveObstruction returns eps max(1, e/p): the eye trims the rim of the
// exit pupil, not its dark core.
func EffectiveObstruction(eps, e, p float64) float64 { return eps * math.Max(1, e/p) }

func shadowLimit(o Optics, pupil float64) Limit {
	eff := EffectiveObstruction(o.Obstruction, o.ExitPupil, pupil)
	l := Limit{Name: "shadow", Value: eff, Bound: 0, Verdict: OK, Assumed: o.Rests(QObstruction)}
	if o.Obstruction == 0 {
		l.Sentence = "No central obstruction, no shadow."
		return l
	}
	// The magnification at which the shadow begins to be warned of; an
	// obstruction beyond the threshold by itself is a matter of e > p only.
	l.Bound = o.Aperture / pupil * math.Min(1, o.Obstruction/ShadowWarns)
	switch {
	case o.ExitPupil <= pupil || eff < ShadowNotes:
		l.Sentence = "The shadow of the secondary goes unseen."
	case eff >= ShadowRefuses:
		l.Verdict = Refuse
		l.Sentence = fmt.Sprintf("The secondary's shadow would fill %s of the eye's pupil: use at least %.0f×.", percent(math.Min(1, eff)), math.Ceil(l.Bound))
	case eff >= ShadowWarns:
		l.Verdict = Warn
		l.Sentence = fmt.Sprintf("A dark spot comes and goes as the head moves; none from %.0f× up.", math.Ceil(l.Bound))
	default:
		l.Verdict = Note
		l.Sentence = "The secondary's shadow dims the view a little."
	}
	return l
}

// longestPerStop is the focal length of the longest eyepiece that still
// widens the view over its field stop: 32 mm over 27 mm in 1.25 inch, 55 over
// 46 in 2 inch (common practice).
const longestPerStop = 32.0 / 27

// WidestField returns the widest true field in degrees that barrel and tube
// of the instrument pass, and the lowest magnification at which an eyepiece
// still fills it. Binoculars have just their own.
func WidestField(inst kit.Instrument) (field, lowest float64) {
	if inst.Design == kit.Binoculars || !(inst.FocalLength > 0) {
		return inst.FixedField, inst.Power
	}
	stop := inst.Focuser.WidestStop()
	if inst.MaxFieldStop > 0 {
		stop = math.Min(stop, inst.MaxFieldStop)
	}
	return degree * stop / inst.FocalLength, inst.FocalLength / (stop * longestPerStop)
}

// Field stop over the widest that the tube lights, above which the dim edge
// is not only noted but warned of.
const edgeDimWarns = 1.3

func stopLimit(o Optics, inst kit.Instrument) Limit {
	widest, lowest := WidestField(inst)
	l := Limit{Name: "field stop", Value: o.FieldStop, Unit: "mm", Bound: lowest, Verdict: OK, Assumed: o.Rests(QLitField)}
	if o.FieldFrom == FromFixed {
		l.Sentence = "The eyepieces are fixed."
		return l
	}
	switch beyond := o.FieldStop / inst.MaxFieldStop; {
	case beyond > edgeDimWarns:
		l.Verdict = Warn
		l.Sentence = fmt.Sprintf("The tube lights only the inner %.2f° of %.2f°: the edge is dark.", o.LitField, o.TrueField)
	case beyond > 1.005:
		l.Verdict = Note
		l.Sentence = fmt.Sprintf("The tube lights %.2f° of %.2f°: the edge is dim.", o.LitField, o.TrueField)
	case o.Magnification < lowest*0.97 && o.TrueField <= widest*1.03:
		l.Verdict = Note
		l.Sentence = fmt.Sprintf("The barrel is the limit: %.0f× would show the same %.2f° on a darker sky.", lowest, o.TrueField)
	default:
		l.Sentence = fmt.Sprintf("%.2f° of at most %.2f° that barrel and tube pass.", o.TrueField, widest)
	}
	return l
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }
