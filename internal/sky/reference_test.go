package sky_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"duskboard/internal/sky"
)

// reference reads one file of testdata/reference, whose README says where each
// comes from.
func reference(t testing.TB, name string, into any) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

type referenceStar struct{ RA, Dec, PMRA, PMDec float64 }

func (s referenceStar) star() sky.Star { return sky.Star(s) }

type referencePlace struct {
	RA, Dec, Alt, Az, Dist, SD float64
}

type positionsFile struct {
	Stars map[string]referenceStar
	Cases []struct {
		Name           string
		Lat, Lon, Elev float64
		UTC            time.Time
		Objects        map[string]referencePlace
	}
}

var bodies = []sky.Body{sky.Sun, sky.Moon, sky.Mercury, sky.Venus, sky.Mars, sky.Jupiter, sky.Saturn, sky.Uranus, sky.Neptune}

// objects returns every object of a reference file by its name there.
func objects(stars map[string]referenceStar) map[string]sky.Object {
	all := map[string]sky.Object{}
	for _, b := range bodies {
		all[b.String()] = b
	}
	for name, s := range stars {
		all[name] = s.star()
	}
	return all
}

// tolerance of a position in arcseconds. design.md promises 15, for the Moon
// 30; the program does better, and is held to it. Uranus and Neptune show where
// VSOP87 and DE405 part (3 arcseconds); the Moon's 11 arcseconds of the 2050s are
// delta-T, which nobody knows (see DeltaT).
func tolerance(name string) float64 {
	if name == "Moon" {
		return 15
	}
	return 5
}

// TestPositions compares with JPL's DE405 through ERFA: 76 sites and instants
// from 1980 to 2059, in both hemispheres, beyond the polar circles, at the
// poles, on the equator and beside the date line.
func TestPositions(t *testing.T) {
	var file positionsFile
	reference(t, "positions.json", &file)
	if len(file.Cases) < 60 {
		t.Fatalf("%d cases, want at least 60", len(file.Cases))
	}
	all := objects(file.Stars)
	worstEquatorial, worstHorizontal := map[string]float64{}, map[string]float64{}
	for _, c := range file.Cases {
		night, err := sky.NewNight(sky.Place{Lat: c.Lat, Lon: c.Lon, Elev: c.Elev}, sky.DateOf(c.UTC.Add(-12*time.Hour), time.UTC), time.UTC)
		if err != nil {
			t.Fatal(err)
		}
		for name, want := range c.Objects {
			got := night.At(all[name], c.UTC)
			tracked := night.Track(all[name], []time.Time{c.UTC})[0]
			if d := 3600 * sky.Separation(got.Az, got.Alt, tracked.Az, tracked.Alt); d > 0.01 {
				t.Errorf("%s, %s: At and Track differ by %.3f arcseconds", c.Name, name, d)
			}
			equatorial := 3600 * sky.Separation(got.RA, got.Dec, want.RA, want.Dec)
			horizontal := 3600 * sky.Separation(got.Az, got.Alt, want.Az, want.Alt)
			worstEquatorial[name] = max(worstEquatorial[name], equatorial)
			worstHorizontal[name] = max(worstHorizontal[name], horizontal)
			if limit := tolerance(name); !(equatorial < limit && horizontal < limit) {
				t.Errorf("%s, %s: off by %.1f (equatorial) and %.1f (horizontal) arcseconds, want under %g:\n got  %+v\n want %+v",
					c.Name, name, equatorial, horizontal, limit, got, want)
			}
			if want.Dist != 0 && math.Abs(got.Distance/want.Dist-1) > 5e-5 {
				t.Errorf("%s, %s: distance %.8f au, want %.8f", c.Name, name, got.Distance, want.Dist)
			}
			if want.SD != 0 && math.Abs(got.SemiDiameter-want.SD)*3600 > 0.3 {
				t.Errorf("%s, %s: semidiameter %.5f, want %.5f degrees", c.Name, name, got.SemiDiameter, want.SD)
			}
		}
	}
	for name := range all {
		t.Logf("%-15s largest error %6.2f arcseconds equatorial, %6.2f horizontal", name, worstEquatorial[name], worstHorizontal[name])
	}
}
