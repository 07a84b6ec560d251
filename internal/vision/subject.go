package vision

import (
	"math"

	"duskboard/internal/catalog"
)

// Subject is a target as the eye takes it: one or two glowing patches, or a
// star, or both. It is a plain value without pointers; build it once per
// target, not once per margin.
type Subject struct {
	glows [2]glow
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

// Catalogue axes go out to faint outskirts, so the mean undersells whatever
// has a bright middle: a quarter of the light within a tenth of the area.
const (
	coreLight = 0.25
	coreArea  = 0.10
)

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

// SubjectOf returns the subject of a fixed target. Galaxies, nebulae and
// remnants count whole or by their core, whichever shows better; globulars
// and planetaries by their mean; open clusters and asterisms by their stars
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
	case catalog.KindGalaxy, catalog.KindNebula, catalog.KindRemnant, catalog.KindComet:
		scale := math.Sqrt(coreArea)
		s.add(newGlow("core", sb-2.5*math.Log10(coreLight/coreArea), major*scale, minor*scale))
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
