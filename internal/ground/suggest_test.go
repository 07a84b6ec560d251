package ground_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"duskboard/internal/ground"
)

// TestSuggestionByNeed is the night that an experienced coordinator lays out
// without thinking (common practice): what looks low into the west stands east
// of the tall poplars where they hide nothing, the seated one beside the path,
// the ladder away from it, what wants a cable near the socket; no fault.
func TestSuggestionByNeed(t *testing.T) {
	low := stand(1, "Long Tom")
	low.Sights = []ground.Sight{{Target: "Saturn", Looks: []ground.Look{{Az: 240, Alt: 26}, {Az: 252, Alt: 22}, {Az: 262, Alt: 18}}}}
	seated := stand(2, "Stovepipe")
	seated.Access = 0.8
	ladder := stand(3, "Rain Barrel")
	ladder.Step, ladder.Radius = ground.Ladder, 0.5
	mains := stand(4, "Churn")
	mains.Mains = true
	stands := []ground.Stand{low, seated, ladder, mains, stand(5, "Sparrow"), stand(6, "Bucket")}
	l := ground.NewLayout(meadow(), stands)
	places := l.Suggest(nil)
	for _, f := range l.Check(places) {
		t.Errorf("a fault in the suggestion: %s", f.Words)
	}
	by := map[int64]ground.Point{}
	for _, p := range places {
		by[p.InstrumentID] = p.At
	}
	tree := meadow().Features[3]
	for _, k := range low.Sights[0].Looks {
		if over := tree.Over(by[1], low.Eye, k.Az); over > k.Alt-5 {
			t.Errorf("Saturn at %.0f degrees has the poplars at %.0f: not the free horizon", k.Alt, over)
		}
	}
	if d := by[2].Y - 3 - 0.8; d > 3.7 {
		t.Errorf("the seated instrument stands %.1f m from the path's edge", d)
	}
	if d := by[3].Y - 3 - 0.8; d < 8 {
		t.Errorf("the ladder stands %.1f m from the path", d)
	}
	if d := math.Hypot(by[4].X-45, by[4].Y-38); d > 25 {
		t.Errorf("the cable is %.0f m long", d)
	}
	numbers := map[int]bool{}
	for _, p := range places {
		numbers[p.Number] = true
	}
	for n := 1; n <= len(places); n++ {
		if !numbers[n] {
			t.Errorf("no place has number %d: %v", n, numbers)
		}
	}
}

// randomField is a ground and instruments drawn by chance, with room enough.
func randomField(r *rand.Rand, instruments int) (ground.Ground, []ground.Stand) {
	g := ground.Ground{Outline: []pt{{0, 0}, {55 + 20*r.Float64(), 0}, {70, 45 + 15*r.Float64()}, {-5 * r.Float64(), 50}}}
	g.Features = append(g.Features,
		ground.Feature{Kind: ground.Gate, At: []pt{{30 * r.Float64(), 1}}},
		ground.Feature{Kind: ground.Path, At: []pt{{2, 4}, {40, 4 + 4*r.Float64()}}, Width: 1.2 + r.Float64(), Wheels: true},
		ground.Feature{Kind: ground.Power, At: []pt{{60 * r.Float64(), 40 * r.Float64()}}})
	for range r.IntN(4) {
		g.Features = append(g.Features, ground.Feature{Kind: ground.Tree, At: []pt{{10 + 40*r.Float64(), 15 + 25*r.Float64()}}, Radius: 1 + 2*r.Float64(), Height: 3 + 15*r.Float64()})
	}
	var stands []ground.Stand
	for i := range instruments {
		s := stand(int64(i+1), fmt.Sprintf("Instrument %d", i+1))
		s.Radius, s.People = 0.4+0.6*r.Float64(), r.IntN(9)
		s.Step = ground.Step(r.IntN(3))
		s.Mains = r.IntN(4) == 0
		if r.IntN(3) == 0 {
			s.Access = r.Float64()
		}
		for range r.IntN(3) {
			az, alt := 360*r.Float64(), 12+50*r.Float64()
			s.Sights = append(s.Sights, ground.Sight{Target: "M 13", Looks: []ground.Look{{Az: az, Alt: alt}, {Az: az + 8, Alt: alt - 3}}})
		}
		stands = append(stands, s)
	}
	return g, stands
}

// TestSuggestionsOnManyFields guards, on fields drawn by chance with room
// enough, that everybody gets a place, nobody is in danger, pins stay and the
// same field gives the same places.
func TestSuggestionsOnManyFields(t *testing.T) {
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(seed, 7))
		g, stands := randomField(r, 4+r.IntN(5))
		if f := g.Check(); len(f) > 0 {
			t.Fatalf("seed %d: the test's own ground is wrong: %v", seed, f)
		}
		l := ground.NewLayout(g, stands)
		pin := ground.Place{InstrumentID: stands[0].ID, Number: 3, At: pt{30, 30}, Queue: 90, Pinned: true}
		places := l.Suggest([]ground.Place{pin})
		if len(places) != len(stands) {
			t.Fatalf("seed %d: %d places for %d instruments", seed, len(places), len(stands))
		}
		if !reflect.DeepEqual(places, l.Suggest([]ground.Place{pin})) {
			t.Errorf("seed %d: the same field gives other places", seed)
		}
		if places[0] != pin {
			t.Errorf("seed %d: the pinned place was moved to %+v", seed, places[0])
		}
		free := l.Suggest(nil)
		for _, f := range l.Check(free) {
			if f.Hazard {
				t.Errorf("seed %d: hazard: %s", seed, f.Words)
			}
		}
		if a, b := l.Cost(free), l.Cost(places); a > b+1e-6 {
			t.Errorf("seed %d: without the pin it costs %.2f, with it %.2f", seed, a, b)
		}
	}
}

// TestSuggestNothing guards the empty cases.
func TestSuggestNothing(t *testing.T) {
	if p := ground.NewLayout(ground.Ground{}, []ground.Stand{stand(1, "a")}).Suggest(nil); p != nil {
		t.Errorf("places on a ground that nobody described: %v", p)
	}
	yard := ground.Ground{Outline: []pt{{0, 0}, {2, 0}, {0, 2}}}
	if p := ground.NewLayout(yard, []ground.Stand{stand(1, "a"), stand(2, "b")}).Suggest(nil); len(p) != 2 || p[0].InstrumentID != 1 || p[1].InstrumentID != 2 {
		t.Errorf("on a yard with no room for either: %+v", p)
	}
	if p := ground.NewLayout(meadow(), nil).Suggest(nil); p != nil {
		t.Errorf("places for no instrument: %v", p)
	}
}

func BenchmarkSuggest(b *testing.B) {
	g, stands := randomField(rand.New(rand.NewPCG(3, 7)), 12)
	l := ground.NewLayout(g, stands)
	for b.Loop() {
		l.Suggest(nil)
	}
}
