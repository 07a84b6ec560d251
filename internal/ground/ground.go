package ground

import (
	"fmt"
	"math"
	"unicode/utf8"

	"duskboard/internal/fault"
)

// Kind says what a feature of the ground is.
type Kind string

// The kinds of feature.
const (
	Gate     Kind = "gate"
	Path     Kind = "path"
	Tree     Kind = "tree"
	Hedge    Kind = "hedge" // or a fence, or a wall
	Building Kind = "building"
	KeepOut  Kind = "keep-out" // pond, flower bed, pitch: nobody stands there
	Lamp     Kind = "lamp"     // a white one that cannot be switched off
	RedLamp  Kind = "red-lamp"
	Power    Kind = "power"
	Cable    Kind = "cable" // one that lies there anyway
)

// Kinds lists every kind in the order in which a form offers them.
var Kinds = []Kind{Gate, Path, Tree, Hedge, Building, KeepOut, Lamp, RedLamp, Power, Cable}

// Shape is what a feature looks like from above.
type Shape int

// Shapes: one point, a line of two points or more, an area of three or more.
const (
	Spot Shape = iota
	Line
	Area
)

// Shape of a kind.
func (k Kind) Shape() Shape {
	switch k {
	case Path, Hedge, Cable:
		return Line
	case Building, KeepOut:
		return Area
	}
	return Spot
}

// Known reports whether it is one of Kinds.
func (k Kind) Known() bool {
	for _, x := range Kinds {
		if x == k {
			return true
		}
	}
	return false
}

// solid things cannot be stood or walked on.
func (k Kind) solid() bool { return k == Tree || k == Hedge || k == Building || k == KeepOut }

// opaque things hide the sky and lamps behind them.
func (k Kind) opaque() bool { return k == Tree || k == Hedge || k == Building }

// Feature is one thing on the ground. Lengths in m; what a kind has no use for
// is 0.
type Feature struct {
	Kind   Kind    `json:"kind"`
	Name   string  `json:"name,omitempty"` // "the oak"; may be empty
	At     []Point `json:"at"`
	Radius float64 `json:"radius,omitempty"` // of a tree's crown
	Width  float64 `json:"width,omitempty"`  // of a path or a hedge
	Height float64 `json:"height,omitempty"` // over the ground
	Wheels bool    `json:"wheels,omitempty"` // a path that carries a wheelchair
}

// Ground is the plan of a site.
type Ground struct {
	Version  int64     `json:"version,omitempty"` // 0: nobody has described it
	CanUndo  bool      `json:"-"`                 // there is an earlier description
	Outline  []Point   `json:"outline,omitempty"` // corners of the usable ground, in order
	Features []Feature `json:"features,omitempty"`
}

// Empty reports that nobody has described the ground yet.
func (g Ground) Empty() bool { return len(g.Outline) == 0 }

// Limits of a description, m and numbers.
const (
	Widest       = 500.0 // how far a corner may be from where one measures
	MostCorners  = 40
	MostFeatures = 60
	tallest      = 120.0
)

// Check returns what cannot be in a description; field names are "Outline" and
// "N.Kind", "N.At", "N.Radius" and so on for feature N, counted from 0.
func (g Ground) Check() fault.Fields {
	var f fault.Fields
	add := func(name, format string, args ...any) {
		f = append(f, fault.Field{Name: name, Message: fmt.Sprintf(format, args...)})
	}
	if m := cornerFault(g.Outline, Area); m != "" {
		add("Outline", "%s", m)
	}
	if len(g.Features) > MostFeatures {
		add("Outline", "At most %d features; leave out what does not matter at night.", MostFeatures)
	}
	for i, x := range g.Features {
		at := func(field string) string { return fmt.Sprintf("%d.%s", i, field) }
		if !x.Kind.Known() {
			add(at("Kind"), "Choose what this is.")
			continue
		}
		if utf8.RuneCountInString(x.Name) > 40 {
			add(at("Name"), "At most 40 letters.")
		}
		if m := cornerFault(x.At, x.Kind.Shape()); m != "" {
			add(at("At"), "%s", m)
		}
		if m := sizeFault(x.Radius, 0, 30, x.Kind == Tree); m != "" {
			add(at("Radius"), "%s", m)
		}
		if m := sizeFault(x.Width, 0.1, 20, x.Kind == Path || x.Kind == Hedge); m != "" {
			add(at("Width"), "%s", m)
		}
		if m := sizeFault(x.Height, 0.1, tallest, x.Kind.opaque() || x.Kind == Lamp); m != "" {
			add(at("Height"), "%s", m)
		}
	}
	return f
}

// sizeFault judges a length; used says whether the kind has it at all.
func sizeFault(v, low, high float64, used bool) string {
	if used && !(v >= low && v <= high) {
		return fmt.Sprintf("%g to %g m.", low, high)
	}
	return ""
}

func cornerFault(at []Point, s Shape) string {
	for _, p := range at {
		if !(math.Abs(p.X) <= Widest && math.Abs(p.Y) <= Widest) {
			return fmt.Sprintf("Points lie within %.0f m of where you measure from.", Widest)
		}
	}
	switch n := len(at); {
	case s == Spot && n != 1:
		return "One point: metres east, metres north."
	case s == Line && n < 2:
		return "Two points or more, one behind the other."
	case s == Area && n < 3:
		return "Three corners or more, in order around the edge."
	case n > MostCorners:
		return fmt.Sprintf("At most %d points.", MostCorners)
	}
	if s == Area {
		if a, _ := area(at); a < 1 {
			return "The corners enclose no ground: give them in order around the edge."
		}
		if selfCrossing(at) {
			return "The edge crosses itself: give the corners in order around it."
		}
	}
	return ""
}

func selfCrossing(polygon []Point) bool {
	e := sides(polygon, true)
	for i := range e {
		for j := i + 2; j < len(e); j++ {
			if i == 0 && j == len(e)-1 {
				continue // neighbours around the corner
			}
			if e[i].meets(e[j]) {
				return true
			}
		}
	}
	return false
}

// from is the distance of a point from the edge of the feature, 0 within it.
func (f Feature) from(p Point) float64 {
	if f.Kind.Shape() == Area && inside(p, f.At) {
		return 0
	}
	d := math.Inf(1)
	for _, s := range sides(f.At, f.Kind.Shape() == Area) {
		d = min(d, s.nearest(p))
	}
	return max(0, d-f.halfWidth())
}

// fromLine is the same for a segment.
func (f Feature) fromLine(s segment) float64 {
	if f.Kind.Shape() == Area && inside(s.a, f.At) {
		return 0
	}
	d := math.Inf(1)
	for _, e := range sides(f.At, f.Kind.Shape() == Area) {
		d = min(d, e.apart(s))
	}
	return max(0, d-f.halfWidth())
}

// halfWidth is how far the feature reaches from its points.
func (f Feature) halfWidth() float64 {
	if f.Kind == Tree {
		return f.Radius
	}
	return f.Width / 2
}

// Over is how high the feature stands in a direction as seen from p at an eye
// height in m: degrees over the level, 0 when it is not there or lower than
// the eye, 90 from within it.
func (f Feature) Over(p Point, eye, az float64) float64 {
	if !f.Kind.opaque() || f.Height <= eye {
		return 0
	}
	if f.from(p) == 0 {
		return 90
	}
	dir := toward(az)
	d := math.Inf(1)
	if f.Kind == Tree {
		w := f.At[0].minus(p)
		along, side := w.dot(dir), math.Abs(w.cross(dir))
		if along > 0 && side < f.Radius {
			d = along - math.Sqrt(f.Radius*f.Radius-side*side)
		}
	} else {
		for _, s := range sides(f.At, f.Kind == Building) {
			if t, ok := s.ray(p, dir); ok {
				d = min(d, t)
			}
		}
		d -= f.Width / 2
	}
	if math.IsInf(d, 1) {
		return 0
	}
	return math.Atan2(f.Height-eye, max(d, 0.1)) * 180 / math.Pi
}
