package chart

import (
	"math"

	"duskboard/internal/sky"
)

// Globe is the Moon's face at an instant: which point of it is in the middle
// of the disc and over which the Sun stands; degrees, east positive on the
// Moon (towards the Sea of Crises).
type Globe struct {
	Lon, Lat       float64 // of the middle of the disc: libration
	SunLon, SunLat float64
	Seas           []Spot
	Features       []Spot // those worth naming, best first
}

// Spot is a place on the Moon.
type Spot struct {
	Name     string
	Lon, Lat float64 // degrees
	Size     float64 // km
	Ring     bool    // drawn as a ring: a crater, not a range or a wall
}

// moonRadius in km (IAU 2015).
const moonRadius = 1737.4

// moonDisc is the Moon as a disc. The phase is that of the place, so that the
// terminator runs where the features' own Sun rises.
func moonDisc(v sky.MoonView) *Disc {
	g := &Globe{Lon: v.LibrationLon, Lat: v.LibrationLat, SunLon: 90 - v.Colongitude, SunLat: v.SubsolarLat}
	x, y, z := g.turn(g.SunLon, g.SunLat)
	return &Disc{
		Diameter: v.Diameter, Flat: 1, Axis: v.AxisAngle, Globe: g,
		PhaseAngle: math.Acos(min(max(z, -1), 1)) / degree,
		// On the sky the Moon's east is the celestial west: position angles
		// grow the other way round.
		BrightLimb: math.Mod(v.AxisAngle-math.Atan2(x, y)/degree+720, 360),
	}
}

// turn returns a place's coordinates in radii: x to the Moon's east, y to its
// north as seen, z towards the eye.
func (g *Globe) turn(lon, lat float64) (x, y, z float64) {
	sb, cb := math.Sincos(lat * degree)
	s0, c0 := math.Sincos(g.Lat * degree)
	sl, cl := math.Sincos((lon - g.Lon) * degree)
	return cb * sl, sb*c0 - cb*s0*cl, sb*s0 + cb*c0*cl
}

// mostFeatures is how many names a drawing of the Moon can bear.
const mostFeatures = 8

// withFeatures adds seas and the features near the terminator that stand in
// the light and well inside the disc, those with long shadows first.
func (d *Disc) withFeatures(views []sky.FeatureView) {
	for _, f := range sky.LunarFeatures() {
		if f.Kind == "sea" {
			d.Globe.Seas = append(d.Globe.Seas, Spot{Name: f.Name, Lon: f.Lon, Lat: f.Lat, Size: f.Size})
		}
	}
	for _, v := range views {
		if v.SunAltitude < 0.5 || v.FromEdge < 12 || len(d.Globe.Features) == mostFeatures {
			continue
		}
		d.Globe.Features = append(d.Globe.Features, Spot{Name: v.Name, Lon: v.Lon, Lat: v.Lat, Size: v.Size, Ring: v.Kind == "crater" || v.Kind == "bay" || v.Kind == "sea"})
	}
}
