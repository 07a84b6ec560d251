package optics_test

import (
	"strings"
	"testing"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// wellFormed guards what a visitor reads: one short sentence, finished, with
// no number that failed to print.
func wellFormed(t *testing.T, s string) {
	t.Helper()
	if s == "" || len(s) > 140 || !strings.HasSuffix(s, ".") || strings.Contains(s, "%!") || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
		t.Errorf("sentence %q", s)
	}
}

// Every sentence over a wide span of trains reads well.
func TestSentences(t *testing.T) {
	k := clubKit()
	k.Diagonals = []kit.Diagonal{{Base: kit.Base{ID: 1}, Kind: kit.Amici45, Barrel: kit.Barrel125}}
	for _, inst := range clubTubes() {
		for _, tr := range optics.AllTrains(k, inst) {
			o := tr.Static()
			for _, pupil := range []float64{2.5, 4, 7} {
				for _, spare := range []bool{true, false} {
					l := optics.LowPowerLimits(o, tr.Instrument, pupil, spare)
					wellFormed(t, l.Light.Sentence)
					wellFormed(t, l.Shadow.Sentence)
					wellFormed(t, l.FieldStop.Sentence)
				}
			}
			for _, seeing := range []float64{0, 1, 4} {
				h := optics.HighPowerLimits(o, seeing)
				wellFormed(t, h.Aperture.Sentence)
				wellFormed(t, h.Seeing.Sentence)
				wellFormed(t, h.ExitPupil.Sentence)
			}
			_, edge := o.Edge()
			wellFormed(t, edge)
			_, relief := o.Relief()
			wellFormed(t, relief)
			wellFormed(t, tr.Orientation(30).Sentence)
			if tr.String() == "" {
				t.Error("a train without a name")
			}
		}
		for alt := -10.0; alt <= 90; alt += 5 {
			if v, why := optics.AltitudeVerdict(inst.Fill(), alt); v != optics.OK {
				wellFormed(t, why)
			}
			_, why := optics.Wheelchair(optics.EyepieceHeights(inst.Fill(), alt))
			wellFormed(t, why)
		}
	}
}
