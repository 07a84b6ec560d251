package sky

import (
	"fmt"
	"math"
	"time"
)

// PassPoint is a satellite's place at an instant of its pass. Geometric; the
// refraction at the horizon would make rise and set 10 s earlier and later.
type PassPoint struct {
	Time     time.Time // UTC
	Altitude float64   // degrees
	Azimuth  float64   // degrees from north through east
	Distance float64   // km
}

// Pass is a satellite's way across the sky from horizon to horizon.
type Pass struct {
	Rise, Culmination, Set PassPoint
	// ShadowEntry and ShadowExit are where it goes out and lights up again while
	// it is up; nil when it does not.
	ShadowEntry, ShadowExit *PassPoint
	// Visible says that there is something to see: the satellite lit and at
	// least 10 degrees high while the Sun is more than 6 degrees down at the
	// place. From and To are that span, Brightest the point of it with the
	// least magnitude.
	Visible             bool
	From, To, Brightest PassPoint
	Magnitude           float64 // at Brightest, within 1
	Class               string  // brilliant, bright, easy or faint, by Magnitude; "" when not visible
	Assumed             bool    // the magnitude rests on a middling satellite: nobody said how bright this one is
}

// Passes are a satellite's passes of a night.
type Passes struct {
	List    []Pass
	Warning string // in one sentence: elements too old, or the satellite gone; "" when all is well
}

// staleElements is the age from which two-line elements are warned of: a low
// satellite is then off by tens of seconds and more (common practice).
const staleElements = 7 * 24 * time.Hour

// Passes returns the passes that culminate between the night's noons at
// minAltitude degrees or more; none is an empty list. Rise and set may lie
// outside the night.
//
// Method: SGP4 (see satellite_sgp4.go). With fresh elements within a few
// seconds of time.
func (n *Night) Passes(s Satellite, minAltitude float64) (Passes, error) {
	model, err := newSGP4(s)
	if err != nil {
		return Passes{}, fmt.Errorf("%s: %w", s.Title(), err)
	}
	w := &passWatch{night: n, model: model, epoch: s.Epoch}
	out := Passes{Warning: s.ageWarning(n.Middle())}

	// A pass is a maximum of the altitude. Low orbits culminate once in an hour
	// and a half, so that half a minute misses none.
	const step = 30 * time.Second
	before, gone := w.altitude(n.From.Add(-step))
	here, _ := w.altitude(n.From)
	for t := n.From; t.Before(n.To) && !gone; t = t.Add(step) {
		var after float64
		after, gone = w.altitude(t.Add(step))
		if !gone && here >= before && here > after && here > minAltitude-3 {
			if p, ok := w.pass(t, s.standard()); ok && p.Culmination.Altitude >= minAltitude && n.Contains(p.Culmination.Time) {
				p.Assumed = p.Visible && s.assumed()
				out.List = append(out.List, p)
			}
		}
		before, here = here, after
	}
	if gone {
		out.Warning = "by these elements " + s.Title() + " comes down before the night is over; fetch fresh ones"
	}
	return out, nil
}

// ageWarning says that the elements are older than seven days, or younger by
// as much, at t.
func (s Satellite) ageWarning(t time.Time) string {
	age := t.Sub(s.Epoch)
	if age.Abs() <= staleElements {
		return ""
	}
	days, side := age.Hours()/24, "older"
	if days < 0 {
		days, side = -days, "newer"
	}
	return fmt.Sprintf("the elements of %s are %.0f days %s than the night: times may be wrong by minutes; fetch elements from within 7 days", s.Title(), days, side)
}

// passWatch computes one satellite for one place.
type passWatch struct {
	night *Night
	model *sgp4
	epoch time.Time
}

// place returns the satellite from the Earth's centre and from the place, km,
// true equator and mean equinox of date.
func (w *passWatch) place(t time.Time) (centre, seen, zenith vec3, err error) {
	centre, err = w.model.at(t.Sub(w.epoch).Minutes())
	if err != nil {
		return
	}
	// The mean equinox goes with mean sidereal time.
	n := w.night
	theta := n.moment(n.seconds(t)).theta - n.middleFrame.nutLon*math.Cos(n.middleFrame.obliquity)
	s, c := math.Sincos(theta)
	o := n.observer
	observer := vec3{o.rhoCos * c, o.rhoCos * s, o.rhoSin}.scale(auKM)
	return centre, centre.sub(observer), vec3{o.cosLat * c, o.cosLat * s, o.sinLat}, nil
}

// altitude in degrees; gone when the model has brought it down.
func (w *passWatch) altitude(t time.Time) (altitude float64, gone bool) {
	_, seen, zenith, err := w.place(t)
	if err != nil {
		return math.Inf(-1), true
	}
	return math.Asin(seen.dot(zenith)/seen.norm()) * degree, false
}

func (w *passWatch) point(t time.Time) PassPoint {
	t = t.Round(100 * time.Millisecond)
	_, seen, zenith, err := w.place(t)
	if err != nil {
		return PassPoint{Time: t}
	}
	east := vec3{0, 0, 1}.cross(zenith).unit()
	north := zenith.cross(east)
	return PassPoint{
		Time:     t,
		Altitude: math.Asin(seen.dot(zenith)/seen.norm()) * degree,
		Azimuth:  positive(math.Atan2(seen.dot(east), seen.dot(north))) * degree,
		Distance: seen.norm(),
	}
}

// pass follows the pass that culminates near t.
func (w *passWatch) pass(t time.Time, standard float64) (Pass, bool) {
	up := func(t time.Time) bool { a, _ := w.altitude(t); return a > 0 }
	alt := func(s float64) float64 {
		a, _ := w.altitude(t.Add(time.Duration(s * float64(time.Second))))
		return -a
	}
	top := t.Add(time.Duration(smallest(-30, 30, alt) * float64(time.Second)))
	if !up(top) {
		return Pass{}, false
	}
	// Half a turn of the slowest orbit is two hours.
	rise, ok1 := turning(top, -30*time.Second, 2*time.Hour, func(t time.Time) bool { return !up(t) })
	set, ok2 := turning(top, 30*time.Second, 2*time.Hour, func(t time.Time) bool { return !up(t) })
	if !ok1 || !ok2 {
		return Pass{}, false
	}
	p := Pass{Rise: w.point(rise), Culmination: w.point(top), Set: w.point(set)}
	w.light(&p, standard)
	return p, true
}

// turning steps from a time at which is does not hold until it does, and
// returns the instant of the change to a tenth of a second.
func turning(from time.Time, step, reach time.Duration, is func(time.Time) bool) (time.Time, bool) {
	for gone := time.Duration(0); gone < reach; gone += step.Abs() {
		next := from.Add(step)
		if is(next) {
			for next.Sub(from).Abs() > 50*time.Millisecond {
				middle := from.Add(next.Sub(from) / 2)
				if is(middle) {
					next = middle
				} else {
					from = middle
				}
			}
			return next, true
		}
		from = next
	}
	return time.Time{}, false
}
