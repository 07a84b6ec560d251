package sky_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/sky"
)

// The nights of the project's scenarios: positions and times of
// astronomy-engine 2.1.19 (npm) at sea level with a flat horizon; altitudes with
// refraction, threshold times geometric; tolerance 1 degree, 2 minutes, for the
// Moon 3.

// Deep-sky targets by their J2000 places (from memory; good to 0.1 degree).
var (
	m45        = sky.Star{RA: 56.75, Dec: 24.12}
	m31        = sky.Star{RA: 10.685, Dec: 41.269}
	m81        = sky.Star{RA: 148.888, Dec: 69.065}
	m42        = sky.Star{RA: 83.822, Dec: -5.391}
	m13        = sky.Star{RA: 250.423, Dec: 36.461}
	polaris    = sky.Star{RA: 37.955, Dec: 89.264}
	etaCarinae = sky.Star{RA: 161.265, Dec: -59.685}
	tucanae47  = sky.Star{RA: 6.022, Dec: -72.081}
	omegaCen   = sky.Star{RA: 201.697, Dec: -47.480}
	sirius     = sky.Star{RA: 101.287, Dec: -16.716}
	m35        = sky.Star{RA: 92.27, Dec: 24.33}
)

func isNear(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.2f, want %.2f within %g", what, got, want, within)
	}
}

// clock is local time of the night's zone; hours past 24 are the next day.
func clock(n *sky.Night, hour, minute int) time.Time {
	return time.Date(n.Date.Year, n.Date.Month, n.Date.Day, hour, minute, 0, 0, n.Zone)
}

func nearTime(t *testing.T, what string, got []time.Time, want time.Time, within time.Duration) {
	t.Helper()
	if len(got) != 1 || got[0].Sub(want).Abs() > within {
		t.Errorf("%s: %v, want %v within %v", what, got, want.UTC(), within)
	}
}

// falling returns when the object's centre sinks through a geometric altitude.
func falling(n *sky.Night, obj sky.Object, alt float64) (times []time.Time) {
	crossings, _ := n.Crossings(obj, alt, false)
	for _, c := range crossings {
		if !c.Rising {
			times = append(times, c.Time)
		}
	}
	return times
}

func TestScenarioFebruaryInDenver(t *testing.T) {
	n := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	isNear(t, "scenario 1: M45 at 20:00", n.At(m45, clock(n, 20, 0)).AltRefracted, 63, 1)
	isNear(t, "scenario 17: M35 at 20:00", n.At(m35, clock(n, 20, 0)).AltRefracted, 73, 1)
	isNear(t, "scenario 5: Saturn at 18:00", n.At(sky.Saturn, clock(n, 18, 0)).AltRefracted, 36, 1)
	nearTime(t, "scenario 5: Saturn sinks under 20 degrees", falling(n, sky.Saturn, 20), clock(n, 19, 33), 2*time.Minute)

	// Scenario 7: setting up while the Sun is up.
	at := clock(n, 17, 15)
	sun := n.At(sky.Sun, at)
	isNear(t, "Sun at 17:15", sun.AltRefracted, 2.8, 0.2)
	for body, want := range map[sky.Body]float64{sky.Mercury: 9.8, sky.Saturn: 46, sky.Moon: 86} {
		p := n.At(body, at)
		isNear(t, "from the Sun: "+body.String(), sky.Separation(sun.RA, sun.Dec, p.RA, p.Dec), want, 1)
	}
	nearTime(t, "sunset", n.Events(sky.Sun).Sets, clock(n, 17, 33), 2*time.Minute)
	nearTime(t, "Mercury sets", n.Events(sky.Mercury).Sets, clock(n, 18, 24), 2*time.Minute)
}

func TestScenarioMarchInDenver(t *testing.T) {
	n := newNight(t, 40, -105, "America/Denver", "2027-03-13")
	nearTime(t, "scenario 5: Saturn sinks under 20 degrees", falling(n, sky.Saturn, 20), clock(n, 17, 58), 2*time.Minute)
	nearTime(t, "sunset", n.Events(sky.Sun).Sets, clock(n, 18, 4), 2*time.Minute)
	isNear(t, "Saturn at 19:00", n.At(sky.Saturn, clock(n, 19, 0)).AltRefracted, 8, 1)
	nearTime(t, "Saturn sets", n.Events(sky.Saturn).Sets, clock(n, 19, 46), 2*time.Minute)

	// Scenario 11: no moonset on 13 March by the calendar; the night's is 00:20
	// standard time on the 14th.
	moonset := time.Date(2027, 3, 14, 7, 20, 0, 0, time.UTC)
	nearTime(t, "scenario 11: moonset", n.Events(sky.Moon).Sets, moonset, 3*time.Minute)
	nearTime(t, "Moon sinks under 20 degrees", falling(n, sky.Moon, 20), clock(n, 22, 14), 3*time.Minute)
	// The clock jumps at 2: 19:00 to 04:00 are eight hours.
	if d := clock(n, 28, 0).Sub(clock(n, 19, 0)); d != 8*time.Hour {
		t.Errorf("19:00 to 04:00 lasts %v", d)
	}
}

func TestScenarioSpringClockInLondon(t *testing.T) {
	n := newNight(t, 51.5, -0.12, "Europe/London", "2027-03-27")
	nearTime(t, "scenario 9: moonrise", n.Events(sky.Moon).Rises, time.Date(2027, 3, 28, 1, 15, 0, 0, time.UTC), 3*time.Minute)
	if got := n.Events(sky.Moon).Rises[0].In(n.Zone).Format("15:04 MST"); got[:2] != "02" {
		t.Errorf("moonrise by the wall clock: %s, want 02:15 BST", got)
	}
}

func TestScenarioSouthernSummer(t *testing.T) {
	n := newNight(t, -37.81, 144.96, "Australia/Melbourne", "2027-02-13")
	tw := n.Twilights()
	for _, c := range []struct {
		what         string
		event        sky.Event
		hour, minute int
	}{
		{"sunset", tw.Sunset, 20, 21}, {"nautical dusk", tw.NauticalDusk, 21, 22}, {"astronomical dusk", tw.AstronomicalDusk, 21, 57},
	} {
		nearTime(t, c.what, []time.Time{c.event.Time}, clock(n, c.hour, c.minute), 2*time.Minute)
	}
	for _, c := range []struct {
		what         string
		object       sky.Object
		hour, minute int
		alt          float64
	}{
		{"M31", m31, 21, 0, -10}, {"pole star", polaris, 21, 0, -37}, {"M81", m81, 21, 0, -28},
		{"M42", m42, 21, 0, 57}, {"M42", m42, 23, 0, 51},
		{"eta Carinae", etaCarinae, 21, 30, 39}, {"eta Carinae", etaCarinae, 23, 0, 50},
		{"47 Tucanae", tucanae47, 21, 30, 39}, {"47 Tucanae", tucanae47, 23, 0, 32},
		{"Sirius", sirius, 21, 30, 65}, {"omega Centauri", omegaCen, 21, 0, 9}, {"omega Centauri", omegaCen, 24, 0, 34},
	} {
		within := 1.0
		if c.object == sirius {
			within = 4 // the scenario gives 61 to 68 for the whole stretch
		}
		isNear(t, c.what, n.At(c.object, clock(n, c.hour, c.minute)).AltRefracted, c.alt, within)
	}
	isNear(t, "M42 stands in the north, azimuth", n.At(m42, clock(n, 21, 0)).Az, 11, 1)
	nearTime(t, "Moon sinks under 15 degrees", falling(n, sky.Moon, 15), clock(n, 21, 36), 3*time.Minute)
	nearTime(t, "Moon sets", n.Events(sky.Moon).Sets, clock(n, 23, 16), 3*time.Minute)
	crossings, _ := n.Crossings(sky.Jupiter, 20, false)
	nearTime(t, "Jupiter reaches 20 degrees", []time.Time{crossings[0].Time}, clock(n, 22, 10), 2*time.Minute)
}

// TestScenarioTreeLine: a wall of trees in the south-west of Madrid.
func TestScenarioTreeLine(t *testing.T) {
	n := newNight(t, 40.42, -3.70, "Europe/Madrid", "2027-10-09")
	trees := sky.Horizon{{Az: 205, Alt: 0}, {Az: 205, Alt: 25}, {Az: 290, Alt: 25}, {Az: 290, Alt: 0}}
	p := n.At(sky.Moon, clock(n, 24, 0))
	isNear(t, "Moon at midnight", p.AltRefracted, 25.8, 0.3)
	isNear(t, "its azimuth", p.Az, 212, 1)
	isNear(t, "Moon at 00:15", n.At(sky.Moon, clock(n, 24, 15)).AltRefracted, 24.3, 0.3)
	isNear(t, "Venus at 20:00", n.At(sky.Venus, clock(n, 20, 0)).AltRefracted, 4, 1)
	isNear(t, "its azimuth", n.At(sky.Venus, clock(n, 20, 0)).Az, 251, 1)
	for hour, want := range map[int]float64{21: 52, 22: 41, 23: 30} {
		isNear(t, "M13", n.At(m13, clock(n, hour, 0)).AltRefracted, want, 1)
	}

	evening, late := clock(n, 21, 0), clock(n, 24, 30)
	moon := n.ClearOf(sky.Moon, trees, evening, late)
	if len(moon) != 1 || !moon[0].To.After(clock(n, 24, 0)) || !moon[0].To.Before(clock(n, 24, 15)) {
		t.Errorf("Moon clear of the trees: %v, want an end between 00:00 and 00:15", moon)
	}
	if clear := n.ClearOf(m13, trees, evening, clock(n, 23, 0)); len(clear) != 1 || clear[0].Duration() != 2*time.Hour {
		t.Errorf("M13 stays clear all the time: %v", clear)
	}
	if clear := n.ClearOf(sky.Venus, trees, clock(n, 20, 0), late); len(clear) != 0 {
		t.Errorf("Venus is never clear: %v", clear)
	}
}
