package crew

import (
	"context"
	"slices"
	"sort"
	"time"

	"duskboard/internal/assign"
)

// Proposal is a roster that was found, with how good it is: Bound is what no
// roster could exceed, in the same unit as Score.
type Proposal struct {
	Duties  []Duty // by beginning, then by volunteer
	Gaps    []Gap
	Score   float64
	Bound   float64
	Lost    []Duty // pinned duties that could not be kept
	Stopped bool   // the search was cut short
}

// Short is how far the score may lie below the best possible, as a fraction;
// 0 when there is nothing to do.
func (p Proposal) Short() float64 {
	if p.Score <= 0 || p.Bound <= p.Score {
		return 0
	}
	return (p.Bound - p.Score) / p.Score
}

// work is how hard the solver tries, in cells of its dynamic programmes: half a
// second for 40 people and 14 instruments. Its usual effort leaves a few per
// cent on the table when many people can do the same.
const work = 40_000_000

// Propose fills the roster of a scene. Duties that are pinned stay, whatever
// rules they break; the others are dropped and found anew. The same scene
// gives the same roster.
func Propose(ctx context.Context, s Scene, now []Duty) (Proposal, error) {
	var pinned []Duty
	for _, d := range now {
		if _, asked := s.volunteer(d.VolunteerID); d.Pinned && asked {
			pinned = append(pinned, d)
		}
	}
	m := build(&s, pinned)
	plan, err := assign.Solve(ctx, m.problem, assign.Options{Work: work})
	if err != nil {
		return Proposal{}, err
	}
	out := Proposal{Score: plan.Score, Bound: plan.Bound, Stopped: plan.Stopped, Duties: m.duties(plan.Choice)}
	for _, d := range pinned {
		if !slices.ContainsFunc(out.Duties, func(x Duty) bool { return x.ID == d.ID && x.VolunteerID == d.VolunteerID && x.From.Equal(d.From) }) {
			out.Lost = append(out.Lost, d)
		}
	}
	out.Gaps = s.Gaps(out.Duties)
	return out, nil
}

// duties turns a plan back into duties. A pinned duty keeps its id and its own
// bounds, also where they lie outside the blocks.
func (m *model) duties(choice [][]int) []Duty {
	var out []Duty
	for agent, row := range choice {
		for _, run := range assign.Runs(agent, row) {
			if d := m.pinned[agent][run.Option]; d != nil {
				if run.From == m.block(d.From) && run.To == m.block(d.To()) {
					out = append(out, *d)
				}
				continue
			}
			post := m.posts[agent][run.Option]
			out = append(out, Duty{
				VolunteerID: m.people[agent].ID, Role: post.Role, InstrumentID: post.InstrumentID,
				From: m.s.at(run.From), Length: time.Duration(run.To-run.From) * m.s.Block,
			})
		}
	}
	Sort(out)
	return out
}

// Sort puts duties in the order of time, then of volunteers.
func Sort(ds []Duty) {
	sort.SliceStable(ds, func(i, j int) bool {
		if !ds[i].From.Equal(ds[j].From) {
			return ds[i].From.Before(ds[j].From)
		}
		return ds[i].VolunteerID < ds[j].VolunteerID
	})
}
