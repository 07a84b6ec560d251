package chart

import (
	"fmt"
	"math"
	"strconv"

	"duskboard/internal/ground"
)

// Plan is a field from above, to scale, north up.
type Plan struct {
	ID       string // unique on the page
	Title    string
	Words    string // the same for those who do not see it
	W, MaxH  float64
	Type     float64 // size of the text
	Paper    bool    // in points, for print; otherwise as wide as the page lets it
	Layout   *ground.Layout
	Places   []ground.Place
	Lamps    []ground.Red
	Handles  bool // corners and points of the ground can be taken hold of
	Selected int64
	Faulty   map[int64]bool // instruments of which something is complained
	Tags     PlanTags
	Labels   map[int64]string // behind an instrument's name, such as "seated"
}

// PlanTags are the few words on the drawing.
type PlanTags struct {
	North, Metres, Gate, Power string
}

// EnglishPlan are the words on screen.
var EnglishPlan = PlanTags{North: "N", Metres: "m", Gate: "Gate", Power: "Power"}

// view turns metres on the ground into drawing units.
type planView struct {
	scale     float64 // units a metre
	left, top float64 // m east of the left edge, m north of the top edge
	w, h      float64
}

func (v planView) x(p ground.Point) float64 { return (p.X - v.left) * v.scale }
func (v planView) y(p ground.Point) float64 { return (v.top - p.Y) * v.scale }

// planMargin is drawn around the outline, m and units.
const (
	planMargin = 2.0
	planHead   = 34.0 // room above for north and scale
)

// viewOf fits everything into the width, and into the height if it must.
func viewOf(d Plan) planView {
	all := append([]ground.Point{}, d.Layout.Ground.Outline...)
	for _, f := range d.Layout.Ground.Features {
		all = append(all, f.At...)
	}
	for _, p := range d.Places {
		all = append(all, p.At)
	}
	if len(all) == 0 {
		all = []ground.Point{{X: 0, Y: 0}, {X: 60, Y: 40}}
	}
	low, high := ground.Bounds(all)
	wide, tall := high.X-low.X+2*planMargin, high.Y-low.Y+2*planMargin
	v := planView{scale: d.W / wide, w: d.W}
	if d.MaxH > 0 && tall*v.scale+planHead > d.MaxH {
		v.scale = (d.MaxH - planHead) / tall
	}
	v.h = tall*v.scale + planHead
	v.left = low.X - planMargin - (d.W/v.scale-wide)/2
	v.top = high.Y + planMargin + planHead/v.scale
	return v
}

// DrawPlan draws the field. Kinds differ by form, never by colour. Scripts
// find what they need in data attributes: the scale and the origin, each
// place's instrument and where it is, each handle's feature and point.
func DrawPlan(d Plan) SVG {
	v := viewOf(d)
	var c canvas
	class := "plan"
	attrs := []attr{a("xmlns", "http://www.w3.org/2000/svg")}
	if d.Paper {
		class = "plan paper"
		attrs = append(attrs, a("width", num(v.w)+"pt"), a("height", num(v.h)+"pt"))
	}
	attrs = append(attrs, a("class", class), a("viewBox", fmt.Sprintf("0 0 %s %s", num(v.w), num(v.h))), a("role", "group"), a("aria-labelledby", d.ID+"-t "+d.ID+"-d"),
		a("data-scale", strconv.FormatFloat(v.scale, 'f', 5, 64)), a("data-left", strconv.FormatFloat(v.left, 'f', 3, 64)), a("data-top", strconv.FormatFloat(v.top, 'f', 3, 64)))
	c.open("svg", attrs...)
	c.text("title", d.Title, a("id", d.ID+"-t"))
	c.text("desc", d.Words, a("id", d.ID+"-d"))
	c.planHatch(d.ID)
	if o := d.Layout.Ground.Outline; len(o) > 0 {
		c.void("polygon", a("class", "plot"), a("points", v.points(o)))
	}
	p := &placer{bounds: box{1, planHead * 0.6, v.w - 1, v.h - 1}}
	for i, f := range d.Layout.Ground.Features {
		c.planFeature(d, v, i, f)
		v.occupy(p, f)
	}
	c.planPlaces(d, v, p)
	for _, r := range d.Lamps {
		c.redLamp(v.x(r.At), v.y(r.At), d.Type)
	}
	c.planLabels(d, v, p)
	if d.Handles {
		c.planHandles(d, v)
	}
	c.planRule(d, v)
	return c.finish()
}

func (v planView) points(at []ground.Point) string {
	s := ""
	for i, p := range at {
		if i > 0 {
			s += " "
		}
		s += num(v.x(p)) + "," + num(v.y(p))
	}
	return s
}

// planHatch is the pattern of what cannot be walked on.
func (c *canvas) planHatch(id string) {
	c.open("pattern", a("id", id+"-hatch"), a("width", 7), a("height", 7), a("patternUnits", "userSpaceOnUse"), a("patternTransform", "rotate(45)"))
	c.line(0, 0, 0, 7, "hatch")
	c.end()
}

// planRule draws the arrow to the north and the scale bar above the ground.
func (c *canvas) planRule(d Plan, v planView) {
	x, y := v.w-16, 6.0
	c.void("path", a("class", "north"), a("d", fmt.Sprintf("M%s %sl6 20l-6 -5l-6 5z", num(x), num(y))))
	c.text("text", d.Tags.North, a("class", "strong"), a("x", x-12), a("y", y+14), a("text-anchor", "end"), a("font-size", d.Type))
	metres := 5.0
	for _, m := range []float64{10, 20, 50, 100} {
		if m*v.scale <= v.w*0.3 {
			metres = m
		}
	}
	c.line(8, 22, 8+metres*v.scale, 22, "scale")
	for k := range 6 {
		long := 4.0
		if k == 0 || k == 5 {
			long = 7
		}
		at := 8 + metres*v.scale*float64(k)/5
		c.line(at, 22-long, at, 22, "scale")
	}
	c.text("text", fmt.Sprintf("%.0f %s", metres, d.Tags.Metres), a("x", 8+metres*v.scale+6), a("y", 23), a("font-size", d.Type))
}

// planHandles are what one takes hold of to change the ground: the corners of
// the outline (feature -1) and every point of every feature.
func (c *canvas) planHandles(d Plan, v planView) {
	handle := func(feature, point int, at ground.Point, words string) {
		c.open("g", a("class", "handle"), a("tabindex", "0"), a("role", "button"), a("aria-label", words),
			a("data-feature", feature), a("data-point", point), a("data-x", at.X), a("data-y", at.Y))
		c.void("circle", a("class", "grip"), a("cx", v.x(at)), a("cy", v.y(at)), a("r", 16))
		c.void("rect", a("class", "knob"), a("x", v.x(at)-5), a("y", v.y(at)-5), a("width", 10), a("height", 10))
		c.end()
	}
	for i, at := range d.Layout.Ground.Outline {
		handle(-1, i, at, fmt.Sprintf("Corner %d of the ground: %s", i+1, metresWords(at)))
	}
	for n, f := range d.Layout.Ground.Features {
		for i, at := range f.At {
			handle(n, i, at, fmt.Sprintf("%s, point %d: %s", PlanName(f), i+1, metresWords(at)))
		}
	}
}

func metresWords(p ground.Point) string {
	return fmt.Sprintf("%.1f m east, %.1f m north", p.X, p.Y)
}

// PlanName is what a feature is called where it has no name.
func PlanName(f ground.Feature) string {
	if f.Name != "" {
		return f.Name
	}
	return map[ground.Kind]string{
		ground.Gate: "Gate", ground.Path: "Path", ground.Tree: "Tree", ground.Hedge: "Hedge or wall", ground.Building: "Building",
		ground.KeepOut: "Keep free", ground.Lamp: "Lamp", ground.RedLamp: "Red lamp", ground.Power: "Power", ground.Cable: "Cable",
	}[f.Kind]
}

// clampUnit keeps a drawn length from vanishing at small scales.
func clampUnit(v, least float64) float64 { return math.Max(v, least) }
