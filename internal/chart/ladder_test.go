package chart_test

import (
	"math"
	"testing"

	"duskboard/internal/chart"
)

// TestLadders guards that equal ratios of magnification are equal lengths, that
// the frame of a gap lies between its rungs, and that labels never lie on each
// other.
func TestLadders(t *testing.T) {
	svg := chart.Ladders(chart.LadderDrawing{ID: "l", Rows: []chart.LadderRow{
		{Title: "Tube", Rungs: []chart.Rung{{Power: 20, Pupil: 10}, {Power: 40, Pupil: 5}, {Power: 80, Pupil: 2.5}, {Power: 81, Pupil: 2.47}}, Low: 44, High: 200, Missing: []chart.Missing{{From: 81, To: 200, Word: "about 6 mm"}}},
		{Title: "Nothing fits"},
	}})
	es := drawn(t, svg)
	steps := classed(es, "step")
	if len(steps) != 4 {
		t.Fatalf("%d rungs", len(steps))
	}
	a, b := steps[1].n("x1")-steps[0].n("x1"), steps[2].n("x1")-steps[1].n("x1")
	if math.Abs(a-b) > 0.02 || a <= 0 {
		t.Errorf("20 to 40 is %v long, 40 to 80 is %v", a, b)
	}
	gap := classed(es, "missing")
	if len(gap) != 1 || gap[0].n("x") < steps[3].n("x1") {
		t.Errorf("the gap begins before the last rung: %+v", gap)
	}
	for _, class := range []string{"bar-title", "hour"} {
		words := map[string]bool{}
		for _, e := range classed(es, class) {
			words[e.text] = true
		}
		if words["81×"] || words["2.5 mm"] && words["2.47 mm"] {
			t.Errorf("%s: two labels at one place: %v", class, words)
		}
	}
	drawn(t, chart.Ladders(chart.LadderDrawing{ID: "none"}))
}
