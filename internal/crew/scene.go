package crew

import (
	"fmt"
	"slices"
	"sort"
	"time"

	"duskboard/internal/kit"
)

// Stretch is a span of time, the end not included.
type Stretch struct{ From, To time.Time }

// Length returns how long it is.
func (s Stretch) Length() time.Duration { return s.To.Sub(s.From) }

// Overlaps reports whether the two share any time.
func (s Stretch) Overlaps(o Stretch) bool { return s.From.Before(o.To) && o.From.Before(s.To) }

// Show is one showing as the crew sees it: an instrument that somebody has to
// run over a stretch.
type Show struct {
	InstrumentID int64
	Stretch
	What   string // name of the target
	Ladder bool   // the operator stands beside a ladder, or on it
}

// Scene is all that a roster is made from. Instants are UTC, on boundaries of
// blocks counted from the opening of the gate.
type Scene struct {
	PublicFrom, PublicTo time.Time
	Block                time.Duration
	Guests               int
	Zone                 *time.Location // of the site, for times in sentences

	Instruments  []kit.Instrument
	Shows        []Show
	Volunteers   []Volunteer // those asked
	Availability []Availability
	Lifts        []Lift // what people wish besides, by volunteer
	Served       []Served
	Rules        Rules

	Unanswered bool // count on those who have not answered as well
}

// Lift is what somebody said about the way there, and what they would like to do.
type Lift struct {
	VolunteerID int64
	Seats       int    // free in their car
	Needs       bool   // needs a lift
	Place       string // from where
	Wish        Role   // "" for none
}

// Served is one duty of a night of the season.
type Served struct {
	NightID     int64
	Night       string // its name
	Date        string // of its evening, YYYY-MM-DD
	VolunteerID int64
	Name        string
	Role        Role
	Length      time.Duration
}

// Span returns the whole stretch for which people are needed, from setting up
// to packing down, on boundaries of blocks. It is empty without a block.
func (s *Scene) Span() Stretch {
	if s.Block <= 0 {
		return Stretch{s.PublicFrom, s.PublicFrom}
	}
	lead, after := s.Rules.Lead, s.PublicTo.Sub(s.PublicFrom)+s.Rules.After
	for _, i := range s.Instruments {
		if len(s.showsOf(i.ID)) > 0 {
			lead = max(lead, s.setUp(i))
		}
	}
	return Stretch{s.PublicFrom.Add(-up(lead, s.Block)), s.PublicFrom.Add(up(after, s.Block))}
}

// up rounds a duration up to whole blocks.
func up(d, block time.Duration) time.Duration { return (d + block - 1) / block * block }

// blocks returns how many blocks the span has.
func (s *Scene) blocks() int {
	if s.Block <= 0 {
		return 0
	}
	return int(s.Span().Length() / s.Block)
}

// at returns the beginning of block t.
func (s *Scene) at(t int) time.Time { return s.Span().From.Add(time.Duration(t) * s.Block) }

// setUp is how long an instrument takes to be set up by whoever runs it;
// without a number in the kit, half an hour (common practice).
func (s *Scene) setUp(i kit.Instrument) time.Duration {
	if i.SetupMinutes > 0 {
		return min(time.Duration(i.SetupMinutes*float64(time.Minute)), 2*time.Hour)
	}
	return 30 * time.Minute
}

// showsOf returns the showings of an instrument in the order of time.
func (s *Scene) showsOf(instrument int64) []Show {
	var out []Show
	for _, x := range s.Shows {
		if x.InstrumentID == instrument {
			out = append(out, x)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].From.Before(out[j].From) })
	return out
}

func (s *Scene) instrument(id int64) (kit.Instrument, bool) {
	i := slices.IndexFunc(s.Instruments, func(x kit.Instrument) bool { return x.ID == id })
	if i < 0 {
		return kit.Instrument{}, false
	}
	return s.Instruments[i], true
}

func (s *Scene) volunteer(id int64) (Volunteer, bool) {
	i := slices.IndexFunc(s.Volunteers, func(x Volunteer) bool { return x.ID == id })
	if i < 0 {
		return Volunteer{}, false
	}
	return s.Volunteers[i], true
}

func (s *Scene) availability(id int64) Availability {
	for _, a := range s.Availability {
		if a.VolunteerID == id {
			return a
		}
	}
	return Availability{VolunteerID: id}
}

func (s *Scene) lift(id int64) Lift {
	for _, l := range s.Lifts {
		if l.VolunteerID == id {
			return l
		}
	}
	return Lift{VolunteerID: id}
}

// Present returns the stretch in which somebody said they are there, within
// the span of the night; false when that is none.
func (s *Scene) Present(v Volunteer) (Stretch, bool) {
	a := s.availability(v.ID)
	counts := a.Answer == Yes || a.Answer == Maybe || a.Answer == NoAnswer && s.Unanswered
	if !counts || v.Retired {
		return Stretch{}, false
	}
	return s.within(a)
}

// within cuts what was said to the span of the night.
func (s *Scene) within(a Availability) (Stretch, bool) {
	there := s.Span()
	if a.From.After(there.From) {
		there.From = a.From
	}
	if !a.To.IsZero() && a.To.Before(there.To) {
		there.To = a.To
	}
	return there, there.To.After(there.From)
}

// clock prints an instant on the site's clock.
func (s *Scene) clock(t time.Time) string {
	zone := s.Zone
	if zone == nil {
		zone = time.UTC
	}
	return t.In(zone).Format("15:04")
}

// words says a stretch of the night: "from 21:30 to 22:00".
func (s *Scene) words(x Stretch) string {
	return "from " + s.clock(x.From) + " to " + s.clock(x.To)
}

func sentence(format string, args ...any) string { return fmt.Sprintf(format, args...) }
