package chart

import (
	"time"

	"duskboard/internal/catalog"
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
