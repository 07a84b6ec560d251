package assigntest_test

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"duskboard/internal/assign/assigntest"
)

// TestProgrammeAgainstExhaustiveSearch guards the reference itself: the
// programme's optimum, found by CBC, is that of trying all plans.
func TestProgrammeAgainstExhaustiveSearch(t *testing.T) {
	cbc, err := exec.LookPath("cbc")
	if err != nil {
		t.Skip("cbc (Debian: coinor-cbc) is not installed")
	}
	compared := 0
	for seed := uint64(0); compared < 60 && seed < 400; seed++ {
		p := assigntest.Random(seed)
		if p.From > 0 {
			continue
		}
		want, ok, tried := assigntest.Exhaustive(p, 50_000)
		if !ok || !tried {
			continue
		}
		file := filepath.Join(t.TempDir(), "p.lp")
		f, err := os.Create(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := assigntest.WriteLP(f, p); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(cbc, file, "-ratio", "0", "-solve", "-quit").CombinedOutput()
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, out)
		}
		got, err := assigntest.ReadObjective(string(out))
		if err != nil || math.Abs(got-want) > 1e-5 {
			t.Errorf("seed %d: programme %v (%v), exhaustive %v\n%s", seed, got, err, want, strings.TrimSpace(string(out)))
		}
		compared++
	}
	if compared < 60 {
		t.Errorf("only %d compared", compared)
	}
}
