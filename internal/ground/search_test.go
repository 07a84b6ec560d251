package ground

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestSegmentsBySampling guards distances between points and segments against
// the plain way: many points along each, the least distance of all pairs.
func TestSegmentsBySampling(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	at := func() Point { return Point{20 * r.Float64(), 20 * r.Float64()} }
	const n = 400
	along := func(s segment, k int) Point { return s.a.plus(s.b.minus(s.a).times(float64(k) / n)) }
	for range 60 {
		s, u := segment{at(), at()}, segment{at(), at()}
		p := at()
		pointed, apart := math.Inf(1), math.Inf(1)
		for i := range n + 1 {
			pointed = min(pointed, along(s, i).distance(p))
			for j := range n + 1 {
				apart = min(apart, along(s, i).distance(along(u, j)))
			}
		}
		if d := s.nearest(p); math.Abs(d-pointed) > 0.05 || d > pointed+1e-9 {
			t.Errorf("point %v from %v: %.3f, sampled %.3f", p, s, d, pointed)
		}
		if d := s.apart(u); math.Abs(d-apart) > 0.06 || d > apart+1e-9 {
			t.Errorf("%v from %v: %.3f, sampled %.3f", s, u, d, apart)
		}
	}
}

// TestSearchAgainstEveryWay compares the search with trying every combination
// of 3 instruments on 12 spots with 8 directions each (884 736 ways): it finds
// the cheapest or comes within 1 per cent of it.
func TestSearchAgainstEveryWay(t *testing.T) {
	worst := 0.0
	for seed := range uint64(8) {
		r := rand.New(rand.NewPCG(seed, 5))
		g := Ground{
			Outline: []Point{{0, 0}, {18, 0}, {18, 14}, {0, 14}},
			Features: []Feature{
				{Kind: Gate, At: []Point{{17, 1}}},
				{Kind: Path, At: []Point{{17, 1}, {2, 2}}, Width: 1.2, Wheels: true},
				{Kind: Tree, At: []Point{{4 + 10*r.Float64(), 6 + 6*r.Float64()}}, Radius: 1, Height: 3 + 9*r.Float64()},
				{Kind: Power, At: []Point{{2, 13}}},
			},
		}
		stands := []Stand{
			{ID: 1, Name: "a", Radius: 0.5, Eye: 1.2, People: 3 + r.IntN(4), Access: 0.7},
			{ID: 2, Name: "b", Radius: 0.6, Eye: 1.2, People: 3 + r.IntN(4), Step: Ladder, Mains: seed%2 == 0},
			{ID: 3, Name: "c", Radius: 0.7, Eye: 1.4, People: 3, Sights: []Sight{{Target: "Saturn", Looks: []Look{{Az: 360 * r.Float64(), Alt: 22}}}}},
		}
		l := NewLayout(g, stands)
		var spots []Point
		for x := 3.0; x < 17; x += 4 {
			for y := 4.0; y < 13; y += 4 {
				spots = append(spots, Point{x, y})
			}
		}
		x := search{l: l, options: make([][]option, len(stands))}
		for i := range stands {
			x.options[i] = x.optionsOf(i, spots)
		}
		least := everyWay(x.options)
		got := math.Inf(1)
		for _, order := range x.orders() {
			x.at, x.placed = make([]option, len(stands)), make([]bool, len(stands))
			for _, i := range order {
				x.put(i)
			}
			x.improve(order)
			x.shake()
			got = min(got, x.total())
		}
		if got < least-1e-6 {
			t.Errorf("seed %d: the search says %.4f, less than every way's %.4f", seed, got, least)
		}
		worst = max(worst, got/least-1)
	}
	t.Logf("worst gap %.2f %%", 100*worst)
	if worst > 0.01 {
		t.Errorf("the search misses the best by %.1f %%", 100*worst)
	}
}

// everyWay is the least cost of all combinations.
func everyWay(options [][]option) float64 {
	least := math.Inf(1)
	between := make([]float64, len(options[2])*len(options[1]))
	for j, b := range options[1] {
		for k, c := range options[2] {
			between[j*len(options[2])+k] = pair(b.feet, c.feet)
		}
	}
	other := make([]float64, len(options[2]))
	for _, a := range options[0] {
		for k, c := range options[2] {
			other[k] = pair(a.feet, c.feet)
		}
		for j, b := range options[1] {
			ab := a.alone + b.alone + pair(a.feet, b.feet)
			for k, c := range options[2] {
				least = min(least, ab+c.alone+other[k]+between[j*len(options[2])+k])
			}
		}
	}
	return least
}

// TestCostIsWhatCheckTells guards that search and page judge alike: places
// that cost less than any fault are faultless, and the other way round.
func TestCostIsWhatCheckTells(t *testing.T) {
	least := math.Inf(1)
	for _, w := range weights {
		least = min(least, w/2)
	}
	r := rand.New(rand.NewPCG(2, 9))
	g := Ground{Outline: []Point{{0, 0}, {40, 0}, {40, 30}, {0, 30}}, Features: []Feature{
		{Kind: Path, At: []Point{{1, 2}, {39, 2}}, Width: 1.5, Wheels: true}, {Kind: Tree, At: []Point{{20, 18}}, Radius: 2, Height: 12},
		{Kind: Lamp, At: []Point{{45, 28}}, Height: 4}, {Kind: Power, At: []Point{{3, 28}}}, {Kind: Gate, At: []Point{{39, 2}}},
	}}
	clean, faulty := 0, 0
	for range 3000 {
		stands := []Stand{
			{ID: 1, Name: "a", Radius: 0.5, Eye: 1, People: r.IntN(6), Access: 1},
			{ID: 2, Name: "b", Radius: 0.6, Eye: 1, People: r.IntN(6), Step: Step(r.IntN(3)), Mains: r.IntN(2) == 0,
				Sights: []Sight{{Target: "x", Looks: []Look{{Az: 360 * r.Float64(), Alt: 25 * r.Float64()}}}}},
		}
		l := NewLayout(g, stands)
		at := func(id int64) Place {
			return Place{InstrumentID: id, At: Point{40 * r.Float64(), 30 * r.Float64()}, Queue: 360 * r.Float64()}
		}
		places := []Place{at(1), at(2)}
		if r.IntN(2) == 0 {
			places[0].At.Y = 4 + 2*r.Float64() // beside the path, or nothing is ever faultless
		}
		cost, faults := l.Cost(places), len(l.Check(places))
		if faults == 0 {
			clean++
		} else {
			faulty++
		}
		if (faults == 0) != (cost < least) {
			t.Fatalf("cost %.2f with %d faults (least fault %.0f): %+v\n%+v", cost, faults, least, places, l.Check(places))
		}
	}
	if clean < 20 || faulty < 20 {
		t.Errorf("%d clean and %d faulty fields: the test shows nothing", clean, faulty)
	}
}
