package lineup

import (
	"fmt"
	"math"
	"slices"

	"duskboard/internal/kit"
)

// widestStep is the ratio between two rungs of a ladder of magnifications from
// which a gap is felt (common practice: steps of 1.4 to 1.7; exit pupils of
// 0.7, 1, 2, 4 and 6 mm).
const widestStep = 2.1

// usefulPupils are the exit pupils, in mm, of the ends of a complete ladder:
// the highest that ordinary air bears and the richest that an older eye takes.
const (
	shortEnd = 1.0
	richEnd  = 4.5
)

// ladder lists the magnifications that an instrument has without amplifiers
// and with Barlow lenses, and where rungs are missing. False for binoculars
// and for an instrument without a train.
func (m *Matrix) ladder(ii int) (Ladder, bool) {
	inst := m.in.Kit.Instruments[ii]
	l := Ladder{InstrumentID: inst.ID}
	for r, tr := range m.Trains[ii] {
		if tr.Filter != nil {
			continue
		}
		g := &m.glances[ii][r]
		l.Steps = append(l.Steps, Step{Power: g.Magnification, ExitPupil: g.ExitPupil, Field: g.TrueField, Train: tr})
	}
	if len(l.Steps) == 0 || inst.Design == kit.Binoculars {
		return l, false
	}
	slices.SortStableFunc(l.Steps, func(a, b Step) int {
		switch {
		case a.Power < b.Power:
			return -1
		case a.Power > b.Power:
			return 1
		}
		return 0
	})
	first, last := l.Steps[0], l.Steps[len(l.Steps)-1]
	for i, s := range l.Steps[1:] {
		if before := l.Steps[i]; s.Power/before.Power > widestStep {
			want := math.Sqrt(s.Power * before.Power)
			l.Gaps = append(l.Gaps, fmt.Sprintf("Between %.0f× and %.0f× nothing: an eyepiece of about %.0f mm gives %.0f×.", before.Power, s.Power, inst.FocalLength/want, want))
		}
	}
	if top := math.Min(inst.Aperture/shortEnd, seenWide/m.seeing()*seeingLimit); last.Power < 0.75*top {
		l.Gaps = append(l.Gaps, fmt.Sprintf("The highest is %.0f×; tonight's air and the aperture bear %.0f×, an eyepiece of about %.0f mm or a Barlow lens.", last.Power, top, inst.FocalLength/top))
	}
	if rich := inst.Aperture / richEnd; first.Power > 1.5*rich && inst.FocalLength/rich <= 40 {
		l.Gaps = append(l.Gaps, fmt.Sprintf("The lowest is %.0f×, an exit pupil of %.1f mm; %.0f× shows wide and faint things better, an eyepiece of about %.0f mm.", first.Power, first.ExitPupil, rich, inst.FocalLength/rich))
	}
	return l, true
}
