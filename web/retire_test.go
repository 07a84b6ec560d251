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

// unversioned are forms that carry no version, and why no update can be lost by
// them without a way back.
var unversioned = regexp.MustCompile(`^(` + strings.Join([]string{
	`/(theme|sign-out)`,                                          // the sender's own
	`/account/.*`, `/people/\d+/(link|sign-out|passkeys/remove)`, // sessions, links and keys are ended or made anew, never edited
	`/crew/\d+/(link|link/revoke|forget)`,                                             // the same; forgetting wants the name typed
	`/people`, `/sites`, `/crew`, `/nights`, `/kit/[a-z-]+`, `/targets(/satellites)?`, // something new
	`/nights/\d+/line-up/showings`,                         // something new
	`/(crew|kit|sites|targets|nights|nights/table)/import`, // compares with what is there and can be taken back
	`/imports/\d+/undo`,                                    // refuses by itself what was changed since
	`/nights/\d+/line-up/versions/\d+/forget`,              // into the bin, whole
	`/bin/.*`,                                                      // in or out: there is nothing between
	`/kit/[a-z-]+/assumed`, `/sites/(zone|horizon)`, `/nights/sky`, // answer a fragment, save nothing
	`/nights/\d+/decision`,       // adds a word of its own to the list
	`/nights/\d+/answers/remind`, // makes links
	`/nights/\d+/buy`,            // computes, saves nothing
	`/nights/\d+/(departure(/\d+)?/packing|glass/\d+/(put-out|measure))`, // one item of one person, one instrument: the last word is the true one
	`/nights/\d+/weather/fetch`,                         // the newest forecast, as its button says
	`/nights/\d+/(programme/(publish|withdraw)|papers)`, // on or off, one choice
	`/nights/\d+/roster/(propose|clear|restore|duties/\d+/(pin|remove|take)|people/\d+/(drop|cover))`, // a step that undo takes back
	`/words/(language|file|[a-z-]+/(remove|restore|undo)|[a-z-]+/[a-z0-9-]+(/(reset|undo))?)`,         // a change that undo takes back
}, "|") + `)$`)

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
	if len(seen) < 22 {
		t.Errorf("only %d kinds of forms were seen: %v", len(seen), seen)
	}
}

var editPages = []string{
	"/club", "/sites", "/sites/1", "/sites/2", "/crew", "/crew/1", "/crew/2", "/crew/rules", "/kit", "/kit/instruments/1", "/kit/eyepieces/2", "/kit/amplifiers/3",
	"/kit/diagonals/4", "/kit/filters/5", "/kit/finders/6", "/kit/dew-gear/7", "/kit/batteries/8", "/kit/steps/9", "/nights", "/nights/1/edit", "/nights/2/edit", "/nights/1/choose",
	"/nights/1/decision", "/nights/1/line-up", "/nights/1/line-up/versions", "/nights/1/line-up/versions/1", "/nights/1/line-up/showings/1", "/people/1", "/targets", "/nights/1/history",
	"/nights/1/weather", "/nights/1/glass", "/nights/1/roster", "/nights/1/roster/new", "/nights/1/roster/duties/1", "/nights/1/roster/people/1", "/nights/1/attendance", "/nights/1/answers",
	"/nights/1/departure", "/nights/1/departure/1", "/nights/1/field", "/nights/1/programme", "/nights/1/cards", "/nights/1/line-up/replan", "/sites/1/ground", "/club/data", "/words", "/words/en/m13", "/account", "/people", "/bin", "/kit/import", "/crew/import",
}

func hasVersion(form *html.Node) bool {
	for n := range form.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		// "seen" is the mark of what was there; that of nothing is empty, and is compared too.
		if name := attr(n, "name"); name == "seen" || strings.EqualFold(name, "version") && attr(n, "value") != "" {
			return true
		}
	}
	return false
}
