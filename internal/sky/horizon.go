package sky

import (
	"math"
	"sort"
)

// HorizonPoint is one corner of a site's horizon outline.
type HorizonPoint struct {
	Az  float64 // degrees from north through east
	Alt float64 // degrees above the level horizon, as seen (with refraction)
}

// Horizon is the outline of what stands around a site: walls, trees, hills.
// Corners may come in any order; nil is the level horizon.
type Horizon []HorizonPoint

// AltAt returns the outline's altitude at an azimuth: linear between corners,
// across north as well. Two corners of one azimuth make a vertical edge; the
// azimuth itself then has the higher of the two.
func (h Horizon) AltAt(az float64) float64 {
	if len(h) == 0 {
		return 0
	}
	sorted := h
	if !sort.SliceIsSorted(h, func(i, j int) bool { return h[i].Az < h[j].Az }) || h[0].Az < 0 || h[len(h)-1].Az >= 360 {
		sorted = h.normal()
	}
	az = math.Mod(math.Mod(az, 360)+360, 360)
	// The first corner beyond az; the one before it is the last at or under it.
	next := sort.Search(len(sorted), func(i int) bool { return sorted[i].Az > az })
	before := sorted[(next+len(sorted)-1)%len(sorted)]
	after := sorted[next%len(sorted)]
	if before.Az == az {
		highest := before.Alt
		for i := next - 1; i >= 0 && sorted[i].Az == az; i-- {
			highest = max(highest, sorted[i].Alt)
		}
		return highest
	}
	width := math.Mod(after.Az-before.Az+360, 360)
	if width == 0 {
		return before.Alt // a single corner: the same all round
	}
	return before.Alt + (after.Alt-before.Alt)*math.Mod(az-before.Az+360, 360)/width
}

// normal returns the corners with azimuths in 0..360, in their order; corners
// of one azimuth keep theirs, for it tells which side of an edge is which.
func (h Horizon) normal() Horizon {
	out := make(Horizon, len(h))
	for i, p := range h {
		out[i] = HorizonPoint{math.Mod(math.Mod(p.Az, 360)+360, 360), p.Alt}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Az < out[j].Az })
	return out
}
