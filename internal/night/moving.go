package night

import (
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/sky"
)

// Satellite is a satellite whose two-line elements the club keeps.
type Satellite struct {
	ID       int64
	Name     string
	Elements string // as published: an optional name line and the two lines
	AddedAt  time.Time
}

// usualComa is the width of a comet's glow in arcminutes when nobody said
// (common practice for comets within reach of a small telescope).
const usualComa = 5.0

// OwnCatalogue joins the club's own targets to the catalogue. An own target
// whose elements no longer read is left out; its page says why.
func OwnCatalogue(c *catalog.Catalog, own []OwnTarget) *catalog.Catalog {
	var ts []catalog.Target
	for _, o := range own {
		t := o.Target
		if o.Elements != "" {
			moving, err := Moving(o)
			if err != nil {
				continue
			}
			t = moving
		}
		ts = append(ts, t)
	}
	if len(ts) == 0 {
		return c
	}
	return c.With(ts)
}

// Moving gives an own target the orbit of its elements. The error is Invalid
// and names column and reason.
func Moving(o OwnTarget) (catalog.Target, error) {
	orbits, err := sky.ParseMPC(o.Elements)
	if err != nil {
		return catalog.Target{}, fault.Wrap(fault.Invalid, err, "the elements cannot be read")
	}
	if len(orbits) != 1 {
		return catalog.Target{}, fault.New(fault.Invalid, "one target takes one line of elements, these are %d", len(orbits))
	}
	t := o.Target
	t.Orbit = &orbits[0]
	t.Kind = catalog.KindMinorPlanet
	if t.Orbit.Comet {
		t.Kind = catalog.KindComet
		if t.MajorAxis == 0 {
			t.MajorAxis, t.MinorAxis = usualComa, usualComa
		}
	}
	return t, nil
}

// tonight sets what an orbit's brightness is on this night.
func tonight(t catalog.Target, n *sky.Night, at time.Time) catalog.Target {
	if t.Orbit == nil {
		return t
	}
	v := n.Orbit(*t.Orbit, at)
	t.Magnitude = v.Magnitude
	return t
}
