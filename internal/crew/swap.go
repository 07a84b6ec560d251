package crew

import (
	"slices"
)

// Offer is one way to fill a duty anew.
type Offer struct {
	VolunteerID int64
	// Trade is the duty that the other person gives up: to be taken by whoever
	// gives up theirs, or to be left open. Nil when they are free.
	Trade *Duty
	Opens bool // the traded duty is left open
	Words string
}

// Offers returns who could take over a duty whole without breaking a rule:
// first those who are free, then those with whom it can be exchanged, then
// those who would leave a duty that weighs less. gone tells that the person
// who has it now cannot take anything in exchange.
func (s *Scene) Offers(ds []Duty, d Duty, gone bool) []Offer {
	rest := slices.DeleteFunc(slices.Clone(ds), func(x Duty) bool { return same(x, d) })
	var free, trades, opens []Offer
	for _, v := range s.Volunteers {
		if v.ID == d.VolunteerID {
			continue
		}
		if _, present := s.Present(v); !present || s.Hindrance(v, post(d)) != "" || d.Role == Operator && !s.runs(v, d.InstrumentID) {
			continue
		}
		mine := d
		mine.VolunteerID = v.ID
		if len(s.newConflicts(rest, mine)) == 0 {
			free = append(free, Offer{VolunteerID: v.ID, Words: sentence("%s is free and can take it.", v.Name)})
			continue
		}
		i := slices.IndexFunc(rest, func(x Duty) bool { return x.VolunteerID == v.ID && span(x).Overlaps(span(d)) })
		if i < 0 {
			continue
		}
		theirs := rest[i]
		left := slices.Delete(slices.Clone(rest), i, i+1)
		if len(s.newConflicts(left, mine)) > 0 {
			continue
		}
		back := theirs
		back.VolunteerID = d.VolunteerID
		if !gone && (theirs.Role != Operator || s.counts(back)) && len(s.newConflicts(left, mine, back)) == 0 {
			trades = append(trades, Offer{VolunteerID: v.ID, Trade: &theirs, Words: sentence("Exchange with %s, who has %s %s.", v.Name, s.PostName(post(theirs)), s.words(span(theirs)))})
		} else if s.weight(theirs) < s.weight(d) {
			opens = append(opens, Offer{VolunteerID: v.ID, Trade: &theirs, Opens: true, Words: sentence("%s could come over; %s would be open %s.", v.Name, s.PostName(post(theirs)), s.words(span(theirs)))})
		}
	}
	return append(append(free, trades...), opens...)
}

// weight is the most that the need of a duty weighs.
func (s *Scene) weight(d Duty) float64 {
	most := 0.0
	for _, n := range s.Needs() {
		if n.Post == post(d) && n.Overlaps(span(d)) {
			most = max(most, n.Weight+n.First)
		}
	}
	return most
}

// same tells whether two are one duty; unsaved ones are told apart by person
// and time.
func same(a, b Duty) bool {
	return a.ID == b.ID && a.VolunteerID == b.VolunteerID && a.From.Equal(b.From)
}

// Take returns the roster after an offer for duty d is taken up.
func Take(ds []Duty, d Duty, o Offer) []Duty {
	var out []Duty
	for _, x := range ds {
		switch {
		case same(x, d):
			x.VolunteerID = o.VolunteerID
		case o.Trade != nil && same(x, *o.Trade):
			if o.Opens {
				continue
			}
			x.VolunteerID = d.VolunteerID
		}
		out = append(out, x)
	}
	Sort(out)
	return out
}

// Tell is somebody who has to know of a change, and why.
type Tell struct {
	VolunteerID int64
	Why         string
}

// Absence is what follows when somebody drops out.
type Absence struct {
	Left      []Duty      // the roster without them
	Lost      []Duty      // their duties
	Unstaffed []Unstaffed // showings that nobody runs now and somebody ran before
	Tell      []Tell
}

// Drop takes one person out of a roster.
func (s *Scene) Drop(ds []Duty, volunteer int64) Absence {
	var out Absence
	for _, d := range ds {
		if d.VolunteerID == volunteer {
			out.Lost = append(out.Lost, d)
		} else {
			out.Left = append(out.Left, d)
		}
	}
	before := map[string]bool{}
	for _, u := range s.Unstaffed(ds) {
		before[u.Words] = true
	}
	for _, u := range s.Unstaffed(out.Left) {
		if !before[u.Words] {
			out.Unstaffed = append(out.Unstaffed, u)
		}
	}
	out.Tell = s.tell(out, volunteer)
	return out
}

// tell lists whom the absence of somebody touches: those who share a post with
// them or hand over to them, and those who hoped for a seat in their car.
func (s *Scene) tell(a Absence, volunteer int64) []Tell {
	var out []Tell
	told := map[int64]bool{volunteer: true}
	add := func(id int64, format string, args ...any) {
		if !told[id] {
			told[id] = true
			out = append(out, Tell{id, sentence(format, args...)})
		}
	}
	for _, d := range a.Lost {
		for _, e := range a.Left {
			if e.InstrumentID != d.InstrumentID || d.InstrumentID == 0 && e.Role != d.Role {
				continue
			}
			switch {
			case span(d).Overlaps(span(e)):
				add(e.VolunteerID, "is on %s at the same time", s.PostName(post(d)))
			case d.To().Equal(e.From):
				add(e.VolunteerID, "was to take over %s at %s", s.PostName(post(d)), s.clock(e.From))
			case e.To().Equal(d.From):
				add(e.VolunteerID, "was to hand over %s at %s", s.PostName(post(d)), s.clock(d.From))
			}
		}
	}
	if s.lift(volunteer).Seats > 0 {
		for _, l := range s.Lifts {
			if v, ok := s.volunteer(l.VolunteerID); ok && l.Needs && !v.Retired && s.availability(v.ID).Answer != No {
				add(l.VolunteerID, "needs a lift, and a car with free seats is gone")
			}
		}
	}
	return out
}
