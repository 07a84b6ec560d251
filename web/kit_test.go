package web_test

import (
	"context"
	"math"
	"net/http"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// TestNewcomer guards the promise of the quick form: someone who knows only
// "8-inch f/6 on a rocker box" saves that and nothing else.
func TestNewcomer(t *testing.T) {
	v := visit(t)
	if to := v.save("/kit/instruments", "Design", "newtonian", "Aperture", "8-inch", "FocalLength", "f/6", "Mount", "rocker-box"); to != "/kit" {
		t.Errorf("leads to %q, want /kit", to)
	}
	p := v.get("/kit")
	row := p.row("8-inch Newtonian")
	// 8 inches are 203.2 mm (1 inch = 25.4 mm by definition), at f/6 1219 mm.
	for _, want := range []string{"203 mm", "8 in", "1219 mm", "f/6", "Rocker box", "assumed"} {
		if !strings.Contains(row, want) {
			t.Errorf("row %q lacks %q", row, want)
		}
	}
	if got := p.testid("flash"); !strings.Contains(got, "8-inch Newtonian is in the kit") {
		t.Errorf("flash %q", got)
	}
	if again := v.get("/kit").testid("flash"); again != "" {
		t.Errorf("flash is seen twice: %q", again)
	}

	x, err := v.store.Instrument(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(x.Aperture-203.2) > 1e-9 || math.Abs(x.FocalLength-1219.2) > 0.05 {
		t.Errorf("stored %v mm and %v mm, want 203.2 and 1219.2", x.Aperture, x.FocalLength)
	}
	for _, typed := range []string{"Design", "Aperture", "FocalLength", "Mount"} {
		if slices.Contains(x.Assumed, typed) {
			t.Errorf("%s was typed, yet counts as assumed", typed)
		}
	}
	if !slices.Contains(x.Assumed, "Obstruction") || !(x.Obstruction > 0) {
		t.Errorf("obstruction %v, assumed %v: want a default that is marked", x.Obstruction, x.Assumed)
	}

	// Opened again, an assumed field is empty and shows what stands in.
	edit := v.get("/kit/instruments/1")
	if got := edit.value("Obstruction"); got != "" {
		t.Errorf("assumed obstruction is filled in as %q", got)
	}
	if ph := attr(edit.all(having("id", "Obstruction"))[0], "placeholder"); !strings.Contains(ph, "assumed") {
		t.Errorf("placeholder %q does not say assumed", ph)
	}
	// Saved unchanged, nothing changes but the version.
	v.save("/kit/instruments/1", formOf(edit)...)
	y, err := v.store.Instrument(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(x.Assumed, y.Assumed) || x.Aperture != y.Aperture || x.Version+1 != y.Version {
		t.Errorf("saving unchanged: assumed %v -> %v, aperture %v -> %v, version %d -> %d", x.Assumed, y.Assumed, x.Aperture, y.Aperture, x.Version, y.Version)
	}
}

// formOf is what a browser would send for the form that has a Version.
func formOf(p page) []string {
	var pairs []string
	seen := map[string]bool{}
	for _, kind := range []string{"input", "select", "textarea"} {
		for _, n := range p.all(tag(kind)) {
			name, typ := attr(n, "name"), attr(n, "type")
			box := typ == "checkbox" || typ == "radio"
			if name == "" || name == "back" || (!box && seen[name]) || (box && !has(n, "checked")) {
				continue
			}
			value := attr(n, "value")
			if !box {
				value = p.value(name)
			}
			seen[name] = true
			pairs = append(pairs, name, value)
		}
	}
	return pairs
}

// set returns a copy of a form with another value in one field.
func set(form []string, field, value string) []string {
	form = slices.Clone(form)
	for i := 0; i < len(form); i += 2 {
		if form[i] == field {
			form[i+1] = value
		}
	}
	return form
}

// TestRefusedGear guards that nonsense is refused with 422, beside its field,
// with everything that was typed kept.
func TestRefusedGear(t *testing.T) {
	v := visit(t)
	instrument := []string{"Design", "newtonian", "Aperture", "200", "FocalLength", "1200", "Mount", "rocker-box"}
	eyepiece := []string{"FocalLength", "25"}
	for _, c := range []struct {
		name, path   string
		form         []string
		field, typed string
	}{
		{"no aperture at all", "instruments", instrument, "Aperture", ""},
		{"aperture 0", "instruments", instrument, "Aperture", "0"},
		{"aperture in words", "instruments", instrument, "Aperture", "eight"},
		{"negative aperture", "instruments", instrument, "Aperture", "-200"},
		{"aperture not a number", "instruments", instrument, "Aperture", "NaN"},
		{"ambiguous comma", "instruments", instrument, "Aperture", "1,200"},
		{"f/0.3", "instruments", instrument, "FocalLength", "f/0.3"},
		{"f/0", "instruments", instrument, "FocalLength", "f/0"},
		{"focal length over all bounds", "instruments", instrument, "FocalLength", "99999"},
		{"obstruction wider than the aperture", "instruments", instrument, "Obstruction", "1.2"},
		{"obstruction typed in mm", "instruments", instrument, "Obstruction", "60"},
		{"unknown design", "instruments", instrument, "Design", "spyglass"},
		{"unknown mount", "instruments", instrument, "Mount", "<script>"},
		{"negative weight", "instruments", instrument, "Weight", "-3"},
		{"glass thicker than wide", "instruments", instrument, "Thickness", "199 cm"},
		{"none of it", "instruments", instrument, "Count", "0"},
		{"Sun filter fitted, not certified", "instruments", instrument, "Fitted", "1"},
		{"impossible date", "instruments", instrument, "Inspected", "2026-02-30"},
		{"name too long", "instruments", instrument, "Name", strings.Repeat("x", 300)},
		{"owner who does not exist", "instruments", instrument, "OwnerID", "99"},
		{"eyepiece of 300 degrees", "eyepieces", eyepiece, "ApparentField", "300"},
		{"eyepiece of 0 mm", "eyepieces", eyepiece, "FocalLength", "0"},
		{"field stop wider than the barrel", "eyepieces", append([]string{"Barrel", "1.25in"}, eyepiece...), "FieldStop", "46"},
		{"Barlow lens that shrinks", "amplifiers", []string{"Kind", "barlow"}, "Factor", "0.5"},
		{"eyepiece filter for the Sun", "filters", []string{"Kind", "neutral"}, "Transmission", "0.00001"},
		{"battery of nothing", "batteries", nil, "Capacity", "0"},
		{"ladder to the Moon", "steps", []string{"Kind", "ladder"}, "Height", "384400000 m"},
		{"heater for no tube", "dew-gear", []string{"Kind", "heater-strip"}, "MaxDiameter", "-5"},
		{"finder of 900 times", "finders", []string{"Kind", "straight"}, "Power", "900"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var form []string
			for i := 0; i < len(c.form); i += 2 {
				if c.form[i] != c.field {
					form = append(form, c.form[i], c.form[i+1])
				}
			}
			form = append(form, c.field, c.typed, "Notes", "kept as typed")
			v.t = t
			p := v.post("/kit/"+c.path, form...).wants(http.StatusUnprocessableEntity)
			if p.fault(c.field) == "" {
				t.Errorf("no message beside %s; above the form: %q", c.field, p.faults())
			}
			if !strings.Contains(p.faults(), p.fault(c.field)) {
				t.Errorf("the summary %q lacks the message %q", p.faults(), p.fault(c.field))
			}
			if got := p.value("Notes"); got != "kept as typed" {
				t.Errorf("notes %q, want them kept", got)
			}
			isList := len(p.all(func(n *html.Node) bool { return n.Data == "select" && attr(n, "name") == c.field })) > 0
			if got := p.value(c.field); got != c.typed && !isList {
				t.Errorf("%s holds %q, want %q as typed", c.field, got, c.typed)
			}
		})
	}
	all, err := v.store.Kit(context.Background(), true)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(all.Instruments) + len(all.Eyepieces) + len(all.Amplifiers) + len(all.Steps); n != 0 {
		t.Errorf("%d refused pieces were kept", n)
	}
}

func TestRetireAndUndo(t *testing.T) {
	v := visit(t)
	fill(v)
	v.save("/kit/instruments/1/retire", "version", "1")
	p := v.get("/kit")
	if row := p.row("The Barrel"); row != "" {
		t.Errorf("retired, yet on the list: %q", row)
	}
	var undo string
	for _, n := range p.all(having("data-testid", "flash")) {
		for f := range n.Descendants() {
			if f.Data == "form" {
				undo = attr(f, "action")
			}
		}
	}
	if undo != "/kit/instruments/1/restore?version=2" {
		t.Fatalf("undo posts to %q", undo)
	}
	v.save(undo)
	if row := v.get("/kit").row("The Barrel"); row == "" {
		t.Error("undone, yet not on the list")
	}
}

// TestNobodyOverwrites guards that the second of two who edit the same thing is
// told what the first saved, and that nothing is lost until they decide.
func TestNobodyOverwrites(t *testing.T) {
	v := visit(t)
	fill(v)
	for _, c := range []struct{ path, field, mine, theirs string }{
		{"/kit/instruments/1", "Notes", "mine", "theirs"},
		{"/sites/1", "Ground", "mine", "theirs"},
		{"/crew/1", "Languages", "Dutch", "Welsh"},
		{"/nights/1/edit", "Guests", "111", "222"},
	} {
		t.Run(c.path, func(t *testing.T) {
			v.t = t
			opened := formOf(v.get(c.path))
			v.save(c.path, set(opened, c.field, c.theirs)...)
			p := v.post(c.path, set(opened, c.field, c.mine)...).wants(http.StatusConflict)
			if note := p.testid("conflict"); !strings.Contains(note, c.theirs) || !strings.Contains(note, c.mine) {
				t.Errorf("note %q does not name both values", note)
			}
			if got := p.value(c.field); got != c.mine {
				t.Errorf("%s holds %q, want what was typed", c.field, got)
			}
			if got := v.get(c.path).value(c.field); got != c.theirs {
				t.Errorf("stored %q, want %q: the first save is not to be lost", got, c.theirs)
			}
			v.save(c.path, formOf(p)...) // now knowingly
			if got := v.get(c.path).value(c.field); got != c.mine {
				t.Errorf("after saving again %q, want %q", got, c.mine)
			}
		})
	}
}

func TestInchesFirst(t *testing.T) {
	v := visit(t)
	club, err := v.store.Club(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	club.Inches = true
	if err := v.store.SaveClub(context.Background(), &club); err != nil {
		t.Fatal(err)
	}
	v.save("/kit/instruments", "Design", "newtonian", "Aperture", "10", "FocalLength", "f/5")
	x, err := v.store.Instrument(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(x.Aperture-254) > 1e-9 {
		t.Errorf("10 became %v mm, want 254", x.Aperture)
	}
	if got := v.get("/kit/instruments/1").value("Aperture"); got != "10 in" {
		t.Errorf("box holds %q, want 10 in", got)
	}
}
