package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"duskboard/internal/chart"
	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/web/views"
)

// groundForm is a ground as typed.
type groundForm struct {
	Outline string
	Rows    []groundRow
	Version string
}

// groundRow is one feature as typed. Across is the width of a path, a hedge or
// a tree's crown.
type groundRow struct{ Kind, Name, At, Across, Height, Wheels string }

func (g groundRow) empty() bool { return g.Kind == "" && g.Name == "" && g.At == "" }

// spareRows are offered for what is not on the plan yet.
const spareRows = 4

func readGroundForm(r *http.Request) groundForm {
	v := func(name string) string { return strings.TrimSpace(r.PostFormValue(name)) }
	f := groundForm{Outline: strings.ReplaceAll(v("Outline"), "\r\n", "\n"), Version: v("Version")}
	for i := range ground.MostFeatures + spareRows {
		at := func(field string) string { return v(fmt.Sprintf("%d.%s", i, field)) }
		if !r.PostForm.Has(fmt.Sprintf("%d.Kind", i)) {
			break
		}
		f.Rows = append(f.Rows, groundRow{at("Kind"), at("Name"), at("At"), at("Across"), at("Height"), at("Wheels")})
	}
	return f
}

func groundFormOf(g ground.Ground) groundForm {
	f := groundForm{Outline: printPoints(g.Outline, "\n"), Version: strconv.FormatInt(g.Version, 10)}
	size := func(x float64) string {
		if x == 0 {
			return ""
		}
		return number(x, 2)
	}
	for _, x := range g.Features {
		row := groundRow{Kind: string(x.Kind), Name: x.Name, At: printPoints(x.At, "; "), Across: size(x.Width), Height: size(x.Height)}
		if x.Kind == ground.Tree {
			row.Across = size(2 * x.Radius)
		}
		if x.Wheels {
			row.Wheels = "1"
		}
		f.Rows = append(f.Rows, row)
	}
	return f
}

// parse turns the form into a ground. rows says from which row each feature
// came; empty rows are left out.
func (f groundForm) parse() (g ground.Ground, rows []int, faults fault.Fields) {
	add := func(name string, err error) {
		if err != nil {
			faults = append(faults, fault.Field{Name: name, Message: first(err.Error()) + "."})
		}
	}
	var err error
	g.Outline, err = parsePoints(f.Outline)
	add("Outline", err)
	for i, row := range f.Rows {
		if row.empty() {
			continue
		}
		x, bad := row.parse()
		for _, b := range bad {
			faults = append(faults, fault.Field{Name: fmt.Sprintf("%d.%s", i, b.Name), Message: b.Message})
		}
		g.Features = append(g.Features, x)
		rows = append(rows, i)
	}
	for _, b := range g.Check() {
		name := b.Name
		if n, field, ok := strings.Cut(b.Name, "."); ok {
			k, _ := strconv.Atoi(n)
			if field == "Radius" || field == "Width" {
				field = "Across"
			}
			name = fmt.Sprintf("%d.%s", rows[k], field)
		}
		if faults.For(name) == "" { // a field that cannot be read is told once
			faults = append(faults, fault.Field{Name: name, Message: b.Message})
		}
	}
	return g, rows, faults
}

func (row groundRow) parse() (x ground.Feature, faults fault.Fields) {
	add := func(name, message string) { faults = append(faults, fault.Field{Name: name, Message: message}) }
	x = ground.Feature{Kind: ground.Kind(row.Kind), Name: row.Name}
	at, err := parsePoints(row.At)
	if err != nil {
		add("At", first(err.Error())+".")
	}
	x.At = at
	size := func(field, raw string, used bool) float64 {
		if raw == "" || !used {
			return 0
		}
		v, err := kit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(raw, "m")))
		if err != nil {
			add(field, fmt.Sprintf("%s is no number of metres.", quoted(raw)))
		}
		return v
	}
	across := size("Across", row.Across, x.Kind == ground.Tree || x.Kind == ground.Path || x.Kind == ground.Hedge)
	if x.Kind == ground.Tree {
		x.Radius = across / 2
	} else {
		x.Width = across
	}
	x.Height = size("Height", row.Height, x.Kind == ground.Tree || x.Kind == ground.Hedge || x.Kind == ground.Building || x.Kind == ground.Lamp)
	x.Wheels = row.Wheels != "" && x.Kind == ground.Path
	return x, faults
}

// groundKinds are the kinds as the form names them.
var groundKinds = []views.Option{
	{Value: "", Text: "Nothing"}, {Value: string(ground.Gate), Text: "Gate"}, {Value: string(ground.Path), Text: "Path"},
	{Value: string(ground.Tree), Text: "Tree"}, {Value: string(ground.Hedge), Text: "Hedge, fence or wall"}, {Value: string(ground.Building), Text: "Building"},
	{Value: string(ground.KeepOut), Text: "Keep free"}, {Value: string(ground.Lamp), Text: "White lamp"}, {Value: string(ground.RedLamp), Text: "Red lamp"},
	{Value: string(ground.Power), Text: "Power point"}, {Value: string(ground.Cable), Text: "Cable that lies there"},
}

// view is the form as typed, with its faults and with what can be drawn.
func (f groundForm) view(faults fault.Fields) views.GroundForm {
	m := views.GroundForm{
		Version: f.Version, Drawing: f.drawing(),
		Outline: views.Field{Name: "Outline", Label: "Corners of the usable ground", Value: f.Outline, Error: faults.For("Outline"), Rows: 5, Placeholder: "0 0\n60 0\n60 40\n0 40",
			Hint: "One corner a line, in order around the edge: metres east, metres north of one corner that you choose. Steps of a metre are good enough."},
	}
	rows := f.Rows
	for spare := 0; spare < spareRows && len(rows) < ground.MostFeatures+spareRows; spare++ {
		rows = append(rows, groundRow{})
	}
	for i, row := range rows {
		at := func(field string) string { return fmt.Sprintf("%d.%s", i, field) }
		name := fmt.Sprintf("Row %d", i+1)
		m.Rows = append(m.Rows, views.GroundRow{
			Index: i, Kind: views.Choice{Name: at("Kind"), Label: "What", Value: row.Kind, Options: groundKinds, Error: faults.For(at("Kind"))},
			Name:   views.Field{Name: at("Name"), Label: "Name", Value: row.Name, Error: faults.For(at("Name"))},
			At:     views.Field{Name: at("At"), Label: "Where", Value: row.At, Error: faults.For(at("At"))},
			Across: views.Field{Name: at("Across"), Label: "Width, m", Value: row.Across, Error: faults.For(at("Across")), Mode: "decimal"},
			Height: views.Field{Name: at("Height"), Label: "Height, m", Value: row.Height, Error: faults.For(at("Height")), Mode: "decimal"},
			Wheels: views.Check{Name: at("Wheels"), Label: "Carries a wheelchair", Checked: row.Wheels != ""},
		})
		for _, field := range []string{"Kind", "Name", "At", "Across", "Height"} {
			if w := faults.For(at(field)); w != "" {
				m.Faults = append(m.Faults, views.FieldError{Name: at(field), Label: name + ", " + map[string]string{"Kind": "what", "Name": "name", "At": "where", "Across": "width", "Height": "height"}[field], Message: w})
			}
		}
	}
	if w := faults.For("Outline"); w != "" {
		m.Faults = append([]views.FieldError{{Name: "Outline", Label: "Corners", Message: w}}, m.Faults...)
	}
	return m
}

// drawing shows what can be read; features keep the numbers of their rows, so
// that a handle leads back to its row.
func (f groundForm) drawing() string {
	g, rows, faults := f.parse()
	shown := ground.Ground{}
	if faults.For("Outline") == "" {
		shown.Outline = g.Outline
	}
	for k, x := range g.Features {
		for len(shown.Features) < rows[k] {
			shown.Features = append(shown.Features, ground.Feature{})
		}
		bad := false
		for _, field := range []string{"Kind", "At", "Across", "Height"} {
			bad = bad || faults.For(fmt.Sprintf("%d.%s", rows[k], field)) != ""
		}
		if bad {
			x = ground.Feature{}
		}
		shown.Features = append(shown.Features, x)
	}
	return string(chart.DrawPlan(chart.Plan{
		ID: "ground", Title: "The ground", Words: groundWords(shown), W: 900, MaxH: 700, Type: 14,
		Layout: ground.NewLayout(shown, nil), Handles: true, Tags: chart.EnglishPlan,
	}))
}

// groundWords says what is on the plan.
func groundWords(g ground.Ground) string {
	if g.Empty() {
		return "No ground yet."
	}
	low, high := ground.Bounds(g.Outline)
	words := fmt.Sprintf("Ground of %.0f by %.0f metres, north up.", high.X-low.X, high.Y-low.Y)
	for _, f := range g.Features {
		if len(f.At) > 0 {
			words += fmt.Sprintf(" %s at %.0f m east, %.0f m north.", first(chart.PlanName(f)), f.At[0].X, f.At[0].Y)
		}
	}
	return words
}
