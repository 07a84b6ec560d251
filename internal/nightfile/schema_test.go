package nightfile_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/invopop/jsonschema"

	"duskboard/internal/nightfile"
)

var update = flag.Bool("update", false, "write the schema anew from the types")

// published is where people look for the schema; it is the same document.
var published = filepath.Join("..", "..", "testdata", "nights", "duskboard-night-1.schema.json")

// TestSchemaFollowsTypes guards that the committed schema describes the types
// as they are: a new field without a schema would be refused on import.
func TestSchemaFollowsTypes(t *testing.T) {
	r := &jsonschema.Reflector{ExpandedStruct: true, Anonymous: true, RequiredFromJSONSchemaTags: false}
	s := r.Reflect(&nightfile.File{})
	s.Title = "Duskboard night file, " + nightfile.Format
	s.Description = "A public astronomy night. Lengths in mm unless the program's documentation says m; angles in degrees; instants RFC 3339; durations in minutes."
	if p, ok := s.Properties.Get("format"); ok {
		p.Const = nightfile.Format
	}
	got, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	got = append(got, '\n')
	// A date without an inspection is left out, and ids start at 1.
	if *update {
		for _, f := range []string{"schema.json", published} {
			if err := os.MkdirAll(filepath.Dir(f), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(f, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	if d := cmp.Diff(string(nightfile.Schema), string(got)); d != "" {
		t.Errorf("schema.json does not follow the types; run go test ./internal/nightfile -update (-have +want):\n%s", d)
	}
	pub, err := os.ReadFile(published)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(pub, nightfile.Schema) {
		t.Errorf("%s differs from the embedded schema", published)
	}
	if strings.Contains(string(got), `"Base"`) {
		t.Error("the schema holds a Go name where the format has none")
	}
}
