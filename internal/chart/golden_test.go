package chart_test

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/chart"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

// TestGolden compares whole drawings with those kept, element by element:
// names, classes, texts, and numbers to a twentieth of a point, so that a
// change in the last digit of a computation is not a change of the drawing.
func TestGolden(t *testing.T) {
	for name, svg := range goldens(t) {
		file := filepath.Join("testdata", name+".svg")
		if *update {
			if err := os.WriteFile(file, []byte(svg), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		kept, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		got, want := drawn(t, svg), drawn(t, chart.SVG(kept))
		if len(got) != len(want) {
			t.Errorf("%s: %d elements, want %d; run with -update and look at the drawing", name, len(got), len(want))
			continue
		}
		for i := range got {
			if diff := differs(got[i], want[i]); diff != "" {
				t.Errorf("%s, element %d <%s>: %s", name, i, got[i].name, diff)
				break
			}
		}
	}
}

var numbers = regexp.MustCompile(`-?\d+(\.\d+)?`)

// differs says in what two elements differ; "" when in nothing that shows.
func differs(a, b element) string {
	if a.name != b.name || a.text != b.text || len(a.attrs) != len(b.attrs) {
		return "got " + a.name + " " + a.text + ", want " + b.name + " " + b.text
	}
	for k, v := range a.attrs {
		w := b.attrs[k]
		if numbers.ReplaceAllString(v, "#") != numbers.ReplaceAllString(w, "#") {
			return k + " is " + v + ", want " + w
		}
		x, y := numbers.FindAllString(v, -1), numbers.FindAllString(w, -1)
		for i := range x {
			p, _ := strconv.ParseFloat(x[i], 64)
			q, _ := strconv.ParseFloat(y[i], 64)
			if math.Abs(p-q) > 0.05 {
				return k + " is " + v + ", want " + w
			}
		}
	}
	return ""
}

// goldens are one drawing of each kind, in both hemispheres.
func goldens(t *testing.T) map[string]chart.SVG {
	out := map[string]chart.SVG{}
	for where, site := range map[string]sky.Place{"north": north, "south": south} {
		n := nightAt(t, site, 2027, time.March, 13)
		at := n.From.Add(10 * time.Hour)
		m := target(t, "m42")
		e := chart.EyeOf(n, m, at, sky.Horizon{{Az: 0, Alt: 6}, {Az: 180, Alt: 14}}, catalog.Default().ConstellationName)
		e.ID, e.W, e.H, e.Labels = "e", 180, 140, labels()
		out["eye-"+where] = chart.DrawEye(e)
		f := chart.FinderOf(n, target(t, "m44"), at, optics.PlainDiagonal, 5, 8)
		f.ID, f.W, f.H, f.Labels = "f", 114, 114, labels()
		out["finder-"+where] = chart.DrawFinder(f)
		for id, kind := range map[string]string{"m42": "Newtonian", "castor": "Cassegrain with mirror diagonal", "m45": "binoculars"} {
			tr := trains()[kind].train
			v := chart.EyepieceOf(n, target(t, id), at, &tr)
			v.ID, v.W, v.H, v.Labels = "v", 114, 114, labels()
			out["eyepiece-"+id+"-"+where] = chart.DrawEyepiece(v)
		}
		for _, id := range []string{"moon", "jupiter", "saturn", "venus"} {
			tr := trains()["Cassegrain with mirror diagonal"].train
			v := chart.EyepieceOf(n, target(t, id), at, &tr)
			u, _ := chart.CloseUpOf(n, target(t, id), at, v)
			u.ID, u.W, u.H, u.Labels = "u", 220, 130, labels()
			out["closeup-"+id+"-"+where] = chart.DrawCloseUp(u)
		}
	}
	return out
}

// TestGoldensAreAll: no kept drawing is forgotten by the test.
func TestGoldensAreAll(t *testing.T) {
	var want []string
	for name := range goldens(t) {
		want = append(want, filepath.Join("testdata", name+".svg"))
	}
	sort.Strings(want)
	got, err := filepath.Glob("testdata/*.svg")
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("kept %v, drawn %v", got, want)
	}
}
