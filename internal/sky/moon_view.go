package sky

import (
	"math"
	"time"
)

// MoonView is how the Moon looks from the night's place.
type MoonView struct {
	Illuminated float64 // lit part of the disc, 0 to 1, from the Earth's centre as almanacs print it
	PhaseAngle  float64 // degrees: Sun - Moon - Earth's centre; 0 full, 180 new
	AgeDays     float64 // days since the last new Moon
	PhaseName   string  // the same words for either hemisphere, see phaseName
	Waxing      bool
	LitSide     string // where the bright edge's middle is for an eye that stands at the place: "left", "upper right"...

	// Seen from the place, with parallax:
	BrightLimb     float64 // position angle of the bright edge's middle, degrees from north through east, 0 to 360
	LimbFromZenith float64 // the same from the zenith, counterclockwise (to the left), 0 to 360
	AxisAngle      float64 // position angle of the Moon's north pole, degrees, 0 to 360
	LibrationLon   float64 // longitude of the disc's middle, degrees, east positive
	LibrationLat   float64 // its latitude: positive shows more of the north
	Diameter       float64 // arcminutes

	Colongitude float64 // of the morning terminator, degrees, 0 to 360: 0 first quarter, 90 full, 180 last, 270 new
	SubsolarLat float64 // degrees
	Distance    float64 // km, between the centres
	Magnitude   float64 // V, within 0.2
}

// Moon returns the Moon at t.
//
// Libration, bright limb, axis and size are topocentric: a place on the Earth
// sees up to a degree further round the Moon's edge than its centre. Phase,
// age, colongitude and distance are geocentric.
func (n *Night) Moon(t time.Time) MoonView {
	tt := ttOf(t)
	f := frameOf(tt)
	moon := moonGeocentric(tt - 0.00257*lightDays)
	sun := astrometric(Sun, tt)
	fromPlace := moon.sub(n.placeICRS(t, tt, f))

	view := moonPhase(tt, moon, sun)
	view.Distance = moon.norm() * auKM
	view.Diameter = 2 * math.Asin(Moon.radiusKM()/(fromPlace.norm()*auKM)) * degree * 60

	axes := selenographic(tt - fromPlace.norm()*lightDays)
	lon, lat := axes.mul(fromPlace.scale(-1)).spherical()
	view.LibrationLon, view.LibrationLat = halfTurn(lon)*degree, lat*degree
	sunLon, sunLat := axes.mul(sun.sub(moon)).spherical()
	view.Colongitude = positive(math.Pi/2-sunLon) * degree
	view.SubsolarLat = sunLat * degree

	seen := f.fromICRS.mul(fromPlace)
	view.BrightLimb = axisAngle(f.fromICRS.mul(sun).unit(), seen)
	view.AxisAngle = axisAngle(f.fromICRS.mul(axes[2]), seen)
	_, dec := seen.spherical()
	q := ParallacticAngle(n.Place.Lat, dec*degree, n.At(Moon, t).HourAngle)
	view.LimbFromZenith = positive((view.BrightLimb-q)*radian) * degree
	view.LitSide = sideOf(view.LimbFromZenith)
	return view
}

// placeICRS is the night's place from the Earth's centre, ICRS, au.
func (n *Night) placeICRS(t time.Time, tt float64, f frame) vec3 {
	s, c := math.Sincos(siderealTime(jdOf(t), tt, f) + n.Place.Lon*radian)
	o := n.observer
	return f.fromICRS.transposed().mul(vec3{o.rhoCos * c, o.rhoCos * s, o.rhoSin})
}

// sideOf names a direction counted counterclockwise from the top, in degrees.
func sideOf(fromTop float64) string {
	names := [...]string{"top", "upper left", "left", "lower left", "bottom", "lower right", "right", "upper right"}
	return names[int(math.Mod(fromTop+22.5, 360)/45)]
}
