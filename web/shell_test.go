package web_test

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"duskboard/internal/night"
	"duskboard/internal/store"
	"golang.org/x/net/html"
)

// fill gives the club a site, some kit, a volunteer and a night.
func fill(v *visitor) {
	v.t.Helper()
	v.save("/sites", "Name", "Heron Meadow", "Lat", "52.5163 N", "Lon", "13.3777 E", "Step", "4", "Horizon", "E 20\nS 5")
	v.save("/kit/instruments", "Design", "newtonian", "Aperture", "8 in", "FocalLength", "f/6", "Mount", "rocker-box", "Name", "The Barrel")
	v.save("/kit/eyepieces", "FocalLength", "25", "ApparentField", "52", "Barrel", "1.25in")
	v.save("/kit/amplifiers", "Kind", "barlow")
	v.save("/kit/diagonals", "Barrel", "2in")
	v.save("/kit/filters", "Kind", "neutral")
	v.save("/kit/finders", "Kind", "straight", "ForID", "1")
	v.save("/kit/dew-gear", "Kind", "heater-strip", "MaxDiameter", "240")
	v.save("/kit/batteries", "Capacity", "17")
	v.save("/kit/steps", "Kind", "stool")
	v.save("/crew", "Name", "Noor", "skill-mount-rocker-box", "alone")
	v.save("/nights", "Date", "2026-09-19", "Site", "1", "From", "20:00", "To", "22:30", "Guests", "80", "Audience", "families", "Block", "15")
}

var everyPage = []string{
	"/club/data", "/bin", "/privacy", "/kit/import", "/sites/import", "/nights/table/import", "/targets/import",
	"/style", "/kit", "/sites", "/sites/new", "/crew", "/crew/new", "/nights", "/nights/new",
	"/kit/instruments/new", "/kit/eyepieces/new", "/kit/amplifiers/new", "/kit/diagonals/new", "/kit/filters/new",
	"/kit/finders/new", "/kit/dew-gear/new", "/kit/batteries/new", "/kit/steps/new",
}

var filledPages = []string{
	"/sites/1", "/crew/1", "/nights/1/edit", "/nights/1/choose", "/nights/1/choose?q=m+31", "/kit/instruments/1", "/kit/eyepieces/2", "/kit/amplifiers/3",
	"/kit/diagonals/4", "/kit/filters/5", "/kit/finders/6", "/kit/dew-gear/7", "/kit/batteries/8", "/kit/steps/9", "/nights/1",
}

// TestEveryPage guards what each page owes: a title, one heading, labels on all
// controls, and nothing that the content security policy would block.
func TestEveryPage(t *testing.T) {
	empty := visit(t)
	for _, path := range append([]string{"/"}, everyPage...) {
		sound(t, "empty "+path, empty.get(path).wants(http.StatusOK))
	}
	full := visit(t)
	fill(full)
	for _, path := range append(everyPage, filledPages...) {
		sound(t, path, full.get(path).wants(http.StatusOK))
	}
}

func sound(t *testing.T, path string, p page) {
	t.Helper()
	if titles := p.all(tag("title")); len(titles) == 0 || text(titles[0]) == "" {
		t.Errorf("%s: no title", path)
	}
	// /style shows a second one as a specimen of type.
	if n := len(p.all(tag("h1"))); n != 1 && !strings.HasSuffix(path, "/style") {
		t.Errorf("%s: %d h1, want 1", path, n)
	}
	ids := map[string]bool{}
	for _, n := range p.all(func(n *html.Node) bool { return attr(n, "id") != "" }) {
		if id := attr(n, "id"); ids[id] {
			t.Errorf("%s: id %q twice", path, id)
		} else {
			ids[id] = true
		}
	}
	labelled := map[string]bool{}
	for _, n := range p.all(tag("label")) {
		labelled[attr(n, "for")] = true
	}
	for _, n := range p.all(func(n *html.Node) bool { return n.Data == "input" || n.Data == "select" || n.Data == "textarea" }) {
		inLabel := false
		for up := range n.Ancestors() {
			inLabel = inLabel || up.Data == "label"
		}
		if attr(n, "type") != "hidden" && !inLabel && !labelled[attr(n, "id")] && attr(n, "aria-label") == "" {
			t.Errorf("%s: control %q has no label", path, attr(n, "name"))
		}
	}
	for _, n := range p.all(func(n *html.Node) bool { return n.Data == "style" || has(n, "style") || has(n, "onclick") }) {
		t.Errorf("%s: <%s> has inline style or script", path, n.Data)
	}
	for _, n := range p.all(tag("script")) {
		if attr(n, "src") == "" {
			t.Errorf("%s: inline script", path)
		}
	}
	for _, n := range p.all(tag("a")) {
		if attr(n, "href") == "" {
			t.Errorf("%s: link %q leads nowhere", path, text(n))
		}
	}
	if csp := p.header.Get("Content-Security-Policy"); !strings.Contains(csp, "script-src 'self'") || strings.Contains(csp, "unsafe") {
		t.Errorf("%s: content security policy %q", path, csp)
	}
}

// TestGuidedStart guards that an empty club is led: three steps, the button at
// the first that is open, and it moves on.
func TestGuidedStart(t *testing.T) {
	v := visit(t)
	main := func() string {
		p := v.get("/")
		for _, n := range p.all(func(n *html.Node) bool { return n.Data == "a" && attr(n, "class") == "button" }) {
			return attr(n, "href")
		}
		return p.header.Get("Location")
	}
	if got := main(); got != "/sites/new" {
		t.Errorf("empty club: first step %q, want /sites/new", got)
	}
	v.save("/sites", "Name", "Meadow", "Lat", "52.5", "Lon", "13.4", "Step", "5")
	if got := main(); got != "/kit/instruments/new" {
		t.Errorf("with a site: next step %q, want /kit/instruments/new", got)
	}
	v.save("/kit/instruments", "Design", "newtonian", "Aperture", "200")
	if got := main(); got != "/nights/new" {
		t.Errorf("with a telescope: next step %q, want /nights/new", got)
	}
	v.save("/nights", "Date", "2026-09-19", "Site", "1", "From", "20:00", "To", "22:00", "Guests", "80", "Audience", "families", "Block", "15")
	if got := main(); got != "/nights/1" {
		t.Errorf("with a night: first page leads to %q, want /nights/1", got)
	}
}

func TestTheme(t *testing.T) {
	v := visit(t)
	theme := func() string { return attr(v.get("/kit").all(tag("html"))[0], "data-theme") }
	if got := theme(); got != "paper" {
		t.Errorf("theme at first: %q, want paper", got)
	}
	if to := v.save("/theme", "theme", "lamp", "back", "/kit"); to != "/kit" {
		t.Errorf("switch leads to %q, want /kit", to)
	}
	if got := theme(); got != "lamp" {
		t.Errorf("theme after the switch: %q, want lamp", got)
	}
	for _, elsewhere := range []string{"https://example.org/", "//example.org", `/\example.org`, "kit"} {
		if to := v.save("/theme", "theme", "paper", "back", elsewhere); to != "/" {
			t.Errorf("back to %q leads to %q, want /", elsewhere, to)
		}
	}
}

// TestRefusals guards the answers for requests that no page of ours sends.
func TestRefusals(t *testing.T) {
	v := visit(t)
	v.get("/nowhere").wants(http.StatusNotFound)
	v.get("/kit/instruments/77").wants(http.StatusNotFound)
	v.get("/kit/instruments/x").wants(http.StatusNotFound)
	v.get("/sites/0").wants(http.StatusNotFound)
	v.get("/theme").wants(http.StatusMethodNotAllowed)
	v.post("/kit/instruments", "Notes", strings.Repeat("x", 3<<20)).wants(http.StatusRequestEntityTooLarge)

	req, err := http.NewRequest(http.MethodPost, v.base+"/sites", strings.NewReader("Name=x"))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Sec-Fetch-Site", "cross-site")
	sound(t, "cross-site", v.do(req).wants(http.StatusForbidden))
}

// broken fails to load kit, as a full disk would.
type broken struct{ *store.Store }

var errDisk = errors.New("disk I/O error")

func (broken) Sites(context.Context) ([]night.Site, error) { return nil, errDisk }

func (broken) Nights(context.Context) ([]night.Night, error) { panic("a fault in the program") }

// TestInternalErrors guards that a failure inside is a clean page without the
// cause, and one line in the log with it.
func TestInternalErrors(t *testing.T) {
	st, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "club.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	for path, cause := range map[string]string{"/sites": "disk I/O error", "/nights": "a fault in the program"} {
		v := visitWith(t, st, broken{st})
		p := v.get(path).wants(http.StatusInternalServerError)
		sound(t, path, p)
		if strings.Contains(p.body, cause) {
			t.Errorf("%s: the page shows the cause", path)
		}
		lines := strings.Split(strings.TrimSpace(v.log.String()), "\n")
		if len(lines) != 1 {
			t.Fatalf("%s: %d log lines, want 1", path, len(lines))
		}
		var line struct{ Level, ID, Err string }
		if err := json.Unmarshal([]byte(lines[0]), &line); err != nil {
			t.Fatal(err)
		}
		if line.Level != "ERROR" || !strings.Contains(line.Err, cause) || !strings.Contains(p.body, line.ID) {
			t.Errorf("%s: log line %+v does not name the cause, or the page not its id", path, line)
		}
	}
}

func TestStaticFiles(t *testing.T) {
	v := visit(t)
	p := v.get("/kit")
	for _, n := range p.all(tag("link")) {
		f := v.get(attr(n, "href")).wants(http.StatusOK)
		if !strings.Contains(f.header.Get("Cache-Control"), "immutable") {
			t.Errorf("%s is not kept for ever", attr(n, "href"))
		}
	}
	v.get("/static/x/../../store.go").wants(http.StatusNotFound)
}
