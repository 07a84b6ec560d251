package sky

import (
	"math"
	"time"
)

// PlanetView is how a planet (or the Sun) looks from the Earth's centre.
// Parallax changes nothing in it that an eye could tell.
type PlanetView struct {
	Magnitude    float64 // V; Saturn with its rings
	Diameter     float64 // equatorial, arcseconds
	Illuminated  float64 // lit part of the disc, 0 to 1
	PhaseAngle   float64 // degrees: Sun - planet - Earth
	BrightLimb   float64 // position angle of the lit edge's middle, degrees from north through east, 0 to 360
	Elongation   float64 // degrees from the Sun, 0 to 180
	East         bool    // east of the Sun: to be seen in the evening
	Distance     float64 // au from the Earth
	SunDistance  float64 // au from the Sun
	RingTilt     float64 // Saturn: latitude of the Earth above the ring, degrees, north positive; else 0
	RingDiameter float64 // Saturn: outer edge of ring A, arcseconds; else 0
}

// Planet returns the view of a planet at t. For the Sun it gives magnitude,
// diameter and distance; for the Moon use Moon: the answer here has only its
// geocentric diameter, distance and elongation, and NaN for the magnitude.
func (n *Night) Planet(b Body, t time.Time) PlanetView {
	return planetView(b, ttOf(t))
}

func planetView(b Body, tt float64) PlanetView {
	v := astrometric(b, tt)
	toSun := astrometric(Sun, tt)
	view := PlanetView{
		Distance: v.norm(),
		Diameter: 2 * math.Asin(b.radiusKM()/(v.norm()*auKM)) / arcsecond,
	}
	if b == Sun {
		view.Magnitude = -26.74 // Mallama & Hilton's value for 1 au; the orbit changes it by 0.04
		view.Illuminated = 1
		return view
	}

	fromSun := v.sub(toSun)
	view.SunDistance = fromSun.norm()
	view.PhaseAngle = angleBetween(v, fromSun)
	view.Illuminated = litPart(view.PhaseAngle)
	view.Elongation = angleBetween(v, toSun)

	f := frameOf(tt)
	planet, sun := f.fromICRS.mul(v), f.fromICRS.mul(toSun)
	view.BrightLimb = axisAngle(sun.unit(), planet)
	planetLon, _ := f.eclipticOfDate(planet)
	sunLon, _ := f.eclipticOfDate(sun)
	view.East = halfTurn(planetLon-sunLon) > 0

	path := lightPath{
		r: view.SunDistance, delta: view.Distance, phase: view.PhaseAngle,
		year: julianYear(tt), ringsVisible: true,
	}
	if pole := b.pole(tt); pole != (vec3{}) {
		path.subEarth = subLatitude(pole, v)
		path.subSun = subLatitude(pole, fromSun)
	}
	view.Magnitude = path.magnitude(b)
	if b == Saturn {
		view.RingTilt = path.subEarth
		view.RingDiameter = 2 * math.Asin(ringRadiusKM/(view.Distance*auKM)) / arcsecond
	}
	return view
}

// litPart is the lit part of a sphere's disc at a phase angle in degrees
// (Meeus, Astronomical Algorithms, 2nd ed., formula 41.1).
func litPart(phase float64) float64 { return (1 + math.Cos(phase*radian)) / 2 }

// angleBetween returns the angle between two vectors in degrees, also well for
// very small ones.
func angleBetween(a, b vec3) float64 {
	return math.Atan2(a.cross(b).norm(), a.dot(b)) * degree
}
