package sky

import (
	"math"
	"sort"
	"time"
)

// FeatureView is a lunar feature at an instant.
type FeatureView struct {
	LunarFeature
	SunAltitude float64 // of the Sun's middle over the feature, degrees; negative: in the night
	Morning     bool    // the Sun is rising there (waxing side) rather than setting
	Relief      bool    // the Sun stands 1 to 10 degrees high: long shadows, the best time to look
	FromEdge    float64 // degrees from the edge of the disc that faces the place, along the surface; negative: behind it
}

// nearTerminator is how far from the terminator a feature counts, degrees.
const nearTerminator = 15

// MoonFeatures returns the notable features within 15 degrees of the terminator
// at t, those with the best relief first, then by name. Features behind the
// edge of the disc are left out.
func (n *Night) MoonFeatures(t time.Time) []FeatureView {
	view := n.Moon(t)
	var out []FeatureView
	for _, f := range lunarFeatures {
		v := view.Feature(f)
		if math.Abs(v.SunAltitude) <= nearTerminator && v.FromEdge > 0 {
			out = append(out, v)
		}
	}
	rank := func(v FeatureView) int {
		switch {
		case v.Relief:
			return 0
		case v.SunAltitude > 0:
			return 1
		}
		return 2
	}
	sort.SliceStable(out, func(i, j int) bool {
		if a, b := rank(out[i]), rank(out[j]); a != b {
			return a < b
		}
		return out[i].Name < out[j].Name
	})
	return out
}

// Feature returns a feature under the Sun and libration of the view.
func (m MoonView) Feature(f LunarFeature) FeatureView {
	v := FeatureView{LunarFeature: f, SunAltitude: m.SunAltitude(f.Lat, f.Lon)}
	// Where the Sun stands to the east of the meridian it is morning.
	v.Morning = math.Sin((90-m.Colongitude-f.Lon)*radian) > 0
	v.Relief = v.SunAltitude >= 1 && v.SunAltitude <= 10
	v.FromEdge = 90 - Separation(f.Lon, f.Lat, m.LibrationLon, m.LibrationLat)
	return v
}

// SunAltitude returns the altitude in degrees of the Sun's middle at a place on
// the Moon (degrees, north and east positive): Meeus, Astronomical Algorithms,
// 2nd ed., chapter 53, page 376. The terrain decides when a peak catches light.
func (m MoonView) SunAltitude(lat, lon float64) float64 {
	sb, cb := math.Sincos(m.SubsolarLat * radian)
	st, ct := math.Sincos(lat * radian)
	return math.Asin(sb*st+cb*ct*math.Sin((m.Colongitude+lon)*radian)) * degree
}
