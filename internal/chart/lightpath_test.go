package chart_test

import (
	"math"
	"testing"

	"duskboard/internal/chart"
	"duskboard/internal/kit"
)

// TestCassegrainRays follows the drawn rays: they bend so that the instrument
// has its own focal length. Two thin elements at a distance d of which the
// first has focal length f1 and the whole f come to a focus f (1 - d/f1) behind
// the second (Hecht, Optics, 4th ed., back focal length of two thin lenses);
// the cone that reaches the focus has the instrument's own focal ratio.
func TestCassegrainRays(t *testing.T) {
	for _, c := range []struct {
		name              string
		design            kit.Design
		aperture, f, tube float64
	}{
		{"200 mm f/10", kit.SchmidtCassegrain, 203, 2032, 430},
		{"127 mm f/11.8", kit.MaksutovCassegrain, 127, 1500, 350},
		{"180 mm f/12", kit.OtherCassegrain, 180, 2160, 560},
	} {
		es := drawn(t, chart.DrawLightPath(chart.LightPath{ID: "l", W: 480, H: 190, Design: c.design, Aperture: c.aperture, FocalLength: c.f, Tube: c.tube, Obstruction: 0.33}))
		rays := classed(es, "ray")
		if len(rays) != 2 {
			t.Fatalf("%s: %d rays", c.name, len(rays))
		}
		p := points(rays[0]) // light, main mirror, secondary, focus
		if len(p) != 4 {
			t.Fatalf("%s: a ray of %d corners", c.name, len(p))
		}
		axis := p[3][1]
		height := func(i int) float64 { return math.Abs(p[i][1] - axis) }
		scale := height(0) / (c.aperture / 2)
		apart, back := (p[1][0]-p[2][0])/scale, (p[3][0]-p[2][0])/scale
		first := apart * height(1) / (height(1) - height(2))
		if want := c.f * (1 - apart/first); math.Abs(back-want) > 0.02*want {
			t.Errorf("%s: the focus lies %.0f mm behind the secondary, want %.0f", c.name, back, want)
		}
		if ratio := back / (2 * height(2) / scale); math.Abs(ratio-c.f/c.aperture) > 0.03*c.f/c.aperture {
			t.Errorf("%s: the cone at the focus is f/%.1f, want f/%.1f", c.name, ratio, c.f/c.aperture)
		}
		if wall := classed(es, "tube"); math.Abs((wall[0].n("x2")-wall[0].n("x1"))/scale-c.tube) > 0.01*c.tube {
			t.Errorf("%s: the tube is %.0f mm long on paper, want %.0f", c.name, (wall[0].n("x2")-wall[0].n("x1"))/scale, c.tube)
		}
	}
}
