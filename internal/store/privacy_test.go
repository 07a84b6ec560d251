package store_test

import (
	"context"
	"slices"
	"testing"

	"duskboard/internal/privacy"
)

// TestEveryColumnStandsInTheTableOfPrivacy walks the schema: each column of
// each table is said to be about somebody, secret, or neither, and what is
// about somebody is explained.
func TestEveryColumnStandsInTheTableOfPrivacy(t *testing.T) {
	s := open(t)
	columns, err := s.Columns(context.Background())
	must(t, err)
	if len(columns) < 40 {
		t.Fatalf("only %d tables were walked", len(columns))
	}
	for table, have := range columns {
		e, ok := privacy.Of(table)
		if !ok {
			t.Errorf("table %s has no entry in internal/privacy/table.go: say what of it is about people", table)
			continue
		}
		var said []string
		for _, list := range []string{e.Person, e.Secret, e.Other} {
			said = append(said, privacy.Columns(list)...)
		}
		for _, c := range have {
			if !slices.Contains(said, c) {
				t.Errorf("column %s of table %s does not stand in internal/privacy/table.go: is it about somebody?", c, table)
			}
		}
		for i, c := range said {
			if !slices.Contains(have, c) {
				t.Errorf("internal/privacy/table.go has a column %s of table %s, which is none", c, table)
			}
			if slices.Contains(said[:i], c) {
				t.Errorf("column %s of table %s stands twice", c, table)
			}
		}
		if about := e.About != ""; about != (e.Person != "") || about != (e.Why != "" && e.Seen != "" && e.Kept != "") || e.Title == "" {
			t.Errorf("the entry of table %s does not say all of about, why, seen and kept", table)
		}
	}
	for _, e := range privacy.Table {
		if _, ok := columns[e.Table]; !ok {
			t.Errorf("internal/privacy/table.go has an entry %s, which is no table", e.Table)
		}
	}
}
