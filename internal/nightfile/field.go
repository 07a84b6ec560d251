package nightfile

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"duskboard/internal/ground"
	"duskboard/internal/night"
)

// FieldPlan is the drawn plan of a site's ground. Lengths in m, points to the
// east and to the north of wherever the club measures from.
type FieldPlan struct {
	Outline  []Point   `json:"outline" jsonschema:"minItems=3,maxItems=40"` // corners of the usable ground, in order
	Features []Feature `json:"features,omitempty" jsonschema:"maxItems=60"`
}

// Point is a place on the ground, m.
type Point struct {
	X float64 `json:"x" jsonschema:"minimum=-500,maximum=500"` // to the east
	Y float64 `json:"y" jsonschema:"minimum=-500,maximum=500"` // to the north
}

// Feature is one thing on the ground; a number that its kind has no use for is
// left out.
type Feature struct {
	Kind   string  `json:"kind" jsonschema:"enum=gate,enum=path,enum=tree,enum=hedge,enum=building,enum=keep-out,enum=lamp,enum=red-lamp,enum=power,enum=cable"`
	Name   string  `json:"name,omitempty" jsonschema:"maxLength=40"`
	At     []Point `json:"at" jsonschema:"minItems=1,maxItems=40"`
	Radius float64 `json:"radius,omitempty" jsonschema:"minimum=0,maximum=30"`  // m, of a tree's crown
	Width  float64 `json:"width,omitempty" jsonschema:"minimum=0,maximum=20"`   // m, of a path or a hedge
	Height float64 `json:"height,omitempty" jsonschema:"minimum=0,maximum=120"` // m over the ground
	Wheels bool    `json:"wheels,omitempty"`                                    // a path that carries a wheelchair
}

// FieldPlace is where an instrument stands on the night.
type FieldPlace struct {
	Instrument int64   `json:"instrument"`
	Number     int     `json:"number" jsonschema:"minimum=1,maximum=99"`
	X          float64 `json:"x" jsonschema:"minimum=-500,maximum=500"`           // m to the east, as the plan of the ground
	Y          float64 `json:"y" jsonschema:"minimum=-500,maximum=500"`           // m to the north
	Queue      float64 `json:"queue" jsonschema:"minimum=0,exclusiveMaximum=360"` // where the line goes, degrees from north through east
	Pinned     bool    `json:"pinned,omitempty"`                                  // stays when places are suggested
}

// fieldPlanOf is a ground as a file has it, nil when nobody has drawn it.
func fieldPlanOf(g ground.Ground) *FieldPlan {
	if g.Empty() {
		return nil
	}
	out := &FieldPlan{Outline: pointsOf(g.Outline)}
	for _, x := range g.Features {
		out.Features = append(out.Features, Feature{string(x.Kind), x.Name, pointsOf(x.At), x.Radius, x.Width, x.Height, x.Wheels})
	}
	return out
}

func pointsOf(at []ground.Point) []Point {
	out := make([]Point, len(at))
	for i, p := range at {
		out[i] = Point(p)
	}
	return out
}

func (f FieldPlan) ground() ground.Ground {
	at := func(ps []Point) []ground.Point {
		out := make([]ground.Point, len(ps))
		for i, p := range ps {
			out[i] = ground.Point(p)
		}
		return out
	}
	g := ground.Ground{Outline: at(f.Outline)}
	for _, x := range f.Features {
		g.Features = append(g.Features, ground.Feature{Kind: ground.Kind(x.Kind), Name: x.Name, At: at(x.At), Radius: x.Radius, Width: x.Width, Height: x.Height, Wheels: x.Wheels})
	}
	return g
}

func placesOf(places []ground.Place) []FieldPlace {
	var out []FieldPlace
	for _, p := range places {
		out = append(out, FieldPlace{p.InstrumentID, p.Number, p.At.X, p.At.Y, p.Queue, p.Pinned})
	}
	return out
}

// field takes in the plan of the ground and the places, and says what no
// ground can be and who stands nowhere.
func (f File) field(p *night.Plan, bad said) {
	if f.Site.FieldPlan != nil {
		p.Ground = f.Site.FieldPlan.ground()
		for _, x := range p.Ground.Check() {
			bad("/site/fieldPlan/"+groundPath(x.Name), "%s", sentence(x.Message))
		}
	}
	known := idsOf(p.Kit)
	standing, taken := map[int64]bool{}, map[int]bool{}
	for i, x := range f.Places {
		path := fmt.Sprintf("/places/%d", i)
		known.instrument(path+"/instrument", x.Instrument, bad)
		if standing[x.Instrument] {
			bad(path+"/instrument", "instrument %d has a place already", x.Instrument)
		}
		if taken[x.Number] {
			bad(path+"/number", "the number %d stands there twice", x.Number)
		}
		standing[x.Instrument], taken[x.Number] = true, true
		p.Places = append(p.Places, ground.Place{InstrumentID: x.Instrument, Number: x.Number, At: ground.Point{X: x.X, Y: x.Y}, Queue: x.Queue, Pinned: x.Pinned})
	}
}

// groundPath turns a field of [ground.Ground.Check] ("Outline", "2.Width")
// into a path below the plan.
func groundPath(field string) string {
	n, name, ok := strings.Cut(field, ".")
	if _, err := strconv.Atoi(n); ok && err == nil {
		return "features/" + n + "/" + strings.ToLower(name)
	}
	return strings.ToLower(field)
}

// sentence is a message of a form as the faults of a file are said: begun
// small, without a stop.
func sentence(s string) string {
	r := []rune(strings.TrimRight(s, "."))
	if len(r) > 0 {
		r[0] = unicode.ToLower(r[0])
	}
	return string(r)
}
