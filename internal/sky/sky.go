package sky

import "time"

// Place is a point on the Earth.
type Place struct {
	Lat  float64 // degrees, north positive, -90 to 90
	Lon  float64 // degrees, east positive, -180 to 180
	Elev float64 // metres above sea level
}

// Date is a civil date.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// Object is anything that has a place in the sky: a Body, a Star, an Orbit.
type Object interface {
	// apparent returns the geocentric apparent place of date.
	apparent(tt float64) geocentric
}

// Body is the Sun, the Moon or a planet.
type Body int

// The bodies.
const (
	Sun Body = iota
	Moon
	Mercury
	Venus
	Mars
	Jupiter
	Saturn
	Uranus
	Neptune
)

// Star is a fixed target: a star or anything beyond the solar system.
type Star struct {
	RA, Dec     float64 // degrees, J2000.0 (ICRS)
	PMRA, PMDec float64 // proper motion, mas a year; PMRA includes cos dec
}

// Position is where an object is seen from a place at an instant.
type Position struct {
	RA, Dec      float64 // apparent topocentric, of date, degrees
	Alt          float64 // geometric altitude of the centre, degrees
	AltRefracted float64 // altitude with refraction, degrees
	Az           float64 // degrees from north through east
	HourAngle    float64 // degrees, west positive, -180 to 180
	Distance     float64 // au; 0 for a Star
	SemiDiameter float64 // degrees; 0 for a Star
}

// EventState says whether an event has a time.
type EventState int

// The three answers to "when does it rise".
const (
	Happens EventState = iota
	AlwaysAbove
	AlwaysBelow
)

// Event is one crossing of an altitude, or the statement that there is none.
type Event struct {
	State EventState
	Time  time.Time // UTC; meaningful only when State is Happens
}
