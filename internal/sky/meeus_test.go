package sky

import (
	"math"
	"testing"
	"time"
)

// The worked examples of Meeus, Astronomical Algorithms, 2nd ed. 1998, by
// their chapter and letter. Where the book computes with a shorter theory than
// this package, the tolerance is what the book says of its own result.

// dms turns degrees (or hours), minutes and seconds into degrees (or hours).
func dms(sign, d, m, s float64) float64 { return sign * (d + m/60 + s/3600) }

func TestMeeusApparentPlaces(t *testing.T) {
	at := func(o Object, tt float64) (ra, dec, dist float64) {
		g := o.apparent(tt)
		ra, dec = g.equatorial()
		return ra * degree, dec * degree, g.dist
	}
	for _, c := range []struct {
		name            string
		object          Object
		tt              float64
		ra, dec, dist   float64 // degrees, au
		arcseconds      float64 // tolerance
		distTolerance   float64
		toleranceReason string
	}{
		{"23.a theta Persei", Star{RA: 15 * dms(1, 2, 44, 11.986), Dec: dms(1, 49, 13, 42.48),
			PMRA: 0.03425 * 15 * math.Cos(49.2285*math.Pi/180) * 1000, PMDec: -89.5}, 2462088.69,
			15 * dms(1, 2, 46, 14.390), dms(1, 49, 21, 7.45), 0, 0.3, 0, "the book's precession is IAU 1976"},
		{"25.b Sun, complete VSOP87", Sun, 2448908.5,
			15 * dms(1, 13, 13, 30.749), dms(-1, 7, 47, 1.74), 0.99760853, 0.3, 2e-6, "the book prints a shortened VSOP87"},
		{"33.a Venus", Venus, 2448976.5,
			15 * dms(1, 21, 4, 41.454), dms(-1, 18, 53, 16.84), 0.910947, 0.3, 1.5e-4, "FK5 and IAU 1976; the distance is the geometric one"},
		{"47.a Moon, complete ELP-2000/82", Moon, 2448724.5,
			15 * dms(1, 8, 58, 45.1), dms(1, 13, 46, 6), 368405 / auKM, 1.5, 5 / auKM, "printed to 0.1 s and 1 arcsecond; from memory"},
		{"40.a Mars", Mars, utTT(2003, 8, 28, 3, 17),
			339.530208, -15.771083, 0.37276, 1, 1e-5, "the book's interpolated almanac"},
	} {
		ra, dec, dist := at(c.object, c.tt)
		if d := Separation(ra, dec, c.ra, c.dec) * 3600; d > c.arcseconds {
			t.Errorf("example %s: %.6f %.6f is %.2f arcseconds from %.6f %.6f, want within %g (%s)",
				c.name, ra, dec, d, c.ra, c.dec, c.arcseconds, c.toleranceReason)
		}
		if math.Abs(dist-c.dist) > c.distTolerance {
			t.Errorf("example %s: distance %.8f au, want %.8f within %g", c.name, dist, c.dist, c.distTolerance)
		}
	}
}

func utTT(year int, month time.Month, day, hour, minute int) float64 {
	return ttOf(time.Date(year, month, day, hour, minute, 0, 0, time.UTC))
}

// Examples 12.a and 12.b: sidereal time at Greenwich; 22.a: nutation.
func TestMeeusSiderealTimeAndNutation(t *testing.T) {
	const jd = 2446895.5 // 1987 April 10, 0h
	// The book's sidereal time is that of IAU 1982, which the precession of
	// 2006 moves by 0.003 s here; TestFrame checks the modern one exactly.
	const tolerance = 0.005
	f := frameOf(jd)
	if got, want := siderealTime(jd, jd, f)*degree/15, dms(1, 13, 10, 46.1351); math.Abs(got-want)*3600 > tolerance {
		t.Errorf("12.a: apparent sidereal time %.8f h, want %.8f", got, want)
	}
	mean := siderealTime(jd+0.80625, jd+0.80625, frame{obliquity: f.obliquity})
	if got, want := mean*degree/15, dms(1, 8, 34, 57.0896); math.Abs(got-want)*3600 > tolerance {
		t.Errorf("12.b: mean sidereal time %.8f h, want %.8f", got, want)
	}
	if got := f.nutLon / arcsecond; math.Abs(got+3.788) > 0.001 {
		t.Errorf("22.a: nutation in longitude %.4f arcseconds, want -3.788", got)
	}
	if got := f.nutObl / arcsecond; math.Abs(got-9.443) > 0.001 {
		t.Errorf("22.a: nutation in obliquity %.4f arcseconds, want 9.443", got)
	}
	// The modern obliquity is 0.04 arcseconds under that of the book.
	if got, want := f.obliquity*degree, dms(1, 23, 26, 36.850); math.Abs(got-want)*3600 > 0.06 {
		t.Errorf("22.a: true obliquity %.6f, want %.6f", got, want)
	}
}

func TestMeeusTimes(t *testing.T) {
	// 7.a: 1957 October 4.81, the first satellite.
	got := jdOf(time.Date(1957, 10, 4, 19, 26, 24, 0, time.UTC))
	if want := 2436116.31; math.Abs(got-want) > 1e-9 {
		t.Errorf("7.a: JD %.6f, want %.6f", got, want)
	}
	// 10.a: delta-T of 1977 February 18 is 48 s.
	if got := DeltaT(1977 + 48/365.25); math.Abs(got-48) > 0.5 {
		t.Errorf("10.a: delta-T %.2f s, want 48", got)
	}
}

// Example 13.b: Venus from Washington; 40.a: Mars from Palomar.
func TestMeeusHorizontalAndParallax(t *testing.T) {
	washington := Place{Lat: dms(1, 38, 55, 17), Lon: -dms(1, 77, 3, 56)}
	n, err := NewNight(washington, Date{1987, 4, 10}, time.FixedZone("EST", -5*3600))
	if err != nil {
		t.Fatal(err)
	}
	p := n.At(Venus, time.Date(1987, 4, 10, 19, 21, 0, 0, time.UTC))
	// The book counts azimuth from the south and leaves parallax out, which is
	// 6 arcseconds here.
	if math.Abs(p.Az-(68.0337+180)) > 0.001 || math.Abs(p.Alt-15.1249) > 0.0025 {
		t.Errorf("13.b: azimuth %.4f altitude %.4f, want 248.0337 15.1249", p.Az, p.Alt)
	}
	palomar := Place{Lat: dms(1, 33, 21, 22), Lon: -15 * dms(1, 7, 47, 27), Elev: 1706}
	n, err = NewNight(palomar, Date{2003, 8, 27}, time.FixedZone("PST", -8*3600))
	if err != nil {
		t.Fatal(err)
	}
	p = n.At(Mars, time.Date(2003, 8, 28, 3, 17, 0, 0, time.UTC))
	if d := Separation(p.RA, p.Dec, 15*dms(1, 22, 38, 8.54), dms(-1, 15, 46, 30.0)) * 3600; d > 1 {
		t.Errorf("40.a: Mars at %.5f %.5f, %.2f arcseconds off", p.RA, p.Dec, d)
	}
}

// Example 15.a: Venus at Boston, 20 March 1988, printed to a hundred
// thousandth of a day. The book's day reaches over two of our nights.
func TestMeeusRiseTransitSet(t *testing.T) {
	boston := Place{Lat: 42.3333, Lon: -71.0833}
	zone := time.FixedZone("EST", -5*3600)
	check := func(name string, got []time.Time, hour, minute, second int) {
		t.Helper()
		want := time.Date(1988, 3, 20, hour, minute, second, 0, time.UTC)
		if len(got) != 1 || got[0].Sub(want).Abs() > 10*time.Second {
			t.Errorf("15.a %s: %v, want %v", name, got, want)
		}
	}
	first, err := NewNight(boston, Date{1988, 3, 19}, zone)
	if err != nil {
		t.Fatal(err)
	}
	second, err := NewNight(boston, Date{1988, 3, 20}, zone)
	if err != nil {
		t.Fatal(err)
	}
	check("set", first.Events(Venus).Sets, 2, 54, 40)
	check("rise", first.Events(Venus).Rises, 12, 25, 26)
	check("transit", second.Events(Venus).Transits, 19, 40, 30)
}

// Example 16.a: the upper limb of the setting Sun, true altitude 33.246
// arcminutes, is lifted by 24.618.
func TestMeeusRefraction(t *testing.T) {
	if got := Refraction(33.246/60) * 60; math.Abs(got-24.618) > 0.05 {
		t.Errorf("16.a: refraction %.3f arcminutes, want 24.618", got)
	}
}

// Example 17.a: from Arcturus to Spica; and the exercise of the same chapter,
// Aldebaran to Antares, almost opposite.
func TestMeeusSeparation(t *testing.T) {
	if got := Separation(213.9154, 19.1825, 201.2983, -11.1614); math.Abs(got-32.7930) > 1e-4 {
		t.Errorf("17.a: %.4f, want 32.7930", got)
	}
	got := Separation(15*dms(1, 4, 35, 55.2), dms(1, 16, 30, 33), 15*dms(1, 16, 29, 24), dms(-1, 26, 25, 55))
	if want := dms(1, 169, 58, 0); math.Abs(got-want) > 1.0/60 {
		t.Errorf("exercise of chapter 17: %.4f, want %.4f", got, want)
	}
}
