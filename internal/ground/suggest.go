package ground

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// Search effort. The grid is as fine as some hundred spots allow, no finer than
// people pace out.
const (
	gridSpots   = 300
	finest      = 1.5 // m
	coarsest    = 6.0
	bearings    = 8
	sweeps      = 12
	refineStep  = 0.5 // m; places are told to half a metre
	refineTurns = 22.5
	shakes      = 60
	// nearlyAsGood is how much more a place may cost alone and still be tried
	// when the search is shaken: about half a fault.
	nearlyAsGood = 40.0
)

// Suggest gives every instrument a place. Those pinned in now stay where they
// are; an instrument without a pin may go anywhere. The same ground and stands
// always give the same places. It is a greedy start, the neediest instrument
// first, then a local search that moves one or exchanges two until nothing
// gets better, and shakes out of dead ends, from several orders; the result is
// good, not proven best.
func (l *Layout) Suggest(now []Place) []Place {
	x := search{l: l, fixed: map[int]Place{}}
	for _, p := range now {
		if i := l.index(p.InstrumentID); i >= 0 && p.Pinned {
			x.fixed[i] = p
		}
	}
	if l.Ground.Empty() || len(l.Stands) == 0 {
		return nil
	}
	x.options = make([][]option, len(l.Stands))
	spots := l.grid()
	for i := range l.Stands {
		x.options[i] = x.optionsOf(i, append(slices.Clone(spots), l.besidePath(i)...))
	}
	return l.numbered(x.best())
}

// option is a place with what it costs alone.
type option struct {
	place Place
	feet  Footprint
	alone float64
}

type search struct {
	l       *Layout
	fixed   map[int]Place
	options [][]option // by stand, cheapest first
	at      []option   // the present choice; unplaced ones are zero
	placed  []bool
}

func (x *search) option(i int, at Point, queue float64) option {
	p := Place{InstrumentID: x.l.Stands[i].ID, At: at, Queue: queue}
	f := x.l.Footprint(x.l.Stands[i], p)
	return option{p, f, x.l.alone(i, f)}
}

// optionsOf lists a stand's places with every direction of the queue.
func (x *search) optionsOf(i int, spots []Point) []option {
	if p, ok := x.fixed[i]; ok {
		o := x.option(i, p.At, p.Queue)
		o.place = p
		return []option{o}
	}
	var out []option
	for _, s := range spots {
		first := x.l.Footprint(x.l.Stands[i], Place{At: s})
		spot := x.l.spotCost(i, first)
		for n := range bearings {
			p := Place{InstrumentID: x.l.Stands[i].ID, At: s, Queue: float64(n) * 360 / bearings}
			f := x.l.Footprint(x.l.Stands[i], p)
			out = append(out, option{p, f, spot + x.l.lineCost(i, f)})
		}
	}
	slices.SortStableFunc(out, func(a, b option) int { return cmp.Compare(a.alone, b.alone) })
	return out
}

// best runs the search from several orders of placing and keeps the cheapest.
func (x *search) best() []Place {
	var kept []option
	low := math.Inf(1)
	for _, order := range x.orders() {
		x.at, x.placed = make([]option, len(x.l.Stands)), make([]bool, len(x.l.Stands))
		for _, i := range order {
			x.put(i)
		}
		x.improve(order)
		x.shake()
		x.refine(order)
		if c := x.total(); c < low-1e-9 {
			low, kept = c, slices.Clone(x.at)
		}
	}
	out := make([]Place, len(kept))
	for i, o := range kept {
		out[i] = o.place
	}
	return out
}

// orders are the orders in which instruments are placed first: by need, the
// other way round, and by size.
func (x *search) orders() [][]int {
	n := len(x.l.Stands)
	byNeed, bySize := make([]int, n), make([]int, n)
	for i := range n {
		byNeed[i], bySize[i] = i, i
	}
	need := func(i int) float64 {
		s, c := x.l.Stands[i], 0.0
		if _, ok := x.fixed[i]; ok {
			return math.Inf(1)
		}
		if i == x.l.best {
			c += 100
		}
		if s.Step == Ladder {
			c += 50
		}
		if _, ok := s.low(); ok {
			c += 20
		}
		if s.Mains {
			c += 10
		}
		return c + s.Radius
	}
	slices.SortStableFunc(byNeed, func(a, b int) int { return cmp.Compare(need(b), need(a)) })
	size := func(i int) float64 { return x.l.Stands[i].room() + x.l.Stands[i].lineLength() }
	slices.SortStableFunc(bySize, func(a, b int) int { return cmp.Compare(size(b), size(a)) })
	back := slices.Clone(byNeed)
	slices.Reverse(back)
	return [][]int{byNeed, bySize, back}
}

// put places one instrument where it costs least beside those placed.
func (x *search) put(i int) bool {
	now := math.Inf(1)
	if x.placed[i] {
		now = x.at[i].alone + x.beside(i, x.at[i], math.Inf(1))
	}
	best, found := now-1e-9, -1
	for n, o := range x.options[i] {
		if o.alone >= best {
			break // they are sorted
		}
		if c := o.alone + x.beside(i, o, best-o.alone); c < best {
			best, found = c, n
		}
	}
	if found < 0 {
		return false
	}
	x.at[i], x.placed[i] = x.options[i][found], true
	return true
}

// beside is what an option costs together with the others; it stops counting
// at limit.
func (x *search) beside(i int, o option, limit float64) float64 {
	c := 0.0
	for j := range x.at {
		if j == i || !x.placed[j] {
			continue
		}
		if c += pair(o.feet, x.at[j].feet); c >= limit {
			return c
		}
	}
	return c
}

// improve moves one at a time, then exchanges two, until nothing gets better.
func (x *search) improve(order []int) {
	for range sweeps {
		better := false
		for _, i := range order {
			better = x.put(i) || better
		}
		for a := range order {
			for b := a + 1; b < len(order); b++ {
				better = x.exchange(order[a], order[b]) || better
			}
		}
		if !better {
			return
		}
	}
}

// shake puts one instrument somewhere else that is nearly as good for it alone,
// lets its neighbours and itself settle again, and keeps what got better: one
// alone often cannot move because another is in its way. The chances are the
// same each time.
func (x *search) shake() {
	r := rand.New(rand.NewPCG(1, uint64(len(x.at))))
	now := x.total()
	for range shakes {
		i := r.IntN(len(x.at))
		if _, ok := x.fixed[i]; ok {
			continue
		}
		good, _ := slices.BinarySearchFunc(x.options[i], x.options[i][0].alone+nearlyAsGood, func(o option, c float64) int { return cmp.Compare(o.alone, c) })
		was := slices.Clone(x.at)
		x.at[i] = x.options[i][r.IntN(max(good, 1))]
		near := x.neighbours(i)
		for _, j := range near {
			x.placed[j] = false
		}
		for _, j := range near {
			x.put(j)
		}
		for _, j := range append(near, i) {
			x.put(j)
		}
		if c := x.total(); c < now-1e-9 {
			now = c
		} else {
			x.at = was
		}
	}
}

// neighbours are the nearest two or three that may move.
func (x *search) neighbours(i int) []int {
	var out []int
	for j := range x.at {
		if _, ok := x.fixed[j]; !ok && j != i {
			out = append(out, j)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		return cmp.Compare(x.at[a].place.At.distance(x.at[i].place.At), x.at[b].place.At.distance(x.at[i].place.At))
	})
	return out[:min(len(out), 3)]
}

// exchange lets two instruments change places, each with its best queue there.
func (x *search) exchange(i, j int) bool {
	if _, ok := x.fixed[i]; ok {
		return false
	}
	if _, ok := x.fixed[j]; ok {
		return false
	}
	was, wasJ := x.at[i], x.at[j]
	before := was.alone + wasJ.alone + x.beside(i, was, math.Inf(1)) + x.beside(j, wasJ, math.Inf(1)) - pair(was.feet, wasJ.feet)
	// The first is turned while the second is out of the way.
	x.placed[j] = false
	x.at[i] = x.turned(i, wasJ.place.At)
	x.placed[j] = true
	x.at[j] = x.turned(j, was.place.At)
	after := x.at[i].alone + x.at[j].alone + x.beside(i, x.at[i], math.Inf(1)) + x.beside(j, x.at[j], math.Inf(1)) - pair(x.at[i].feet, x.at[j].feet)
	if after < before-1e-9 {
		return true
	}
	x.at[i], x.at[j] = was, wasJ
	return false
}

// turned is the best direction of a queue at a spot.
func (x *search) turned(i int, at Point) option {
	var best option
	low := math.Inf(1)
	for n := range bearings {
		o := x.option(i, at, float64(n)*360/bearings)
		if c := o.alone + x.beside(i, o, low-o.alone); c < low {
			low, best = c, o
		}
	}
	return best
}

// refine moves by half a metre and turns by a sixteenth of a circle.
func (x *search) refine(order []int) {
	for range sweeps {
		better := false
		for _, i := range order {
			if _, ok := x.fixed[i]; ok {
				continue
			}
			better = x.nudge(i) || better
		}
		if !better {
			return
		}
	}
}

func (x *search) nudge(i int) bool {
	now := x.at[i]
	low, found := now.alone+x.beside(i, now, math.Inf(1))-1e-9, false
	try := func(dx, dy, turn float64) {
		queue := math.Mod(now.place.Queue+turn+360, 360)
		o := x.option(i, Point{now.place.At.X + dx, now.place.At.Y + dy}, queue)
		if o.alone >= low {
			return
		}
		if c := o.alone + x.beside(i, o, low-o.alone); c < low {
			low, found, x.at[i] = c, true, o
		}
	}
	for _, d := range [][2]float64{{0, 0}, {refineStep, 0}, {-refineStep, 0}, {0, refineStep}, {0, -refineStep}} {
		for _, turn := range []float64{0, refineTurns, -refineTurns} {
			try(d[0], d[1], turn)
		}
	}
	return found
}

func (x *search) total() float64 {
	c := 0.0
	for i, o := range x.at {
		c += o.alone
		for j := range i {
			c += pair(o.feet, x.at[j].feet)
		}
	}
	return c
}

// grid is the spots on the ground that are tried, on whole half metres.
func (l *Layout) grid() []Point {
	size, _ := area(l.Ground.Outline)
	step := math.Ceil(2*min(max(math.Sqrt(size/gridSpots), finest), coarsest)) / 2
	low, high := Bounds(l.Ground.Outline)
	var out []Point
	for y := math.Ceil(low.Y + edgeRoom); y < high.Y; y += step {
		for x := math.Ceil(low.X + edgeRoom); x < high.X; x += step {
			if p := (Point{x, y}); inside(p, l.Ground.Outline) {
				out = append(out, p)
			}
		}
	}
	if len(out) == 0 {
		out = []Point{l.centre} // a yard smaller than the grid
	}
	return out
}

// besidePath is spots along both edges of the paths for wheelchairs, as near
// as the instrument may stand; nothing for one that a wheelchair cannot use.
func (l *Layout) besidePath(i int) []Point {
	s := l.Stands[i]
	if s.Access == 0 {
		return nil
	}
	var out []Point
	for _, p := range l.wheels {
		off := p.Width/2 + s.Radius + pathRoom + 0.25
		for _, e := range sides(p.At, false) {
			along := toward(e.a.bearing(e.b))
			right := Point{along.Y, -along.X}
			for d := 0.0; d <= e.length(); d += coarsest / 2 {
				for _, side := range []float64{off, -off} {
					q := e.a.plus(along.times(d)).plus(right.times(side))
					q = Point{math.Round(2*q.X) / 2, math.Round(2*q.Y) / 2}
					if inside(q, l.Ground.Outline) {
						out = append(out, q)
					}
				}
			}
		}
	}
	return out
}

// numbered gives places their numbers: a pinned one keeps its own, the others
// count from the gate.
func (l *Layout) numbered(places []Place) []Place {
	taken := map[int]bool{}
	for _, p := range places {
		if p.Pinned && p.Number > 0 {
			taken[p.Number] = true
		}
	}
	order := make([]int, len(places))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(l.fromGate(places[a].At), l.fromGate(places[b].At))
	})
	n := 1
	for _, i := range order {
		if places[i].Pinned && places[i].Number > 0 {
			continue
		}
		for taken[n] {
			n++
		}
		places[i].Number = n
		n++
	}
	return places
}

// Bounds are the south-west and north-east corners of a box around points.
func Bounds(at []Point) (low, high Point) {
	low, high = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, p := range at {
		low = Point{min(low.X, p.X), min(low.Y, p.Y)}
		high = Point{max(high.X, p.X), max(high.Y, p.Y)}
	}
	return low, high
}
