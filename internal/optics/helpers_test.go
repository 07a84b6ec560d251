package optics_test

import (
	"math"
	"testing"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s = %.5g, want %.5g within %g", what, got, want, within)
	}
}

func tube(d kit.Design, aperture, focal, eps float64, b kit.Barrel) kit.Instrument {
	return kit.Instrument{Base: kit.Base{ID: 1, Name: "tube", Count: 1}, Design: d, Aperture: aperture, FocalLength: focal, Obstruction: eps, Focuser: b}
}

func eyepiece(focal, field, stop float64, b kit.Barrel, c kit.EyepieceClass) kit.Eyepiece {
	return kit.Eyepiece{Base: kit.Base{ID: int64(focal*10) + 100, Count: 1}, FocalLength: focal, ApparentField: field, FieldStop: stop, Barrel: b, Class: c, EyeRelief: 15}
}

// view is the static view of an instrument with one eyepiece.
func view(t *testing.T, inst kit.Instrument, e kit.Eyepiece) optics.Optics {
	t.Helper()
	all := optics.AllTrains(kit.Kit{Eyepieces: []kit.Eyepiece{e}}, inst)
	if len(all) != 1 {
		t.Fatalf("%d trains, want 1", len(all))
	}
	return all[0].Static()
}
