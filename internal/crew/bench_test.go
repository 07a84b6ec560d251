package crew_test

import (
	"context"
	"testing"

	"duskboard/internal/crew"
)

// BenchmarkPropose40x14x6 is the promise of the design: 40 volunteers, 14
// instruments and at least 6 roles in under a second.
func BenchmarkPropose40x14x6(b *testing.B) {
	s := crowd(3, 40, 14, 12, 300)
	short := 0.0
	for b.Loop() {
		p, err := crew.Propose(context.Background(), s, nil)
		if err != nil {
			b.Fatal(err)
		}
		short = p.Short()
	}
	b.ReportMetric(100*short, "%gap")
}
