package vision_test

import (
	"math"
	"strings"
	"testing"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
	"duskboard/internal/vision"
)

// As large as the Moon to the naked eye: 1865/theta (geometry, Moon 31.1').
func TestMoonLikePower(t *testing.T) {
	for theta, want := range map[float64]float64{45: 41, 20: 93, 10: 187, 4: 466} {
		near(t, "power", vision.MoonLikePower(theta), want, 0.6)
	}
}

// Common practice, from memory: what shows from which power.
func TestDetails(t *testing.T) {
	find := func(p vision.Planet, d, m, seeing float64, name string) vision.Grade {
		for _, x := range vision.Details(p, scope(d, m), seeing) {
			if x.Sentence == "" {
				t.Errorf("%s has no sentence", x.Name)
			}
			if x.Name == name {
				return x.Grade
			}
		}
		return ""
	}
	saturn := vision.Planet{Body: sky.Saturn, Diameter: 18, RingTilt: -15}
	jupiter := vision.Planet{Body: sky.Jupiter, Diameter: 42, SpotAfter: 10, Shadows: 1}
	far, near := vision.Planet{Body: sky.Mars, Diameter: 5}, vision.Planet{Body: sky.Mars, Diameter: 18}
	for _, c := range []struct {
		why  string
		got  vision.Grade
		want vision.Grade
	}{
		{"ring at 25 times", find(saturn, 60, 25, 2, "the ring"), vision.NotShown},
		{"ring at 35 times", find(saturn, 60, 35, 2, "the ring"), vision.Patience},
		{"ring at 100 times", find(saturn, 60, 100, 2, "the ring"), vision.Obvious},
		{"gap in 60 mm", find(saturn, 60, 180, 1.5, "the gap in the ring"), vision.NotShown},
		{"gap in 200 mm, calm", find(saturn, 200, 200, 1, "the gap in the ring"), vision.ByMost},
		{"gap in 200 mm, bad air", find(saturn, 200, 200, 4.5, "the gap in the ring"), vision.NotShown},
		{"no gap when edge-on", find(vision.Planet{Body: sky.Saturn, Diameter: 18, RingTilt: 2}, 200, 200, 1, "the gap in the ring"), ""},
		{"belts at 60 times", find(jupiter, 80, 60, 2, "two cloud belts"), vision.ByMost},
		{"spot at 100 times", find(jupiter, 200, 100, 2, "the red spot"), vision.NotShown},
		{"spot at 169 times", find(jupiter, 203, 169, 2, "the red spot"), vision.ByMost},
		{"spot on the far side", find(vision.Planet{Body: sky.Jupiter, Diameter: 42, SpotAfter: 200}, 203, 169, 2, "the red spot"), ""},
		{"spot unknown", find(vision.Planet{Body: sky.Jupiter, Diameter: 42, SpotAfter: math.NaN()}, 203, 169, 2, "the red spot"), ""},
		{"shadow at 150 times", find(jupiter, 150, 150, 1.2, "a moon's shadow on the clouds"), vision.ByMost},
		{"moons at 20 times", find(jupiter, 50, 20, 3, "the four moons"), vision.ByMost},
		{"markings on a far Mars", find(far, 200, 200, 1, "dark markings"), ""},
		{"markings on a near Mars", find(near, 200, 200, 1.5, "dark markings"), vision.ByMost},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.why, c.got, c.want)
		}
	}
	if got := vision.Details(vision.Planet{Body: sky.Sun}, scope(100, 50), 2); got != nil {
		t.Errorf("the Sun: %v", got)
	}
}

// The Moon and bright planets are never in doubt, Neptune needs a telescope:
// magnitudes of the bodies against a suburban sky.
func TestBodies(t *testing.T) {
	margin := func(mag, diameter, lit, d, m, mu float64) float64 {
		s := vision.SubjectOfBody(mag, diameter, lit)
		sight := vision.NewSight(scope(d, m), vision.ObserverFor("families"), nil, mu)
		return sight.Margin(&s, mu, 0.5)
	}
	for what, m := range map[string]float64{"full Moon": margin(-12.7, 1860, 1, 80, 40, 18), "Jupiter": margin(-2.5, 45, 1, 80, 80, 18), "Jupiter, Sun 5 down": margin(-2.5, 45, 1, 80, 80, 12), "Uranus": margin(5.7, 3.7, 1, 100, 100, 19)} {
		if vision.GradeOf(m) != vision.Obvious {
			t.Errorf("%s: margin %.1f", what, m)
		}
	}
}

// Nebula filters help what shines in lines and hurt what does not (common
// practice); a neutral filter changes no contrast.
func TestFilters(t *testing.T) {
	subject := func(k catalog.Kind) vision.Subject {
		return vision.SubjectOf(catalog.Target{Kind: k, Magnitude: 9, MajorAxis: 20, MinorAxis: 15, Brightness: 23})
	}
	obs := vision.ObserverFor("adults")
	margin := func(k catalog.Kind, f *kit.Filter) float64 {
		s := subject(k)
		sight := vision.NewSight(scope(200, 50), obs, f, 20)
		return sight.Margin(&s, 20, 0)
	}
	narrow, oxygen, neutral := &kit.Filter{Kind: kit.NebulaFilter, Transmission: 0.9}, &kit.Filter{Kind: kit.OxygenFilter, Transmission: 0.9}, &kit.Filter{Kind: kit.NeutralFilter, Transmission: 0.25}
	for _, k := range []catalog.Kind{catalog.KindNebula, catalog.KindPlanetary, catalog.KindRemnant} {
		if gain := margin(k, narrow) - margin(k, nil); gain < 0.3 || gain > 1.6 {
			t.Errorf("%s: a nebula filter gains %.2f mag, want 0.3 to 1.6", k, gain)
		}
		if margin(k, neutral) >= margin(k, nil) {
			t.Errorf("%s: a neutral filter helps", k)
		}
		if len(vision.HelpfulFilters(k)) == 0 {
			t.Errorf("%s: no filter helps", k)
		}
	}
	for _, k := range []catalog.Kind{catalog.KindGalaxy, catalog.KindGlobular, catalog.KindStar} {
		if margin(k, narrow) >= margin(k, nil) || margin(k, oxygen) >= margin(k, nil) {
			t.Errorf("%s: a nebula filter helps", k)
		}
		if len(vision.HelpfulFilters(k)) != 0 {
			t.Errorf("%s: a filter is offered", k)
		}
	}
}

// Unknown sizes, magnitudes and brightnesses give a number, never a panic.
func TestSubjectGaps(t *testing.T) {
	nan := math.NaN()
	for _, k := range []catalog.Kind{catalog.KindOpen, catalog.KindGalaxy, catalog.KindDark, catalog.KindAsterism, catalog.KindComet, catalog.KindStar, catalog.KindCloud, ""} {
		for _, target := range []catalog.Target{{Kind: k}, {Kind: k, Magnitude: nan, MajorAxis: nan, MinorAxis: nan, Brightness: nan}, {Kind: k, Magnitude: 8, MajorAxis: 20, Brightness: nan}} {
			s := vision.SubjectOf(target)
			sight := vision.NewSight(scope(100, 50), vision.Observer{}, nil, 20)
			if m := sight.Margin(&s, 20, 0.3); math.IsNaN(m) || math.IsInf(m, 0) {
				t.Errorf("%q: margin %v", k, m)
			}
			if sight.Part(&s, 20, 0.3) == "" {
				t.Errorf("%q: no part", k)
			}
		}
	}
	if vision.GradeOf(nan) != vision.NotShown {
		t.Error("a margin that is not a number is shown")
	}
}

// Every sentence a guest or operator reads is short, finished and printed well.
func TestSentences(t *testing.T) {
	wellFormed := func(s string) {
		t.Helper()
		if s == "" || len(s) > 140 || !strings.HasSuffix(s, ".") || strings.Contains(s, "%!") || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
			t.Errorf("sentence %q", s)
		}
	}
	train := optics.Trains(kit.Kit{Eyepieces: []kit.Eyepiece{{FocalLength: 12}}}, kit.Instrument{Design: kit.Newtonian, Aperture: 200, FocalLength: 1200})[0]
	for _, k := range []catalog.Kind{catalog.KindGalaxy, catalog.KindOpen, catalog.KindStar, catalog.KindDark, catalog.KindGlobular} {
		for mag := 2.0; mag < 16; mag += 0.5 {
			s := vision.SubjectOf(catalog.Target{Kind: k, Magnitude: mag, MajorAxis: 10, Brightness: math.NaN()})
			seen := vision.See(&s, train, vision.ObserverFor("school"), vision.Background{Mu: 20}, 0.3)
			wellFormed(seen.Sentence)
			if seen.Grade != vision.GradeOf(seen.Margin) || seen.Part == "" || len(seen.Assumed) == 0 {
				t.Errorf("%+v", seen)
			}
		}
	}
	for sun := -20.0; sun < 5; sun++ {
		for _, moon := range []float64{-10, 30} {
			wellFormed(vision.Sky{Dark: 20.5, SunAltitude: sun, MoonAltitude: moon}.At(vision.Toward{Altitude: 40, MoonSeparation: 60}).Sentence())
		}
	}
	for sep := 0.5; sep < 3000; sep *= 2 {
		for m := 10.0; m < 400; m *= 2 {
			wellFormed(vision.Split(catalog.Double{Separation: sep, MagA: 3, MagB: 6}, scope(150, m), 2, 4).Sentence)
		}
	}
}
