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

// TestLightPathWordsApart: no two words of a drawing lie over each other, nor
// beyond its edges, with words as long as German ones.
func TestLightPathWordsApart(t *testing.T) {
	german := map[string]string{"light": "Licht", "main mirror": "Hauptspiegel", "secondary": "Fangspiegel", "front lens": "Frontlinse", "corrector": "Korrekturplatte", "eyepiece": "Okular", "prisms": "Prismen"}
	for _, words := range []map[string]string{nil, german} {
		for _, d := range kit.Designs {
			for _, c := range []struct{ aperture, f, tube float64 }{{203, 2032, 430}, {127, 1500, 350}, {254, 1200, 1150}, {80, 480, 450}, {400, 1800, 1700}} {
				folded := d == kit.SchmidtCassegrain || d == kit.MaksutovCassegrain || d == kit.OtherCassegrain
				if folded != (c.tube < c.f/2) {
					continue // no instrument of this design has such a tube
				}
				es := drawn(t, chart.DrawLightPath(chart.LightPath{ID: "l", W: 500, H: 112, Design: d, Aperture: c.aperture, FocalLength: c.f, Tube: c.tube, Obstruction: 0.3, Words: words}))
				type box struct {
					word       string
					x1, x2, y1 float64
				}
				var boxes []box
				for _, e := range classed(es, "text") {
					w := chart.Width(e.text, 10, chart.Text)
					b := box{e.text, e.n("x"), e.n("x") + w, e.n("y")}
					switch e.attrs["text-anchor"] {
					case "middle":
						b.x1, b.x2 = b.x1-w/2, b.x2-w/2
					case "end":
						b.x1, b.x2 = b.x1-w, b.x2-w
					}
					if b.x1 < 0 || b.x2 > 500 || b.y1 > 112 || b.y1 < 8 {
						t.Errorf("%s, %v: %q stands from %.0f to %.0f at %.0f", d, c, b.word, b.x1, b.x2, b.y1)
					}
					for _, o := range boxes {
						if b.x1 < o.x2 && o.x1 < b.x2 && math.Abs(b.y1-o.y1) < 9 {
							t.Errorf("%s, %v: %q lies over %q", d, c, b.word, o.word)
						}
					}
					boxes = append(boxes, b)
				}
				if len(boxes) < 3 {
					t.Fatalf("%s: %d words", d, len(boxes))
				}
			}
		}
	}
}
