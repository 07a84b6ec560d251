package vision

import (
	"math"

	"duskboard/internal/catalog"
)

// Subject is a target as the eye takes it: one or two glowing patches, or a
// star, or both. It is a plain value without pointers; build it once per
// target, not once per margin.
type Subject struct {
	glows [3]glow
	count int     // of glows
	star  float64 // V magnitude
	named string  // what the star is called in sentences
	stars bool
	lines lineLight
}

// glow is a patch of even surface brightness.
type glow struct {
	name   string
	sb     float64 // V mag per square arcsecond
	lnArea float64 // natural logarithm of sr
	small  float64 // area^-nightJoin: how hard its smallness makes it
	dim    float64 // e^(sb/nightSlope): how hard its faintness does
}

// lineLight says how much of a target's visual light lies in the lines that
// nebula filters pass: none, those of a nebula, a planetary nebula, a remnant.
type lineLight int

const (
	noLines lineLight = iota
	nebulaLines
	planetaryLines
	remnantLines
)

func newGlow(name string, sb, major, minor float64) glow {
	g := glow{name: name, sb: sb, lnArea: math.Log(ellipse(major, minor))}
	g.small = math.Exp(-nightJoin * g.lnArea)
	g.dim = math.Exp(sb / nightSlope)
	return g
}

func (s *Subject) add(g glow) {
	s.glows[s.count] = g
	s.count++
}

// inner is a brighter inner part: a share of the light within a share of the
// area. Catalogue axes go out to faint outskirts, so the mean undersells
// whatever has a bright middle.
type inner struct{ light, area float64 }

// disc is what an exponential disc of 3.1 scale lengths, a spiral without a
// bulge, has within a third of its radius.
var disc = inner{0.25, 0.10}

// globularMiddle: half of the light within a twenty-fifth of the catalogue's
// area. Half-light diameters over catalogue diameters give 2 to 6 per cent of
// the area for the bright globulars (M13 2.9, M5 2.4, M22 4.4; from memory).
var globularMiddle = inner{0.50, 0.04}

// A bulge and the heart of a bright nebula stand out more than a disc's
// middle, in pale ones they do not. Mean surface brightness tells them apart
// well enough: M31 22.2, M81 22.0 and M104 20.3 have a bulge, M33 23.0, M74
// 23.0 and M101 23.8 next to none; M42 21.9 and M8 22.5 have a heart, the
// large pale nebulae of 23.5 not. Between the two ends in proportion.
var (
	bulge      = heart{bright: inner{0.10, 0.005}, pale: inner{0.02, 0.005}, from: 22.2, to: 23.0}
	nebulaCore = heart{bright: inner{0.30, 0.03}, pale: inner{0.08, 0.03}, from: 22.5, to: 23.5}
)

type heart struct {
	bright, pale inner
	from, to     float64 // mean surface brightness, V mag per square arcsecond
}

// of returns the inner part for a mean surface brightness.
func (h heart) of(sb float64) inner {
	f := math.Min(1, math.Max(0, (sb-h.from)/(h.to-h.from)))
	return inner{light: h.bright.light + f*(h.pale.light-h.bright.light), area: h.bright.area}
}

// leastCore is the smallest core in arcminutes that counts. A smaller one
// looks like a star, and whoever sees it has not seen the galaxy.
const leastCore = 1.2

// tightness shrinks the heart of the few nebulae that are bright as a whole:
// the Orion nebula packs a third of its light into less than a hundredth of
// its area. 1 from magnitude 5.5, a third from 4.5.
func tightness(magnitude float64) float64 {
	f := math.Min(1, math.Max(0, 5.5-magnitude))
	return 1 - f*2/3
}

// addInner adds an inner part of a patch.
func (s *Subject) addInner(name string, i inner, sb, major, minor float64) {
	scale := math.Sqrt(i.area)
	s.add(newGlow(name, sb-2.5*math.Log10(i.light/i.area), major*scale, minor*scale))
}

// clusterStep is how much fainter than the whole the stars are that make an
// open cluster look like one: the brightest dozen. Common practice, from
// memory: 4 mag, and 2 for loose groups that the eye draws together.
const (
	clusterStep  = 4.0
	asterismStep = 2.0
)

// milkyWay is the surface brightness in V mag per square arcsecond of the
// star clouds that a dark nebula blots out (from memory).
const milkyWay = 22.0

// SubjectOf returns the subject of a fixed target. Galaxies, nebulae, globulars
// and remnants count whole, by their middle or by their core, whichever shows
// best; planetaries by their mean; open clusters and asterisms by their stars
// or their glow; doubles and stars by their light.
//
// A target without a size is a star; one without a magnitude and brightness
// is taken as magnitude 99 and never shows.
func SubjectOf(t catalog.Target) Subject {
	var s Subject
	mag := t.Magnitude
	if math.IsNaN(mag) {
		mag = 99
	}
	major, minor := t.MajorAxis, t.MinorAxis
	if !(minor > 0) {
		minor = major
	}
	if !(major > 0) || isStar(t.Kind) {
		s.star, s.stars, s.named = mag, true, "star"
		return s
	}
	sb := t.Brightness
	if math.IsNaN(sb) || sb <= 0 {
		sb = SurfaceBrightness(mag, major, minor)
	}
	switch t.Kind {
	case catalog.KindDark:
		s.add(newGlow("dark patch", milkyWay, major, minor))
		return s
	case catalog.KindOpen:
		s.star, s.stars, s.named = mag+clusterStep, true, "brighter members"
	case catalog.KindAsterism:
		s.star, s.stars, s.named = mag+asterismStep, true, "stars"
		return s // its sky between the stars does not glow
	case catalog.KindNebula:
		s.lines = nebulaLines
	case catalog.KindPlanetary:
		s.lines = planetaryLines
	case catalog.KindRemnant:
		s.lines = remnantLines
	}
	s.add(newGlow("whole", sb, major, minor))
	switch t.Kind {
	case catalog.KindGlobular:
		s.addInner("middle", globularMiddle, sb, major, minor)
	case catalog.KindGalaxy:
		s.addInner("middle", disc, sb, major, minor)
		if core := bulge.of(sb); math.Sqrt(major*minor*core.area) >= leastCore {
			s.addInner("core", core, sb, major, minor)
		}
	case catalog.KindNebula:
		s.addInner("middle", disc, sb, major, minor)
		core := nebulaCore.of(sb)
		core.area *= tightness(mag)
		s.addInner("core", core, sb, major, minor)
	case catalog.KindRemnant, catalog.KindComet:
		s.addInner("middle", disc, sb, major, minor)
	}
	return s
}

func isStar(k catalog.Kind) bool {
	switch k {
	case catalog.KindDouble, catalog.KindCarbon, catalog.KindVariable, catalog.KindStar, catalog.KindMinorPlanet:
		return true
	}
	return false
}

// SubjectOfBody returns the subject of the Moon or a planet: V magnitude,
// diameter in arcseconds and lit share of the disc, 0 to 1.
func SubjectOfBody(magnitude, diameter, lit float64) Subject {
	var s Subject
	minutes := math.Max(diameter, 0.01) / 60
	minor := minutes * math.Min(1, math.Max(lit, 0.01))
	s.add(newGlow("disc", SurfaceBrightness(magnitude, minutes, minor), minutes, minor))
	return s
}
