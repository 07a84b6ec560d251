package catalog_test

import (
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

var printPlaces = flag.Bool("places", false, "print id,ra,dec of every fixed target for testdata/constellations.py")

// Every place lies in the constellation that its table says, by astropy's
// get_constellation (Roman 1987), testdata/constellations.py. The table's
// constellations were written from memory, the places come from elsewhere, so
// a mistaken number shows here. Patterns reach over borders; they are left out.
func TestConstellations(t *testing.T) {
	if *printPlaces {
		for _, target := range catalog.Default().All() {
			if !target.Moves {
				fmt.Printf("%s,%.4f,%.4f\n", target.ID, target.Star.RA, target.Star.Dec)
			}
		}
		return
	}

	want := map[string][]string{}
	for _, r := range readCSV(t, "testdata/constellations.csv") {
		want[r[0]] = r
	}
	for _, target := range catalog.Default().All() {
		if target.Moves {
			continue
		}
		r, found := want[target.ID]
		if !found {
			t.Errorf("%s is not in the fixture; run testdata/constellations.py", target.ID)
			continue
		}
		if d := sky.Separation(target.Star.RA, target.Star.Dec, number(t, r[1]), number(t, r[2])); d > 0.001 {
			t.Errorf("%s has moved by %.3f degrees since the fixture was made", target.ID, d)
		}
		if target.Kind != catalog.KindAsterism && target.Constellation != r[3] {
			t.Errorf("%s (%s): table says %s, its place lies in %s", target.ID, target.Name, target.Constellation, r[3])
		}
	}
}

// Every double, variable and carbon star lies within 1 arcminute of a Hipparcos
// star that has the right brightness: of a double the total or one of the two,
// of a variable something in its range.
func TestStarsAreWhereTheyShouldBe(t *testing.T) {
	for _, target := range catalog.Default().All() {
		var low, high float64
		switch {
		case target.Double != nil && target.Kind == catalog.KindDouble:
			low, high = target.Magnitude-0.35, math.Max(target.Double.MagA, target.Double.MagB)+0.35
		case target.Variable != nil:
			low, high = target.Variable.Max-0.35, target.Variable.Min+0.35
		default:
			continue
		}
		if target.Magnitude >= 8 {
			continue
		}
		// Variables that were faint when Hipparcos measured them are not in a
		// list that ends at magnitude 8; their place is checked all the same by
		// the constellation.
		if target.Variable != nil && target.Variable.Min > 7.9 {
			high = math.Min(high, 8)
			if len(catalog.StarsNear(target.Star.RA, target.Star.Dec, 1./60, 8)) == 0 {
				continue
			}
		}
		matched := false
		for _, s := range catalog.StarsNear(target.Star.RA, target.Star.Dec, 1./60, 8) {
			matched = matched || s.Mag >= low && s.Mag <= high
		}
		if !matched {
			t.Errorf("%s: no star of magnitude %.1f to %.1f within 1' of %.4f %.4f", target.ID, low, high, target.Star.RA, target.Star.Dec)
		}
	}
}

// The stars against the Hipparcos catalogue (ESA 1997; values from memory),
// J2000: place to the last digit of the data, V to 0.02.
func TestStars(t *testing.T) {
	all := catalog.Stars()
	if len(all) < 41000 {
		t.Fatalf("%d stars, want about 41 thousand to magnitude 8", len(all))
	}
	byHIP := map[int]catalog.StarRow{}
	for i, s := range all {
		byHIP[s.HIP] = s
		if i > 0 && all[i-1].Mag > s.Mag {
			t.Fatalf("star %d is brighter than the one before", i)
		}
		if s.RA < 0 || s.RA >= 360 || math.Abs(s.Dec) > 90 || s.Mag > 8 || s.BV < -1 || s.BV > 7 {
			t.Fatalf("%+v is out of range", s)
		}
	}
	for _, c := range []struct {
		hip     int
		name    string
		ra, dec float64
		mag, bv float64
	}{
		{32349, "Sirius", 101.2872, -16.7161, -1.44, 0.01},
		{91262, "Vega", 279.2347, 38.7837, 0.03, 0.00},
		{69673, "Arcturus", 213.9153, 19.1824, -0.05, 1.24},
		{11767, "Polaris", 37.9545, 89.2641, 1.97, 0.64},
		{30438, "Canopus", 95.9880, -52.6957, -0.62, 0.16},
		{60718, "Acrux", 186.6496, -63.0991, 0.77, -0.24},
	} {
		s, found := byHIP[c.hip]
		if !found || s.Name != c.name {
			t.Errorf("HIP %d is %q, want %q", c.hip, s.Name, c.name)
			continue
		}
		if d := sky.Separation(s.RA, s.Dec, c.ra, c.dec); d > 0.0003 {
			t.Errorf("%s lies %.5f degrees off", c.name, d)
		}
		if math.Abs(s.Mag-c.mag) > 0.02 || math.Abs(s.BV-c.bv) > 0.011 {
			t.Errorf("%s: V %.2f, B-V %.2f, want %.2f, %.2f", c.name, s.Mag, s.BV, c.mag, c.bv)
		}
	}
}

// Each pattern holds a star as bright as its row says, within its size.
func TestPatternsHoldTheirBrightestStar(t *testing.T) {
	for _, target := range catalog.Default().All() {
		if target.Kind != catalog.KindAsterism || target.ID == "m73" {
			continue // M 73 is four stars of magnitude 10 to 12
		}
		found := false
		for _, s := range catalog.StarsNear(target.Star.RA, target.Star.Dec, target.MajorAxis/60*0.6+0.1, 8) {
			found = found || math.Abs(s.Mag-target.Magnitude) <= 0.35
		}
		if !found {
			t.Errorf("%s: no star of magnitude %.1f within %.0f arcminutes of its middle", target.ID, target.Magnitude, target.MajorAxis)
		}
	}
}

// StarsNear gives just what a look at every star gives, over the poles, across
// 0 h and for the whole sky.
func TestStarsNear(t *testing.T) {
	for _, c := range []struct{ ra, dec, radius, faintest float64 }{
		{56.75, 24.12, 1, 8},
		{0.1, 30, 5, 7},
		{359.9, -1, 3, 8},
		{37, 89.5, 4, 8},
		{120, -90, 6, 7.5},
		{10, 10, 180, 3},
		{10, 10, 0, 8},
	} {
		want := 0
		for _, s := range catalog.Stars() {
			if c.radius > 0 && s.Mag <= c.faintest && sky.Separation(c.ra, c.dec, s.RA, s.Dec) <= c.radius {
				want++
			}
		}
		got := catalog.StarsNear(c.ra, c.dec, c.radius, c.faintest)
		if len(got) != want {
			t.Errorf("StarsNear(%v): %d stars, want %d", c, len(got), want)
		}
		for i := 1; i < len(got); i++ {
			if got[i].Mag < got[i-1].Mag {
				t.Errorf("StarsNear(%v) is not in order of brightness", c)
				break
			}
		}
	}
}

// All 88 constellations have a name, and each figure's corners are stars.
func TestLines(t *testing.T) {
	names := map[string]bool{}
	for _, c := range catalog.Constellations() {
		names[c.ID] = true
		if c.Name == "" || c.Genitive == "" || c.English == "" || c.German == "" {
			t.Errorf("%+v lacks a name", c)
		}
	}
	if len(names) != 88 {
		t.Errorf("%d constellations, want 88", len(names))
	}
	drawn := map[string]bool{}
	for _, f := range catalog.Lines() {
		drawn[f.ID] = true
		if !names[f.ID] {
			t.Errorf("lines of %q, which is no constellation", f.ID)
		}
		for _, line := range f.Lines {
			for _, p := range line {
				if len(catalog.StarsNear(p[0], p[1], 0.2, 8)) == 0 {
					t.Errorf("%s: no star at the corner %v", f.ID, p)
				}
			}
		}
	}
	for id := range names {
		if !drawn[id] {
			t.Errorf("no lines for %s", id)
		}
	}
}

func readCSV(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func BenchmarkStarsNear(b *testing.B) {
	catalog.Stars()
	for b.Loop() {
		catalog.StarsNear(83.8, -5.4, 3, 8)
	}
}
