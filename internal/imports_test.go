package internal_test

import (
	"encoding/json"
	"io"
	"os/exec"
	"strings"
	"testing"
)

// layer says which of our packages a package may import. A package that is
// missing here fails the test, so that nobody adds a room without a door.
var layer = map[string][]string{
	"migrations":         {},
	"static":             {},
	"internal/fault":     {},
	"internal/kit":       {"internal/fault"},
	"internal/account":   {"internal/fault"},
	"internal/privacy":   {},
	"internal/exchange":  {"internal/night", "internal/crew", "internal/kit", "internal/catalog", "internal/sky", "internal/fault"},
	"internal/sky":       {"internal/fault"},
	"internal/assign":    {},
	"internal/weather":   {"internal/fault"},
	"internal/catalog":   {"internal/sky", "internal/fault"},
	"internal/optics":    {"internal/kit", "internal/fault"},
	"internal/vision":    {"internal/optics", "internal/sky", "internal/catalog", "internal/kit", "internal/fault"},
	"internal/field":     {"internal/kit", "internal/weather", "internal/fault"},
	"internal/crew":      {"internal/kit", "internal/assign", "internal/fault"},
	"internal/ground":    {"internal/kit", "internal/fault"},
	"internal/lineup":    {"internal/optics", "internal/vision", "internal/field", "internal/sky", "internal/catalog", "internal/kit", "internal/weather", "internal/assign", "internal/crew", "internal/fault"},
	"internal/night":     {"internal/ground", "internal/lineup", "internal/crew", "internal/optics", "internal/vision", "internal/field", "internal/sky", "internal/catalog", "internal/kit", "internal/weather", "internal/assign", "internal/fault"},
	"internal/departure": {"internal/night", "internal/lineup", "internal/crew", "internal/optics", "internal/field", "internal/sky", "internal/catalog", "internal/kit", "internal/weather", "internal/fault"},
	"internal/nightfile": {"internal/ground", "internal/night", "internal/catalog", "internal/lineup", "internal/crew", "internal/kit", "internal/sky", "internal/weather", "internal/fault"},
	"internal/chart":     {"internal/ground", "internal/night", "internal/lineup", "internal/optics", "internal/field", "internal/sky", "internal/catalog", "internal/kit", "internal/weather", "internal/fault"},
	"internal/store":     {"internal/ground", "internal/account", "internal/privacy", "internal/night", "internal/lineup", "internal/crew", "internal/catalog", "internal/field", "internal/kit", "internal/sky", "internal/weather", "internal/fault", "internal/store", "migrations"},
	"web":                {"internal/ground", "internal/account", "internal/privacy", "internal/exchange", "internal/nightfile", "internal/night", "internal/lineup", "internal/crew", "internal/chart", "internal/departure", "internal/optics", "internal/vision", "internal/field", "internal/sky", "internal/catalog", "internal/kit", "internal/weather", "internal/fault", "static", "web"},
	"cmd/duskboard":      {"web", "internal", "static", "migrations", "cmd"},
}

// only names imports that a single package may have: the astronomy library
// is turned into our types in sky, SQL is spoken in store.
var only = map[string][]string{
	"github.com/soniakeys/meeus":  {"internal/sky"},
	"database/sql":                {"internal/store", "migrations"},
	"github.com/mattn/go-sqlite3": {"internal/store"},
}

type pkg struct {
	ImportPath string
	Imports    []string
}

// TestImportsRunOneWay guards the direction of imports of the design: an
// arrow the other way, or a second package that speaks SQL, fails here.
func TestImportsRunOneWay(t *testing.T) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "duskboard/...")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	seen := 0
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p pkg
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, "duskboard/")
		room := ""
		for r := range layer {
			if (name == r || strings.HasPrefix(name, r+"/")) && len(r) > len(room) {
				room = r
			}
		}
		if name == "internal" {
			continue // this test's own package
		}
		if room == "" {
			t.Errorf("package %s has no entry in the table of layers", name)
			continue
		}
		seen++
		for _, imp := range p.Imports {
			if own, ok := strings.CutPrefix(imp, "duskboard/"); ok && !allowed(own, append(layer[room], room)) {
				t.Errorf("%s imports %s, which is the wrong way", name, own)
			}
			for lib, rooms := range only {
				if (imp == lib || strings.HasPrefix(imp, lib+"/")) && !allowed(name, rooms) {
					t.Errorf("%s imports %s, which only %v may", name, lib, rooms)
				}
			}
		}
	}
	if seen < 15 {
		t.Errorf("saw %d packages of ours, expected at least 15", seen)
	}
}

func allowed(name string, rooms []string) bool {
	for _, r := range rooms {
		if name == r || strings.HasPrefix(name, r+"/") {
			return true
		}
	}
	return false
}
