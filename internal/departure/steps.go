package departure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// lift is what guests need at one instrument.
type lift struct {
	inst   kit.Instrument
	height float64 // of the eyepiece at its highest, m
	adult  int     // steps
	child  int
	chair  bool
}

const ladderFrom = 3 // steps; from here on it is a ladder

// steps gives the stools, ladders and chairs of the night to the instruments
// whose eyepieces stand too high or too low, the highest first.
func (b *builder) steps() {
	loose := unitsOf(b.sh.Kit.Steps)
	var short []string
	for _, l := range b.lifts() {
		n := slices.IndexFunc(loose, func(s kit.Steps) bool { return l.fits(s.Kind) })
		switch {
		case n >= 0:
			s := loose[n]
			loose = slices.Delete(loose, n, n+1)
			b.owned(Item{Key: b.key(s.ID), Kind: Step, Name: s.Name, Detail: l.words(), Instrument: l.inst.ID}, s.Base, b.bringers(l.inst.ID)...)
		case l.adult > 0:
			b.trouble(true, "", "%s needs %s (%s), and none is left in the kit of this night.", l.inst.Name, l.wants(), l.words())
		case l.child > 0:
			short = append(short, fmt.Sprintf("%s (%.2f m)", l.inst.Name, l.height))
		}
	}
	if len(short) > 0 {
		b.trouble(false, "", "No stool is left for children at %s. Give those targets lower in the sky, or bring more stools.", strings.Join(short, ", "))
	}
}

// tiptoe is how far a child stretches for a moment, m (common practice).
const tiptoe = 0.05

// unitsOf lists steps piece by piece.
func unitsOf(all []kit.Steps) []kit.Steps {
	var out []kit.Steps
	for _, s := range all {
		for range max(s.Count, 1) {
			out = append(out, s)
		}
	}
	return out
}

// lifts are the needs of the instruments that show something, the highest
// eyepiece first.
func (b *builder) lifts() []lift {
	crowd := b.sh.Input.Crowd
	var out []lift
	for _, u := range b.uses {
		l := lift{inst: u.inst}
		for _, s := range u.shows {
			t, ok := b.sh.Target(s.TargetID)
			if !ok {
				continue
			}
			obj := catalog.ObjectOf(t)
			for _, at := range []float64{b.sh.Sky.At(obj, s.From).AltRefracted, b.sh.Sky.At(obj, s.To()).AltRefracted} {
				l.height = max(l.height, optics.EyepieceHeight(u.inst, at))
			}
		}
		if l.height <= 0 {
			continue
		}
		adult := optics.ReachFor(l.height, crowd.EyeHeight)
		l.adult = adult.Steps
		l.chair = adult.Stand == optics.Sitting || adult.Stand == optics.Kneeling
		if crowd.ChildHeight > 0 && l.height > crowd.ChildHeight+tiptoe {
			l.child = optics.ReachFor(l.height, crowd.ChildHeight).Steps
		}
		if l.adult > 0 || l.child > 0 || l.chair {
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(x, y lift) int { return cmp.Compare(y.height, x.height) })
	return out
}

// fits reports whether a kind of step helps.
func (l lift) fits(k kit.StepKind) bool {
	switch k {
	case kit.Ladder:
		return l.adult >= ladderFrom
	case kit.Stool, kit.RailStool:
		return l.adult < ladderFrom && (l.adult > 0 || l.child > 0)
	case kit.Chair:
		return l.chair && l.adult == 0 && l.child == 0
	}
	return false
}

func (l lift) wants() string {
	if l.adult >= ladderFrom {
		return "a ladder"
	}
	return "a stool"
}

func (l lift) words() string {
	where := fmt.Sprintf("for %s, eyepiece up to %.2f m", l.inst.Name, l.height)
	switch {
	case l.adult >= ladderFrom:
		return where + "; one person on it, a volunteer holds it, red light on its steps"
	case l.adult > 0:
		return where
	case l.child > 0:
		return where + ", for children"
	}
	return where + ", to sit at"
}
