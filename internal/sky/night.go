package sky

import (
	"errors"
	"fmt"
	"math"
	"sync"
	"sync/atomic"
	"time"

	"github.com/soniakeys/meeus/v3/globe"
	"github.com/soniakeys/unit"
)

// Night is the span from local noon to local noon at a place, named by the
// date of its evening. It is made by NewNight, does not change afterwards and
// may be used by several goroutines.
type Night struct {
	Place    Place
	Date     Date
	Zone     *time.Location
	From, To time.Time // UTC, half open: an event at To belongs to the next night

	observer observer
	sidereal float64 // local apparent sidereal time at From, radians
	turning  float64 // its change, radians a second

	// The middle of the night, where fixed targets are computed: over the
	// half day to either end their apparent place moves by 0.3 arcseconds.
	middleTT      float64
	middleFrame   frame
	earthVelocity vec3

	grid    []moment // where events are looked for
	tracked atomic.Pointer[momentTable]
	bodies  [Neptune + 1]struct {
		once sync.Once
		path path
	}
}

// observer is the place in the units of the computations.
type observer struct {
	sinLat, cosLat float64
	rhoSin, rhoCos float64 // geocentric place of the observer, au: z and x
	aberration     float64 // the observer's rotation over the speed of light
	refraction     []float64
}

const (
	// margin is how far the curves and the grid of a night reach beyond its
	// ends, so that a crossing just inside is bracketed from both sides.
	margin = 3600.0 // seconds
	// gridStep is the sampling of the event search. Between two samples an
	// altitude has at most one extremum that matters; those are refined.
	gridStep = 1200.0 // seconds
)

// NewNight returns the night that begins at local noon of the date in the
// zone. It refuses a place that is not on Earth, a date outside 1900 to 2100,
// and a date that the zone leaves out at the date line (Samoa, 30 December
// 2011); each in one line fit for the visitor.
func NewNight(place Place, date Date, zone *time.Location) (*Night, error) {
	switch {
	case !(place.Lat >= -90 && place.Lat <= 90):
		return nil, fmt.Errorf("latitude %g is not between -90 and 90 degrees", place.Lat)
	case !(place.Lon >= -180 && place.Lon <= 180):
		return nil, fmt.Errorf("longitude %g is not between -180 and 180 degrees (east is positive)", place.Lon)
	case !(place.Elev >= -500 && place.Elev <= 9000):
		return nil, fmt.Errorf("elevation %g is not between -500 and 9000 metres", place.Elev)
	case zone == nil:
		return nil, errors.New("a night needs a time zone")
	case date.Year < firstYear || date.Year > lastYear:
		return nil, fmt.Errorf("date %s lies outside the years %d to %d", date, firstYear, lastYear)
	case date.AddDays(0) != date:
		return nil, fmt.Errorf("date %s does not exist in the calendar", date)
	}
	from, ok := date.noon(zone)
	if !ok {
		return nil, fmt.Errorf("date %s does not exist in %s: the zone skips it", date, zone)
	}
	to, ok := date.AddDays(1).noon(zone)
	if !ok {
		to, _ = date.AddDays(2).noon(zone)
	}
	n := &Night{Place: place, Date: date, Zone: zone, From: from, To: to}
	n.observer = observerAt(place)
	n.orient()
	return n, nil
}

func observerAt(p Place) observer {
	s, c := globe.Earth76.ParallaxConstants(unit.AngleFromDeg(p.Lat), p.Elev)
	o := observer{refraction: refractionTable(), rhoSin: s * earthRadiusA, rhoCos: c * earthRadiusA}
	o.sinLat, o.cosLat = math.Sincos(p.Lat * radian)
	// One turn a sidereal day at the Earth's radius: 465.1 m/s over c.
	o.aberration = c * 1.55139e-6
	return o
}

// orient computes the sidereal time, the frame of the night's middle and the
// grid.
func (n *Night) orient() {
	length := n.To.Sub(n.From).Seconds()
	local := func(t time.Time) float64 {
		tt := ttOf(t)
		return siderealTime(jdOf(t), tt, frameOf(tt)) + n.Place.Lon*radian
	}
	n.sidereal = positive(local(n.From))
	// The nutation in a day is even enough to make the sidereal time linear.
	const mean = 2 * math.Pi * 1.00273790935 / secondsPerDay
	drift := halfTurn(local(n.To) - n.sidereal - mean*length)
	n.turning = mean + drift/length

	n.middleTT = ttOf(n.From.Add(n.To.Sub(n.From) / 2))
	n.middleFrame = frameOf(n.middleTT)
	_, n.earthVelocity = earthHeliocentric(n.middleTT)

	steps := int(math.Ceil(length / gridStep))
	n.grid = make([]moment, 0, steps+3)
	for i := -1; i <= steps+1; i++ {
		n.grid = append(n.grid, n.moment(length*float64(i)/float64(steps)))
	}
}

// seconds turns an instant into seconds since From; instant is its inverse.
func (n *Night) seconds(t time.Time) float64 { return float64(t.Sub(n.From)) * 1e-9 }

func (n *Night) instant(s float64) time.Time {
	return n.From.Add(time.Duration(math.Round(s * 1e9)))
}

func (n *Night) length() float64 { return n.seconds(n.To) }

// covers says whether the night's curves serve the instant.
func (n *Night) covers(s float64) bool { return s >= -margin && s <= n.length()+margin }

// Contains says whether the instant belongs to the night.
func (n *Night) Contains(t time.Time) bool { return !t.Before(n.From) && t.Before(n.To) }

// Middle returns the instant halfway between From and To, near local midnight.
func (n *Night) Middle() time.Time { return n.From.Add(n.To.Sub(n.From) / 2) }
