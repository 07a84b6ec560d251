package chart_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/chart"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// pixel is a pixel of a screen, 1/96 inch, in points.
const pixel = 0.75

// vec is the direction of a place, for a second way to compute a projection.
func vec(lon, lat float64) [3]float64 {
	l, b := lon*math.Pi/180, lat*math.Pi/180
	return [3]float64{math.Cos(b) * math.Cos(l), math.Cos(b) * math.Sin(l), math.Sin(b)}
}

func dotted(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// near reports how far the nearest star's dot is from a point.
func nearest(es []element, x, y float64) float64 {
	best := math.Inf(1)
	for _, e := range classed(es, "star") {
		best = min(best, math.Hypot(e.n("cx")-x, e.n("cy")-y))
	}
	return best
}

// TestStarsStandWhereTheCatalogueHasThem: every star of the Pleiades to
// magnitude 7 in an eyepiece, within a pixel of the tangent plane reckoned
// with vectors from the catalogue's J2000 places brought to date.
func TestStarsStandWhereTheCatalogueHasThem(t *testing.T) {
	n := nightAt(t, north, 2026, time.December, 18)
	at := n.From.Add(9 * time.Hour)
	m := target(t, "m45")
	p := n.At(catalog.ObjectOf(m), at)
	tr := trains()["Newtonian"].train
	v := chart.EyepieceOf(n, m, at, &tr)
	v.ID, v.W, v.H, v.Labels, v.Field = "v", 220, 220, labels(), 2
	v.Stars = nil
	rows := catalog.StarsNear(m.Star.RA, m.Star.Dec, 0.9, 7)
	for _, r := range rows {
		q := n.At(sky.Star{RA: r.RA, Dec: r.Dec}, at)
		v.Stars = append(v.Stars, chart.Star{Point: chart.Point{Lon: q.RA, Lat: q.Dec}, Mag: r.Mag})
	}
	if len(rows) < 8 {
		t.Fatalf("%d stars", len(rows))
	}
	es := drawn(t, chart.DrawEyepiece(v))
	rim := classed(es, "rim")[0]
	scale := rim.n("r") / (v.Field / 2)
	zenithward := sky.ParallacticAngle(north.Lat, p.Dec, p.HourAngle)
	o := vec(p.RA, p.Dec)
	pole := vec(0, 90)
	k := dotted(o, pole)
	up := [3]float64{pole[0] - k*o[0], pole[1] - k*o[1], pole[2] - k*o[2]} // to the north
	l := math.Sqrt(dotted(up, up))
	for i := range up {
		up[i] /= l
	}
	east := [3]float64{up[1]*o[2] - up[2]*o[1], up[2]*o[0] - up[0]*o[2], up[0]*o[1] - up[1]*o[0]}
	for _, r := range rows {
		q := n.At(sky.Star{RA: r.RA, Dec: r.Dec}, at)
		s := vec(q.RA, q.Dec)
		d := dotted(s, o)
		e, nn := dotted(s, east)/d*180/math.Pi, dotted(s, up)/d*180/math.Pi
		// A Newtonian turns by 180 degrees: north lies q + 180 clockwise from
		// the top, east a quarter turn anticlockwise from it.
		sin, cos := math.Sincos((zenithward + 180) * math.Pi / 180)
		x := 110 + scale*(nn*sin-e*cos)
		y := 110 - scale*(nn*cos+e*sin)
		if away := nearest(es, x, y); away > pixel {
			t.Errorf("star %d is drawn %.2f pt from its place", r.HIP, away)
		}
	}
}

// TestNakedEyeStars: bright stars on the naked-eye chart stand within a pixel
// of the stereographic projection of the altitude and azimuth that package
// sky gives for each of them, one by one.
func TestNakedEyeStars(t *testing.T) {
	for _, site := range []sky.Place{north, south} {
		n := nightAt(t, site, 2027, time.January, 15)
		at := n.From.Add(10 * time.Hour)
		m := target(t, "m42")
		e := chart.EyeOf(n, m, at, nil, catalog.Default().ConstellationName)
		e.ID, e.W, e.H, e.Labels = "e", 260, 200, labels()
		es := drawn(t, chart.DrawEye(e))
		p := n.At(catalog.ObjectOf(m), at)
		top := min(max(p.AltRefracted+14, 42), 104)
		mid := vec(p.Az, top/2)
		scale := (e.H - 16) / 2 / (2 * math.Tan(top/4*math.Pi/180))
		checked := 0
		for _, r := range catalog.Stars()[:40] {
			q := n.At(sky.Star{RA: r.RA, Dec: r.Dec}, at)
			if q.AltRefracted < 2 || sky.Separation(q.Az, q.AltRefracted, p.Az, top/2) > 20 {
				continue
			}
			sep := math.Acos(dotted(vec(q.Az, q.AltRefracted), mid))
			bearing := sky.PositionAngle(p.Az, top/2, q.Az, q.AltRefracted) * math.Pi / 180
			rho := scale * 2 * math.Tan(sep/2)
			x, y := e.W/2+rho*math.Sin(bearing), (e.H-16)/2-rho*math.Cos(bearing)
			if away := nearest(es, x, y); away > pixel {
				t.Errorf("latitude %.0f: %s is drawn %.2f pt from its place", site.Lat, r.Name, away)
			}
			checked++
		}
		if checked < 4 {
			t.Errorf("latitude %.0f: only %d stars checked", site.Lat, checked)
		}
	}
}

// TestLabelsKeepApart goes through the showpieces in both hemispheres and all
// seasons, on charts of every size that a card has: no two texts of a chart
// overlap, and none leaves the paper.
func TestLabelsKeepApart(t *testing.T) {
	charts := 0
	for _, site := range []sky.Place{north, south} {
		for _, month := range []time.Month{time.March, time.June, time.September, time.December} {
			n := nightAt(t, site, 2026, month, 18)
			for _, size := range []struct{ eye, round, moon, h float64 }{{130, 114, 170, 140}, {91, 88, 160, 88}, {104, 100, 214, 100}, {150, 160, 250, 190}} {
				charts += labelsApart(t, n, n.From.Add(9*time.Hour), size.eye, size.round, size.moon, size.h)
			}
		}
	}
	if charts < 800 {
		t.Errorf("only %d charts", charts)
	}
}

// labelsApart looks at the charts of every showpiece that is up and returns
// how many there were.
func labelsApart(t *testing.T, n *sky.Night, at time.Time, eye, round, moon, h float64) (charts int) {
	t.Helper()
	tr := trains()["Cassegrain with mirror diagonal"].train
	for _, m := range catalog.Default().All() {
		if !m.Showpiece && !m.Moves || m.Moves && m.Body == sky.Sun || n.At(catalog.ObjectOf(m), at).AltRefracted < 12 {
			continue
		}
		e := chart.EyeOf(n, m, at, sky.Horizon{{Az: 0, Alt: 6}, {Az: 180, Alt: 14}}, catalog.Default().ConstellationName)
		e.ID, e.W, e.H, e.Labels = "e", eye, h, labels()
		f := chart.FinderOf(n, m, at, optics.RefractorStraight, 6, 8)
		f.ID, f.W, f.H, f.Labels = "f", round, round, labels()
		v := chart.EyepieceOf(n, m, at, &tr)
		v.ID, v.W, v.H, v.Labels = "v", round, round, labels()
		all := map[string]chart.SVG{"naked eye": chart.DrawEye(e), "finder": chart.DrawFinder(f), "eyepiece": chart.DrawEyepiece(v)}
		if u, ok := chart.CloseUpOf(n, m, at, v); ok {
			u.ID, u.W, u.H, u.Labels = "u", moon, h, labels()
			all["close-up"] = chart.DrawCloseUp(u)
		}
		for kind, svg := range all {
			charts++
			apart(t, fmt.Sprintf("%s, %s, %.0f pt high", m.Name, kind, h), drawn(t, svg))
		}
	}
	return charts
}

func apart(t *testing.T, what string, es []element) {
	t.Helper()
	type placed struct {
		text           string
		x1, y1, x2, y2 float64
	}
	var all []placed
	w, h := es[0].n("width"), es[0].n("height")
	for _, e := range es {
		if e.name != "text" {
			continue
		}
		size := e.n("font-size")
		if size < 10 {
			t.Errorf("%s: %q is set in %v pt, the least is 10", what, e.text, size)
		}
		f := chart.Text
		if e.is("strong") {
			f = chart.Bold
		}
		wide := chart.Width(e.text, size, f)
		x := e.n("x")
		switch e.attrs["text-anchor"] {
		case "middle":
			x -= wide / 2
		case "end":
			x -= wide
		}
		p := placed{e.text, x, e.n("y") - 0.62*size, x + wide, e.n("y")}
		if p.x1 < -0.5 || p.x2 > w+0.5 || p.y1 < -0.5 || p.y2 > h+0.5 {
			t.Errorf("%s: %q leaves the paper: %.0f,%.0f to %.0f,%.0f of %.0f x %.0f", what, p.text, p.x1, p.y1, p.x2, p.y2, w, h)
		}
		for _, o := range all {
			if p.x1 < o.x2 && o.x1 < p.x2 && p.y1 < o.y2 && o.y1 < p.y2 {
				t.Errorf("%s: %q lies on %q", what, p.text, o.text)
			}
		}
		all = append(all, p)
	}
}
