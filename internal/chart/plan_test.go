package chart_test

import (
	"math"
	"strconv"
	"testing"

	"duskboard/internal/chart"
	"duskboard/internal/ground"
)

// TestPlanIsToScale guards the drawing of the field against plain arithmetic:
// north up, east right, one scale for both, circles and scale bar in metres.
func TestPlanIsToScale(t *testing.T) {
	g := ground.Ground{Outline: []ground.Point{{X: -10, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 30}, {X: -10, Y: 30}}}
	l := ground.NewLayout(g, []ground.Stand{{ID: 1, Name: "West", Radius: 0.7}, {ID: 2, Name: "North-east", Radius: 1.1, Step: ground.Ladder}})
	places := []ground.Place{{InstrumentID: 1, Number: 1, At: ground.Point{X: 0, Y: 5}, Queue: 90}, {InstrumentID: 2, Number: 2, At: ground.Point{X: 30, Y: 20}, Queue: 0}}
	for _, paper := range []bool{false, true} {
		d := chart.Plan{ID: "p", Title: "t", Words: "w", W: 700, MaxH: 500, Type: 12, Paper: paper, Layout: l, Places: places, Tags: chart.EnglishPlan, Faulty: map[int64]bool{2: true}}
		var scale, left, top, bar float64
		var legs []element
		names, wrong := 0, 0
		for _, e := range drawn(t, chart.DrawPlan(d)) {
			switch {
			case e.name == "svg":
				scale, _ = strconv.ParseFloat(e.attrs["data-scale"], 64)
				left, _ = strconv.ParseFloat(e.attrs["data-left"], 64)
				top, _ = strconv.ParseFloat(e.attrs["data-top"], 64)
			case e.is("legs"):
				legs = append(legs, e)
			case e.is("scale") && bar == 0:
				bar = e.n("x2") - e.n("x1")
			case e.is("wrong"):
				wrong++
			case e.text == "West" || e.text == "North-east":
				names++
			}
		}
		if len(legs) != 2 || names != 2 || wrong != 1 {
			t.Fatalf("paper %v: %d circles, %d names, %d marked as wrong; want 2, 2 and 1", paper, len(legs), names, wrong)
		}
		for i, p := range places {
			x, y := (p.At.X-left)*scale, (top-p.At.Y)*scale
			if math.Abs(legs[i].n("cx")-x) > 0.02 || math.Abs(legs[i].n("cy")-y) > 0.02 {
				t.Errorf("place %d is drawn at %.2f %.2f, want %.2f %.2f", p.Number, legs[i].n("cx"), legs[i].n("cy"), x, y)
			}
		}
		if d := math.Hypot(legs[1].n("cx")-legs[0].n("cx"), legs[1].n("cy")-legs[0].n("cy")); math.Abs(d/scale-math.Hypot(30, 15)) > 0.01 {
			t.Errorf("the two are drawn %.2f m apart, want %.2f", d/scale, math.Hypot(30, 15))
		}
		if r := legs[1].n("r"); math.Abs(r/scale-1.1) > 0.01 {
			t.Errorf("a circle of 1.1 m is drawn with %.2f m", r/scale)
		}
		if m := bar / scale; math.Abs(m-10) > 0.01 {
			t.Errorf("the bar marked 10 m is %.2f m long", m)
		}
		if !(legs[1].n("cy") < legs[0].n("cy") && legs[1].n("cx") > legs[0].n("cx")) {
			t.Error("north is not up or east is not right")
		}
	}
}
