package crew_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"flag"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"duskboard/internal/assign/assigntest"
	"duskboard/internal/crew"
)

var update = flag.Bool("update", false, "let CBC prove the optima of testdata/crew/optima.json anew")

const optimaFile = "../../testdata/crew/optima.json"

// optimum is the greatest score of an instance, proven by CBC, the MILP solver
// of COIN-OR, for the programme whose text has this SHA-256.
type optimum struct {
	Name  string  `json:"name"`
	LP    string  `json:"lp"`
	Score float64 `json:"score"`
}

// TestRostersAreNearlyTheBest compares proposals with what a MILP solver from
// outside proves: 99 per cent and more, by the same objective, and never above
// it. The programme's hash makes sure that the numbers belong to these nights.
func TestRostersAreNearlyTheBest(t *testing.T) {
	if *update {
		proveOptima(t)
	}
	b, err := os.ReadFile(optimaFile)
	if err != nil {
		t.Fatal(err)
	}
	var optima []optimum
	if err := json.Unmarshal(b, &optima); err != nil {
		t.Fatal(err)
	}
	all := instances()
	if len(optima) != len(all) || len(all) < 12 {
		t.Fatalf("%d optima for %d instances, want at least 12", len(optima), len(all))
	}
	for i, in := range all {
		want := optima[i]
		if want.Name != in.Name || want.LP != hash(programme(t, in)) {
			t.Errorf("%s: the optimum of %s belongs to another programme; prove it anew with -update", in.Name, want.Name)
			continue
		}
		p, err := crew.Propose(context.Background(), in.scene, in.pinned)
		if err != nil {
			t.Fatal(err)
		}
		if p.Score < 0.99*want.Score-1e-6 {
			t.Errorf("%s: score %.3f is %.2f %% of the optimum %.3f", in.Name, p.Score, 100*p.Score/want.Score, want.Score)
		}
		if p.Score > want.Score+1e-4 || p.Bound < want.Score-1e-4 {
			t.Errorf("%s: score %.4f and bound %.4f do not lie around the optimum %.4f", in.Name, p.Score, p.Bound, want.Score)
		}
	}
}

func programme(t *testing.T, in instance) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := assigntest.WriteLP(&b, crew.Problem(in.scene, in.pinned)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func hash(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])
}

func proveOptima(t *testing.T) {
	t.Helper()
	var out []optimum
	for _, in := range instances() {
		text := programme(t, in)
		file := filepath.Join(t.TempDir(), "roster.lp")
		if err := os.WriteFile(file, text, 0o600); err != nil {
			t.Fatal(err)
		}
		said, err := exec.Command("cbc", file, "sec", "600", "solve", "quit").Output()
		if err != nil {
			t.Fatal(err)
		}
		score, err := assigntest.ReadObjective(string(said))
		if err != nil {
			t.Fatalf("%s: %v", in.Name, err)
		}
		out = append(out, optimum{in.Name, hash(text), score})
	}
	b, err := json.MarshalIndent(out, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(optimaFile, append(b, '\n'), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestTinyRostersAgainstTryingAll compares tiny nights with the best of all
// plans that there are.
func TestTinyRostersAgainstTryingAll(t *testing.T) {
	compared := 0
	for seed := range uint64(60) {
		s := crowd(seed, 2, 1, 2, 30)
		s.Rules.Lead, s.Rules.After, s.Rules.PerSetUp, s.Rules.PerPackDown, s.Rules.PerParking = 0, 0, 0, 0, 0
		p, err := crew.Propose(context.Background(), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		best, ok, tried := assigntest.Exhaustive(crew.Problem(s, nil), 300_000)
		if !ok || !tried {
			continue
		}
		compared++
		if math.Abs(p.Score-best) > 1e-6 {
			t.Errorf("seed %d: score %v, the best of all plans %v", seed, p.Score, best)
		}
	}
	if compared < 40 {
		t.Errorf("only %d nights compared", compared)
	}
}

// TestProposalsKeepEveryRule lets the check, which shares no code with the
// solver, look for what a proposal breaks: nothing but that somebody was taken
// who said perhaps.
func TestProposalsKeepEveryRule(t *testing.T) {
	for seed := range uint64(6) {
		s := crowd(seed, 18, 6, 8, 150)
		p, err := crew.Propose(context.Background(), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Duties) == 0 {
			t.Errorf("seed %d: nobody has a duty", seed)
		}
		for _, c := range s.Check(p.Duties) {
			t.Errorf("seed %d: %s", seed, c.Words)
		}
		again, err := crew.Propose(context.Background(), s, nil)
		if err != nil || len(again.Duties) != len(p.Duties) || again.Score != p.Score {
			t.Errorf("seed %d: the same night gives another roster", seed)
		}
		if p.Bound < p.Score-1e-6 {
			t.Errorf("seed %d: bound %v below score %v", seed, p.Bound, p.Score)
		}
	}
}
