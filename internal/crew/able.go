package crew

import (
	"slices"

	"duskboard/internal/kit"
)

// Post is a place to be filled: an instrument to run, or a role on the field.
type Post struct {
	Role         Role
	InstrumentID int64 // for operators and companions; 0 otherwise
}

// LevelAt returns how well someone runs an instrument, by a skill for it or
// for its kind of mount; the better one counts. "" is not at all.
func LevelAt(v Volunteer, i kit.Instrument) Level {
	best := Level("")
	for _, k := range v.Skills {
		if (k.InstrumentID == i.ID || k.InstrumentID == 0 && k.Mount == string(i.Mount)) && rank(k.Level) > rank(best) {
			best = k.Level
		}
	}
	return best
}

func rank(l Level) int { return slices.Index([]Level{Learning, Alone, Teacher}, l) }

// Willing reports whether someone does a role: one they ticked, or any when
// they ticked none.
func Willing(v Volunteer, r Role) bool {
	if len(v.Roles) == 0 || r == Companion {
		return true
	}
	return slices.Contains(v.Roles, r)
}

// Hindrance says why someone is not put on a post, as the end of a sentence
// that begins with their name; "" when nothing stands in the way. Learning an
// instrument is no hindrance here: a teacher beside them is a rule of the
// roster. Cautions for minors are common practice; the club's own rules and
// the law come first.
func (s *Scene) Hindrance(v Volunteer, p Post) string {
	l := v.Limits
	switch p.Role {
	case Operator:
		i, ok := s.instrument(p.InstrumentID)
		switch {
		case !ok:
			return "has an instrument that is not of this night"
		case LevelAt(v, i) == "":
			return "does not run " + i.Name
		case (l.NoLadder || l.MustSit) && s.ladderAt(i.ID):
			return "does not go on a ladder, which " + i.Name + " needs"
		}
	case Companion:
		if v.Minor {
			return "is under age"
		}
	case Parking:
		if v.Minor {
			return "is under age, and cars are moving there"
		}
		if l.MustSit {
			return "needs a seat"
		}
	case Safety:
		if v.Minor {
			return "is under age"
		}
	case SetUp, PackDown:
		if l.NoLifting {
			return "does not lift"
		}
		if l.MustSit {
			return "needs a seat"
		}
	case QueueHost:
		if l.MustSit {
			return "needs a seat"
		}
	}
	if !Willing(v, p.Role) {
		return "is not glad to do this"
	}
	return ""
}

// ladderAt reports whether a showing of the instrument needs a ladder.
func (s *Scene) ladderAt(instrument int64) bool {
	return slices.ContainsFunc(s.showsOf(instrument), func(x Show) bool { return x.Ladder })
}

// Trainable reports whether someone could run an instrument after being shown
// it: they are learning it already, or run another on a mount of its family
// alone. Mounts that move alike form a family (common practice: what is new is
// the handling of the mount, not the eyepiece).
func (s *Scene) Trainable(v Volunteer, i kit.Instrument) bool {
	if !Willing(v, Operator) || (v.Limits.NoLadder || v.Limits.MustSit) && s.ladderAt(i.ID) {
		return false
	}
	switch LevelAt(v, i) {
	case Learning:
		return true
	case Alone, Teacher:
		return false
	}
	for _, k := range v.Skills {
		if k.Level == Learning {
			continue
		}
		mount := kit.Mount(k.Mount)
		if k.InstrumentID != 0 {
			other, ok := s.instrument(k.InstrumentID)
			if !ok {
				continue
			}
			mount = other.Mount
		}
		if family(mount) == family(i.Mount) {
			return true
		}
	}
	return false
}

// family groups mounts that move alike: pushed by hand in height and
// direction, driven in height and direction, turning about the pole.
func family(m kit.Mount) string {
	switch m {
	case kit.RockerBox, kit.AltAzHand, kit.Tripod, kit.Parallelogram:
		return "by hand"
	case kit.AltAzGoTo, kit.ForkWedge:
		return "driven fork"
	}
	return string(m)
}
