package web_test

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"duskboard/internal/nightfile"
)

// stocked is a visitor before a night with crew, own targets, a satellite and
// weather as well.
func stocked(t *testing.T) *visitor {
	t.Helper()
	v := boarded(t)
	v.save("/crew", "Name", "Ana <Ø> 星", "Roles", "operator", "Drive", "20", "Email", "ana@example.org", "skill-instrument-1", "alone", "skill-mount-rocker-box", "can-teach")
	v.save("/targets", "name", "Our Corner", "place", "18 36 56 +38 47 01", "kind", "other", "magnitude", "4", "size", "20")
	v.save("/targets", "name", "Second Corner", "place", "19 36 56 +28 47 01", "kind", "other", "magnitude", "5", "size", "10")
	return v
}

// file is the night as its page gives it.
func (v *visitor) file(night int) string {
	v.t.Helper()
	p := v.get(fmt.Sprintf("/nights/%d/night.json", night)).wants(http.StatusOK)
	return p.body
}

// TestNightThereAndBack: a night that goes out as a file and into an empty club
// comes out as the same file again, and the same line-up is proposed for it.
func TestNightThereAndBack(t *testing.T) {
	v := stocked(t)
	form := formOf(v.get("/nights/1/choose"))
	form = set(set(set(form, "answer-1", "yes"), "from-1", "20:30"), "to-1", "22:15")
	form = append(form, "targets", "own-2", "must", "own-2")
	v.save("/nights/1/choose", form...)
	v.save("/nights/1/line-up/showings", "instrument", "1", "target", "own-2", "from", "0", "to", "2", "pinned", "1")
	all := v.plan().Showings
	v.post(placePath(all[len(all)-1], "forbid"))
	v.save("/sites/1/ground", "Outline", "0 0\n50.5 0\n50 30\n0 30", "Version", "0",
		"0.Kind", "gate", "0.Name", "South gate", "0.At", "25 0", "1.Kind", "path", "1.At", "25 0; 25 20", "1.Across", "1.5", "1.Wheels", "1")
	v.save("/nights/1/field/places", "version", "0", "Number.1", "2", "East.1", "10.5", "North.1", "20", "Queue.1", "67.5", "Pinned.1", "1", "Number.2", "1", "East.2", "40", "North.2", "12", "Queue.2", "180")
	out := v.file(1)
	for _, want := range []string{"Second Corner", "own-1", "Ana", "South gate", `"places"`, `"queue": 67.5`, `"pinned": true`, `"forbidden"`} {
		if !strings.Contains(out, want) {
			t.Errorf("the file lacks %q", want)
		}
	}
	for _, not := range []string{"ana@example.org", "Our Corner", "own-2"} {
		if strings.Contains(out, not) {
			t.Errorf("the file holds %q", not)
		}
	}

	w := visit(t)
	look := w.post("/nights/import", "text", out).wants(http.StatusOK)
	if p := look.testid("preview"); !strings.Contains(p, "Second Corner") || !strings.Contains(p, "New") || strings.Contains(p, "Is here") || !strings.Contains(p, "2 places") || !strings.Contains(p, "ground of 50 by 30 m with 2 features") {
		t.Errorf("preview: %q", p)
	}
	if n, _ := w.store.Nights(t.Context()); len(n) != 0 {
		t.Fatal("looking made a night")
	}
	to := w.save("/nights/import", "text", out, "keep", "1")
	if to != "/nights/1" {
		t.Fatalf("bringing in leads to %q", to)
	}
	if d := cmp.Diff(out, w.file(1)); d != "" {
		t.Errorf("the file that comes out again (-first +again):\n%s", d)
	}

	// Places can be changed and taken back to those of the file.
	w.post("/nights/1/field/places/1", "X", "11", "Y", "21", "Queue", "359.97").wants(http.StatusSeeOther)
	if d := cmp.Diff(out, w.file(1)); d == "" {
		t.Error("a place was moved and the file is the same")
	}
	w.save("/nights/1/field/undo")
	if d := cmp.Diff(out, w.file(1)); d != "" {
		t.Errorf("after the move is taken back:\n%s", d)
	}

	// The same search on both sides.
	v.save("/nights/1/line-up/propose")
	w.save("/nights/1/line-up/propose")
	if d := cmp.Diff(v.file(1), w.file(1)); d != "" {
		t.Errorf("proposed there and here:\n%s", d)
	}
	if a, b := v.get("/nights/1/line-up").testid("score"), w.get("/nights/1/line-up").testid("score"); a == "" || a != b {
		t.Errorf("score %q there, %q here: %s", a, b, text(v.get("/nights/1/line-up").root))
	}

	// Once more into the club that has it all: nothing is made twice but the
	// night, and the page says so.
	look = v.post("/nights/import", "text", v.file(1)).wants(http.StatusOK)
	if p := look.testid("pieces"); strings.Contains(p, "New") {
		t.Errorf("pieces that are here count as new: %q", p)
	}
	if !strings.Contains(look.testid("notes"), "another one beside it") {
		t.Errorf("notes: %q", look.testid("notes"))
	}
	v.save("/nights/import", "text", v.file(1), "keep", "1")
	kit, err := v.store.Kit(t.Context(), true)
	if err != nil || len(kit.Instruments) != 2 || len(kit.Eyepieces) != 2 {
		t.Errorf("%d instruments and %d eyepieces: %v", len(kit.Instruments), len(kit.Eyepieces), err)
	}
	if d := cmp.Diff(v.file(1), v.file(2)); d != "" {
		t.Errorf("the second night beside the first:\n%s", d)
	}
}

// TestNightFileOfAnotherKit: gear of the same name and other numbers is the
// club's own unless asked for otherwise, and the difference is named.
func TestNightFileOfAnotherKit(t *testing.T) {
	v := boarded(t)
	other := strings.Replace(v.file(1), `"aperture": 100`, `"aperture": 120`, 1)
	if other == v.file(1) {
		t.Fatal("the file has no aperture of 100")
	}
	look := v.post("/nights/import", "text", other).wants(http.StatusOK)
	if p := look.testid("pieces"); !strings.Contains(p, "aperture 100 here, 120 in the file") {
		t.Errorf("pieces: %q", p)
	}
	v.save("/nights/import", "text", other, "beside", "1", "keep", "1")
	kit, err := v.store.Kit(t.Context(), false)
	if err != nil || len(kit.Instruments) != 3 {
		t.Errorf("%d instruments: %v", len(kit.Instruments), err)
	}
	if got := v.file(2); !strings.Contains(got, `"aperture": 120`) {
		t.Error("the night does not use the new piece")
	}
}

// TestRefusedNightFiles: whatever is wrong is told beside its path, the box
// keeps what was sent, and nothing is made.
func TestRefusedNightFiles(t *testing.T) {
	v := visit(t)
	good, err := os.ReadFile(filepath.Join("..", "testdata", "nights", "36-one-instrument.night.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, path string }{
		{"nothing", string(good), " ", "the file"},
		{"not JSON", "{", "<", "the file"},
		{"unknown field", `"guests": 20`, `"guests": 20, "visitors": 9`, "/night"},
		{"too large a number", `"guests": 20`, `"guests": 1e309`, "/night/guests"},
		{"not a number", `"guests": 20`, `"guests": NaN`, "the file"},
		{"year 0", `"date": "20`, `"date": "00`, "/night/date"},
		{"year 9999", `"date": "2027`, `"date": "9999`, "/night/date"},
		{"a place that is none", `"latitude": `, `"latitude": 9`, "/site/latitude"},
		{"a block of 7 minutes", `"blockMinutes": 15`, `"blockMinutes": 7`, "/night/blockMinutes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(string(good), c.old, c.new, 1)
			if bad == string(good) {
				t.Fatalf("the file has no %q", c.old)
			}
			p := v.post("/nights/import", "text", bad, "keep", "1").wants(http.StatusUnprocessableEntity)
			if !strings.Contains(p.faults(), c.path) {
				t.Errorf("no fault at %s: %q", c.path, p.faults())
			}
			if p.value("text") != strings.ReplaceAll(bad, "\r\n", "\n") && strings.TrimSpace(bad) != "" {
				t.Error("what was sent is lost")
			}
		})
	}
	for name, n := range map[string]int{"larger than a form": 10 << 20} {
		var body bytes.Buffer
		m := multipart.NewWriter(&body)
		f, _ := m.CreateFormFile("file", "big.json")
		f.Write(bytes.Repeat([]byte(" "), n))
		m.Close()
		req, err := http.NewRequest(http.MethodPost, v.base+"/nights/import", &body)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Content-Type", m.FormDataContentType())
		if p := v.do(req).wants(http.StatusUnprocessableEntity); !strings.Contains(p.faults(), "larger than 2 MB") {
			t.Errorf("%s: %q", name, p.faults())
		}
	}
	ns, err := v.store.Nights(t.Context())
	sites, _ := v.store.Sites(t.Context())
	if err != nil || len(ns)+len(sites) != 0 {
		t.Errorf("%d nights and %d sites out of refused files: %v", len(ns), len(sites), err)
	}
}

// TestReferenceNightsComeIn: every night file of the tests that a club can
// keep comes in and goes out with the same showings.
func TestReferenceNightsComeIn(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "nights", "*.night.json"))
	if err != nil || len(files) < 40 {
		t.Fatalf("%d files: %v", len(files), err)
	}
	v := visit(t)
	kept := 0
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		p, err := nightfile.Read(bytes.NewReader(b))
		if err != nil {
			t.Errorf("%s: %v", filepath.Base(f), err)
			continue
		}
		if err := nightfile.Keepable(p); err != nil {
			t.Logf("%s: %v", filepath.Base(f), err)
			continue
		}
		if got := v.post("/nights/import", "text", string(b), "keep", "1"); got.status != http.StatusSeeOther {
			t.Errorf("%s: %d %q", filepath.Base(f), got.status, got.faults())
		}
		kept++
	}
	if kept < 40 {
		t.Errorf("%d of %d came in", kept, len(files))
	}
}
