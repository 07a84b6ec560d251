package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
)

const nightsFolder = "../../testdata/nights"

func runLineUp(args ...string) (code int, stdout, stderr string) {
	var out, err bytes.Buffer
	code = run(context.Background(), append([]string{"lineup"}, args...), func(string) string { return "" }, &out, &err)
	return code, out.String(), err.String()
}

// TestLineUpAnswersAsThePage: the command's score and showings are those that
// the page's own call gives, and everything that the contract names is there.
func TestLineUpAnswersAsThePage(t *testing.T) {
	file := filepath.Join(nightsFolder, "25-a-damp-evening.night.json")
	code, stdout, stderr := runLineUp("--night", file, "--json")
	if code != 0 || stderr != "" {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	var a map[string]any
	if err := json.Unmarshal([]byte(stdout), &a); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	plan, err := nightfile.Read(f)
	if err != nil {
		t.Fatal(err)
	}
	sh, err := night.Build(plan, catalog.Default())
	if err != nil {
		t.Fatal(err)
	}
	r, err := lineup.Propose(context.Background(), sh.Input, sh.Fits())
	if err != nil {
		t.Fatal(err)
	}
	if got, want := field(t, a, "lineUp", "score").(float64), rounded(r.Score); got != want {
		t.Errorf("score %v, the page says %v", got, want)
	}
	shows := field(t, a, "lineUp", "showings").([]any)
	if len(shows) != len(r.Showings) {
		t.Fatalf("%d showings, the page has %d", len(shows), len(r.Showings))
	}
	for i, x := range shows {
		if field(t, x, "target") != r.Showings[i].TargetID || len(field(t, x, "factors").([]any)) != 9 {
			t.Errorf("showing %d: %v", i, x)
		}
	}
	fits := field(t, a, "fits").([]any)
	if want := len(sh.Kit.Instruments) * len(sh.Targets); len(fits) != want {
		t.Errorf("%d fits, want %d", len(fits), want)
	}
	if !slices.ContainsFunc(fits, func(x any) bool { return x.(map[string]any)["veto"] != nil }) {
		t.Error("no fit carries a veto with its reason")
	}
	for _, list := range []string{"coolDown", "dew"} {
		if len(field(t, a, list).([]any)) < len(sh.Kit.Instruments) {
			t.Errorf("%s is incomplete", list)
		}
	}
	field(t, a, "duties")
	if g := field(t, a, "lineUp", "gap").(float64); g < 0 || g > 0.01 {
		t.Errorf("gap %v", g)
	}
}

// TestLineUpRefusesWithPaths: what is wrong with a file is told by its path,
// with exit code 2.
func TestLineUpRefusesWithPaths(t *testing.T) {
	good, err := os.ReadFile(filepath.Join(nightsFolder, "36-one-instrument.night.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, says string }{
		{"not JSON", "{", "<", "JSON"},
		{"unknown field", `"guests": 20`, `"guests": 20, "visitors": 9`, "/night"},
		{"wrong type", `"guests": 20`, `"guests": "twenty"`, "/night/guests"},
		{"no such zone", "America/Denver", "America/Nowhere", "/site/zone"},
		{"an impossible mirror", `"aperture": 200`, `"aperture": -200`, "/kit/instruments/0/aperture"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(string(good), c.old, c.new, 1)
			if bad == string(good) {
				t.Fatalf("the file has no %q", c.old)
			}
			file := filepath.Join(t.TempDir(), "bad.json")
			if err := os.WriteFile(file, []byte(bad), 0o600); err != nil {
				t.Fatal(err)
			}
			code, stdout, stderr := runLineUp("--night", file, "--json")
			if code != 2 || stdout != "" || !strings.Contains(stderr, c.says) {
				t.Errorf("exit code %d, want 2 and %q: %s", code, c.says, stderr)
			}
		})
	}
	for _, args := range [][]string{{}, {"--night"}, {"--night", "no-such-file"}, {"file.json"}, {"--wrong"}} {
		if code, _, stderr := runLineUp(args...); code != 2 || stderr == "" {
			t.Errorf("%v: exit code %d, want 2: %s", args, code, stderr)
		}
	}
}

// TestLineUpStaffs: a line-up with volunteers comes with their duties, and who
// leaves early has none after that.
func TestLineUpStaffs(t *testing.T) {
	code, stdout, stderr := runLineUp("--night", filepath.Join(nightsFolder, "57-an-operator-who-leaves-early.night.json"), "--json")
	if code != 0 {
		t.Fatal(stderr)
	}
	var a map[string]any
	if err := json.Unmarshal([]byte(stdout), &a); err != nil {
		t.Fatal(err)
	}
	duties := field(t, a, "duties").([]any)
	if len(duties) < 3 {
		t.Errorf("%d duties for three operators", len(duties))
	}
	gone := time.Date(2027, 2, 14, 3, 30, 0, 0, time.UTC)
	for _, d := range duties {
		from, err := time.Parse(time.RFC3339, field(t, d, "from").(string))
		if err != nil {
			t.Fatal(err)
		}
		if end := from.Add(time.Duration(field(t, d, "minutes").(float64)) * time.Minute); field(t, d, "name") == "B" && end.After(gone) {
			t.Errorf("B leaves at %s and has a duty until %s", gone, end)
		}
	}
}

// TestLineUpForPeople: the short table, the file's own showings, an unknown
// target.
func TestLineUpForPeople(t *testing.T) {
	code, stdout, stderr := runLineUp("--night", filepath.Join(nightsFolder, "38-nothing-up.night.json"))
	if code != 0 || !strings.Contains(stdout, "not shown") {
		t.Errorf("exit code %d: %s %s", code, stdout, stderr)
	}
	code, stdout, stderr = runLineUp("--night", filepath.Join(nightsFolder, "56-pins-and-forbidden-pairs.night.json"), "--as-is", "--json")
	if code != 0 || strings.Count(stdout, `"minutes": 30`) != 1 {
		t.Errorf("as it is: exit code %d: %s", code, stderr)
	}
	good, err := os.ReadFile(filepath.Join(nightsFolder, "36-one-instrument.night.json"))
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "own.json")
	if err := os.WriteFile(file, bytes.Replace(good, []byte(`"moon",`), []byte(`"moon", "no-such-thing",`), 1), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, stdout, _ = runLineUp("--night", file); code != 0 || !strings.Contains(stdout, "the catalogue has no such target") {
		t.Errorf("exit code %d: an unknown target is left out in silence: %s", code, stdout)
	}
}
