package chart_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/chart"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// TestStarLiesWhereTheOpticsPutsIt goes from first principles: where a star
// stands beside the target for the naked eye is taken from the altitudes and
// azimuths of the two (azimuth grows to the right of somebody who faces it);
// an odd number of reflections exchanges left and right, a tube without
// erecting prism turns the picture on its head. No parallactic angle is used.
// For all eight trains, north and south, east and west of the meridian, for
// stars to the east and to the north of the target.
func TestStarLiesWhereTheOpticsPutsIt(t *testing.T) {
	const beside = 0.15 // degrees
	cases := 0
	for siteName, site := range map[string]sky.Place{"north": north, "south": south} {
		n := nightAt(t, site, 2027, time.March, 13)
		for _, star := range []sky.Star{{RA: 84, Dec: -5}, {RA: 150, Dec: 20}, {RA: 190, Dec: -40}, {RA: 130, Dec: 62}} {
			for h := 6; h <= 18; h += 2 {
				at := n.From.Add(time.Duration(h) * time.Hour)
				p := n.At(star, at)
				if p.Alt < 10 || p.Alt > 80 {
					continue
				}
				for side, near := range map[string]sky.Star{
					"east":  {RA: star.RA + beside/math.Cos(star.Dec*math.Pi/180), Dec: star.Dec},
					"north": {RA: star.RA, Dec: star.Dec + beside},
				} {
					q := n.At(near, at)
					right := math.Remainder(q.Az-p.Az, 360) * math.Cos(p.Alt*math.Pi/180)
					up := q.Alt - p.Alt
					for name, tr := range trains() {
						x, y := right, up
						if tr.mirrored {
							x = -x
						}
						if tr.over {
							x, y = -x, -y
						}
						v := chart.EyepieceOf(n, catalog.Target{ID: "x", Kind: catalog.KindOpen, MajorAxis: 1, Star: star}, at, &tr.train)
						v.ID, v.W, v.H, v.Field, v.Labels = "v", 200, 200, 1, labels()
						v.Stars = []chart.Star{{Point: chart.Point{Lon: q.RA, Lat: q.Dec}, Mag: 3}}
						stars := classed(drawn(t, chart.DrawEyepiece(v)), "star")
						if len(stars) != 1 {
							t.Fatalf("%s: %d stars drawn, want 1", name, len(stars))
						}
						got, want := angle(stars[0].n("cx")-100, stars[0].n("cy")-100), angle(x, -y)
						// A field of 0.15 degrees leaves the small circle of the
						// altitude by less than that; numbers are printed to 0.01 pt.
						if turned(got, want) > 0.6 {
							t.Errorf("%s, %s, hour angle %.0f, %s: a star %s of the target lies at %.1f degrees, want %.1f", siteName, name, p.HourAngle, side, side, got, want)
						}
						cases++
					}
				}
			}
		}
	}
	if cases < 400 {
		t.Errorf("only %d cases", cases)
	}
}

// TestRimLettersAndDrift: a star drifts to the west, opposite to east; north
// stands a quarter turn from east.
func TestRimLettersAndDrift(t *testing.T) {
	n := nightAt(t, south, 2027, time.March, 13)
	at := n.From.Add(9 * time.Hour)
	for name, tr := range trains() {
		v := chart.EyepieceOf(n, target(t, "m42"), at, &tr.train)
		v.ID, v.W, v.H, v.Labels = "v", 200, 200, labels()
		es := drawn(t, chart.DrawEyepiece(v))
		var letters = map[string]float64{}
		for _, e := range classed(es, "strong") {
			letters[e.text] = angle(e.n("x")-100, e.n("y")-3.5-100)
		}
		arrow := points(classed(es, "drift")[0])
		drift := angle(arrow[1][0]-100, arrow[1][1]-100)
		if turned(drift, letters["E"]+180) > 1 {
			t.Errorf("%s: the arrow points to %.0f, east is at %.0f", name, drift, letters["E"])
		}
		want := letters["E"] + 90 // anticlockwise from north to east, as on the sky
		if tr.mirrored {
			want = letters["E"] - 90
		}
		if turned(letters["N"], want) > 1 {
			t.Errorf("%s: north at %.0f, east at %.0f, mirrored %v", name, letters["N"], letters["E"], tr.mirrored)
		}
	}
}

// TestFinderTurnsLikeTheFinder: in a straight finder the hop is the naked-eye
// way turned by 180 degrees, in a right-angle one mirrored.
func TestFinderTurnsLikeTheFinder(t *testing.T) {
	n := nightAt(t, north, 2026, time.December, 18)
	at := n.From.Add(12 * time.Hour) // low enough for altitude and azimuth to be a plane
	m := target(t, "m31")
	p := n.At(catalog.ObjectOf(m), at)
	for _, c := range []struct {
		path           optics.Path
		mirrored, over bool
	}{{optics.NakedEye, false, false}, {optics.RefractorStraight, false, true}, {optics.PlainDiagonal, true, false}, {optics.RoofDiagonal, false, false}} {
		f := chart.FinderOf(n, m, at, c.path, 6, 5)
		if f.Start == nil {
			t.Fatal("no star to start from")
		}
		f.ID, f.W, f.H, f.Labels = "f", 200, 200, labels()
		hop := points(classed(drawn(t, chart.DrawFinder(f)), "hop")[0])
		got := angle(hop[1][0]-hop[0][0], hop[1][1]-hop[0][1])
		mirach := n.At(sky.Star{RA: 17.43301, Dec: 35.62056}, at) // beta Andromedae, J2000
		right, up := math.Remainder(p.Az-mirach.Az, 360)*math.Cos((p.Alt+mirach.Alt)/2*math.Pi/180), p.Alt-mirach.Alt
		if c.mirrored {
			right = -right
		}
		if c.over {
			right, up = -right, -up
		}
		// Over eight degrees the straight line on the paper and the difference
		// in altitude and azimuth part by a few degrees.
		if f.Start.Name != "Mirach" || turned(got, angle(right, -up)) > 4 {
			t.Errorf("%s: from %s the hop goes to %.0f, want %.0f from Mirach", c.path, f.Start.Name, got, angle(right, -up))
		}
	}
}
