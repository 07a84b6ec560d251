package sky_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/sky"
)

// Faults that such programs have had, each shown to be absent. Where a number
// is expected it is that of testdata/reference or is derived beside it.

// Every event of every object lies in the night asked for: of a night without a
// moonrise the neighbour's is never returned.
func TestNoEventOutsideTheNight(t *testing.T) {
	nightsWithoutRise, nightsWithoutSet := 0, 0
	for day := range 60 {
		date := sky.Date{Year: 2027, Month: 1, Day: 1}.AddDays(day)
		n, err := sky.NewNight(sky.Place{Lat: 40, Lon: -105}, date, zone(t, "America/Denver"))
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range bodies {
			e := n.Events(b)
			for _, list := range [][]time.Time{e.Rises, e.Sets, e.Transits} {
				for _, at := range list {
					if !n.Contains(at) {
						t.Errorf("%v, %v: event at %v is outside %v to %v", date, b, at, n.From, n.To)
					}
				}
			}
			if b == sky.Moon && len(e.Rises) == 0 {
				nightsWithoutRise++
			}
			if b == sky.Moon && len(e.Sets) == 0 {
				nightsWithoutSet++
			}
		}
	}
	// The Moon rises 50 minutes later every day, so one day of each of the two
	// months lacks a rising, and one a setting.
	if nightsWithoutRise != 2 || nightsWithoutSet != 2 {
		t.Errorf("%d nights without moonrise and %d without moonset in 60, want 2 and 2", nightsWithoutRise, nightsWithoutSet)
	}
}

// No event is lost or doubled from night to night: the moonrises of a year,
// night by night, are as many as the Moon's own count, 51 to 52 minutes apart.
func TestEventsTileTheYear(t *testing.T) {
	var last time.Time
	count := 0
	for day := range 365 {
		date := sky.Date{Year: 2027, Month: 1, Day: 1}.AddDays(day)
		n, err := sky.NewNight(sky.Place{Lat: 40, Lon: -105}, date, zone(t, "America/Denver"))
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range n.Events(sky.Moon).Rises {
			if gap := at.Sub(last); count > 0 && (gap < 24*time.Hour || gap > 26*time.Hour) {
				t.Errorf("moonrise at %v follows the one before after %v", at, gap)
			}
			last = at
			count++
		}
	}
	// 365 days less the 13.4 turns that the Moon gains on the sidereal 366.
	if count < 352 || count > 354 {
		t.Errorf("%d moonrises in 365 nights, want about 353", count)
	}
}

// The pole's side of the date: a night west of Greenwich begins and ends on its
// own civil date although UTC is a day ahead in the evening.
func TestEveningWestOfGreenwich(t *testing.T) {
	n := newNight(t, 19.82, -155.47, "Pacific/Honolulu", "2027-02-13")
	sunset := n.Twilights().Sunset
	if got := sky.DateOf(sunset.Time, n.Zone); sunset.State != sky.Happens || got != n.Date {
		t.Errorf("sunset on %v, want %v", got, n.Date)
	}
	if sunset.Time.Day() != 14 {
		t.Errorf("in UTC that evening is the 14th, got %v", sunset.Time)
	}
}

// Refraction ends below the horizon: it is nothing at -5 degrees and deeper, and
// on the way there an object that sinks is always seen to sink.
func TestRefractionBelowTheHorizon(t *testing.T) {
	for _, h := range []float64{-5, -10, -45, -90, -91, math.NaN(), math.Inf(-1)} {
		if got := sky.Refraction(h); got != 0 {
			t.Errorf("refraction at %g: %g, want 0", h, got)
		}
	}
	last := math.Inf(-1)
	for h := -90.0; h <= 90; h += 0.01 {
		r := sky.Refraction(h)
		if r < 0 || r > 0.75 {
			t.Fatalf("refraction at %.2f: %g degrees", h, r)
		}
		if h+r <= last {
			t.Fatalf("at %.2f the apparent altitude falls while the object rises", h)
		}
		last = h + r
	}
	if r := sky.Refraction(90); r > 1e-4 {
		t.Errorf("refraction in the zenith: %g", r)
	}
	n := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	if p := n.At(sky.Sun, n.Middle()); p.AltRefracted != p.Alt || p.Alt > -50 {
		t.Errorf("the Sun at midnight: %.3f geometric, %.3f refracted", p.Alt, p.AltRefracted)
	}
}

// An object that only just rises is found: seen from 60 degrees north, a star
// whose upper culmination is a few arcseconds above the level, for minutes.
func TestGrazingEventsAreNotLost(t *testing.T) {
	n := newNight(t, 60, 25, "Europe/Helsinki", "2027-02-13")
	base := sky.Star{RA: 150, Dec: -30.5}
	// Its highest altitude, from a first look at the transit.
	transit := n.Events(base).Transits[0]
	top := n.At(base, transit).Alt
	for _, c := range []struct {
		above float64 // arcseconds over the standard altitude at culmination
		want  int
	}{{-20, 0}, {-1, 0}, {1, 1}, {5, 1}, {60, 1}, {600, 1}} {
		star := base
		star.Dec += -sky.HorizonRefraction + c.above/3600 - top
		e := n.Events(star)
		if len(e.Rises) != c.want || len(e.Sets) != c.want {
			t.Errorf("culminating %g arcseconds above: rises %v sets %v, want %d", c.above, e.Rises, e.Sets, c.want)
			continue
		}
		if c.want == 0 {
			if e.State != sky.AlwaysBelow {
				t.Errorf("culminating %g arcseconds above: state %v, want always below", c.above, e.State)
			}
			continue
		}
		// Half the stay above, for a star near culmination: cos(lat) cos(dec)
		// H^2/2 = height, with H the hour angle.
		half := math.Sqrt(2 * c.above / 3600 * math.Pi / 180 / (math.Cos(60*math.Pi/180) * math.Cos(star.Dec*math.Pi/180)))
		want := 2 * half * 86164.1 / (2 * math.Pi)
		if got := e.Sets[0].Sub(e.Rises[0]).Seconds(); math.Abs(got/want-1) > 0.02 {
			t.Errorf("culminating %g arcseconds above: %0.f s above, want %.0f", c.above, got, want)
		}
	}
}

// A planet that passes 0 h right ascension rises, culminates and sets once a
// day all the same: Saturn in the spring of 2026, Neptune in that of 2027.
func TestPlanetsPassingZeroHours(t *testing.T) {
	for _, c := range []struct {
		body  sky.Body
		first sky.Date
	}{{sky.Saturn, sky.Date{Year: 2026, Month: 2, Day: 1}}, {sky.Neptune, sky.Date{Year: 2025, Month: 11, Day: 15}}, {sky.Venus, sky.Date{Year: 2026, Month: 3, Day: 1}}} {
		low, high := false, false
		last := map[string]time.Time{}
		for day := range 40 {
			n, err := sky.NewNight(sky.Place{Lat: 40, Lon: -105}, c.first.AddDays(day), time.FixedZone("MST", -7*3600))
			if err != nil {
				t.Fatal(err)
			}
			p := n.At(c.body, n.Middle())
			low, high = low || p.RA < 10, high || p.RA > 350
			e := n.Events(c.body)
			// A night may have two or none when the hour is near noon; the
			// events themselves come a day apart.
			for what, times := range map[string][]time.Time{"rise": e.Rises, "set": e.Sets, "transit": e.Transits} {
				for _, at := range times {
					if before, ok := last[what]; ok && math.Abs(at.Sub(before).Hours()-24) > 0.1 {
						t.Errorf("%v: %s at %v follows that at %v", c.body, what, at, before)
					}
					last[what] = at
				}
			}
		}
		if len(last) != 3 {
			t.Errorf("%v: only %v in 40 nights", c.body, last)
		}
		if !low || !high {
			t.Errorf("%v does not pass 0 h from %v: choose other dates", c.body, c.first)
		}
	}
}

// J2000 coordinates are precessed: by 2027 M45 has moved 50.3 arcseconds a year
// times cos of its ecliptic latitude along the ecliptic, 22 arcminutes in all.
func TestPrecessionIsApplied(t *testing.T) {
	n := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	p := n.At(m45, n.Middle())
	moved := sky.Separation(m45.RA, m45.Dec, p.RA, p.Dec) * 60
	want := 50.29 * 27.12 * math.Cos(4*math.Pi/180) / 60
	if math.Abs(moved-want) > 0.6 { // aberration and nutation: up to 0.6 arcminutes
		t.Errorf("M45 has moved %.2f arcminutes since J2000, want about %.2f", moved, want)
	}
	if p.RA < m45.RA {
		t.Errorf("it moved west: %.4f", p.RA)
	}
}
