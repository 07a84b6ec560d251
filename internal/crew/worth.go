package crew

import (
	"math"
	"time"
)

// What a person adds to a post per block, in the unit of the weights of needs:
// small against them, so that wishes decide who, never whether.
const (
	worthEffort     = -0.3 // nobody is put where nobody is needed
	worthTicked     = 0.3  // a role they ticked
	worthWish       = 1.2  // what they wished for this night
	worthOwner      = 1.2  // their own instrument
	worthKnown      = 0.2  // skill for this very instrument, not only for its mount
	worthLearn      = 0.9  // a learner beside a teacher
	worthCompany    = -0.8 // an adult beside a minor has nothing to do else
	worthMaybe      = -1.0 // said perhaps
	worthUnanswered = -1.6 // has not answered
	fairPerHour     = 0.25 // each hour of a role beyond the average of those who do it
	fairMost        = 1.0
	spreadPerHour   = 0.04 // each hour of any role beyond the average
	spreadMost      = 0.4
)

// walkTime is what going from one post to another takes, with the hand-over
// (common practice).
const walkTime = 5 * time.Minute

// walk is what a change of post costs, as work lost at an instrument.
func (m *model) walk() float64 {
	return weightShow * min(float64(walkTime)/float64(max(m.s.Block, time.Minute)), 1)
}

// values is what someone is worth on a post in each block; -Inf where they are
// not there or nobody is wanted.
func (m *model) values(v Volunteer, post Post, there Stretch, fair map[int64]map[Role]float64) []float64 {
	worth := m.worth(v, post) + fair[v.ID][post.Role]
	out := make([]float64, m.problem.Blocks)
	for t := range out {
		from := m.s.at(t)
		if !m.open[post][t] || from.Before(there.From) || from.Add(m.s.Block).After(there.To) {
			out[t] = math.Inf(-1)
			continue
		}
		out[t] = worth
	}
	return out
}

func (m *model) worth(v Volunteer, post Post) float64 {
	worth := worthEffort
	for _, r := range v.Roles {
		if r == post.Role {
			worth += worthTicked
		}
	}
	if m.s.lift(v.ID).Wish == post.Role {
		worth += worthWish
	}
	switch m.s.availability(v.ID).Answer {
	case Maybe:
		worth += worthMaybe
	case NoAnswer:
		worth += worthUnanswered
	}
	i, ok := m.s.instrument(post.InstrumentID)
	switch {
	case post.Role == Companion:
		worth += worthCompany
	case !ok:
	case i.OwnerID == v.ID && LevelAt(v, i) != Learning:
		worth += worthOwner
	case LevelAt(v, i) == Learning:
		worth += worthLearn
	}
	for _, k := range v.Skills {
		if ok && post.Role == Operator && k.InstrumentID == i.ID && k.Level != Learning {
			worth += worthKnown
			break
		}
	}
	return worth
}

// fairness is what each person gains or loses on a role by what they did over
// the season: who always parks cars is spared, who never did is asked.
func fairness(s *Scene) map[int64]map[Role]float64 {
	hours := map[int64]map[Role]float64{}
	total := map[int64]float64{}
	for _, x := range s.Served {
		if hours[x.VolunteerID] == nil {
			hours[x.VolunteerID] = map[Role]float64{}
		}
		hours[x.VolunteerID][x.Role] += x.Length.Hours()
		total[x.VolunteerID] += x.Length.Hours()
	}
	out := map[int64]map[Role]float64{}
	sum, people := 0.0, 0.0
	for _, v := range s.Volunteers {
		out[v.ID] = map[Role]float64{}
		sum, people = sum+total[v.ID], people+1
	}
	for _, r := range append([]Role{Companion}, Roles...) {
		roleSum, doers := 0.0, 0.0
		for _, v := range s.Volunteers {
			if Willing(v, r) {
				roleSum, doers = roleSum+hours[v.ID][r], doers+1
			}
		}
		for _, v := range s.Volunteers {
			over := hours[v.ID][r] - roleSum/max(doers, 1)
			worth := clip(-fairPerHour*over, fairMost)
			if r == Operator {
				worth = 0 // running an instrument is a wish, not a burden
			}
			out[v.ID][r] = worth + clip(-spreadPerHour*(total[v.ID]-sum/max(people, 1)), spreadMost)
		}
	}
	return out
}

func clip(x, most float64) float64 { return math.Max(-most, math.Min(most, x)) }
