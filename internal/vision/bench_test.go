package vision_test

import (
	"testing"

	"duskboard/internal/catalog"
	"duskboard/internal/vision"
)

// BenchmarkMargin is one judgement of the line-up's hot loop.
func BenchmarkMargin(b *testing.B) {
	sights := vision.NewSights(scope(200, 80), vision.ObserverFor("families"), nil, 17, 22)
	s := vision.SubjectOf(catalog.Target{Kind: catalog.KindGalaxy, Magnitude: 8.4, MajorAxis: 11.2, MinorAxis: 6.9, Brightness: 21.75})
	for b.Loop() {
		sights.At(20.3).Margin(&s, 20.3, 0.4)
	}
}

// BenchmarkNight is a whole night: 12 instruments x 40 trains x 150 targets x
// 18 blocks, sights prepared anew.
func BenchmarkNight(b *testing.B) {
	const trains, targets, blocks = 12 * 40, 150, 18
	obs := vision.ObserverFor("families")
	var subjects []vision.Subject
	kinds := []catalog.Kind{catalog.KindGalaxy, catalog.KindOpen, catalog.KindGlobular, catalog.KindDouble, catalog.KindPlanetary}
	for n := range targets {
		subjects = append(subjects, vision.SubjectOf(catalog.Target{Kind: kinds[n%len(kinds)], Magnitude: 6 + float64(n%6), MajorAxis: 1 + float64(n%40), MinorAxis: 1 + float64(n%25), Brightness: 21}))
	}
	for b.Loop() {
		for t := range trains {
			sights := vision.NewSights(scope(80+float64(t), 20+float64(t%40)*6), obs, nil, 19, 21)
			for block := range blocks {
				for n := range subjects {
					mu := 19.5 + 0.05*float64((block+n)%25)
					sights.At(mu).Margin(&subjects[n], mu, 0.3)
				}
			}
		}
	}
}

// BenchmarkSky is the sky behind one target at one moment.
func BenchmarkSky(b *testing.B) {
	s := vision.Sky{Dark: 20.5, SunAltitude: -12, MoonAltitude: 30, MoonPhaseAngle: 60}
	for b.Loop() {
		s.At(vision.Toward{Altitude: 45, MoonSeparation: 70, SunSeparation: 110})
	}
}
