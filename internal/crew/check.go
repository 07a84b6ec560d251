package crew

import (
	"slices"
	"time"
)

// Conflict is a rule that a roster breaks, in words. A caution may be right
// after all; the coordinator knows.
type Conflict struct {
	VolunteerID int64
	Post        Post
	From        time.Time
	Caution     bool
	Words       string
}

// Check returns what a roster breaks, duty by duty, then person by person. An
// empty answer means that every rule is kept.
func (s *Scene) Check(ds []Duty) []Conflict {
	ds = slices.Clone(ds)
	Sort(ds)
	var out []Conflict
	for i, d := range ds {
		add := func(caution bool, format string, args ...any) {
			out = append(out, Conflict{VolunteerID: d.VolunteerID, Post: Post{d.Role, d.InstrumentID}, From: d.From, Caution: caution, Words: sentence(format, args...)})
		}
		v, ok := s.volunteer(d.VolunteerID)
		if !ok {
			add(false, "Somebody who is not asked for this night has a duty %s.", s.words(span(d)))
			continue
		}
		s.checkPresence(v, d, add)
		s.checkAbility(v, d, ds, add)
		s.checkCompany(v, d, ds, add)
		for _, e := range ds[i+1:] {
			s.checkPair(v, d, e, add)
		}
	}
	for _, v := range s.Volunteers {
		out = append(out, s.checkBreaks(v, ds)...)
	}
	return out
}

type adder func(caution bool, format string, args ...any)

func span(d Duty) Stretch { return Stretch{d.From, d.To()} }

func post(d Duty) Post { return Post{d.Role, d.InstrumentID} }

func (s *Scene) checkPresence(v Volunteer, d Duty, add adder) {
	a := s.availability(v.ID)
	night := s.Span()
	switch {
	case v.Retired:
		add(false, "%s has left the crew.", v.Name)
		return
	case a.Answer == No:
		add(false, "%s cannot come.", v.Name)
		return
	case a.Answer == NoAnswer:
		add(true, "%s has not answered yet.", v.Name)
	}
	if d.From.Before(night.From) || d.To().After(night.To) {
		add(true, "%s %s lies outside the night's work, which runs %s.", s.who(v, d), s.words(span(d)), s.words(night))
	}
	switch {
	case !a.From.IsZero() && d.From.Before(a.From):
		add(false, "%s comes at %s, after %s begins at %s.", v.Name, s.clock(a.From), s.PostName(post(d)), s.clock(d.From))
	case !a.To.IsZero() && d.To().After(a.To):
		add(false, "%s leaves at %s, before %s ends at %s.", v.Name, s.clock(a.To), s.PostName(post(d)), s.clock(d.To()))
	}
}

// who names a duty: "Noor at The Barrel".
func (s *Scene) who(v Volunteer, d Duty) string { return v.Name + " at " + s.PostName(post(d)) }

func (s *Scene) checkAbility(v Volunteer, d Duty, ds []Duty, add adder) {
	if why := s.Hindrance(v, post(d)); why != "" {
		add(why == "is not glad to do this", "%s %s: %s %s.", v.Name, why, s.PostName(post(d)), s.words(span(d)))
		return
	}
	i, ok := s.instrument(d.InstrumentID)
	if d.Role != Operator || !ok || LevelAt(v, i) != Learning {
		return
	}
	for _, x := range without(span(d), s.others(ds, d, func(o Volunteer) bool { return LevelAt(o, i) == Teacher }, Operator)) {
		add(false, "%s is still learning %s, and nobody who can teach it is there %s.", v.Name, i.Name, s.words(x))
	}
}

// others returns the stretches of other people on the post of d, in one of the
// roles, who are of the kind asked for.
func (s *Scene) others(ds []Duty, d Duty, is func(Volunteer) bool, roles ...Role) []Stretch {
	var out []Stretch
	for _, e := range ds {
		if e.VolunteerID == d.VolunteerID || e.InstrumentID != d.InstrumentID || !slices.Contains(roles, e.Role) {
			continue
		}
		if o, ok := s.volunteer(e.VolunteerID); ok && is(o) {
			out = append(out, span(e))
		}
	}
	return out
}

// checkCompany is the caution that nobody under age is alone on a duty: at
// each moment there are at least as many adults on the post.
func (s *Scene) checkCompany(v Volunteer, d Duty, ds []Duty, add adder) {
	if !v.Minor || !s.Rules.MinorsGuarded {
		return
	}
	roles := []Role{d.Role}
	if d.Role == Operator {
		roles = append(roles, Companion)
	}
	for _, x := range without(span(d), s.others(ds, d, func(o Volunteer) bool { return !o.Minor }, roles...)) {
		add(true, "%s is under age and alone at %s %s; put an adult beside them, or follow your own rules for young people.", v.Name, s.PostName(post(d)), s.words(x))
	}
}

// checkPair compares two duties: one person in two places, or two in charge of
// one instrument.
func (s *Scene) checkPair(v Volunteer, d, e Duty, add adder) {
	if !span(d).Overlaps(span(e)) {
		return
	}
	both := Stretch{maxTime(d.From, e.From), minTime(d.To(), e.To())}
	switch {
	case d.VolunteerID == e.VolunteerID:
		add(false, "%s is in two places %s: %s and %s.", v.Name, s.words(both), s.PostName(post(d)), s.PostName(post(e)))
	case d.Role == Operator && post(d) == post(e) && s.counts(d) && s.counts(e) && both.Length() > s.Rules.Least:
		// A short overlap hands over; an adult beside a minor keeps them company.
		o, _ := s.volunteer(e.VolunteerID)
		if s.Rules.MinorsGuarded && v.Minor != o.Minor {
			return
		}
		add(true, "%s and %s both run %s %s; one is enough.", v.Name, o.Name, s.PostName(post(d)), s.words(both))
	}
}

// checkBreaks finds stretches of work that are too long without a break.
func (s *Scene) checkBreaks(v Volunteer, ds []Duty) []Conflict {
	var out []Conflict
	var work Stretch
	var last Duty
	end := func() {
		if work.Length() > s.Rules.Work && s.Rules.Work > 0 {
			out = append(out, Conflict{VolunteerID: v.ID, Post: post(last), From: last.From,
				Words: sentence("%s works %s without a break of %.0f minutes, %s; at most %s is the rule.", v.Name, hours(work.Length()), s.Rules.Break.Minutes(), s.words(work), hours(s.Rules.Work))})
		}
	}
	for _, d := range ds {
		if d.VolunteerID != v.ID {
			continue
		}
		if !work.From.IsZero() && d.From.Sub(work.To) < s.Rules.Break {
			work.To = maxTime(work.To, d.To())
		} else {
			end()
			work = span(d)
		}
		last = d
	}
	end()
	return out
}

// newConflicts returns what a roster would break by one more duty that it does
// not break now. Cautions that somebody has not answered do not count.
func (s *Scene) newConflicts(ds []Duty, add ...Duty) []Conflict {
	now := map[string]bool{}
	for _, c := range s.Check(ds) {
		now[c.Words] = true
	}
	var out []Conflict
	for _, c := range s.Check(append(slices.Clone(ds), add...)) {
		if !now[c.Words] {
			out = append(out, c)
		}
	}
	return out
}
