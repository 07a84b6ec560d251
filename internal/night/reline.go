package night

import (
	"slices"

	"duskboard/internal/ground"
	"duskboard/internal/lineup"
)

// WithoutLineUp is the plan without what a change of the line-up or of the
// field changes: two plans that are equal in this differ in these only.
func (p Plan) WithoutLineUp() Plan {
	p.Showings, p.Forbidden, p.LineUpVersion, p.CanUndo, p.CanRedo = nil, nil, 0, false, false
	p.Ground, p.Places, p.FieldVersion, p.CanUndoPlaces, p.CanRedoPlaces = ground.Ground{}, nil, 0, false, false
	return p
}

// Relined returns the sheet of a plan that differs from this one's in its
// line-up and field only (see [Plan.WithoutLineUp]), and shares sky, forecasts
// and fits with it: a change on the board need not compute the night again. It returns
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
	t.Ground, t.Places, t.FieldVersion, t.CanUndoPlaces, t.CanRedoPlaces = p.Ground, p.Places, p.FieldVersion, p.CanUndoPlaces, p.CanRedoPlaces
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
