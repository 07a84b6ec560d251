package night

import (
	"math"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/field"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/optics"
)

// atOnce is the share of the expected guests who are on the field at the same
// time (common practice: families stay two hours of three).
const atOnce = 0.6

// lookEvery is how often a showing's direction is noted for the field.
const lookEvery = 10 * time.Minute

// Field is the ground of the night's site with the instruments that want a
// place on it: how much room each takes, what it shows where, who can use it.
func (s *Sheet) Field() *ground.Layout {
	var stands []ground.Stand
	for _, i := range s.Kit.Instruments {
		stands = append(stands, s.stand(i))
	}
	return ground.NewLayout(s.Ground, stands)
}

func (s *Sheet) stand(i kit.Instrument) ground.Stand {
	t := ground.Stand{ID: i.ID, Name: i.Name, Eye: i.PivotHeight, People: s.waiting(), Mains: s.wantsCable(i)}
	t.Radius, t.Assumed = ground.RadiusOf(i)
	looks, seated := 0, 0
	step := func(alt float64) {
		h := optics.EyepieceHeights(i, alt)
		t.Step = max(t.Step, s.stepFor(h.High))
		looks++
		if v, _ := optics.Wheelchair(h); v == optics.OK {
			seated++
		}
	}
	for _, x := range s.Showings {
		if x.InstrumentID == i.ID {
			sight := s.sight(x)
			for _, k := range sight.Looks {
				step(k.Alt)
			}
			t.Sights = append(t.Sights, sight)
		}
	}
	if looks == 0 {
		step(50) // nothing planned yet: a target half-way up
	}
	t.Access = float64(seated) / float64(looks)
	// A rocker box keeps knees away, and what is not driven has to be pushed on
	// between two looks (common practice).
	t.Awkward = i.Mount == kit.RockerBox || !i.Tracking
	return t
}

// sight is where a showing's target stands from its beginning to its end.
func (s *Sheet) sight(x lineup.Showing) ground.Sight {
	out := ground.Sight{Target: x.TargetID}
	t, ok := s.Target(x.TargetID)
	if !ok {
		return out
	}
	out.Target = t.Name
	obj := catalog.ObjectOf(t)
	n := max(1, int(math.Round(float64(x.Length)/float64(lookEvery))))
	for k := range n + 1 {
		at := x.From.Add(x.Length * time.Duration(k) / time.Duration(n))
		p := s.Sky.At(obj, at)
		out.Looks = append(out.Looks, ground.Look{At: at, Az: p.Az, Alt: p.AltRefracted})
	}
	return out
}

// stepFor is what lifts a typical guest to an eyepiece height in m.
func (s *Sheet) stepFor(height float64) ground.Step {
	switch optics.ReachFor(height, s.Input.Crowd.EyeHeight).Stand {
	case optics.OnStool, optics.OnRail:
		return ground.Stool
	case optics.OnLadder, optics.NotWithin:
		if s.Input.Ladders {
			return ground.Ladder
		}
	}
	return ground.NoStep
}

// waiting is how many guests stand in line at an instrument on the average,
// when those on the field spread evenly and one is at the eyepiece.
func (s *Sheet) waiting() int {
	if len(s.Kit.Instruments) == 0 {
		return 0
	}
	return max(0, int(math.Round(float64(s.Night.Guests)*atOnce/float64(len(s.Kit.Instruments))))-1)
}

// wantsCable reports whether an instrument draws more than its batteries are
// sure to give, where the site has mains.
func (s *Sheet) wantsCable(i kit.Instrument) bool {
	if !s.Site.Power {
		return false
	}
	for _, p := range s.Power.Instruments {
		if p.Instrument.ID == i.ID {
			return p.Supply.Result == field.Short || p.Supply.Result == field.Tight
		}
	}
	return false
}

// PlaceOf is the place of an instrument on the field; false when it has none.
func (p Plan) PlaceOf(instrumentID int64) (ground.Place, bool) {
	for _, x := range p.Places {
		if x.InstrumentID == instrumentID {
			return x, true
		}
	}
	return ground.Place{}, false
}
