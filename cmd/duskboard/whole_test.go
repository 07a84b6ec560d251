package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWholeClubByCommand guards the way out of one folder and into another.
func TestWholeClubByCommand(t *testing.T) {
	ctx, dir, file := context.Background(), t.TempDir(), filepath.Join(t.TempDir(), "club.json")
	to := filepath.Join(t.TempDir(), "new")
	do := func(want int, args ...string) string {
		t.Helper()
		var out bytes.Buffer
		if code := run(ctx, args, noEnv, &out, &out); code != want {
			t.Errorf("%q: code %d, want %d: %s", args, code, want, out.String())
		}
		return out.String()
	}
	table := filepath.Join(t.TempDir(), "kit.csv")
	if err := os.WriteFile(table, []byte("kind,name,focallength\neyepiece,Wide,25\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	do(1, "export", file, "--data", dir) // no club yet
	do(0, "kit", "import", table, "--data", dir)
	do(0, "export", file, "--data", dir)
	do(1, "export", file, "--data", dir) // nothing is overwritten
	if got := do(0, "import", file, "--data", to); !strings.Contains(got, "duskboard account link") {
		t.Errorf("the import says %q", got)
	}
	if before, after := do(0, "kit", "export", "--data", dir), do(0, "kit", "export", "--data", to); before != after || !strings.Contains(after, "Wide") {
		t.Errorf("the kit was\n%s\nand is\n%s", before, after)
	}
	if got := do(1, "import", file, "--data", to); !strings.Contains(got, "already") {
		t.Errorf("over a club: %s", got)
	}
	do(2, "import", "--data", to)
	do(2, "export", "--data", to)
}
