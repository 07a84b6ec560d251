package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestKitCommand guards the way from a spreadsheet into the kit and out again,
// and that a table with a fault changes nothing.
func TestKitCommand(t *testing.T) {
	ctx, dir := context.Background(), t.TempDir()
	do := func(want int, args ...string) string {
		t.Helper()
		var out bytes.Buffer
		if code := run(ctx, append(args, "--data", dir), noEnv, &out, &out); code != want {
			t.Errorf("%q: code %d, want %d: %s", args, code, want, out.String())
		}
		return out.String()
	}
	table := func(text string) string {
		t.Helper()
		name := filepath.Join(t.TempDir(), "kit.csv")
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	good := table("\xef\xbb\xbfKind;Name;Design;Aperture;Focal length;Mount;For;Type\r\n" +
		"finder;Dot;;;;;The Barrel;unit-power\r\ninstrument;The Barrel;newtonian;8\" ;f/6;rocker-box;;\r\n")
	if got := do(0, "kit", "import", good, "--try"); !strings.Contains(got, "2 rows are sound") {
		t.Errorf("a trial says %q", got)
	}
	do(0, "kit", "import", good)
	out := do(0, "kit", "export")
	if !strings.Contains(out, "The Barrel") || !strings.Contains(out, "203.2") || strings.Count(out, "\r\n") != 3 {
		t.Errorf("export:\n%s", out)
	}
	if got := do(1, "kit", "import", table("kind,name,aperture,design\ninstrument,X,5 km,newtonian\nsteps,Stool,,\nthing,,,\n")); !strings.Contains(got, "row 2, aperture") || !strings.Contains(got, "row 4, kind") {
		t.Errorf("faults are not named by their place: %s", got)
	}
	if again := do(0, "kit", "export"); again != out {
		t.Errorf("a refused table changed the kit:\n%s", again)
	}
	do(2, "kit")
	do(1, "kit", "import", filepath.Join(dir, "none.csv"))
}
