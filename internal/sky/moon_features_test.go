package sky_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/sky"
)

func TestLunarFeaturesTable(t *testing.T) {
	features := sky.LunarFeatures()
	if len(features) < 60 {
		t.Fatalf("%d features, want at least 60", len(features))
	}
	kinds := map[sky.FeatureKind]bool{"crater": true, "sea": true, "bay": true, "mountains": true, "mountain": true, "valley": true, "rille": true, "scarp": true, "swirl": true}
	seen := map[string]bool{}
	for _, f := range features {
		if seen[f.Name] {
			t.Errorf("%s stands twice", f.Name)
		}
		seen[f.Name] = true
		if !kinds[f.Kind] || math.Abs(f.Lat) > 80 || math.Abs(f.Lon) > 80 || f.Size < 10 || f.Size > 700 || f.Words == "" {
			t.Errorf("%+v", f)
		}
		if f.Source != "gazetteer" && f.Source != "memory" {
			t.Errorf("%s has no source", f.Name)
		}
	}
	// Some well-known places, by the maps: a swapped sign would show.
	for name, want := range map[string][2]float64{
		"Copernicus": {9.6, -20.1}, "Tycho": {-43.3, -11.2}, "Plato": {51.6, -9.4}, "Mare Crisium": {16.2, 59.1}, "Grimaldi": {-5.4, -68.4}, "Theophilus": {-11.5, 26.3},
	} {
		for _, f := range features {
			if f.Name == name && (math.Abs(f.Lat-want[0]) > 0.1 || math.Abs(f.Lon-want[1]) > 0.1) {
				t.Errorf("%s at %v, %v", name, f.Lat, f.Lon)
			}
		}
	}
}

// Changing the table from outside must not change it for others.
func TestLunarFeaturesAreACopy(t *testing.T) {
	sky.LunarFeatures()[0].Name = "changed"
	if sky.LunarFeatures()[0].Name == "changed" {
		t.Error("the table can be changed")
	}
}

// Around first quarter the terminator runs down the middle of the disc: what
// lies near longitude 0 is shown, what lies at the edges is not.
func TestFeaturesAlongTheTerminator(t *testing.T) {
	at := time.Date(2027, 3, 15, 4, 0, 0, 0, time.UTC) // first quarter 15 March 16:25 UT
	n := nightAround(t, sky.Place{Lat: 40, Lon: -105}, at)
	view := n.Moon(at)
	got := map[string]sky.FeatureView{}
	relief := true
	for _, f := range n.MoonFeatures(at) {
		got[f.Name] = f
		if math.Abs(f.SunAltitude) > 15 {
			t.Errorf("%s: Sun at %.1f", f.Name, f.SunAltitude)
		}
		if f.Relief && !relief {
			t.Errorf("%s with good relief stands after others without", f.Name)
		}
		relief = f.Relief
		if !f.Morning {
			t.Errorf("%s: evening on a waxing Moon", f.Name)
		}
	}
	for _, name := range []string{"Albategnius", "Triesnecker", "Montes Caucasus", "Hipparchus"} {
		if _, ok := got[name]; !ok {
			t.Errorf("%s is missing (colongitude %.1f)", name, view.Colongitude)
		}
	}
	for _, name := range []string{"Grimaldi", "Mare Crisium", "Copernicus", "Langrenus"} {
		if _, ok := got[name]; ok {
			t.Errorf("%s is far from the terminator", name)
		}
	}
}

// Two weeks later the same places have evening: the Straight Wall is white.
func TestFeaturesAfterFullMoon(t *testing.T) {
	at := time.Date(2027, 3, 30, 8, 0, 0, 0, time.UTC) // last quarter 30 March 00:54 UT
	n := nightAround(t, sky.Place{Lat: 40, Lon: -105}, at)
	features := n.MoonFeatures(at)
	if len(features) < 10 {
		t.Fatalf("%d features", len(features))
	}
	for _, f := range features {
		if f.Morning {
			t.Errorf("%s: morning on a waning Moon", f.Name)
		}
	}
}

// Meeus, Astronomical Algorithms, 2nd ed., chapter 53, page 377: sunrise over
// Copernicus on 1992 April 11.8069 TD.
func TestSunriseOverCopernicus(t *testing.T) {
	at := atTT(2448723.5 + 0.8069 - 2451545)
	near(t, "Sun's altitude", nightAround(t, sky.Place{}, at).Moon(at).SunAltitude(9.7, -20), 0, 0.02)
}
