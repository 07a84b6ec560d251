package nightfile_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
)

// laidOut is a night with a plan of the ground that holds each kind of feature,
// and two instruments with their places.
func laidOut() night.Plan {
	p := plan()
	p.Kit.Instruments = append(p.Kit.Instruments, kit.Instrument{Base: kit.Base{ID: 5, Name: "Second", Count: 1}, Design: kit.Achromat, Aperture: 100, FocalLength: 800, Mount: kit.AltAzHand, Focuser: kit.Barrel125})
	p.Ground = ground.Ground{
		Outline: []ground.Point{{X: -20, Y: -10.5}, {X: 40, Y: -10.5}, {X: 40, Y: 30}, {X: -20, Y: 30.25}},
		Features: []ground.Feature{
			{Kind: ground.Gate, Name: "South gate", At: []ground.Point{{X: 0, Y: -10}}},
			{Kind: ground.Path, Name: "Gravel path", At: []ground.Point{{X: 0, Y: -10}, {X: 5, Y: 10}, {X: 30, Y: 20}}, Width: 1.5, Wheels: true},
			{Kind: ground.Tree, Name: "Old oak", At: []ground.Point{{X: 30, Y: 25}}, Radius: 4, Height: 15},
			{Kind: ground.Hedge, At: []ground.Point{{X: -19, Y: -9}, {X: -19, Y: 29}}, Width: 1, Height: 2.5},
			{Kind: ground.Building, Name: "Hut", At: []ground.Point{{X: 35, Y: 0}, {X: 39, Y: 0}, {X: 39, Y: 4}}, Height: 3},
			{Kind: ground.KeepOut, Name: "Pond", At: []ground.Point{{X: -10, Y: 20}, {X: -5, Y: 20}, {X: -8, Y: 26}}},
			{Kind: ground.Lamp, At: []ground.Point{{X: 39, Y: 29}}, Height: 5},
			{Kind: ground.RedLamp, At: []ground.Point{{X: 1, Y: 0}}},
			{Kind: ground.Power, Name: "Hut socket", At: []ground.Point{{X: 35, Y: 2}}},
			{Kind: ground.Cable, At: []ground.Point{{X: 35, Y: 2}, {X: 30, Y: 3}}},
		},
	}
	p.Places = []ground.Place{
		{InstrumentID: 5, Number: 1, At: ground.Point{X: 10.5, Y: 3}, Queue: 112.5, Pinned: true},
		{InstrumentID: 1, Number: 2, At: ground.Point{X: -4, Y: 8.5}, Queue: 0},
	}
	return p
}

// TestFieldThereAndBack: every kind of feature and each place go through a file
// unchanged, and the small numbers of a portable file lead to the same
// instruments.
func TestFieldThereAndBack(t *testing.T) {
	want := laidOut()
	for _, k := range ground.Kinds {
		if !bytes.Contains(written(t, want), []byte(fmt.Sprintf("%q", k))) {
			t.Errorf("the example has no %s", k)
		}
	}
	got, err := nightfile.Read(bytes.NewReader(written(t, want)))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got, cmpopts.EquateEmpty(), cmpopts.EquateApprox(1e-9, 0)); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	if err := nightfile.Keepable(got); err != nil {
		t.Error(err)
	}

	// Numbers of a club that counts otherwise, and a place of an instrument
	// that is no part of the night.
	club := laidOut()
	club.Places = append(club.Places, ground.Place{InstrumentID: 77, Number: 3})
	club.Ground.Version, club.Ground.CanUndo = 12, true
	p := nightfile.Portable(club)
	if len(p.Places) != 2 || p.Kit.Instruments[p.Places[0].InstrumentID-1].Name != "Second" || p.Kit.Instruments[p.Places[1].InstrumentID-1].Name != "Tube" {
		t.Errorf("portable places: %+v", p.Places)
	}
	if bytes.Contains(written(t, p), []byte("version")) {
		t.Error("the file tells the club's version of the ground")
	}
	if len(club.Places) != 3 || club.Places[0].InstrumentID != 5 {
		t.Errorf("the club's own plan was changed: %+v", club.Places)
	}
}

func written(t testing.TB, p night.Plan) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := nightfile.Write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestHostileFields: what no field can be is refused at its place.
func TestHostileFields(t *testing.T) {
	good := string(written(t, laidOut()))
	point := `{
          "x": -20,
          "y": -10.5
        }`
	for _, c := range []struct{ name, old, new, path string }{
		{"a corner far off", `"x": -20`, `"x": -20000`, "/site/fieldPlan/outline/0/x"},
		{"a corner at 1e309", `"x": -20`, `"x": 1e309`, "/site/fieldPlan/outline/0/x"},
		{"a corner that is a word", `"x": -20`, `"x": "west"`, "/site/fieldPlan/outline/0/x"},
		{"41 corners", point, strings.Repeat(point+",", 37) + point, "/site/fieldPlan/outline"},
		{"a hundred thousand corners", point, strings.Repeat(`{"x":1,"y":2},`, 100_000) + point, "/site/fieldPlan/outline"},
		{"an edge that crosses itself", `"y": 30.25`, `"y": -60`, "/site/fieldPlan/outline"},
		{"61 features", `"features": [`, `"features": [` + strings.Repeat(`{"kind":"red-lamp","at":[{"x":1,"y":1}]},`, 51), "/site/fieldPlan/features"},
		{"an unknown feature", `"kind": "tree"`, `"kind": "volcano"`, "/site/fieldPlan/features/2/kind"},
		{"a path of one point", `"at": [
            {
              "x": 35,
              "y": 2
            },
            {
              "x": 30,
              "y": 3
            }
          ]`, `"at": [{"x": 35, "y": 2}]`, "/site/fieldPlan/features/9/at"},
		{"a path without width", `"width": 1.5`, `"width": 0.01`, "/site/fieldPlan/features/1/width"},
		{"a tree that reaches the clouds", `"height": 15`, `"height": 1500`, "/site/fieldPlan/features/2/height"},
		{"a negative crown", `"radius": 4`, `"radius": -4`, "/site/fieldPlan/features/2/radius"},
		{"a long name", "Old oak", strings.Repeat("o", 41), "/site/fieldPlan/features/2/name"},
		{"an unknown field", `"wheels": true`, `"wheels": true, "surface": "gravel"`, "/site/fieldPlan/features/1"},
		{"an unknown instrument", `"instrument": 5,
      "number": 1`, `"instrument": 6,
      "number": 1`, "/places/0/instrument"},
		{"one instrument twice", `"instrument": 5,
      "number": 1`, `"instrument": 1,
      "number": 1`, "/places/1/instrument"},
		{"one number twice", `"number": 2`, `"number": 1`, "/places/1/number"},
		{"number 0", `"number": 2`, `"number": 0`, "/places/1/number"},
		{"number 1e9", `"number": 2`, `"number": 1000000000`, "/places/1/number"},
		{"a place far off", `"x": 10.5`, `"x": 510.5`, "/places/0/x"},
		{"a full turn", `"queue": 112.5`, `"queue": 360`, "/places/0/queue"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(good, c.old, c.new, 1)
			if bad == good {
				t.Fatalf("the file has no %q:\n%s", c.old, good)
			}
			_, err := nightfile.Read(strings.NewReader(bad))
			var fs fault.Fields
			if !errors.As(err, &fs) || fs.For(c.path) == "" {
				t.Errorf("no fault at %s: %.600v", c.path, err)
			}
		})
	}
}

// TestGroundOfASiteThatIsHere: the club's own plan of the ground counts, and
// the page says so; where it has none it takes the file's.
func TestGroundOfASiteThatIsHere(t *testing.T) {
	p := laidOut()
	site := p.Site
	site.ID = 4
	other := ground.Ground{Version: 3, Outline: []ground.Point{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 9}}}
	same := p.Ground
	same.Version, same.CanUndo = 8, true
	for _, c := range []struct {
		name    string
		have    ground.Ground
		version int64 // of the ground that the night gets; 0: it is saved anew
		note    string
		differs bool
	}{
		{"not drawn", ground.Ground{}, 0, "takes the file's", false},
		{"drawn otherwise", other, 3, "look on the night's field", true},
		{"drawn alike", same, 8, "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := nightfile.Merged(p, nightfile.Stock{Club: p.Club, Sites: []night.Site{site}, Grounds: map[int64]ground.Ground{4: c.have}}, false)
			if m.Import.Ground.Version != c.version || m.Import.Ground.Empty() {
				t.Errorf("ground of version %d, want %d", m.Import.Ground.Version, c.version)
			}
			if notes := strings.Join(m.Notes, " "); (c.note == "") != (notes == "") || !strings.Contains(notes, c.note) {
				t.Errorf("notes %q, want %q", notes, c.note)
			}
			if got := strings.Join(m.Pieces[0].Differs, " "); strings.Contains(got, "plan of the ground") != c.differs {
				t.Errorf("the site differs by %q", got)
			}
			if len(m.Import.Places) != 2 || m.Import.Places[0].InstrumentID >= 0 {
				t.Errorf("places of instruments that are new: %+v", m.Import.Places)
			}
		})
	}
}
