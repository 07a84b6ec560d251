package guide

import (
	"path"
	"strings"
	"testing"
)

func open(t testing.TB) *Book {
	t.Helper()
	b, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestEveryFileIsInTheOrderOnce guards that no page is written and forgotten.
func TestEveryFileIsInTheOrderOnce(t *testing.T) {
	b := open(t)
	listed := map[string]int{}
	for _, g := range b.Groups {
		if g.Title == "" || g.Lead == "" || len(g.Pages) == 0 {
			t.Errorf("group %q has no title, no lead or no pages", g.Key)
		}
		for _, p := range g.Pages {
			listed[p.Key]++
		}
	}
	entries, err := files.ReadDir("en")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		key := strings.TrimSuffix(e.Name(), path.Ext(e.Name()))
		if listed[key] != 1 {
			t.Errorf("%s stands in the order %d times, want once", e.Name(), listed[key])
		}
	}
	if len(entries) < 30 {
		t.Errorf("only %d pages", len(entries))
	}
}

// TestPagesAreShort guards the form: a title that fits a list, a summary of one
// line, no emphasis that means nothing.
func TestPagesAreShort(t *testing.T) {
	for _, g := range open(t).Groups {
		for _, p := range g.Pages {
			if len(p.Title) > 75 || len(p.Summary) > 160 || !strings.HasSuffix(p.Summary, ".") {
				t.Errorf("%s: title %q or summary %q is too long, or no sentence", p.Key, p.Title, p.Summary)
			}
			if n := len(strings.Fields(string(p.source))); n > 900 {
				t.Errorf("%s has %d words: two tasks?", p.Key, n)
			}
		}
	}
}

// TestRawHTMLIsNotRendered guards the only place where text passes the escaping
// of the pages.
func TestRawHTMLIsNotRendered(t *testing.T) {
	p, err := parse("x", []byte("# T\n\nS.\n\n<script>alert(1)</script>\n\nA <b onclick=\"x()\">b</b> [l](javascript:alert(1)) & < \"q\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	body, err := p.HTML(nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"<script", "<b ", "onclick=", "javascript:"} {
		if strings.Contains(body, bad) {
			t.Errorf("%q is in %s", bad, body)
		}
	}
}

// TestLinksFollowRights guards that a link which leads to a refusal stays as
// words.
func TestLinksFollowRights(t *testing.T) {
	p, err := parse("x", []byte("# T\n\nS.\n\nOpen [Kit](/kit) or [the guide](/guide/kit#an-instrument).\n"))
	if err != nil {
		t.Fatal(err)
	}
	body, err := p.HTML(func(href string) bool { return strings.HasPrefix(href, "/guide") })
	if err != nil {
		t.Fatal(err)
	}
	if want := `<p>Open Kit or <a href="/guide/kit#an-instrument">the guide</a>.</p>`; strings.TrimSpace(body) != want {
		t.Errorf("got %s, want %s", body, want)
	}
	whole, err := p.InWhole(nil)
	if err != nil {
		t.Fatal(err)
	}
	if want := `<p>Open <a href="/kit">Kit</a> or <a href="#kit--an-instrument">the guide</a>.</p>`; strings.TrimSpace(whole) != want {
		t.Errorf("in the whole: got %s, want %s", whole, want)
	}
}

// TestPagesMustHaveTitleAndSummary guards the messages for whoever writes one.
func TestPagesMustHaveTitleAndSummary(t *testing.T) {
	for _, source := range []string{"", "text", "## Two\n\nS.\n", "# T\n", "# T\n\n1. step\n"} {
		if _, err := parse("x", []byte(source)); err == nil || !strings.Contains(err.Error(), "x.md") {
			t.Errorf("%q: error %v, want one that names x.md", source, err)
		}
	}
}
