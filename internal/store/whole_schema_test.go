package store_test

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestWholeFileFollowsItsSchema checks a file with everything by another
// implementation's reading of the published schema.
func TestWholeFileFollowsItsSchema(t *testing.T) {
	c := jsonschema.NewCompiler()
	schema, err := c.Compile(filepath.Join("..", "..", "testdata", "club", "duskboard-club-1.schema.json"))
	must(t, err)
	_, s := fullClub(t)
	file, err := jsonschema.UnmarshalJSON(bytes.NewReader(wholeFile(t, s)))
	must(t, err)
	must(t, schema.Validate(file))
}
