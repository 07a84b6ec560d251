package chart_test

import (
	"encoding/xml"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/chart"
	"duskboard/internal/kit"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// element is one element of a drawing, with the text directly in it.
type element struct {
	name, text string
	attrs      map[string]string
}

func (e element) n(name string) float64 {
	v, _ := strconv.ParseFloat(strings.TrimSuffix(e.attrs[name], "pt"), 64)
	return v
}

func (e element) is(class string) bool {
	for _, c := range strings.Fields(e.attrs["class"]) {
		if c == class {
			return true
		}
	}
	return false
}

// drawn parses a drawing; markup that is not well formed fails the test.
func drawn(t testing.TB, svg chart.SVG) []element {
	t.Helper()
	var out []element
	d := xml.NewDecoder(strings.NewReader(string(svg)))
	for {
		tok, err := d.Token()
		if tok == nil {
			return out
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			e := element{name: x.Name.Local, attrs: map[string]string{}}
			for _, a := range x.Attr {
				if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
					t.Fatalf("<%s> has %s, which the content policy forbids", e.name, a.Name.Local)
				}
				e.attrs[a.Name.Local] = a.Value
			}
			out = append(append(out, starsOf(e)...), e)
		case xml.CharData:
			if len(out) > 0 {
				out[len(out)-1].text += string(x)
			}
		}
	}
}

// starsOf are the stars of a path of many, as circles: a stroke without length
// and with round ends is a disc as wide as the stroke.
func starsOf(e element) []element {
	var out []element
	if !e.is("stars") {
		return nil
	}
	for _, m := range strings.Split(strings.TrimSuffix(e.attrs["d"], "h0"), "h0") {
		x, y, _ := strings.Cut(strings.TrimPrefix(m, "M"), " ")
		out = append(out, element{name: "circle", attrs: map[string]string{"class": "star", "cx": x, "cy": y, "r": strconv.FormatFloat(e.n("stroke-width")/2, 'f', 3, 64)}})
	}
	return out
}

// points are the corners of a path of moves and lines.
func points(e element) [][2]float64 {
	var out [][2]float64
	for _, p := range strings.FieldsFunc(e.attrs["d"], func(r rune) bool { return r == 'M' || r == 'L' || r == 'Z' }) {
		f := strings.Fields(p)
		if len(f) == 2 {
			x, _ := strconv.ParseFloat(f[0], 64)
			y, _ := strconv.ParseFloat(f[1], 64)
			out = append(out, [2]float64{x, y})
		}
	}
	return out
}

func classed(es []element, class string) []element {
	var out []element
	for _, e := range es {
		if e.is(class) {
			out = append(out, e)
		}
	}
	return out
}

var (
	north = sky.Place{Lat: 50.08, Lon: 9.31, Elev: 190}
	south = sky.Place{Lat: -36.92, Lon: 146.21, Elev: 410}
)

func nightAt(t testing.TB, p sky.Place, year int, month time.Month, day int) *sky.Night {
	t.Helper()
	n, err := sky.NewNight(p, sky.Date{Year: year, Month: month, Day: day}, time.FixedZone("local", int(math.Round(p.Lon/15))*3600))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func target(t testing.TB, id string) catalog.Target {
	t.Helper()
	x, ok := catalog.Default().ByID(id)
	if !ok {
		t.Fatalf("no target %q", id)
	}
	return x
}

func labels() chart.Labels {
	return chart.Labels{North: "N", East: "E", Compass: [8]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}, Title: "title", Desc: "words"}
}

// trains are the eight ways to the eye, with the number of reflections and
// whether an erecting prism sets the picture upright. The parts behind a
// diagonal are looked into from above, which is what makes them upright.
func trains() map[string]struct {
	train    optics.Train
	mirrored bool // an odd number of reflections
	over     bool // turned by 180 degrees
} {
	eye := &kit.Eyepiece{Base: kit.Base{ID: 1}, FocalLength: 25, ApparentField: 50, FieldStop: 21.2, Barrel: kit.Barrel125}
	tube := func(d kit.Design, place kit.EyepiecePlace, diagonal kit.DiagonalKind) optics.Train {
		t := optics.Train{Instrument: kit.Instrument{Design: d, Aperture: 120, FocalLength: 900, EyepiecePlace: place}, Eyepiece: eye}
		if diagonal != "" {
			t.Diagonal = &kit.Diagonal{Kind: diagonal}
		}
		return t
	}
	return map[string]struct {
		train    optics.Train
		mirrored bool
		over     bool
	}{
		"refractor straight through":      {tube(kit.Achromat, kit.Straight, ""), false, true},                          // 0 reflections
		"Cassegrain straight through":     {tube(kit.SchmidtCassegrain, kit.Straight, ""), false, true},                 // 2
		"Newtonian":                       {tube(kit.Newtonian, kit.AtSide, ""), false, true},                           // 2
		"refractor with mirror diagonal":  {tube(kit.Achromat, kit.BehindDiagonal, kit.Mirror90), true, false},          // 1
		"Cassegrain with mirror diagonal": {tube(kit.SchmidtCassegrain, kit.BehindDiagonal, kit.Mirror90), true, false}, // 3
		"refractor with roof prism at 90": {tube(kit.Apochromat, kit.BehindDiagonal, kit.Amici90), false, false},        // 2
		"refractor with roof prism at 45": {tube(kit.Apochromat, kit.BehindDiagonal, kit.Amici45), false, false},        // 2
		"binoculars":                      {optics.Train{Instrument: kit.Instrument{Design: kit.Binoculars, Aperture: 50, Power: 10, FixedField: 6}}, false, false},
	}
}

// angle is the direction of (dx, dy) on paper, degrees clockwise from the top.
func angle(dx, dy float64) float64 { return math.Mod(math.Atan2(dx, -dy)*180/math.Pi+360, 360) }

func turned(a, b float64) float64 { return math.Abs(math.Remainder(a-b, 360)) }
