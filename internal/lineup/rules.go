package lineup

import (
	"time"

	"duskboard/internal/catalog"
)

// Rules are the limits and weights of a line-up. They are the club's own
// taste; [DefaultRules] gives the defaults with a reason each.
type Rules struct {
	MinAltitude map[catalog.Kind]float64 // degrees; see least
	ClubLeast   float64                  // the club's least altitude for everything, degrees

	LeastShowing time.Duration // a showing is at least this long
	MaxShowings  int           // per instrument and night
	Weights      [factorCount]float64

	PointGoTo float64 // seconds lost when a go-to mount changes target
	PointHand float64 // seconds lost when a mount is pointed by hand
	PointDim  float64 // seconds more for a target that is hard to find
	SwapGear  float64 // seconds lost when the eyepiece changes

	MustBonus   float64 // looks earned once by a must-show target
	NewBonus    float64 // looks earned once by every target, times its delight
	SeatBonus   float64 // looks earned in each block with a seated-height view
	Repeat      float64 // share of the value that a second run on the same instrument keeps
	SunDistance float64 // degrees from the Sun in which nothing is shown while it is up
}

// DefaultRules are common practice of public nights, except where a comment
// says otherwise.
func DefaultRules() Rules {
	r := Rules{
		// Planets boil below 20 degrees, faint things drown below 25; the Moon
		// and doubles stand more (common practice: practice of public nights).
		MinAltitude: map[catalog.Kind]float64{
			catalog.KindMoon: 12, catalog.KindSun: 15, catalog.KindPlanet: 15,
			catalog.KindDouble: 20, catalog.KindStar: 12, catalog.KindCarbon: 20,
			catalog.KindVariable: 20, catalog.KindAsterism: 20,
			catalog.KindOpen: 20, catalog.KindCloud: 20,
			catalog.KindGlobular: 25, catalog.KindPlanetary: 25, catalog.KindNebula: 22,
			catalog.KindRemnant: 30, catalog.KindGalaxy: 28, catalog.KindDark: 30,
			catalog.KindComet: 15, catalog.KindMinorPlanet: 20,
		},
		LeastShowing: 20 * time.Minute, // below that a queue sees nothing but pointing
		MaxShowings:  4,                // three or four targets per instrument and night
		PointGoTo:    60,
		PointHand:    150,
		PointDim:     120,
		SwapGear:     60,
		MustBonus:    40, // a target that was asked for is worth about two blocks of looks
		// Guests walk from one instrument to the next: another target is worth
		// about a block of looks more than the same one again.
		NewBonus:    14,
		SeatBonus:   2,
		Repeat:      0.6,
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

// least returns the lowest altitude, in degrees, at which a kind is shown.
func (r Rules) least(k catalog.Kind) float64 {
	m, ok := r.MinAltitude[k]
	if !ok {
		m = 20
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
