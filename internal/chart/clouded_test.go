package chart_test

import (
	"math"
	"testing"

	"duskboard/internal/chart"
)

// TestRoundSky guards where directions lie: north above, east on the right, the
// zenith in the middle, altitude 45 half way out.
func TestRoundSky(t *testing.T) {
	svg := chart.RoundSky(chart.SkyDrawing{ID: "s", Title: "Sky", Cells: []chart.SkyCell{
		{Key: "0-0", AzFrom: 337.5, AzTo: 382.5, AltTo: 30, Words: "north, low"},
		{Key: "2-2", AzFrom: 67.5, AzTo: 112.5, AltFrom: 60, AltTo: 90, Covered: true, Words: "east, high"},
	}, Dots: []chart.SkyDot{{Name: "A", Az: 0, Alt: 0}, {Name: "B", Az: 90, Alt: 45}, {Name: "C", Az: 123, Alt: 90}, {Name: "down", Az: 10, Alt: -3}}})
	es := drawn(t, svg)
	dots := classed(es, "sky-dot")
	if len(dots) != 3 {
		t.Fatalf("%d dots; what is down is not drawn", len(dots))
	}
	mid := dots[2]
	if math.Abs(dots[0].n("cx")-mid.n("cx")) > 0.1 || dots[0].n("cy") >= mid.n("cy") {
		t.Errorf("north is at %v, %v", dots[0].n("cx"), dots[0].n("cy"))
	}
	if r, all := dots[1].n("cx")-mid.n("cx"), mid.n("cy")-dots[0].n("cy"); math.Abs(r-all/2) > 0.1 || math.Abs(dots[1].n("cy")-mid.n("cy")) > 0.1 {
		t.Errorf("east at 45 degrees is %v out of %v", r, all)
	}
	cells := classed(es, "cloud-cell")
	if len(cells) != 2 || cells[0].is("covered") || !cells[1].is("covered") || cells[1].attrs["data-cell"] != "2-2" {
		t.Errorf("cells %+v", cells)
	}
	for _, p := range points(classed(es, "cloud-area")[0]) {
		if math.Hypot(p[0]-mid.n("cx"), p[1]-mid.n("cy")) < 119 || p[1] > mid.n("cy") {
			t.Errorf("a corner of the north's lowest cell at %v", p)
		}
	}
}
