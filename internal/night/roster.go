package night

import (
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/lineup"
)

// RosterEntry is the roster of a night as it was after one change.
type RosterEntry struct {
	ID     int64
	At     time.Time // UTC
	What   string
	Duties []crew.Duty
}

// Scene is the night as its roster sees it: what has to be staffed and who is
// there. Rules, lifts and the hours of the season are the caller's to add.
func (s *Sheet) Scene() crew.Scene {
	out := crew.Scene{
		PublicFrom: s.Night.PublicFrom, PublicTo: s.Night.PublicTo(), Block: s.Night.Block, Guests: s.Night.Guests, Zone: s.Zone,
		Instruments: s.Kit.Instruments, Volunteers: s.Volunteers, Availability: s.Availability, Rules: crew.DefaultRules(),
	}
	if len(s.Showings) == 0 {
		return out
	}
	fits := s.Fits()
	for _, x := range s.Showings {
		out.Shows = append(out.Shows, crew.Show{
			InstrumentID: x.InstrumentID, Stretch: crew.Stretch{From: x.From, To: x.To()}, What: s.name(x.TargetID), Ladder: s.ladder(fits, x),
		})
	}
	return out
}

func (s *Sheet) name(target string) string {
	if t, ok := s.Target(target); ok {
		return t.Name
	}
	return target
}

// ladder reports whether the eyepiece stands so high that a ladder is beside
// the instrument: higher than a platform of a metre serves (common practice).
func (s *Sheet) ladder(fits *lineup.Matrix, x lineup.Showing) bool {
	v := s.Input.ViewOf(fits, x)
	return v.Known && v.HeightTop > ladderHeight
}

// ladderHeight is the height of an eyepiece above the ground, in metres, from
// which an adult of average height needs more than a stool of two steps: eyes
// at 1.55 m and steps of 0.45 m.
const ladderHeight = 2.0
