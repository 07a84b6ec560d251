package lineup

import (
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

// Rules are the limits and weights of a line-up. They are the club's own
// taste; [DefaultRules] gives the defaults with a reason each.
type Rules struct {
	MinAltitude map[catalog.Kind]float64 // degrees; see least
	ClubLeast   float64                  // the club's least altitude for everything, degrees

	LeastShowing time.Duration // a showing is at least this long
	Weights      [factorCount]float64

	PointGoTo float64 // seconds lost when a go-to mount changes target
	PointHand float64 // seconds lost when a mount is pointed by hand
	PointDim  float64 // seconds more for a target that is hard to find
	SwapGear  float64 // seconds lost when the eyepiece changes

	RunCost     float64 // looks that every showing costs besides pointing
	MustBonus   float64 // looks earned once by a must-show target
	NewBonus    float64 // looks earned once by every target, times its delight
	SeatBonus   float64 // looks an hour earned while a seated-height view is offered
	MixBonus    float64 // looks an hour earned by each kind of target that is shown at a time
	Second      float64 // share of its value that a target keeps at a second instrument at once
	Repeat      float64 // share of the value that a second run on the same instrument keeps
	Keep        float64 // looks that a change has to earn in each block when a night is planned again
	Come        float64 // share of the guests who come to any one target
	SunDistance float64 // degrees from the Sun in which nothing is shown while it is up
}

// DefaultRules are common practice of public nights, except where a comment
// says otherwise.
func DefaultRules() Rules {
	r := Rules{
		// Common practice: planets 20 degrees, 30 preferred; deep sky 25 to 30;
		// the Moon 15; below about 10 hopeless. Clusters and doubles stand a
		// little more air than what glows.
		MinAltitude: map[catalog.Kind]float64{
			catalog.KindMoon: 15, catalog.KindSun: 15, catalog.KindPlanet: 20,
			catalog.KindDouble: 20, catalog.KindStar: 12, catalog.KindCarbon: 20,
			catalog.KindVariable: 20, catalog.KindAsterism: 20,
			catalog.KindOpen: 20, catalog.KindCloud: 20,
			catalog.KindGlobular: 25, catalog.KindPlanetary: 25, catalog.KindNebula: 22,
			catalog.KindRemnant: 30, catalog.KindGalaxy: 28, catalog.KindDark: 30,
			catalog.KindComet: 15, catalog.KindMinorPlanet: 20,
		},
		// Below half an hour a queue sees more pointing than sky.
		LeastShowing: 30 * time.Minute,
		// A slew with a look at the finder; a hop by hand with a star atlas; a
		// hop to what the finder does not show; a swap, a focus, a first look
		// by the operator (common practice, from memory).
		PointGoTo: 60,
		PointHand: 150,
		PointDim:  120,
		SwapGear:  60,
		// Three or four targets per instrument and night (common practice): each
		// change ends a queue and a talk. As a price and not as a limit, so that
		// a fifth is shown where it is worth it.
		RunCost:   2,
		MustBonus: 40, // a target that was asked for is worth about two blocks of looks
		// Guests walk from one instrument to the next: another target is worth
		// a third of a block more than the same one elsewhere. How long one goes
		// on is not this bonus's business: see Come.
		NewBonus: 4.5,
		// Enough to win where two instruments are nearly equal, too little to
		// put a poor view there.
		SeatBonus: 8,
		// At any time a guest should find a Moon or planet, a cluster, a nebula,
		// a galaxy and a double; eight doubles at once are a queue's boredom.
		MixBonus: 16,
		// A second instrument on the Moon halves its queue but shows nothing
		// new: worth it for a crowd, not while other targets wait.
		Second: 0.6,
		// Who queued there before has seen it; newcomers have not.
		Repeat: 0.8,
		// A crew that is told new things every ten minutes stops listening: a
		// quarter of a block of looks has to be gained before anybody moves.
		Keep:        3,
		Come:        0.5, // half of the guests pass any one instrument while it shows something
		SunDistance: 20,
	}
	// The weights are exponents of the factors. 1 is a full say. Place and
	// state of the optics are already softened by their own scales; the
	// eyepiece's place decides for some guests only; delight is a matter of
	// taste and must not overrule what can be seen.
	r.Weights = [factorCount]float64{
		Field: 1, Power: 1, Visible: 1, Place: 0.8, Mount: 0.8, EyePlace: 0.6, State: 0.7, Delight: 1, Safety: 1,
	}
	return r
}

// lowPlanet is the least altitude of Venus and Mercury, degrees: they are shown
// low or, on most evenings, never; their phase survives more air than a belt.
const lowPlanet = 12

// least returns the lowest altitude, in degrees, at which a target is shown.
func (r Rules) least(t catalog.Target) float64 {
	m, ok := r.MinAltitude[t.Kind]
	if !ok {
		m = 20
	}
	if t.Kind == catalog.KindPlanet && (t.Body == sky.Venus || t.Body == sky.Mercury) {
		m = lowPlanet
	}
	return max(m, r.ClubLeast)
}

// lookSeconds is how long one guest takes at the eyepiece, changing included
// (common practice: 45 s bright and easy, 60 s clusters, 90 s faint things and
// close doubles).
func lookSeconds(t catalog.Target) float64 {
	switch t.Kind {
	case catalog.KindMoon, catalog.KindSun, catalog.KindStar, catalog.KindAsterism:
		return 45
	case catalog.KindPlanet:
		if t.Magnitude > 4 {
			return 75
		}
		return 50
	case catalog.KindDouble:
		if t.Double != nil && t.Double.Separation < 4 {
			return 90
		}
		return 50
	case catalog.KindOpen, catalog.KindCloud, catalog.KindCarbon, catalog.KindVariable:
		return 60
	case catalog.KindGlobular, catalog.KindPlanetary:
		return 75
	}
	if t.Showpiece {
		return 75
	}
	return 90
}
