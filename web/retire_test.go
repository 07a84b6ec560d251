package web_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// TestRetiringCarriesAVersion guards that an old page's button does not undo
// what somebody else did since: of two editors, the second is told.
func TestRetiringCarriesAVersion(t *testing.T) {
	v := visit(t)
	fill(v)
	for path, fields := range map[string][]string{
		"/sites/1":           {"Name", "Heron Marsh", "Lat", "52.5", "Lon", "13.4", "Step", "4", "Zone", "Europe/Berlin"},
		"/crew/1":            {"Name", "Noor B"},
		"/kit/instruments/1": {"Design", "newtonian", "Aperture", "200", "FocalLength", "1200", "Mount", "rocker-box", "Name", "The Tun"},
	} {
		old := retireButton(t, v.get(path).wants(http.StatusOK))
		if !strings.HasPrefix(old, path+"/retire?version=") {
			t.Fatalf("%s retires by %q", path, old)
		}
		v.save(path, append(fields, "Version", strings.TrimPrefix(old, path+"/retire?version="))...)
		v.post(old).wants(http.StatusConflict)
		v.post(path + "/retire").wants(http.StatusConflict)
		v.save(retireButton(t, v.get(path)))
		v.post(retireOf(path)).wants(http.StatusConflict)
	}
}

func retireOf(path string) string { return path + "/restore?version=1" }

func retireButton(t *testing.T, p page) string {
	t.Helper()
	for _, n := range p.all(tag("form")) {
		if a := attr(n, "action"); strings.Contains(a, "/retire") {
			return a
		}
	}
	t.Fatal("the page has no button to retire it")
	return ""
}

// unversioned are forms that change what has no version, and why that is fine.
var unversioned = regexp.MustCompile(`^/(theme|sign-out|account/|people/\d+/(link|sign-out|remove|passkeys)|people$)` + // sessions and links: nothing to overwrite
	`|/(link|link/revoke|forget)$` + // personal links are made anew, never edited
	`|/nights/\d+/(decision|history/|departure|answers|glass/|weather/|roster/|buy|publish|papers)` + // each adds a record of its own, or puts a proposal in place of one that undo brings back
	`|/assumed$|/(zone|horizon|sky|check)$` + // answers a fragment, saves nothing
	`|^/crew/import|^/targets(/satellites)?$|^/(sites|crew|nights|kit/[a-z-]+)$|/showings$|^/bin|^/kit/import|/import|/export|/keeping`) // makes something new

// TestEditFormsCarryAVersion walks every page and wants a version with each
// form that changes what is there already: without one, the second of two
// editors would silently win.
func TestEditFormsCarryAVersion(t *testing.T) {
	g, ada := furnished(t)
	_ = g
	seen := map[string]bool{}
	number := regexp.MustCompile(`[0-9]+`)
	for _, path := range editPages {
		p := ada.get(path)
		for _, n := range p.all(tag("form")) {
			action := attr(n, "action")
			if action == "" {
				action = path
			}
			kind := number.ReplaceAllString(action, "#")
			if !strings.EqualFold(attr(n, "method"), "post") || seen[kind] || unversioned.MatchString(action) {
				continue
			}
			seen[kind] = true
			if !strings.Contains(strings.ToLower(action), "version=") && !hasVersion(n) {
				t.Errorf("%s: the form of %s carries no version", path, action)
			}
		}
	}
	if len(seen) < 15 {
		t.Errorf("only %d kinds of forms were seen: %v", len(seen), seen)
	}
}

var editPages = []string{
	"/club", "/sites", "/sites/1", "/sites/2", "/crew", "/crew/1", "/crew/2", "/crew/rules", "/kit", "/kit/instruments/1", "/kit/eyepieces/2", "/kit/amplifiers/3",
	"/kit/diagonals/4", "/kit/filters/5", "/kit/finders/6", "/kit/dew-gear/7", "/kit/batteries/8", "/kit/steps/9", "/nights", "/nights/1/edit", "/nights/2/edit", "/nights/1/choose",
	"/nights/1/decision", "/nights/1/line-up", "/nights/1/line-up/versions", "/nights/1/line-up/versions/1", "/nights/1/line-up/showings/1", "/people/1", "/targets", "/nights/1/history",
}

func hasVersion(form *html.Node) bool {
	for n := range form.Descendants() {
		if n.Type == html.ElementNode && strings.EqualFold(attr(n, "name"), "version") && attr(n, "value") != "" {
			return true
		}
	}
	return false
}
