package nightfile

import (
	"fmt"
	"slices"
	"strings"

	"duskboard/internal/crew"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// Portable returns a plan with small numbers of its own instead of a club's:
// what stands first in a list is 1. Two clubs that hold the same night thus
// write the same file. What the file cannot hold is left out: owners and
// skills that point at people and instruments which are not part of the night,
// and own targets that the night does not name.
func Portable(p night.Plan) night.Plan {
	r := renumbering{gear: map[string]map[int64]int64{}, people: map[int64]int64{}, own: map[string]string{}}
	p.Kit = copied(p.Kit)
	eachPiece(&p.Kit, func(list string, i int, b *kit.Base, _ *int64) {
		if r.gear[list] == nil {
			r.gear[list] = map[int64]int64{}
		}
		r.gear[list][b.ID] = int64(i + 1)
	})
	for i, v := range p.Volunteers {
		r.people[v.ID] = int64(i + 1)
	}
	named := namedTargets(p)
	p.Own = slices.DeleteFunc(slices.Clone(p.Own), func(o night.OwnTarget) bool { return !named[o.ID] })
	for i := range p.Own {
		r.own[p.Own[i].ID] = fmt.Sprintf("own-%d", i+1)
	}
	return r.apply(p)
}

// copied is a kit whose lists are its own.
func copied(k kit.Kit) kit.Kit {
	k.Instruments, k.Eyepieces, k.Amplifiers = slices.Clone(k.Instruments), slices.Clone(k.Eyepieces), slices.Clone(k.Amplifiers)
	k.Diagonals, k.Filters, k.Finders = slices.Clone(k.Diagonals), slices.Clone(k.Filters), slices.Clone(k.Finders)
	k.DewGear, k.Batteries, k.Steps = slices.Clone(k.DewGear), slices.Clone(k.Batteries), slices.Clone(k.Steps)
	return k
}

// namedTargets are the ids that a night names anywhere.
func namedTargets(p night.Plan) map[string]bool {
	out := map[string]bool{}
	for _, id := range p.Targets {
		out[id] = true
	}
	for _, s := range p.Showings {
		out[s.TargetID], out[s.BackupID] = true, true
	}
	for _, x := range p.Forbidden {
		out[x.TargetID] = true
	}
	return out
}

// renumbering says which id becomes which; what it does not know becomes 0 or
// stays as it is where it is a catalogue's.
type renumbering struct {
	gear   map[string]map[int64]int64 // by list
	people map[int64]int64
	own    map[string]string
}

func (r renumbering) target(id string) string {
	if now, ok := r.own[id]; ok {
		return now
	}
	return id
}

// apply changes every id of a plan whose kit may be written to.
func (r renumbering) apply(p night.Plan) night.Plan {
	eachPiece(&p.Kit, func(list string, _ int, b *kit.Base, forID *int64) {
		b.ID, b.OwnerID = r.gear[list][b.ID], r.people[b.OwnerID]
		if forID != nil {
			*forID = r.gear["instruments"][*forID]
		}
	})
	p.Targets, p.MustShow = mapped(p.Targets, r.target), mapped(p.MustShow, r.target)
	p.Showings = mapped(p.Showings, func(s lineup.Showing) lineup.Showing {
		s.InstrumentID, s.EyepieceID = r.gear["instruments"][s.InstrumentID], r.gear["eyepieces"][s.EyepieceID]
		s.AmplifierID, s.DiagonalID, s.FilterID = r.gear["amplifiers"][s.AmplifierID], r.gear["diagonals"][s.DiagonalID], r.gear["filters"][s.FilterID]
		s.TargetID, s.BackupID = r.target(s.TargetID), r.target(s.BackupID)
		return s
	})
	p.Forbidden = mapped(p.Forbidden, func(x lineup.Pair) lineup.Pair {
		return lineup.Pair{InstrumentID: r.gear["instruments"][x.InstrumentID], TargetID: r.target(x.TargetID)}
	})
	p.Places = mapped(p.Places, func(x ground.Place) ground.Place { x.InstrumentID = r.gear["instruments"][x.InstrumentID]; return x })
	p.Volunteers = mapped(p.Volunteers, func(v crew.Volunteer) crew.Volunteer {
		v.ID = r.people[v.ID]
		var skills []crew.Skill
		for _, s := range v.Skills {
			if s.InstrumentID != 0 {
				if s.InstrumentID = r.gear["instruments"][s.InstrumentID]; s.InstrumentID == 0 {
					continue
				}
			}
			skills = append(skills, s)
		}
		v.Skills = skills
		return v
	})
	p.Availability = mapped(p.Availability, func(a crew.Availability) crew.Availability { a.VolunteerID = r.people[a.VolunteerID]; return a })
	p.Duties = mapped(p.Duties, func(d crew.Duty) crew.Duty {
		d.VolunteerID, d.InstrumentID = r.people[d.VolunteerID], r.gear["instruments"][d.InstrumentID]
		return d
	})
	p.Duties = slices.DeleteFunc(p.Duties, func(d crew.Duty) bool { return d.VolunteerID == 0 })
	p.Showings = slices.DeleteFunc(p.Showings, func(s lineup.Showing) bool { return s.InstrumentID == 0 })
	p.Forbidden = slices.DeleteFunc(p.Forbidden, func(x lineup.Pair) bool { return x.InstrumentID == 0 })
	p.Places = slices.DeleteFunc(p.Places, func(x ground.Place) bool { return x.InstrumentID == 0 })
	p.Own = mapped(p.Own, func(o night.OwnTarget) night.OwnTarget { o.ID = r.target(o.ID); return o })
	sortPlan(&p)
	return p
}

// sortPlan brings lists whose order means nothing into one order, so that ids
// given anew do not change a file.
func sortPlan(p *night.Plan) {
	slices.SortStableFunc(p.Showings, func(a, b lineup.Showing) int {
		if c := a.From.Compare(b.From); c != 0 {
			return c
		}
		return int(a.InstrumentID - b.InstrumentID)
	})
	slices.SortStableFunc(p.Forbidden, func(a, b lineup.Pair) int {
		if a.InstrumentID != b.InstrumentID {
			return int(a.InstrumentID - b.InstrumentID)
		}
		return strings.Compare(a.TargetID, b.TargetID)
	})
	slices.SortStableFunc(p.Places, func(a, b ground.Place) int { return a.Number - b.Number })
	slices.SortStableFunc(p.Duties, func(a, b crew.Duty) int {
		if c := a.From.Compare(b.From); c != 0 {
			return c
		}
		return int(a.VolunteerID - b.VolunteerID)
	})
}

func mapped[T any](xs []T, f func(T) T) []T {
	if xs == nil {
		return nil
	}
	out := make([]T, len(xs))
	for i, x := range xs {
		out[i] = f(x)
	}
	return out
}
