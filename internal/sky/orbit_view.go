package sky

import (
	"fmt"
	"math"
	"time"
)

// Orbit is a comet or minor planet: elements of an orbit round the Sun, mean
// ecliptic and equinox of J2000.0. It is an Object like a Body.
type Orbit struct {
	Designation string // "(1) Ceres", "C/1995 O1 (Hale-Bopp)"
	Comet       bool
	Perihelion  float64 // Julian date (TT) of the perihelion passage
	Epoch       float64 // Julian date (TT) for which the elements hold; 0 unknown
	Q           float64 // perihelion distance, au
	E           float64 // eccentricity: under 1 ellipse, 1 parabola, over 1 hyperbola
	Peri        float64 // argument of perihelion, degrees
	Node        float64 // longitude of the ascending node, degrees
	Incl        float64 // inclination, degrees
	H           float64 // absolute magnitude; NaN unknown
	Slope       float64 // comet: n of 2.5 n log r (4 is usual); minor planet: G
}

// staleDays is how far from their epoch elements are used without a warning:
// the planets' pull moves a main-belt object by an arcminute in some 100 days, a
// comet near Jupiter sooner (common practice).
const staleDays = 100

// Warning says in one sentence when the elements are too old for t, or for a
// comet too far from its perihelion to have an epoch of its own; "" when not.
func (o Orbit) Warning(t time.Time) string {
	epoch := o.Epoch
	if epoch == 0 {
		epoch = o.Perihelion
	}
	days := math.Abs(ttOf(t) - epoch)
	if days <= staleDays {
		return ""
	}
	return fmt.Sprintf("the elements are %.0f days away from the night: the place may be off by more than an arcminute; fetch fresh ones", days)
}

// heliocentric returns the place seen from the Sun, ICRS, au.
func (o Orbit) heliocentric(tt float64) vec3 {
	x, y := fromPerihelion(o.Q, o.E, tt-o.Perihelion)
	// The IAU's obliquity of 1976 goes with the elements' ecliptic.
	return rotX(-84381.448 * arcsecond).
		times(rotZ(-o.Node * radian)).
		times(rotX(-o.Incl * radian)).
		times(rotZ(-o.Peri * radian)).
		mul(vec3{x, y, 0})
}

// fromEarth returns the vector from the Earth's centre to where the light comes
// from. A comet near the Sun turns while its light is on the way, so that the
// orbit is computed anew in each round.
func (o Orbit) fromEarth(earth vec3, tt float64) vec3 {
	v := o.heliocentric(tt).sub(earth)
	for range 4 {
		v = o.heliocentric(tt - v.norm()*lightDays).sub(earth)
	}
	return v
}

// apparent implements Object.
func (o Orbit) apparent(tt float64) geocentric {
	earth, velocity := earthHeliocentric(tt)
	v := o.fromEarth(earth, tt)
	return geocentric{frameOf(tt).fromICRS.mul(aberrated(v, velocity).unit()), v.norm()}
}

// OrbitView is how a comet or minor planet looks from the Earth's centre.
type OrbitView struct {
	Magnitude   float64 // a comet's is its total magnitude, often wrong by one or two; NaN unknown
	Distance    float64 // au from the Earth
	SunDistance float64 // au from the Sun
	PhaseAngle  float64 // degrees
	Elongation  float64 // degrees from the Sun
	East        bool    // east of the Sun: to be seen in the evening
	Motion      float64 // arcminutes an hour across the sky
	Warning     string  // see Orbit.Warning
}

// Orbit returns the view of a comet or minor planet at t.
func (n *Night) Orbit(o Orbit, t time.Time) OrbitView {
	tt := ttOf(t)
	earth, _ := earthHeliocentric(tt)
	v := o.fromEarth(earth, tt)
	fromSun := v.add(earth)
	view := OrbitView{
		Distance:    v.norm(),
		SunDistance: fromSun.norm(),
		PhaseAngle:  angleBetween(v, fromSun),
		Elongation:  angleBetween(v, earth.scale(-1)),
		Warning:     o.Warning(t),
	}
	view.Magnitude = o.magnitude(view.SunDistance, view.Distance, view.PhaseAngle)
	later, _ := earthHeliocentric(tt + 1.0/24)
	view.Motion = angleBetween(v, o.fromEarth(later, tt+1.0/24)) * 60
	f := frameOf(tt)
	lon, _ := f.eclipticOfDate(f.fromICRS.mul(v))
	sun, _ := f.eclipticOfDate(f.fromICRS.mul(earth.scale(-1)))
	view.East = halfTurn(lon-sun) > 0
	return view
}

// magnitude returns the apparent magnitude at r au from the Sun and delta from
// the Earth. Minor planets: the H, G system (Bowell et al. 1989, Asteroids II,
// 524), for phase angles under 120 degrees; comets: H + 5 log delta + 2.5 n
// log r, as the Minor Planet Center's parameters mean.
func (o Orbit) magnitude(r, delta, phase float64) float64 {
	if o.Comet {
		return o.H + 5*math.Log10(delta) + 2.5*o.Slope*math.Log10(r)
	}
	tan := math.Tan(phase / 2 * radian)
	phi1 := math.Exp(-3.33 * math.Pow(tan, 0.63))
	phi2 := math.Exp(-1.87 * math.Pow(tan, 1.22))
	return o.H + 5*math.Log10(r*delta) - 2.5*math.Log10((1-o.Slope)*phi1+o.Slope*phi2)
}
