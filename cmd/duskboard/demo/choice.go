package demo

import (
	"context"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// favourites are what a public night in any season picks from; whatever is
// not up is left out with its reason.
var favourites = []string{
	"moon", "venus", "mars", "jupiter", "saturn", "uranus", "neptune",
	"m31", "m32", "m33", "m34", "m35", "m36", "m37", "m38", "m42", "m44", "m45", "m46", "m47", "m67", "m1", "m3", "m5", "m13", "m92", "m15", "m2",
	"m11", "m8", "m17", "m20", "m22", "m27", "m57", "m51", "m63", "m64", "m65", "m66", "m81", "m82", "m101", "m104", "m103", "m52", "m39", "m29",
	"ngc869", "ngc457", "ngc7789", "ngc7662", "ngc6543", "ngc6826", "ngc2392", "ngc7000",
	"albireo", "almach", "mizar", "castor", "polaris", "cor-caroli", "eta-cas", "iota-cnc", "gamma-leo", "epsilon-lyr", "gamma-del", "beta-mon", "hyades", "coathanger",
}

// choice takes all the gear, everybody, and the favourites that the catalogue
// has.
func choice(k kit.Kit, people []crew.Volunteer, n night.Night) night.Choice {
	c := night.Plan{Kit: k}.Choice()
	cat := catalog.Default()
	seen := map[string]bool{}
	add := func(t catalog.Target) {
		if !seen[t.ID] {
			seen[t.ID] = true
			c.Targets = append(c.Targets, t.ID)
		}
	}
	for _, id := range favourites {
		if t, ok := cat.ByID(id); ok {
			add(t)
		} else if found := cat.Search(id); len(found) > 0 {
			add(found[0])
		}
	}
	c.MustShow = []string{"moon"}
	for _, v := range people {
		a := crew.Availability{VolunteerID: v.ID, Answer: crew.Yes}
		switch v.Name {
		case "Ines":
			// The only one for the German equatorial leaves early.
			a.To = n.PublicFrom.Add(n.Public * 3 / 5)
		case "Lotte":
			a.Answer = crew.Maybe
		}
		c.Availability = append(c.Availability, a)
	}
	return c
}

// LineUpStore is what proposing the demo's line-up needs.
type LineUpStore interface {
	Plan(ctx context.Context, nightID int64) (night.Plan, error)
	SaveShowings(ctx context.Context, nightID, lineUpVersion int64, shows []lineup.Showing, label string) (int64, error)
}

// Propose gives the demo's night its first line-up.
func Propose(ctx context.Context, st LineUpStore, id int64) error {
	p, err := st.Plan(ctx, id)
	if err != nil {
		return err
	}
	sh, err := night.Build(p, catalog.Default())
	if err != nil {
		return err
	}
	r, err := lineup.Propose(ctx, sh.Input, sh.Fits())
	if err != nil {
		return err
	}
	_, err = st.SaveShowings(ctx, id, p.LineUpVersion, r.Showings, "propose a line-up")
	return err
}
