package vision_test

import (
	"math"
	"testing"

	"duskboard/internal/optics"
)

// near fails unless got lies within the tolerance of want.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s = %.5g, want %.5g within %g", what, got, want, within)
	}
}

// scope is a bare telescope of Crumey's kind: transmission 1/1.33, no
// obstruction, one eye, a field wide enough for anything.
func scope(aperture, power float64) optics.Optics {
	return optics.Optics{Aperture: aperture, Magnification: power, ExitPupil: aperture / power, Transmission: 1 / 1.33, TrueField: 10}
}
