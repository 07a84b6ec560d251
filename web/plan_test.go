package web_test

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"duskboard/internal/ground"
)

// TestGroundAsTyped describes a ground by the form alone, gets it back as
// typed, and takes the change back.
func TestGroundAsTyped(t *testing.T) {
	v := visit(t)
	fill(v)
	to := v.save("/sites/1/ground", "Outline", "0 0\n50,5 0\n50 30\n0 30", "Version", "0",
		"0.Kind", "path", "0.Name", "gravel", "0.At", "49 2; 10 2", "0.Across", "1.6", "0.Wheels", "1",
		"1.Kind", "tree", "1.Name", "the ash", "1.At", "(20, 12)", "1.Across", "5", "1.Height", "14 m",
		"2.Kind", "", "2.Name", "", "2.At", "")
	p := v.get(to)
	for name, want := range map[string]string{"0.At": "49 2; 10 2", "1.Across": "5", "1.Height": "14", "1.Name": "the ash"} {
		if got := attr(p.all(having("id", name))[0], "value"); got != want {
			t.Errorf("%s is shown as %q, want %q", name, got, want)
		}
	}
	g, err := v.store.Ground(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Outline) != 4 || g.Outline[1].X != 50.5 || len(g.Features) != 2 || g.Features[1].Radius != 2.5 || !g.Features[0].Wheels {
		t.Errorf("kept: %+v", g)
	}
	if n := len(p.all(having("class", "handle"))); n != 4+2+1 {
		t.Errorf("%d handles on the drawing, want one for each of 7 points", n)
	}
	v.save("/sites/1/ground", "Outline", "0 0\n9 0\n9 9", "Version", "1")
	v.save("/sites/1/ground/undo")
	if g, _ = v.store.Ground(context.Background(), 1); len(g.Features) != 2 {
		t.Errorf("after undo: %+v", g)
	}
	// Somebody else saved meanwhile: nothing is overwritten, what was typed stays.
	late := v.post("/sites/1/ground", "Outline", "0 0\n8 0\n8 8", "Version", "1")
	if late.status != http.StatusConflict || !strings.Contains(late.body, "8 8") {
		t.Errorf("a late save answers %d", late.status)
	}
}

// TestGroundRefused guards that what cannot be is told at its field, with what
// was typed kept, and nothing saved.
func TestGroundRefused(t *testing.T) {
	v := visit(t)
	fill(v)
	p := v.post("/sites/1/ground", "Outline", "0 0; 10 0", "Version", "0",
		"0.Kind", "tree", "0.Name", "oak", "0.At", "5 five", "0.Height", "12",
		"1.Kind", "path", "1.At", "1 1; 2 2", "1.Across", "wide",
		"2.Kind", "", "2.Name", "what is it", "2.At", "3 3")
	if p.status != http.StatusUnprocessableEntity {
		t.Fatalf("status %d, want 422", p.status)
	}
	for id, words := range map[string]string{"Outline-error": "Three corners", "0.At-error": "five", "1.Across-error": "wide", "2.Kind-error": "Choose what this is"} {
		found := p.all(having("id", id))
		if len(found) != 1 || !strings.Contains(textOf(found[0]), words) {
			t.Errorf("no fault %q that says %q; faults: %q", id, words, p.faults())
		}
	}
	if !strings.Contains(p.body, "5 five") || !strings.Contains(p.body, "what is it") {
		t.Error("what was typed is lost")
	}
	if g, _ := v.store.Ground(context.Background(), 1); !g.Empty() {
		t.Errorf("something was saved: %+v", g)
	}
}

func textOf(n *html.Node) string {
	s := ""
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			s += d.Data
		}
	}
	return s
}

// laidOut is a night on a ground with a path and a tree.
func laidOut(t *testing.T) *visitor {
	t.Helper()
	v := visit(t)
	fill(v)
	g := ground.Ground{Outline: []ground.Point{{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 50, Y: 30}, {X: 0, Y: 30}}, Features: []ground.Feature{
		{Kind: ground.Path, Name: "the path", At: []ground.Point{{X: 49, Y: 2}, {X: 5, Y: 2}}, Width: 1.5, Wheels: true},
		{Kind: ground.Tree, Name: "the oak", At: []ground.Point{{X: 20, Y: 20}}, Radius: 3, Height: 12},
	}}
	if err := v.store.SaveGround(context.Background(), 1, &g); err != nil {
		t.Fatal(err)
	}
	return v
}

// TestFieldByForms lays a night out without script: suggest, change the table,
// be refused with words, undo, redo.
func TestFieldByForms(t *testing.T) {
	v := laidOut(t)
	v.save("/nights/1/field/suggest", "version", "0")
	p := v.plan()
	if len(p.Places) != len(p.Kit.Instruments) || len(p.Places) == 0 {
		t.Fatalf("%d places for %d instruments", len(p.Places), len(p.Kit.Instruments))
	}
	page := v.get("/nights/1/field")
	if len(page.all(having("data-testid", "all-well"))) != 1 {
		t.Errorf("the suggestion has faults: %q", textOf(page.root))
	}
	// Into the oak, by the table.
	v.save("/nights/1/field/places", "version", "1", "Number.1", "4", "East.1", "20,5", "North.1", "20", "Queue.1", "90", "Pinned.1", "1")
	now := v.plan().Places[0]
	if now.At != (ground.Point{X: 20.5, Y: 20}) || now.Number != 4 || !now.Pinned {
		t.Errorf("saved as %+v", now)
	}
	if page = v.get("/nights/1/field"); !strings.Contains(page.body, "stands on the oak") {
		t.Error("an instrument in the oak is not complained of")
	}
	bad := v.post("/nights/1/field/places", "version", "2", "Number.1", "none", "East.1", "far", "North.1", "20")
	if bad.status != http.StatusUnprocessableEntity || !strings.Contains(bad.body, `value="far"`) || len(bad.all(having("id", "East.1-error"))) != 1 || len(bad.all(having("id", "Number.1-error"))) != 1 {
		t.Errorf("a bad table answers %d; faults %q", bad.status, bad.faults())
	}
	if late := v.post("/nights/1/field/suggest", "version", "1"); late.status != http.StatusConflict || !strings.Contains(late.body, "Somebody else has changed this field") {
		t.Errorf("a late suggestion answers %d", late.status)
	}
	v.save("/nights/1/field/undo")
	if got := v.plan().Places; got[0] != p.Places[0] {
		t.Errorf("after undo %+v, want %+v", got[0], p.Places[0])
	}
	v.save("/nights/1/field/redo")
	v.save("/nights/1/field/places/1", "version", "4", "X", "30", "Y", "10.04", "Queue", "22.5")
	if got := v.plan().Places[0]; got.At != (ground.Point{X: 30, Y: 10}) || got.Queue != 22.5 {
		t.Errorf("moved to %+v", got)
	}
	if off := v.post("/nights/1/field/places/1", "X", "NaN"); off.status != http.StatusUnprocessableEntity {
		t.Errorf("no number answers %d", off.status)
	}
	if none := v.post("/nights/1/field/places/99", "X", "1"); none.status != http.StatusNotFound {
		t.Errorf("no such instrument answers %d", none.status)
	}
}

// TestFieldWithoutGround says what to do first.
func TestFieldWithoutGround(t *testing.T) {
	v := visit(t)
	fill(v)
	page := v.get("/nights/1/field")
	if len(page.all(having("data-testid", "empty"))) != 1 || !strings.Contains(page.body, `href="/sites/1/ground"`) {
		t.Error("a field without a ground does not lead to describing it")
	}
	if p := v.post("/nights/1/field/suggest"); p.status != http.StatusUnprocessableEntity || !strings.Contains(p.body, "Describe the ground") {
		t.Errorf("a suggestion without a ground answers %d", p.status)
	}
}

// TestGuestsReadTheSamePlace wants one number and one wording for where an
// instrument stands: on its card, on the guests' page and in the programme,
// whatever its owner noted before the field was laid out.
func TestGuestsReadTheSamePlace(t *testing.T) {
	v := planned(t, 0)
	v.save("/nights/1/programme/publish")
	p := v.plan()
	places := map[int64]string{}
	for _, x := range programmeOf(t, v.get("/n/1/programme.json")).Instruments {
		place, ok := p.PlaceOf(x.ID)
		if !ok || x.Stand != strconv.Itoa(place.Number) {
			t.Errorf("%s stands at %q for guests, its place is %d", x.Name, x.Stand, place.Number)
		}
		places[x.ID] = x.Place
	}
	if len(places) == 0 {
		t.Fatal("the programme has no instruments")
	}
	cards, guests := textOf(v.get("/nights/1/cards").root), textOf(v.get("/n/1").root)
	for id, words := range places {
		if words == "" || !strings.Contains(cards, words) || !strings.Contains(guests, words) {
			t.Errorf("instrument %d: %q is not on both the card and the guests' page", id, words)
		}
	}
}

// TestPlacardsTellThePlace: a placard says where its instrument stands, in the
// words of the cards and of the language; without a place on the field it has
// what the owner noted, or nothing.
func TestPlacardsTellThePlace(t *testing.T) {
	bare := boarded(t).get("/nights/1/placards").wants(http.StatusOK)
	if len(bare.all(having("data-testid", "placard"))) != 2 || len(bare.all(having("class", "placard-place"))) != 0 {
		t.Error("a placard tells a place that nobody gave")
	}
	v := planned(t, 0)
	for lang, word := range map[string]string{"en": "Place ", "de": "Platz "} {
		cards := v.get("/nights/1/cards?lang=" + lang).all(having("data-testid", "card"))
		placards := v.get("/nights/1/placards?lang=" + lang).wants(http.StatusOK).all(having("data-testid", "placard"))
		if len(placards) == 0 || len(cards) == 0 {
			t.Fatalf("%d placards, %d cards", len(placards), len(cards))
		}
		all := ""
		for _, c := range cards {
			all += textOf(c)
		}
		for _, p := range placards {
			place := ""
			for d := range p.Descendants() {
				if attr(d, "class") == "placard-place" {
					place = textOf(d)
				}
			}
			if !strings.HasPrefix(place, word) || !strings.Contains(all, place) {
				t.Errorf("%s: a placard tells the place %q, no card does", lang, place)
			}
		}
	}
}
