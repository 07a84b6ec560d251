package night

import (
	"fmt"
	"slices"
	"sort"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
)

// away finds the stretches in which an instrument has nobody to run it. A
// night without any volunteers is planned as if everybody were there: the crew
// is asked later.
func (s *Sheet) away() map[int64][]lineup.Span {
	out := map[int64][]lineup.Span{}
	if len(s.Volunteers) == 0 {
		return out
	}
	from, to := s.Night.PublicFrom, s.Night.PublicTo()
	for _, inst := range s.Kit.Instruments {
		var here []stretch
		for _, v := range s.Volunteers {
			a := s.availability(v.ID)
			if a.Answer == crew.No || !CanOperate(v, inst) {
				continue
			}
			span := stretch{from, to}
			if !a.From.IsZero() && a.From.After(from) {
				span.from = a.From
			}
			if !a.To.IsZero() && a.To.Before(to) {
				span.to = a.To
			}
			if span.to.After(span.from) {
				here = append(here, span)
			}
		}
		for _, g := range gaps(here, from, to) {
			reason := "no operator"
			if len(here) > 0 {
				reason = fmt.Sprintf("no operator from %s to %s", g.from.In(s.Zone).Format("15:04"), g.to.In(s.Zone).Format("15:04"))
			}
			out[inst.ID] = append(out[inst.ID], lineup.Span{From: g.from, To: g.to, Reason: reason})
		}
	}
	return out
}

func (s *Sheet) availability(volunteer int64) crew.Availability {
	for _, a := range s.Availability {
		if a.VolunteerID == volunteer {
			return a
		}
	}
	return crew.Availability{VolunteerID: volunteer}
}

// CanOperate reports whether someone runs the instrument alone: by a skill for
// it, or for its kind of mount.
func CanOperate(v crew.Volunteer, inst kit.Instrument) bool {
	if !slices.Contains(v.Roles, crew.Operator) {
		return false
	}
	return slices.ContainsFunc(v.Skills, func(k crew.Skill) bool {
		return k.Level != crew.Learning && (k.InstrumentID == inst.ID || k.InstrumentID == 0 && k.Mount == string(inst.Mount))
	})
}

type stretch struct{ from, to time.Time }

// gaps returns what the stretches leave open between from and to.
func gaps(have []stretch, from, to time.Time) []stretch {
	sort.Slice(have, func(i, j int) bool { return have[i].from.Before(have[j].from) })
	var out []stretch
	at := from
	for _, h := range have {
		if h.from.After(at) {
			out = append(out, stretch{at, h.from})
		}
		if h.to.After(at) {
			at = h.to
		}
	}
	if to.After(at) {
		out = append(out, stretch{at, to})
	}
	return out
}
