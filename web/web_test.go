package web_test

import (
	"bytes"
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"duskboard/internal/store"
	"duskboard/web"
)

// now is the clock of the tests: noon in London on 14 September 2026, a Monday.
var now = time.Date(2026, 9, 14, 11, 0, 0, 0, time.UTC)

// visitor is a browser without JavaScript before a server with a real store.
type visitor struct {
	t     testing.TB
	base  string
	http  *http.Client
	store *store.Store
	log   *bytes.Buffer

	handler http.Handler // the site itself, for what no client would send
}

// visit starts a server with an empty club.
func visit(t testing.TB) *visitor {
	t.Helper()
	st, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "club.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	return visitWith(t, st, st)
}

// visitWith lets a test put something between the pages and the store.
func visitWith(t testing.TB, st *store.Store, between web.Store) *visitor {
	t.Helper()
	v := &visitor{t: t, store: st, log: &bytes.Buffer{}}
	h, err := web.New(web.Config{Store: between, Clock: func() time.Time { return now }, Logger: slog.New(slog.NewJSONHandler(v.log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	v.handler = h
	srv := httptest.NewServer(h)
	t.Cleanup(srv.Close)
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	v.base = srv.URL
	v.http = &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	return v
}

// page is an answer with its parsed HTML.
type page struct {
	t      testing.TB
	status int
	header http.Header
	body   string
	root   *html.Node
}

func (v *visitor) get(path string) page {
	v.t.Helper()
	req, err := http.NewRequest(http.MethodGet, v.base+path, nil)
	if err != nil {
		v.t.Fatal(err)
	}
	return v.do(req)
}

// post sends a form as pairs of name and value.
func (v *visitor) post(path string, pairs ...string) page {
	v.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	req, err := http.NewRequest(http.MethodPost, v.base+path, strings.NewReader(form.Encode()))
	if err != nil {
		v.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return v.do(req)
}

// save posts a form that must succeed and returns where it leads.
func (v *visitor) save(path string, pairs ...string) string {
	v.t.Helper()
	p := v.post(path, pairs...)
	if p.status != http.StatusSeeOther {
		v.t.Fatalf("post %s: status %d, want 303; faults: %q", path, p.status, p.faults())
	}
	return p.header.Get("Location")
}

func (v *visitor) do(req *http.Request) page {
	v.t.Helper()
	resp, err := v.http.Do(req)
	if err != nil {
		v.t.Fatal(err)
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	if err != nil {
		v.t.Fatal(err)
	}
	root, err := html.Parse(bytes.NewReader(b))
	if err != nil {
		v.t.Fatal(err)
	}
	return page{v.t, resp.StatusCode, resp.Header, string(b), root}
}

// all returns the elements that match.
func (p page) all(match func(*html.Node) bool) []*html.Node {
	var found []*html.Node
	for n := range p.root.Descendants() {
		if n.Type == html.ElementNode && match(n) {
			found = append(found, n)
		}
	}
	return found
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func tag(name string) func(*html.Node) bool { return func(n *html.Node) bool { return n.Data == name } }

func having(name, value string) func(*html.Node) bool {
	return func(n *html.Node) bool { return attr(n, name) == value }
}

// text is what an element says, with single spaces.
func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// testid returns the text of the one element with the id, "" when there is none.
func (p page) testid(id string) string {
	for _, n := range p.all(having("data-testid", id)) {
		return text(n)
	}
	return ""
}

// fault is the message beside a field, found as a screen reader finds it.
func (p page) fault(field string) string {
	for _, n := range p.all(having("id", field)) {
		for _, id := range strings.Fields(attr(n, "aria-describedby")) {
			if id == field+"-error" {
				return text(p.all(having("id", id))[0])
			}
		}
	}
	return ""
}

// faults are the lines above a refused form.
func (p page) faults() string { return p.testid("faults") }

// value is what a box, list or ticked choice holds.
func (p page) value(field string) string {
	for _, n := range p.all(having("name", field)) {
		switch n.Data {
		case "textarea":
			if n.FirstChild == nil {
				return ""
			}
			return n.FirstChild.Data // with its line ends
		case "select":
			for o := range n.Descendants() {
				if o.Data == "option" && has(o, "selected") {
					return attr(o, "value")
				}
			}
			return ""
		}
		if t := attr(n, "type"); t == "radio" || t == "checkbox" {
			if has(n, "checked") {
				return attr(n, "value")
			}
			continue
		}
		return attr(n, "value")
	}
	return ""
}

func has(n *html.Node, name string) bool {
	for _, a := range n.Attr {
		if a.Key == name {
			return true
		}
	}
	return false
}

// row is the text of the table row whose heading begins with name.
func (p page) row(name string) string {
	for _, n := range p.all(tag("tr")) {
		if s := text(n); strings.HasPrefix(s, name) {
			return s
		}
	}
	return ""
}

// wants fails unless the answer has the status.
func (p page) wants(status int) page {
	p.t.Helper()
	if p.status != status {
		p.t.Fatalf("status %d, want %d: %s", p.status, status, text(p.all(tag("body"))[0]))
	}
	return p
}
