package vision

import (
	"duskboard/internal/catalog"
	"duskboard/internal/kit"
)

// What filters do to the light; from memory, common practice. A nebula filter
// passes a slice of about 25 nm around hydrogen beta and doubly ionised
// oxygen, an oxygen filter one of about 12 nm: little of the sky and of star
// light, nearly all of a nebula's.
const (
	nebulaSky = 0.20
	oxygenSky = 0.10
)

// inLines is the share of a target's visual light within the pass band.
var inLines = map[kit.FilterKind]map[lineLight]float64{
	kit.NebulaFilter: {nebulaLines: 0.90, planetaryLines: 0.95, remnantLines: 0.90},
	kit.OxygenFilter: {nebulaLines: 0.50, planetaryLines: 0.80, remnantLines: 0.75},
}

// passes returns the shares of sky and star light, and of each kind of line
// light, that a filter lets through. A nil filter passes all.
func passes(f *kit.Filter) (sky float64, lines [4]float64) {
	if f == nil {
		return 1, [4]float64{1, 1, 1, 1}
	}
	through := f.Transmission
	if !(through > 0) {
		through = f.Fill().Transmission
	}
	switch f.Kind {
	case kit.NebulaFilter:
		sky = nebulaSky * through
	case kit.OxygenFilter:
		sky = oxygenSky * through
	default:
		return through, [4]float64{through, through, through, through}
	}
	lines[noLines] = sky
	for l, share := range inLines[f.Kind] {
		lines[l] = share * through
	}
	return sky, lines
}

// HelpfulFilters returns the kinds of filter that help a kind of target, best
// first; nil for none. Reflection nebulae are not told apart here: a nebula
// filter does nothing for them.
func HelpfulFilters(k catalog.Kind) []kit.FilterKind {
	switch k {
	case catalog.KindNebula:
		return []kit.FilterKind{kit.NebulaFilter, kit.OxygenFilter}
	case catalog.KindPlanetary, catalog.KindRemnant:
		return []kit.FilterKind{kit.OxygenFilter, kit.NebulaFilter}
	case catalog.KindMoon:
		return []kit.FilterKind{kit.NeutralFilter}
	}
	return nil
}
