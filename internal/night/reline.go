package night

import (
	"slices"

	"duskboard/internal/lineup"
)

// WithoutLineUp is the plan without what a change of the line-up changes: two
// plans that are equal in this differ in their line-up only.
func (p Plan) WithoutLineUp() Plan {
	p.Showings, p.Forbidden, p.LineUpVersion, p.CanUndo, p.CanRedo = nil, nil, 0, false, false
	return p
}

// Relined returns the sheet of a plan that differs from this one's in its
// line-up only (see [Plan.WithoutLineUp]), and shares sky, forecasts and fits
// with it: a change on the board need not compute the night again. It returns
// false when a showing is of a target that is not on the night's list; such a
// plan has to be built.
func (s *Sheet) Relined(p Plan) (*Sheet, bool) {
	listed := func(x lineup.Showing) bool { return slices.Contains(p.Targets, x.TargetID) }
	for _, all := range [][]lineup.Showing{s.Showings, p.Showings} {
		for _, x := range all {
			if !listed(x) {
				return nil, false
			}
		}
	}
	t := *s
	t.Showings, t.Forbidden, t.LineUpVersion, t.CanUndo, t.CanRedo = p.Showings, p.Forbidden, p.LineUpVersion, p.CanUndo, p.CanRedo
	in := *s.Input
	in.Forbidden, in.Pinned = p.Forbidden, nil
	for _, x := range p.Showings {
		if x.Pinned {
			in.Pinned = append(in.Pinned, x)
		}
	}
	t.Input = &in
	return &t, true
}
