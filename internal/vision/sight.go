package vision

import (
	"math"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// Sight is one observer at one train under one sky: all that does not depend
// on the target, computed once (Crumey 2014, section 3).
type Sight struct {
	// Extended targets: margin = mu - SB - dimming + gain - slope ln(exp(point
	// - join lnArea) + infinite).
	join     float64 // q of eq. 42
	point    float64 // q (ln R - 2 ln M)
	infinite float64 // C_inf^q
	slope    float64 // 2.5/(q ln 10)
	penalty  float64 // 2.5 log phi
	gain     [4]float64
	lnField  float64 // ln of the true field's solid angle
	nightP   float64 // e^point, for the short way
	nightF   float64 // field^-nightJoin
	star     float64 // V magnitude of the faintest star
	pupil    float64 // mm
	darkened bool    // the background looks black: more power shows nothing more
}

// At night the exponent of eq. 42 is this constant, which lets the powers of
// a target's area and brightness be taken once per target instead of once per
// margin. nightSlope is 2.5/(q ln 10).
const (
	nightJoin  = 0.6
	nightSlope = 2.5 / (nightJoin * math.Ln10)
)

// oneEye is Crumey's F_T: looking with one eye costs the square root of 2.
const oneEye = math.Sqrt2

// NewSight prepares an observer at a train under a sky of brightness mu (V
// mag per square arcsecond); f is the train's filter or nil.
//
// The background at the eye is g B with g = T (min(e, p)/p)^2 (1 - eps_eff^2),
// e the exit pupil, p the eye's, T the transmission (eq. 66; the obstruction
// is ours). Where it falls below 1e-5 cd/m^2 it counts as black; extended
// targets are then judged at the magnification at which it just turned black.
func NewSight(o optics.Optics, obs Observer, f *kit.Filter, mu float64) Sight {
	sky := Luminance(mu)
	through, lines := passes(f)
	p, g := obs.adapt(o, sky*through)
	background := g * through * sky

	phi := obs.factor()
	if !o.BothEyes {
		phi *= oneEye
	}
	power := o.Magnification
	s := Sight{pupil: p, penalty: 2.5 * math.Log10(phi)}
	if background < darkest {
		s.darkened = true
		power *= math.Sqrt(background / darkest) // M0: freeze
	}
	b := math.Max(background, darkest)
	t := branchesAt(b)
	s.join = t.join
	s.point = t.join * (math.Log(t.point) - 2*math.Log(power))
	s.infinite = math.Pow(t.infinite, t.join)
	s.slope = 2.5 / (t.join * math.Ln10)
	// Contrast grows by what the filter takes from the sky and not from the
	// target; star light shares the sky's fate.
	for n, share := range lines {
		s.gain[n] = 2.5 * math.Log10(share/through)
	}
	s.lnField = math.Log(ellipse(o.TrueField*60, o.TrueField*60))
	s.nightP = math.Exp(s.point)
	s.nightF = math.Exp(-nightJoin * s.lnField)
	s.star = StarMagnitude(phi * b * t.point / (g * through * o.Magnification * o.Magnification))
	return s
}

// adapt returns the pupil in mm and the share g of the sky's luminance that
// reaches the retina. The pupil answers to what it sees in the eyepiece,
// which depends on the pupil again: a few rounds settle it, since the pupil
// changes far less than the light.
func (o Observer) adapt(view optics.Optics, sky float64) (pupil, g float64) {
	share := func(p float64) float64 {
		enters := math.Min(view.ExitPupil, p) / p
		shadow := math.Min(0.999, optics.EffectiveObstruction(view.Obstruction, view.ExitPupil, p))
		return view.Transmission * enters * enters * (1 - shadow*shadow)
	}
	pupil = o.pupil(sky)
	for range 3 {
		g = share(pupil)
		// Below the darkest background the eye is as open as it gets.
		pupil = o.pupil(math.Max(g*sky, darkest))
	}
	return pupil, share(pupil)
}

// StarLimit returns the V magnitude of the faintest star, extinction not
// counted.
func (s *Sight) StarLimit() float64 { return s.star }

// Pupil returns the eye's pupil in mm.
func (s *Sight) Pupil() float64 { return s.pupil }

// Darkened reports whether the sky looks black in the eyepiece, so that more
// magnification shows nothing fainter.
func (s *Sight) Darkened() bool { return s.darkened }

// Star returns the margin in magnitudes of a star of V magnitude m that the
// air dims by dimming magnitudes.
func (s *Sight) Star(m, dimming float64) float64 { return s.star - m - dimming }

// Margin returns by how many magnitudes the subject stands above the
// observer's threshold: positive is visible. mu is the sky behind it in mag
// per square arcsecond, dimming the extinction in magnitudes. The best part
// of the subject counts; Part names it.
//
// This is the hot loop of the line-up: one logarithm, nothing allocated.
func (s *Sight) Margin(sub *Subject, mu, dimming float64) float64 {
	best := math.Inf(-1)
	if sub.count > 0 {
		if s.join == nightJoin {
			best = s.atNight(sub, mu, dimming)
		} else {
			for n := 0; n < sub.count; n++ {
				best = max(best, s.glow(&sub.glows[n], sub.lines, mu, dimming))
			}
		}
	}
	if sub.stars {
		best = max(best, s.star-sub.star-dimming)
	}
	return best
}

// atNight is the best margin of the glows at the night's exponent: the least
// product of threshold and faintness wins, so one logarithm serves them all.
func (s *Sight) atNight(sub *Subject, mu, dimming float64) float64 {
	least := math.Inf(1)
	for n := 0; n < sub.count; n++ {
		g := &sub.glows[n]
		least = min(least, (s.nightP*max(g.small, s.nightF)+s.infinite)*g.dim)
	}
	return mu - dimming + s.gain[sub.lines] - s.penalty - nightSlope*math.Log(least)
}

// glow is the margin of one glow at any exponent.
func (s *Sight) glow(g *glow, lines lineLight, mu, dimming float64) float64 {
	// What does not fit into the field does not help to see it.
	lnArea := min(g.lnArea, s.lnField)
	x := math.Exp(s.point-s.join*lnArea) + s.infinite
	return mu - g.sb - dimming + s.gain[lines] - s.penalty - s.slope*math.Log(x)
}

// Part names the part of the subject that shows best: "whole", "middle",
// "core", "disc", "dark patch", "star", "brighter members" or "stars".
func (s *Sight) Part(sub *Subject, mu, dimming float64) string {
	best, name := math.Inf(-1), ""
	for n := 0; n < sub.count; n++ {
		if m := s.glow(&sub.glows[n], sub.lines, mu, dimming); m > best {
			best, name = m, sub.glows[n].name
		}
	}
	if sub.stars && s.Star(sub.star, dimming) > best {
		name = sub.named
	}
	return name
}

// Sights holds an observer at a train over a range of sky brightness.
type Sights struct {
	low   float64
	nodes []Sight
}

// sightStep is the grid of Sights in magnitudes. The sky's own brightness
// enters Margin exactly; only the threshold is taken at the nearest node, off
// by at most 0.03 mag.
const sightStep = 0.08

// NewSights prepares an observer at a train for skies from brightest to
// darkest, mag per square arcsecond; others are taken as the nearest of these.
func NewSights(o optics.Optics, obs Observer, f *kit.Filter, brightest, dark float64) Sights {
	if dark < brightest {
		brightest, dark = dark, brightest
	}
	n := int(math.Ceil((dark-brightest)/sightStep)) + 1
	s := Sights{low: brightest, nodes: make([]Sight, n)}
	for i := range s.nodes {
		s.nodes[i] = NewSight(o, obs, f, brightest+float64(i)*sightStep)
	}
	return s
}

// At returns the sight for a sky of brightness mu.
func (s *Sights) At(mu float64) *Sight {
	n := int((mu-s.low)/sightStep + 0.5)
	return &s.nodes[min(max(n, 0), len(s.nodes)-1)]
}
