package sky_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/sky"
)

// TestHighestAtTransit: a star's altitude at its upper transit is the highest
// of the night, wherever one stands.
func TestHighestAtTransit(t *testing.T) {
	for lat := -80.0; lat <= 80; lat += 20 {
		n := newNight(t, lat, 25, "Europe/Helsinki", "2027-02-13")
		for dec := -85.0; dec <= 85; dec += 17 {
			star := sky.Star{RA: 150, Dec: dec}
			for _, at := range n.Events(star).Transits {
				top := n.At(star, at).Alt
				for _, d := range []time.Duration{-6 * time.Hour, -time.Hour, -time.Minute, time.Minute, time.Hour, 6 * time.Hour} {
					if alt := n.At(star, at.Add(d)).Alt; alt > top {
						t.Errorf("latitude %g, declination %g: %.5f at transit, %.5f %v from it", lat, dec, top, alt, d)
					}
				}
			}
		}
	}
}

// TestRiseBeforeSet: between a rising and the next setting the object is above
// the level, and below between a setting and the next rising.
func TestRiseBeforeSet(t *testing.T) {
	for lat := -85.0; lat <= 85; lat += 10 {
		n := newNight(t, lat, -70, "America/New_York", "2027-09-13")
		for _, b := range bodies {
			e := n.Events(b)
			for _, rise := range e.Rises {
				for _, set := range e.Sets {
					middle := rise.Add(set.Sub(rise) / 2)
					up := n.At(b, middle).Alt > -1
					if up != set.After(rise) {
						t.Errorf("latitude %g, %v: rise %v, set %v, but at %v it stands at %.2f", lat, b, rise, set, middle, n.At(b, middle).Alt)
					}
				}
			}
		}
	}
}

// TestSiderealAdvance: a star rises 3 min 55.91 s earlier every day (Meeus,
// chapter 12: the mean sidereal day).
func TestSiderealAdvance(t *testing.T) {
	a := newNight(t, 40, -105, "America/Denver", "2027-01-10")
	b := newNight(t, 40, -105, "America/Denver", "2027-01-11")
	star := sky.Star{RA: 90, Dec: 10}
	for name, pair := range map[string][2][]time.Time{
		"rise":    {a.Events(star).Rises, b.Events(star).Rises},
		"set":     {a.Events(star).Sets, b.Events(star).Sets},
		"transit": {a.Events(star).Transits, b.Events(star).Transits},
	} {
		if got := 24*time.Hour - pair[1][0].Sub(pair[0][0]); (got - 235910*time.Millisecond).Abs() > 100*time.Millisecond {
			t.Errorf("%s: a day later it is %v earlier, want 3m55.91s", name, got)
		}
	}
}

// TestNorthSouthSymmetry: at the opposite latitude a star of opposite
// declination stands as high at the same instant, mirrored from north to south.
func TestNorthSouthSymmetry(t *testing.T) {
	north := newNight(t, 52, 10, "Europe/Berlin", "2027-03-20")
	south := newNight(t, -52, 10, "Europe/Berlin", "2027-03-20")
	for hour := range 24 {
		at := north.From.Add(time.Duration(hour) * time.Hour)
		p := north.At(sky.Star{RA: 100, Dec: 20}, at)
		// Mirror the place of date, not that of J2000, or precession and
		// aberration would break the symmetry.
		alt, az := horizontalOf(-52, p.Dec*-1, p.HourAngle)
		q := south.At(sky.Star{RA: 100, Dec: -20}, at)
		if math.Abs(alt-p.Alt) > 1e-4 || math.Abs(math.Remainder(az-(180-p.Az), 360)) > 1e-3 {
			t.Errorf("hour %d: %.5f %.5f north, %.5f %.5f south", hour, p.Alt, p.Az, alt, az)
		}
		// The southern star itself is within what 27 years of precession do.
		if math.Abs(q.Alt-p.Alt) > 0.5 {
			t.Errorf("hour %d: altitude %.3f north and %.3f south", hour, p.Alt, q.Alt)
		}
	}
}

// horizontalOf is the textbook formula (Meeus 13.5 and 13.6, turned to north).
func horizontalOf(lat, dec, hourAngle float64) (alt, az float64) {
	r := math.Pi / 180
	h, d, l := hourAngle*r, dec*r, lat*r
	alt = math.Asin(math.Sin(l)*math.Sin(d)+math.Cos(l)*math.Cos(d)*math.Cos(h)) / r
	az = math.Atan2(math.Sin(h), math.Cos(h)*math.Sin(l)-math.Tan(d)*math.Cos(l))/r + 180
	return alt, az
}

// TestPositionIsOfOnePiece: altitude and azimuth follow from right ascension,
// declination and hour angle by the textbook formula, for every kind of object.
func TestPositionIsOfOnePiece(t *testing.T) {
	for _, lat := range []float64{-89, -45, 0, 33, 66.6, 89} {
		n := newNight(t, lat, -105, "America/Denver", "2027-02-13")
		for _, obj := range []sky.Object{sky.Moon, sky.Venus, sirius, polaris} {
			for hour := range 24 {
				p := n.At(obj, n.From.Add(time.Duration(hour)*time.Hour))
				alt, az := horizontalOf(lat, p.Dec, p.HourAngle)
				// 0.4 arcseconds: the Earth's turning, which stars carry in
				// altitude and azimuth only.
				if d := sky.Separation(az, alt, p.Az, p.Alt) * 3600; d > 0.4 {
					t.Errorf("latitude %g, hour %d: off by %.2f arcseconds", lat, hour, d)
				}
				if p.Az < 0 || p.Az >= 360 || p.RA < 0 || p.RA >= 360 || p.HourAngle < -180 || p.HourAngle > 180 {
					t.Errorf("latitude %g, hour %d: out of range: %+v", lat, hour, p)
				}
			}
		}
	}
}

// TestParallacticAngle: nothing on the meridian, positive in the west, the
// direction of the zenith seen from the object.
func TestParallacticAngle(t *testing.T) {
	if got := sky.ParallacticAngle(40, 10, 0); got != 0 {
		t.Errorf("on the meridian: %g", got)
	}
	// East point rising at the equator: the pole is to the left of the zenith by
	// 90 degrees (spherical triangle with three right angles).
	if got := sky.ParallacticAngle(0, 0, -90); math.Abs(got+90) > 1e-9 {
		t.Errorf("rising at the equator: %g, want -90", got)
	}
	// Against the position angle of the zenith, computed as a direction.
	for _, h := range []float64{-120, -60, -5, 5, 60, 120} {
		lat, dec := 52.0, 38.0
		got := sky.ParallacticAngle(lat, dec, h)
		// The zenith is at hour angle 0 and declination = latitude; position
		// angles grow to the east, hour angles to the west.
		want := math.Remainder(sky.PositionAngle(-h, dec, 0, lat), 360)
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("hour angle %g: %g, want %g", h, got, want)
		}
		if (got > 0) != (h > 0) {
			t.Errorf("hour angle %g: %g has the wrong sign", h, got)
		}
	}
}

// TestAirmass: table of Kasten & Young 1989, Applied Optics 28, 4735 (from
// memory: 1 in the zenith, 1.994 at 30 degrees, 5.59 at 10, 37.9 at the
// horizon).
func TestAirmass(t *testing.T) {
	for alt, want := range map[float64]float64{90: 1, 30: 1.994, 10: 5.586, 0: 37.92} {
		if got := sky.Airmass(alt); math.Abs(got/want-1) > 0.003 {
			t.Errorf("airmass at %g degrees: %.3f, want %.3f", alt, got, want)
		}
	}
	if got := sky.Airmass(-1); !math.IsInf(got, 1) {
		t.Errorf("airmass below the horizon: %g", got)
	}
}

func TestConstellations(t *testing.T) {
	var file struct{ Places [][3]any }
	reference(t, "constellations.json", &file)
	seen := map[string]bool{}
	for _, p := range file.Places {
		ra, dec, want := p[0].(float64), p[1].(float64), p[2].(string)
		seen[want] = true
		if got := sky.Constellation(ra, dec); got != want {
			t.Errorf("%.3f %.3f: %s, want %s", ra, dec, got, want)
		}
	}
	if len(seen) < 80 {
		t.Errorf("only %d constellations in the reference", len(seen))
	}
	for _, dec := range []float64{90, -90} {
		if got, want := sky.Constellation(0, dec), map[float64]string{90: "UMi", -90: "Oct"}[dec]; got != want {
			t.Errorf("the pole at %g: %s, want %s", dec, got, want)
		}
	}
}
