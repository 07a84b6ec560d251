package vision_test

import (
	"math"
	"testing"

	"duskboard/internal/sky"
	"duskboard/internal/vision"
)

// Conversions. Luminance: mu 22 is 1.706e-4 cd/m^2 and so on, zero point of
// Crumey (2014); lux: the full Moon's -12.73 is 0.314 lx (zero point of Cox
// 1999); figures recomputed from the published constants.
func TestUnits(t *testing.T) {
	for mu, want := range map[float64]float64{22: 1.706e-4, 21: 4.285e-4, 18: 6.79e-3} {
		near(t, "Luminance", vision.Luminance(mu), want, 6e-4*want)
		near(t, "Brightness of Luminance", vision.Brightness(vision.Luminance(mu)), mu, 1e-9)
	}
	near(t, "Illuminance of the full Moon", vision.Illuminance(-12.73), 0.314, 0.0006)
	near(t, "StarMagnitude of Illuminance", vision.StarMagnitude(vision.Illuminance(6)), 6, 0.003) // the two published zero points differ by this
	if !math.IsInf(vision.Brightness(0), 1) {
		t.Error("a black sky has no finite magnitude")
	}
	// 1 cd/m^2 is 3.1416e5 nL by definition of the lambert.
	near(t, "1/Nanolambert", 1/vision.Nanolambert, 3.1416e5, 10)
}

// Mean surface brightness of ellipses: definition (m + 2.5 log of the area in
// square arcseconds); M51, M57 and M13 with catalogue sizes.
func TestSurfaceBrightness(t *testing.T) {
	for _, c := range []struct{ mag, a, b, want float64 }{{8.4, 11.2, 6.9, 21.75}, {8.8, 86. / 60, 62. / 60, 17.85}, {5.8, 20, 20, 20.94}} {
		near(t, "SurfaceBrightness", vision.SurfaceBrightness(c.mag, c.a, c.b), c.want, 0.01)
	}
}

// Kasten & Young (1989) and Green (1992, ICQ 14, 55): recomputed from the
// published formulas; Kasten & Young's own table gives 37.92 at the horizon.
func TestAirmassAndExtinction(t *testing.T) {
	for alt, want := range map[float64]float64{90: 1.000, 30: 1.994, 20: 2.903, 10: 5.586, 5: 10.31, 0: 37.92} {
		near(t, "Airmass", sky.Airmass(alt), want, 6e-4*want)
	}
	near(t, "Extinction at sea level", vision.Extinction(0, vision.MeanAerosol), 0.281, 0.0006)
	near(t, "Extinction at 1 km", vision.Extinction(1000, vision.MeanAerosol), 0.206, 0.0006)
	// Dimming relative to the zenith at k 0.28.
	s := vision.Sky{Extinction: 0.28}
	for alt, want := range map[float64]float64{45: 0.12, 30: 0.28, 20: 0.53, 15: 0.79, 10: 1.29} {
		near(t, "Dimming", s.Dimming(alt)-s.Dimming(90), want, 0.006)
	}
}

// Dark sky off the zenith: Patat (2003, A&A 400, 1183) states 0.24 mag at 50
// degrees in V; the others are his appendix C's formula at k 0.13.
func TestDarkSkyBrightensDown(t *testing.T) {
	s := vision.Sky{Dark: 21.6, Extinction: 0.13, SunAltitude: -40, MoonAltitude: -10}
	for z, want := range map[float64]float64{0: 0, 30: 0.07, 50: 0.23, 60: 0.35, 70: 0.52} {
		near(t, "brightening", 21.6-s.At(vision.Toward{Altitude: 90 - z}).Mu, want, 0.006)
	}
	near(t, "brightening at 50 by Patat", 21.6-s.At(vision.Toward{Altitude: 40}).Mu, 0.24, 0.02) // printed to 0.01, his extinction unknown to us
	near(t, "light dome", s.At(vision.Toward{Altitude: 90, Dome: 1}).Mu, 20.6, 1e-9)
}

// Krisciunas & Schaefer (1991): the paper's worked value (alpha 45, rho 50,
// zenith distances 70 and 20, k 0.15) is 19.855; the others follow from its
// equations 15, 20, 21 at k 0.25.
func TestMoonlight(t *testing.T) {
	near(t, "worked example", vision.Moonlight(45, 50, 70, 20, 0.15), 19.855, 0.001)
	near(t, "full, 60 away", vision.Moonlight(0, 60, 45, 30, 0.25), 18.26, 0.006)
	near(t, "quarter, 60 away", vision.Moonlight(90, 60, 45, 30, 0.25), 20.86, 0.006)
	near(t, "full, 30 away", vision.Moonlight(0, 30, 30, 0, 0.25), 17.6, 0.03)
	// A quarter Moon gives a tenth of the full Moon's light, not half.
	ratio := math.Pow(10, 0.4*(vision.Moonlight(90, 60, 45, 30, 0.25)-vision.Moonlight(0, 60, 45, 30, 0.25)))
	near(t, "full over quarter", ratio, 11, 0.3)
	// Added to dark skies.
	s := vision.Sky{Dark: 20.5, Extinction: 0.25, SunAltitude: -40, MoonAltitude: 45}
	zenithless := func(dark, phase float64) float64 {
		s.Dark, s.MoonPhaseAngle = dark, phase
		b := s.At(vision.Toward{Altitude: 60, MoonSeparation: 60})
		return vision.Brightness(b.Moon + vision.Luminance(dark))
	}
	near(t, "20.5 + full", zenithless(20.5, 0), 18.1, 0.06)
	near(t, "20.5 + quarter", zenithless(20.5, 90), 19.9, 0.06)
	near(t, "18.8 + full", zenithless(18.8, 0), 17.7, 0.06)
	near(t, "18.8 + quarter", zenithless(18.8, 90), 18.65, 0.03)
	s.MoonAltitude = -0.5
	if got := s.At(vision.Toward{Altitude: 60, MoonSeparation: 60}).Moon; got != 0 {
		t.Errorf("the Moon is down and gives %v", got)
	}
}

// Moonlight falls with phase and with distance from the Moon out to 90
// degrees, and the aureole joins the rest without a jump of more than the
// 10 per cent that eqs. 19 and 21 leave there.
func TestMoonlightMonotonic(t *testing.T) {
	for phase := 5.0; phase <= 170; phase += 5 {
		if vision.Moonlight(phase, 60, 45, 30, 0.25) <= vision.Moonlight(phase-5, 60, 45, 30, 0.25) {
			t.Errorf("moonlight does not fade from phase angle %v to %v", phase-5, phase)
		}
	}
	for rho := 2.0; rho <= 85; rho++ {
		if rho != 10 && vision.Moonlight(0, rho, 45, 30, 0.25) <= vision.Moonlight(0, rho-1, 45, 30, 0.25) {
			t.Errorf("moonlight does not fade from %v to %v degrees", rho-1, rho)
		}
	}
	near(t, "jump at 10 degrees", vision.Moonlight(0, 9.999, 45, 30, 0.25)-vision.Moonlight(0, 10.001, 45, 30, 0.25), 0, 0.2)
}

// Patat, Ugolnikov & Postylyakov (2006, A&A 455, 385): V = 11.84 + 1.518 x -
// 0.057 x^2 at their site, less the night's own 21.6.
func TestTwilightByPatat(t *testing.T) {
	for sun, v := range map[float64]float64{-6: 13.30, -7: 14.65, -8: 15.88, -9: 17.00, -10: 18.0, -12: 19.67} {
		got := vision.Brightness(vision.ZenithTwilight(sun, 2600) + vision.Luminance(21.6))
		near(t, "twilight", got, v, 0.011)
	}
	// A low site is about 1.4 times brighter.
	near(t, "low over high", vision.ZenithTwilight(-9, 0)/vision.ZenithTwilight(-9, 2600), 1.4, 1e-9)
	// The parabola turns over at a zenith distance of 108: nothing from 105 on.
	for _, sun := range []float64{-15, -18, -20, -40} {
		if got := vision.ZenithTwilight(sun, 0); got != 0 {
			t.Errorf("Sun %v: twilight %v, want none", sun, got)
		}
	}
}

// Koomen et al. (1952, J. Opt. Soc. Am. 42, 353), zenith, low site and 2800
// m. At 6 and 9 degrees down, where Patat is used, the two agree within the
// scatter of sites: 1.15 and 1.5 (low site).
func TestTwilightByKoomen(t *testing.T) {
	for _, c := range []struct{ sun, elevation, want float64 }{{0, 0, 161}, {-3, 0, 21.5}, {0, 2800, 86}, {-3, 2800, 10.8}} {
		near(t, "twilight", vision.ZenithTwilight(c.sun, c.elevation), c.want, 1e-6*c.want)
	}
	near(t, "Patat over Koomen at -6", vision.ZenithTwilight(-6, 0)/0.65, 1.1, 0.05)
	near(t, "Patat over Koomen at -9", vision.ZenithTwilight(-9, 0)/0.016, 1.45, 0.1)
}

// The twilight darkens steadily with the Sun's depression, without a jump
// where the sources meet.
func TestTwilightMonotonic(t *testing.T) {
	for _, elevation := range []float64{0, 1000, 2600, 4000} {
		last := math.Inf(1)
		for sun := 10.0; sun >= -15; sun -= 0.05 {
			now := vision.ZenithTwilight(sun, elevation)
			if now > last {
				t.Fatalf("%v m: twilight grows at Sun %.2f", elevation, sun)
			}
			if now > 0 && last/now > 1.35 && !math.IsInf(last, 1) && sun > -14 {
				t.Fatalf("%v m: twilight jumps by %.2f at Sun %.2f", elevation, last/now, sun)
			}
			last = now
		}
	}
}

// Off the zenith, Schaefer (1993, Vistas in Astronomy 36, 311): toward the
// Sun at 30 degrees of altitude about 9 times the zenith, away from it 2
// times, at k 0.25 and Sun -6.
func TestTwilightOffZenith(t *testing.T) {
	s := vision.Sky{Dark: 21, Extinction: 0.25, SunAltitude: -6, MoonAltitude: -5}
	zenith := s.At(vision.Toward{Altitude: 90, SunSeparation: 96}).Twilight
	near(t, "zenith", zenith, vision.ZenithTwilight(-6, 0), 0.01*zenith)
	near(t, "toward", s.At(vision.Toward{Altitude: 30, SunSeparation: 36}).Twilight/zenith, 9, 0.3)
	near(t, "away", s.At(vision.Toward{Altitude: 30, SunSeparation: 156}).Twilight/zenith, 2, 0.1)
	if got := s.At(vision.Toward{Altitude: 30}).Twilight; got != vision.ZenithTwilight(-6, 0) {
		t.Errorf("unknown direction of the Sun: %v, want the zenith's", got)
	}
}
