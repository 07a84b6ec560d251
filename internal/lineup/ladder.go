package lineup

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// Ladder is the steps of magnification that an instrument has, and what is
// missing between them and beyond.
type Ladder struct {
	InstrumentID int64
	Steps        []Step  // by magnification; none when nothing fits the focuser
	Low, High    float64 // magnifications of a complete ladder's ends, tonight
	Gaps         []Gap
	Fixed        bool // binoculars and the like: nothing can be changed
}

// Step is one rung.
type Step struct {
	Power, ExitPupil, Field float64 // times, mm, degrees
	Train                   optics.Train
}

// Gap is a stretch of magnifications that an instrument cannot give.
type Gap struct {
	From, To float64 // times
	Power    float64 // that would fill it best
	Focal    float64 // mm, of the eyepiece that gives it
	Words    string
}

// widestStep is the ratio between two rungs of a ladder of magnifications from
// which a gap is felt (common practice: steps of 1.4 to 1.7; exit pupils of
// 0.7, 1, 2, 4 and 6 mm).
const widestStep = 2.1

// The exit pupils, in mm, of the ends of a complete ladder: the highest that
// ordinary air bears and the richest that an older eye takes.
const (
	shortEnd = 1.0
	richEnd  = 4.5
)

// Ladders lists, for every instrument, the magnifications that the night's kit
// gives it without filters, and which are missing.
func (m *Matrix) Ladders() []Ladder {
	var out []Ladder
	for ii := range m.in.Kit.Instruments {
		out = append(out, m.ladder(ii))
	}
	return out
}

func (m *Matrix) ladder(ii int) Ladder {
	inst := m.in.Kit.Instruments[ii]
	l := Ladder{InstrumentID: inst.ID, Fixed: inst.Design == kit.Binoculars}
	for r, tr := range m.Trains[ii] {
		if tr.Filter != nil {
			continue
		}
		g := &m.glances[ii][r]
		l.Steps = append(l.Steps, Step{Power: g.Magnification, ExitPupil: g.ExitPupil, Field: g.TrueField, Train: tr})
	}
	slices.SortStableFunc(l.Steps, func(a, b Step) int { return cmp.Compare(a.Power, b.Power) })
	if l.Fixed {
		return l
	}
	l.Low, l.High = inst.Aperture/richEnd, math.Min(inst.Aperture/shortEnd, seenWide/m.seeing()*seeingLimit)
	if len(l.Steps) > 0 {
		l.Gaps = gapsOf(l, inst)
	}
	return l
}

// gapsOf names what a ladder lacks: rungs between two that lie far apart, and
// those at its ends.
func gapsOf(l Ladder, inst kit.Instrument) []Gap {
	var out []Gap
	first, last := l.Steps[0], l.Steps[len(l.Steps)-1]
	if first.Power > 1.5*l.Low && inst.FocalLength/l.Low <= longestFocal {
		out = append(out, Gap{From: l.Low, To: first.Power, Power: l.Low, Focal: inst.FocalLength / l.Low,
			Words: fmt.Sprintf("The lowest is %.0f×, an exit pupil of %.1f mm; %.0f× shows wide and faint things better, an eyepiece of about %.0f mm.", first.Power, first.ExitPupil, l.Low, inst.FocalLength/l.Low)})
	}
	for i, s := range l.Steps[1:] {
		if before := l.Steps[i]; s.Power/before.Power > widestStep {
			want := math.Sqrt(s.Power * before.Power)
			out = append(out, Gap{From: before.Power, To: s.Power, Power: want, Focal: inst.FocalLength / want,
				Words: fmt.Sprintf("Between %.0f× and %.0f× nothing: an eyepiece of about %.0f mm gives %.0f×.", before.Power, s.Power, inst.FocalLength/want, want)})
		}
	}
	if last.Power < 0.75*l.High {
		out = append(out, Gap{From: last.Power, To: l.High, Power: l.High, Focal: inst.FocalLength / l.High,
			Words: fmt.Sprintf("The highest is %.0f×; tonight's air and the aperture bear %.0f×, an eyepiece of about %.0f mm or a Barlow lens.", last.Power, l.High, inst.FocalLength/l.High)})
	}
	return out
}

// longestFocal is the longest eyepiece that is commonly made, mm.
const longestFocal = 40.0
