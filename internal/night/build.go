package night

import (
	"sync"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/lineup"
	"duskboard/internal/sky"
)

// Sheet is a night, computed: what every screen reads.
type Sheet struct {
	Plan
	Zone      *time.Location
	Sky       *sky.Night
	Twilights sky.Twilights
	Targets   []catalog.Target // those that may be shown, in the order chosen
	Forecasts field.Reports    // dew and cool-down by instrument id; nil without weather
	Power     PowerPlan
	Input     *lineup.Input

	lent lent // loose gear, handed out
	fits func() *lineup.Matrix
}

// Fits returns the views and fits of the night; the first call computes them,
// later ones share the result.
func (s *Sheet) Fits() *lineup.Matrix { return s.fits() }

// Target returns a target of the night by its id.
func (s *Sheet) Target(id string) (catalog.Target, bool) {
	for _, t := range s.Targets {
		if t.ID == id {
			return t, true
		}
	}
	return catalog.Target{}, false
}

// Catalogue finds targets by id: the embedded ones and the club's own.
type Catalogue interface {
	ByID(id string) (catalog.Target, bool)
}

// Build computes a night. It returns an Invalid error when the site or the
// date cannot be: a zone that is unknown, a latitude over 90 degrees.
func Build(p Plan, targets Catalogue) (*Sheet, error) {
	zone, err := p.Site.Location()
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "the time zone %q of %s is not known", p.Site.Zone, p.Site.Name)
	}
	n, err := sky.NewNight(p.Site.Place, p.Night.Date, zone)
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "the sky of %s at %s cannot be computed", p.Night.Date, p.Site.Name)
	}
	s := &Sheet{Plan: p, Zone: zone, Sky: n, Twilights: n.Twilights()}
	s.Kit = p.Kit.Fill()
	for _, id := range p.Targets {
		if t, ok := targets.ByID(id); ok {
			s.Targets = append(s.Targets, tonight(t, n, p.Night.PublicFrom))
		}
	}
	// A showing whose target was taken off the list keeps its name on the
	// board until it is moved or cleared.
	for _, sh := range p.Showings {
		if _, ok := s.Target(sh.TargetID); ok {
			continue
		}
		if t, ok := targets.ByID(sh.TargetID); ok {
			s.Targets = append(s.Targets, t)
		}
	}
	if s.GoRules.Version == 0 { // a night file does not bring the club's own
		s.GoRules = DefaultGoRules()
	}
	s.lent = handOut(s.Kit)
	s.Forecasts = s.forecasts()
	s.Power = s.power()
	s.Input = s.input()
	s.fits = sync.OnceValue(s.Input.Fits)
	return s, nil
}

func (s *Sheet) input() *lineup.Input {
	rules := lineup.DefaultRules()
	rules.ClubLeast = s.Club.MinAltitude
	in := &lineup.Input{
		Sky: s.Sky, Horizon: s.Site.Horizon, Brightness: s.Site.Brightness, Seeing: s.Night.Seeing,
		PublicFrom: s.Night.PublicFrom, PublicTo: s.Night.PublicTo(), Block: s.Night.Block,
		Guests: s.Night.Guests, Crowd: crowdOf(s.Night.Audience), Ladders: s.Club.Ladders && s.Site.Ladders,
		Kit: s.Kit, Targets: s.Targets, Must: map[string]bool{}, Forecasts: s.Forecasts,
		Forbidden: s.Forbidden, Rules: rules,
	}
	for _, id := range s.MustShow {
		in.Must[id] = true
	}
	for _, sh := range s.Showings {
		in.Standing = append(in.Standing, sh)
		if sh.Pinned {
			in.Pinned = append(in.Pinned, sh)
		}
	}
	in.Away = s.away()
	return in
}

// crowdOf says what an audience needs; eye heights are those of the science
// sheet of optics, 7.2, the rest common practice.
func crowdOf(a Audience) lineup.Crowd {
	switch a {
	case School:
		// A class of about ten years: the teacher bends, the children count.
		return lineup.Crowd{Name: "a school class", EyeHeight: 1.28, ChildHeight: 1.17, PupilAge: 20, FieldFactor: 2.2, Slow: 1.1, BrightFirst: true}
	case Adults:
		return lineup.Crowd{Name: "adults", EyeHeight: 1.55, PupilAge: 50, FieldFactor: 2, Slow: 1}
	case Beginners:
		return lineup.Crowd{Name: "a beginners' course", EyeHeight: 1.55, PupilAge: 40, FieldFactor: 1.8, Slow: 1.2}
	}
	return lineup.Crowd{Name: "families", EyeHeight: 1.55, ChildHeight: 1.05, PupilAge: 35, FieldFactor: 2.2, Slow: 1.15, BrightFirst: true}
}
