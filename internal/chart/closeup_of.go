package chart

import (
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// CloseUpOf computes a body's close-up from its view; false for what has no
// disc.
func CloseUpOf(n *sky.Night, t catalog.Target, at time.Time, v Eyepiece) (CloseUp, bool) {
	if v.Subject.Disc == nil || t.Body == sky.Sun {
		return CloseUp{}, false
	}
	if v.Subject.Disc.Globe != nil {
		v.Subject.Disc.withFeatures(n.MoonFeatures(at))
	}
	return CloseUp{View: v}, true
}

// MoonOverPlace draws the Moon as the naked eye sees it from the night's
// place, upright as it stands in the sky.
func MoonOverPlace(n *sky.Night, t catalog.Target, at time.Time, size float64) SVG {
	p := n.At(sky.Moon, at)
	var c canvas
	c.sheet("moon-tonight", "chart size", size, size, t.Name, "")
	d := disc{o: optics.NakedEye.Orientation(sky.ParallacticAngle(n.Place.Lat, p.Dec, p.HourAngle)), cx: size / 2, cy: size / 2}
	s := moonDisc(n.Moon(at))
	d.scale = (size/2 - 2) / (s.Diameter / 120)
	c.drawDisc(d, s, nil)
	return c.finish()
}
