package ground_test

import (
	"math"
	"strings"
	"testing"

	"duskboard/internal/ground"
	"duskboard/internal/kit"
)

type pt = ground.Point

// meadow is 60 m east and 40 m north of its south-west corner: a gate in the
// south-east, a firm path along the south, a hedge in the north, tall poplars
// in the west.
func meadow() ground.Ground {
	return ground.Ground{
		Outline: []pt{{0, 0}, {60, 0}, {60, 40}, {0, 40}},
		Features: []ground.Feature{
			{Kind: ground.Gate, Name: "the gate", At: []pt{{59, 3}}},
			{Kind: ground.Path, Name: "the gravel path", At: []pt{{59, 3}, {12, 3}}, Width: 1.6, Wheels: true},
			{Kind: ground.Hedge, Name: "the north hedge", At: []pt{{0, 39.5}, {60, 39.5}}, Width: 0.8, Height: 2.2},
			{Kind: ground.Tree, Name: "the poplars", At: []pt{{4, 22}}, Radius: 3, Height: 18},
			{Kind: ground.Power, Name: "the boathouse socket", At: []pt{{45, 38}}},
		},
	}
}

// stand is a small instrument without needs.
func stand(id int64, name string) ground.Stand {
	return ground.Stand{ID: id, Name: name, Radius: 0.6, Eye: 1.2, People: 5}
}

func check(t *testing.T, g ground.Ground, stands []ground.Stand, places []ground.Place) []ground.Fault {
	t.Helper()
	if f := g.Check(); len(f) > 0 {
		t.Fatalf("the test's own ground is wrong: %v", f)
	}
	return ground.NewLayout(g, stands).Check(places)
}

// TestHeightOfAnObstacleByHand guards the angle that an obstacle hides against
// trigonometry done by hand: a tree of 10 m whose near edge is 18 m away, seen
// from 1.5 m, stands at atan(8.5/18) = 25.28 degrees.
func TestHeightOfAnObstacleByHand(t *testing.T) {
	tree := ground.Feature{Kind: ground.Tree, At: []pt{{0, 20}}, Radius: 2, Height: 10}
	wall := ground.Feature{Kind: ground.Hedge, At: []pt{{-50, 10}, {50, 10}}, Width: 1, Height: 4}
	house := ground.Feature{Kind: ground.Building, At: []pt{{10, -5}, {20, -5}, {20, 5}, {10, 5}}, Height: 7}
	for _, c := range []struct {
		name    string
		f       ground.Feature
		eye, az float64
		want    float64
	}{
		{"tree ahead", tree, 1.5, 0, 25.28},
		{"tree past its edge: asin(2/20) is 5.74 degrees", tree, 1.5, 5.8, 0},
		{"tree just within its edge: 19.90 m along, 0.11 m of crown before it, atan(8.5/19.79)", tree, 1.5, 5.73, 23.25},
		{"tree behind", tree, 1.5, 180, 0},
		{"lower than the eye", tree, 10.5, 0, 0},
		{"wall ahead: its near face is 9.5 m away, atan(2.5/9.5)", wall, 1.5, 0, 14.74},
		{"wall at 45 degrees: 14.14 - 0.5 m, atan(2.5/13.64)", wall, 1.5, 45, 10.39},
		{"house in the east: atan(5.5/10)", house, 1.5, 90, 28.81},
		{"house missed: its corner stands at 63.4", house, 1.5, 60, 0},
		{"house in the corner's direction 65: wall at 10/sin 65 = 11.03 m, atan(5.5/11.03)", house, 1.5, 65, 26.50},
	} {
		if got := c.f.Over(pt{}, c.eye, c.az); math.Abs(got-c.want) > 0.02 {
			t.Errorf("%s: %.2f degrees, want %.2f", c.name, got, c.want)
		}
	}
	if got := house.Over(pt{15, 0}, 1.5, 10); got != 90 {
		t.Errorf("from within a house the sky is covered to %.0f degrees, want 90", got)
	}
}

// TestEachFaultInWords lays one thing wrong at a time and wants it told, with
// its numbers, and nothing told of a field on which all is well.
func TestEachFaultInWords(t *testing.T) {
	one := []ground.Stand{stand(1, "Sparrow")}
	two := []ground.Stand{stand(1, "Sparrow"), stand(2, "Churn")}
	with := func(s []ground.Stand, change func(*ground.Stand)) []ground.Stand { change(&s[0]); return s }
	at := func(id int64, x, y, queue float64) ground.Place {
		return ground.Place{InstrumentID: id, Number: int(id), At: pt{x, y}, Queue: queue}
	}
	add := func(f ...ground.Feature) ground.Ground {
		g := meadow()
		g.Features = append(g.Features, f...)
		return g
	}
	seated := func(s *ground.Stand) { s.Access = 1 }
	for _, c := range []struct {
		name   string
		g      ground.Ground
		stands []ground.Stand
		places []ground.Place
		key    ground.Key
		says   []string
	}{
		{"no place", meadow(), one, nil, ground.Unplaced, []string{"Sparrow has no place yet."}},
		{"outside", meadow(), one, []ground.Place{at(1, -3, 10, 90)}, ground.Outside, []string{"outside the usable ground"}},
		{"at the edge", meadow(), one, []ground.Place{at(1, 59, 20, 270)}, ground.Outside, []string{"0.4 m from the edge", "leave 1 m"}},
		{"in the tree", meadow(), one, []ground.Place{at(1, 5, 22, 90)}, ground.InWay, []string{"Sparrow stands on the poplars"}},
		{"at the gate", meadow(), one, []ground.Place{at(1, 57, 5.5, 270)}, ground.AtGate, []string{"the gate", "3 m free"}},
		{"on the path", meadow(), one, []ground.Place{at(1, 30, 4.2, 0)}, ground.OnPath, []string{"the gravel path", "trip"}},
		{"too close", meadow(), two, []ground.Place{at(1, 30, 20, 90), at(2, 28, 20, 270)}, ground.Overlap, []string{"2.0 m apart", "3.2 m"}},
		{"lines cross", meadow(), two, []ground.Place{at(1, 30, 20, 90), at(2, 33, 17, 0)}, ground.QueueCross, []string{"The lines at Sparrow and Churn cross"}},
		{"line over the path", meadow(), one, []ground.Place{at(1, 30, 7, 180)}, ground.QueuePath, []string{"blocks the gravel path"}},
		{"line into the hedge", meadow(), one, []ground.Place{at(1, 30, 36, 0)}, ground.QueueRoom, []string{"runs into the north hedge"}},
		{"line into the next", meadow(), two, []ground.Place{at(1, 30, 20, 90), at(2, 35, 20, 90)}, ground.QueueRoom, []string{"The line at Sparrow runs into Churn"}},
		{"ladder by the path", meadow(), with([]ground.Stand{stand(1, "Rain Barrel")}, func(s *ground.Stand) { s.Step = ground.Ladder }),
			[]ground.Place{at(1, 30, 6, 90)}, ground.LadderRoom, []string{"The ladder at Rain Barrel", "1.5 m free"}},
		{"cable over the path", add(ground.Feature{Kind: ground.Power, At: []pt{{30, 0.5}}}), with([]ground.Stand{stand(1, "Churn")}, func(s *ground.Stand) { s.Mains = true }),
			[]ground.Place{at(1, 30, 12, 0)}, ground.CablePath, []string{"The cable to Churn crosses the gravel path", "ramp"}},
		{"cable too long", meadow(), with([]ground.Stand{stand(1, "Churn")}, func(s *ground.Stand) { s.Mains = true }),
			[]ground.Place{at(1, 12, 10, 0)}, ground.CableLong, []string{"43 m", "25 m"}},
		{"cable under a line", add(ground.Feature{Kind: ground.Cable, At: []pt{{32, 10}, {32, 30}}}), one, []ground.Place{at(1, 29, 20, 90)}, ground.QueueCable, []string{"people trip"}},
		// Poplars of 18 m: from (24, 22) their near edge is 17 m away, atan(16.8/17) = 44.7.
		{"target behind the tree", meadow(), with([]ground.Stand{stand(1, "Long Tom")}, func(s *ground.Stand) {
			s.Sights = []ground.Sight{{Target: "Saturn", Looks: []ground.Look{{Az: 225, Alt: 40}, {Az: 270, Alt: 30}}}}
		}), []ground.Place{at(1, 24, 22, 90)}, ground.Hidden, []string{"the poplars hides Saturn", "50 %", "30°", "45°"}},
		{"far from the path", meadow(), with([]ground.Stand{stand(1, "Stovepipe")}, seated), []ground.Place{at(1, 30, 20, 0)}, ground.Access, []string{"16 m from the nearest firm path"}},
		{"no path for wheels", ground.Ground{Outline: meadow().Outline}, with([]ground.Stand{stand(1, "Stovepipe")}, seated), []ground.Place{at(1, 30, 20, 0)}, ground.Access, []string{"no path on the plan"}},
		{"nobody seated", meadow(), one, []ground.Place{at(1, 30, 20, 0)}, ground.NoAccess, []string{"seated"}},
		{"narrow path", add(ground.Feature{Kind: ground.Path, Name: "the trail", At: []pt{{20, 10}, {20, 20}}, Width: 0.8, Wheels: true}), one, []ground.Place{at(1, 40, 20, 0)}, ground.NarrowPath, []string{"The trail is 0.8 m wide", "403.5.1"}},
		{"lamp", add(ground.Feature{Kind: ground.Lamp, Name: "the car park lamp", At: []pt{{30, 30}}, Height: 4}), one, []ground.Place{at(1, 30, 20, 270)}, ground.Glare, []string{"10 m from the car park lamp", "25 m"}},
	} {
		faults := check(t, c.g, c.stands, c.places)
		found := false
		for _, f := range faults {
			if f.Key != c.key {
				continue
			}
			all := true
			for _, w := range c.says {
				all = all && strings.Contains(f.Words, w)
			}
			found = found || all
		}
		if !found {
			t.Errorf("%s: want a fault %q that says %q; told: %+v", c.name, c.key, c.says, faults)
		}
	}

	well := check(t, meadow(), with([]ground.Stand{stand(1, "Stovepipe"), stand(2, "Churn")}, seated), []ground.Place{at(1, 30, 6, 0), at(2, 40, 20, 0)})
	if len(well) > 0 {
		t.Errorf("a field on which all is well is complained of: %+v", well)
	}
	if f := ground.NewLayout(ground.Ground{}, one).Check(nil); len(f) > 0 {
		t.Errorf("a ground that nobody described is complained of: %+v", f)
	}
}

// TestALampBehindAHouseDoesNotGlare guards that what hides a lamp is counted.
func TestALampBehindAHouseDoesNotGlare(t *testing.T) {
	g := meadow()
	g.Features = append(g.Features, ground.Feature{Kind: ground.Lamp, At: []pt{{30, 30}}, Height: 4},
		ground.Feature{Kind: ground.Building, At: []pt{{28, 26}, {32, 26}, {32, 28}, {28, 28}}, Height: 3})
	for _, f := range check(t, g, []ground.Stand{stand(1, "Sparrow")}, []ground.Place{{InstrumentID: 1, At: pt{30, 18}, Queue: 180}}) {
		if f.Key == ground.Glare {
			t.Errorf("the lamp is behind the house, and still: %s", f.Words)
		}
	}
}

// TestGroundThatCannotBe guards the description of a ground: each field's
// fault is told at that field.
func TestGroundThatCannotBe(t *testing.T) {
	ok := meadow()
	for _, c := range []struct {
		name, field string
		change      func(*ground.Ground)
	}{
		{"two corners", "Outline", func(g *ground.Ground) { g.Outline = g.Outline[:2] }},
		{"corners in a line", "Outline", func(g *ground.Ground) { g.Outline = []pt{{0, 0}, {10, 0}, {20, 0}} }},
		{"a bow tie", "Outline", func(g *ground.Ground) { g.Outline = []pt{{0, 0}, {10, 10}, {10, 0}, {0, 10.5}} }},
		{"not a number", "Outline", func(g *ground.Ground) { g.Outline[0].X = math.NaN() }},
		{"far away", "0.At", func(g *ground.Ground) { g.Features[0].At = []pt{{501, 0}} }},
		{"a gate of two points", "0.At", func(g *ground.Ground) { g.Features[0].At = []pt{{1, 1}, {2, 2}} }},
		{"a path of one point", "1.At", func(g *ground.Ground) { g.Features[1].At = []pt{{1, 1}} }},
		{"a path without a width", "1.Width", func(g *ground.Ground) { g.Features[1].Width = 0 }},
		{"a tree without a height", "3.Height", func(g *ground.Ground) { g.Features[3].Height = 0 }},
		{"an endless crown", "3.Radius", func(g *ground.Ground) { g.Features[3].Radius = math.Inf(1) }},
		{"no kind", "4.Kind", func(g *ground.Ground) { g.Features[4].Kind = "moat" }},
		{"a long name", "4.Name", func(g *ground.Ground) { g.Features[4].Name = strings.Repeat("x", 41) }},
	} {
		g := meadow()
		c.change(&g)
		if f := g.Check(); f.For(c.field) == "" {
			t.Errorf("%s: no fault at %s; told: %v", c.name, c.field, f)
		}
	}
	if f := ok.Check(); len(f) > 0 {
		t.Errorf("a good ground is refused: %v", f)
	}
}

// TestRadiusOfLegs guards the circle drawn for kinds of mount. A tripod with
// its axis at 1.4 m spreads its feet 0.7 m; a rocker box for 400 mm is 1.1 m
// wide (both common practice).
func TestRadiusOfLegs(t *testing.T) {
	for _, c := range []struct {
		i     kit.Instrument
		want  float64
		usual bool
	}{
		{kit.Instrument{Mount: kit.GermanEquatorial, PivotHeight: 1.4}, 0.7, false},
		{kit.Instrument{Mount: kit.AltAzGoTo, PivotHeight: 1.15, Base: kit.Base{Assumed: []string{"PivotHeight"}}}, 0.575, true},
		{kit.Instrument{Mount: kit.RockerBox, Aperture: 400}, 0.35, false},
		{kit.Instrument{Mount: kit.RockerBox, Aperture: 800}, 0.55, false},
		{kit.Instrument{Mount: kit.Tripod}, 0.7, true},
		{kit.Instrument{Mount: kit.Tripod, PivotHeight: 4}, 1.2, false},
	} {
		if r, usual := ground.RadiusOf(c.i); math.Abs(r-c.want) > 1e-9 || usual != c.usual {
			t.Errorf("%s %.0f mm: %.3f m, usual %v; want %.3f, %v", c.i.Mount, c.i.Aperture, r, usual, c.want, c.usual)
		}
	}
}

// TestPlacesInWords guards what stands on the card.
func TestPlacesInWords(t *testing.T) {
	l := ground.NewLayout(meadow(), nil)
	if s := l.Where(pt{30, 34}); s.By != "the north hedge" {
		t.Errorf("under the hedge: %+v", s)
	}
	if s := l.Where(pt{30, 20}); s.By != "" || s.Outward {
		t.Errorf("in the middle: %+v", s)
	}
	if s := l.Where(pt{50, 20}); s.By != "" || !s.Outward || math.Abs(s.Toward-90) > 1 {
		t.Errorf("in the east: %+v", s)
	}
}

// TestRedLamps guards that gate, path and ladder get one, at most ten metres
// apart along the path, and that those the ground has are not counted again.
func TestRedLamps(t *testing.T) {
	s := stand(1, "Rain Barrel")
	s.Step = ground.Ladder
	places := []ground.Place{{InstrumentID: 1, At: pt{30, 20}}}
	lamps := ground.NewLayout(meadow(), []ground.Stand{s}).Lamps(places)
	why := map[string]int{}
	for _, l := range lamps {
		why[l.Why]++
	}
	if why["ladder of Rain Barrel"] != 1 || why["gate"] != 1 {
		t.Errorf("lamps: %v, want one at the ladder and one at the gate", why)
	}
	for x := 12.0; x <= 59; x++ {
		near := math.Inf(1)
		for _, l := range lamps {
			near = min(near, math.Hypot(l.At.X-x, l.At.Y-3))
		}
		if near > 6 {
			t.Errorf("at %.0f m along the path the next lamp is %.1f m away", x, near)
		}
	}
	g := meadow()
	g.Features = append(g.Features, ground.Feature{Kind: ground.RedLamp, At: []pt{{58, 3}}})
	if n := len(ground.NewLayout(g, []ground.Stand{s}).Lamps(places)); n >= len(lamps) {
		t.Errorf("with a red lamp at the gate %d are wanted, without it %d", n, len(lamps))
	}
}
