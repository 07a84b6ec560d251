package demo

import (
	"context"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/night"
)

// RosterStore is what proposing the demo's roster needs.
type RosterStore interface {
	Plan(ctx context.Context, nightID int64) (night.Plan, error)
	SaveDuties(ctx context.Context, nightID, rosterVersion int64, duties []crew.Duty, label string) (int64, error)
}

// ProposeRoster gives the demo's night its first roster, after the line-up.
func ProposeRoster(ctx context.Context, st RosterStore, id int64) error {
	p, err := st.Plan(ctx, id)
	if err != nil {
		return err
	}
	sh, err := night.Build(p, catalog.Default())
	if err != nil {
		return err
	}
	r, err := crew.Propose(ctx, sh.Scene(), nil)
	if err != nil {
		return err
	}
	_, err = st.SaveDuties(ctx, id, p.RosterVersion, r.Duties, "propose a roster")
	return err
}
