package web

import (
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"

	"duskboard/web/guide"
)

// withoutGuide are routes that answer no page, or one for guests or the guide
// itself.
var withoutGuide = []string{"/healthz", "/static/*", "/favicon.ico", "/worker.js", "/guide", "/n/"}

func openGuide(t *testing.T) *guide.Book {
	t.Helper()
	b, err := guide.Open()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestEveryPageLeadsToTheGuide walks the router: each page of the program has a
// page of the guide, and each line of the table is a page of both.
func TestEveryPageLeadsToTheGuide(t *testing.T) {
	book := openGuide(t)
	used := map[string]bool{}
	_ = chi.Walk(everyRoute(t), func(method, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		name, _ := strings.CutPrefix(routeName(method, pattern), http.MethodGet+" ")
		if method != http.MethodGet {
			return nil
		}
		for prefix := range guideFor {
			if rest, ok := strings.CutPrefix(name, prefix); ok && (rest == "" || rest[0] == '/') {
				used[prefix] = true
			}
		}
		for _, none := range withoutGuide {
			if name == none || strings.HasPrefix(name, none) {
				return nil
			}
		}
		if book.Page(guideKey(name)) == nil {
			t.Errorf("page %s has no page of the guide: add a line to guideFor", name)
		}
		return nil
	})
	for prefix, key := range guideFor {
		if !used[prefix] {
			t.Errorf("guideFor has %s, which is no page of the program", prefix)
		}
		if book.Page(key) == nil {
			t.Errorf("guideFor leads from %s to %q, which is no page of the guide", prefix, key)
		}
	}
	for _, p := range nightPages {
		if book.Page(guideKey("/nights/{night}"+p.path)) == nil {
			t.Errorf("the night's page %q has no page of the guide", p.text)
		}
	}
	for _, section := range []string{inNights, inKit, inCrew, inSites, inTargets} {
		if book.Page(guideKey("/"+section)) == nil {
			t.Errorf("section %q has no page of the guide", section)
		}
	}
}

// TestEveryGuidePageIsReached guards that a page is not only in the list: a
// page of the program or another page of the guide leads to it.
func TestEveryGuidePageIsReached(t *testing.T) {
	book := openGuide(t)
	reached := map[string]bool{}
	for _, key := range guideFor {
		reached[key] = true
	}
	for _, g := range book.Groups {
		for _, p := range g.Pages {
			for _, l := range p.Links() {
				if key, ok := strings.CutPrefix(l, "/guide/"); ok && key != p.Key {
					reached[key] = true
				}
			}
		}
	}
	for _, g := range book.Groups {
		for _, p := range g.Pages {
			if !reached[p.Key] {
				t.Errorf("nothing leads to the guide's page %q but the list", p.Key)
			}
		}
	}
}

// TestGuideLinksLeadSomewhere asks the router about each link in the guide, and
// the pages about each place in them.
func TestGuideLinksLeadSomewhere(t *testing.T) {
	book, site := openGuide(t), everyRoute(t)
	for _, g := range book.Groups {
		for _, p := range g.Pages {
			for _, l := range p.Links() {
				path, place, _ := strings.Cut(l, "#")
				if routeAt(site, http.MethodGet, path) == "" {
					t.Errorf("%s: link %s leads nowhere", p.Key, l)
				}
				key, ok := strings.CutPrefix(path, "/guide/")
				if !ok {
					continue
				}
				to := book.Page(key)
				if to == nil {
					t.Errorf("%s: the guide has no page %s", p.Key, l)
					continue
				}
				if body, err := to.HTML(nil); err != nil || place != "" && !strings.Contains(body, `id="`+place+`"`) {
					t.Errorf("%s: link %s finds no such place (%v)", p.Key, l, err)
				}
			}
		}
	}
}

var (
	betweenTags = regexp.MustCompile(`>([^<>{}]+)<`)
	lineOfText  = regexp.MustCompile(`(?m)^\s*([A-Z][^<>{}@"]*?)\s*$`)
	literal     = regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`)
)

// namesOnPages are the texts that the program can put on a page as a whole: a
// button, a label, a heading, a column.
func namesOnPages(t *testing.T) map[string]bool {
	t.Helper()
	names := map[string]bool{}
	for _, pattern := range []string{"*.go", "views/*.templ", "cardwords/en.json"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, %d files", pattern, err, len(files))
		}
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") || strings.HasPrefix(f, "guide") {
				continue
			}
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			for _, re := range []*regexp.Regexp{betweenTags, lineOfText, literal} {
				for _, m := range re.FindAllStringSubmatch(string(b), -1) {
					names[strings.Join(strings.Fields(m[1]), " ")] = true
				}
			}
		}
	}
	return names
}

// TestGuideNamesStandOnPages guards the words in bold: each is a whole text of
// some page, so that a button that was renamed is renamed in the guide, too.
func TestGuideNamesStandOnPages(t *testing.T) {
	names := namesOnPages(t)
	if names["Propose a nonsense"] || !names["Propose a line-up"] {
		t.Fatal("the names of the pages are not read as they should be")
	}
	seen := 0
	for _, g := range openGuide(t).Groups {
		for _, p := range g.Pages {
			for _, n := range p.Names() {
				seen++
				if !names[n] {
					t.Errorf("%s: %q stands on no page of the program", p.Key, n)
				}
			}
		}
	}
	if seen < 150 {
		t.Errorf("only %d names were looked for", seen)
	}
}
