package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// TestGuide reads every page of the guide as a stranger: it holds nothing of
// the club.
func TestGuide(t *testing.T) {
	g := startGuarded(t, nil)
	stranger := g.browser()
	index := stranger.get("/guide").wants(http.StatusOK)
	sound(t, "/guide", index)
	pages := 0
	for _, a := range index.all(tag("a")) {
		href := attr(a, "href")
		if !strings.HasPrefix(href, "/guide/") {
			continue
		}
		p := stranger.get(href).wants(http.StatusOK)
		sound(t, href, p)
		for _, l := range p.all(tag("a")) {
			if h := attr(l, "href"); strings.HasPrefix(h, "/kit") || strings.HasPrefix(h, "/crew") || strings.HasPrefix(h, "/people") {
				t.Errorf("%s offers %s to a stranger", href, h)
			}
		}
		pages++
	}
	if pages < 30 {
		t.Errorf("the list leads to %d pages", pages)
	}
	stranger.get("/guide/no-such-page").wants(http.StatusNotFound)
}

// TestGuideWhole guards the printable document: every page, and no name given
// twice, so that its table of contents leads where it says.
func TestGuideWhole(t *testing.T) {
	v := visit(t)
	p := v.get("/guide/all").wants(http.StatusOK)
	sound(t, "/guide/all", p)
	ids := map[string]bool{}
	for _, n := range p.all(func(n *html.Node) bool { return attr(n, "id") != "" }) {
		if id := attr(n, "id"); id != "" {
			if ids[id] {
				t.Errorf("id %q stands twice", id)
			}
			ids[id] = true
		}
	}
	inside := 0
	for _, a := range p.all(tag("a")) {
		if place, ok := strings.CutPrefix(attr(a, "href"), "#"); ok && place != "main" {
			inside++
			if !ids[place] {
				t.Errorf("#%s leads nowhere", place)
			}
		}
		if strings.HasPrefix(attr(a, "href"), "/guide/") && attr(a, "href") != "/guide/all" && attr(a, "data-testid") != "help" {
			t.Errorf("%s leads out of the document", attr(a, "href"))
		}
	}
	if inside < 60 {
		t.Errorf("only %d links inside the document", inside)
	}
}

// TestGuideSearch guards what a search shows, without JavaScript.
func TestGuideSearch(t *testing.T) {
	v := visit(t)
	p := v.get("/guide?q=pupil+exit").wants(http.StatusOK)
	sound(t, "search", p)
	if found := p.testid("found"); !strings.Contains(found, "What the numbers mean") || len(p.all(tag("mark"))) < 2 {
		t.Errorf("found %q with %d marks", found, len(p.all(tag("mark"))))
	}
	nothing := v.get("/guide?q=zebra").testid("nothing")
	for _, want := range []string{"Nothing found", "“zebra”", "Try one word less", "choose from the list"} {
		if !strings.Contains(nothing, want) {
			t.Errorf("says %q, without %q", nothing, want)
		}
	}
	if again := v.get("/guide?q=spreadsheet+lightning").testid("nothing"); !strings.Contains(again, "No page holds all these words") {
		t.Errorf("says %q", again)
	}
	if v.get("/guide").testid("nothing") != "" {
		t.Error("says that nothing was found though nothing was asked")
	}
}

// TestGuideSearchIsEscaped puts hostile words into the box.
func TestGuideSearchIsEscaped(t *testing.T) {
	v := visit(t)
	for _, q := range []string{`"><script>alert(1)</script>`, `</title><img src=x onerror=y>`, "dew<b>", "\x00\xff\xfe", strings.Repeat("dew ", 4000), "\u202eabc", `{{.}}`} {
		p := v.get("/guide?q=" + url.QueryEscape(q)).wants(http.StatusOK)
		sound(t, "search for "+q[:min(len(q), 20)], p)
		for _, name := range []string{"img", "b"} {
			if len(p.all(tag(name))) > 0 {
				t.Errorf("%q came out as <%s>", q, name)
			}
		}
		for _, s := range p.all(tag("script")) {
			if attr(s, "src") == "" {
				t.Errorf("%q came out as a script", q)
			}
		}
	}
}

// TestPagesLinkToTheGuide asks some pages for their quiet link.
func TestPagesLinkToTheGuide(t *testing.T) {
	v := visit(t)
	fill(v)
	for path, want := range map[string]string{
		"/kit": "/guide/kit", "/kit/instruments/1": "/guide/kit", "/kit/import": "/guide/kit-table", "/sites/1": "/guide/site", "/crew/1/link": "/guide/answers",
		"/nights/1": "/guide/night", "/nights/1/line-up": "/guide/line-up", "/nights/1/weather": "/guide/weather", "/nights/1/cards": "/guide/print",
		"/nights/1/roster": "/guide/roster", "/nights/1/glass": "/guide/dew", "/about": "/guide/exactness",
	} {
		got := ""
		for _, a := range v.get(path).wants(http.StatusOK).all(tag("a")) {
			if attr(a, "data-testid") == "help" {
				got = attr(a, "href")
			}
		}
		if got != want {
			t.Errorf("%s leads to %q, want %q", path, got, want)
		}
	}
}
