package assign_test

import (
	"context"
	"testing"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

// The sizes that the design promises: 12 x 150 x 18 in 200 ms and 30 x 200 x
// 24 in 1.5 s on one core, each with a gap under one percent.
func BenchmarkLineUp12x150x18(b *testing.B) {
	bench(b, assigntest.LineUp(1, assigntest.Shape{Agents: 12, Topics: 150, Blocks: 18, PerTopic: 3, Shared: 6, Pins: 3, MaxRuns: 4}))
}

func BenchmarkLineUp30x200x24(b *testing.B) {
	bench(b, assigntest.LineUp(1, assigntest.Shape{Agents: 30, Topics: 200, Blocks: 24, PerTopic: 3, Shared: 10, Pins: 5, MaxRuns: 4}))
}

// 40 people for 14 instruments and 6 roles: under a second.
func BenchmarkRoster40x20x12(b *testing.B) {
	bench(b, assigntest.Roster(1, 40, 20, 12, 5))
}

func bench(b *testing.B, p assign.Problem) {
	gap, work := 0.0, 0.0
	for b.Loop() {
		plan, err := assign.Solve(context.Background(), p, assign.Options{})
		if err != nil {
			b.Fatal(err)
		}
		gap, work = plan.Gap, float64(plan.Work)
	}
	b.ReportMetric(100*gap, "%gap")
	b.ReportMetric(work/1e6, "Mcells")
}
