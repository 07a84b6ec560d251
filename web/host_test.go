package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/netip"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"duskboard/web"
)

// ask sends a request with headers that only a hostile client or a proxy would
// set; host "" keeps that of the test.
func (v *visitor) ask(method, path, host string, headers map[string]string) page {
	v.t.Helper()
	req, err := http.NewRequest(method, v.base+path, nil)
	if err != nil {
		v.t.Fatal(err)
	}
	if v.http.Transport = nil; host != "" {
		v.http.Transport = asHost(host) // below the cookies, which belong to the address of the test
	}
	for k, x := range headers {
		req.Header.Set(k, x)
	}
	return v.do(req)
}

// asHost says to the server that the browser asked for another host.
type asHost string

func (h asHost) RoundTrip(r *http.Request) (*http.Response, error) {
	r = r.Clone(r.Context())
	r.Host = string(h)
	return http.DefaultTransport.RoundTrip(r)
}

// forged are headers by which a client claims to have reached another site, or
// this one over TLS.
var forged = map[string]string{
	"X-Forwarded-Host": "evil.example", "X-Forwarded-Server": "evil.example", "X-Original-Host": "evil.example", "X-Host": "evil.example",
	"Forwarded": "for=1.2.3.4;host=evil.example;proto=https", "X-Forwarded-Proto": "https", "X-Forwarded-Port": "4444", "X-Forwarded-Prefix": "//evil.example",
	"X-Original-URL": "/people", "X-Rewrite-URL": "/people",
}

// leaving are the pages whose content leaves the site: codes on paper, letters
// to the crew, links to pass on, calendars, and what programs read. A POST makes
// what it shows.
var leaving = []struct{ method, path string }{
	{http.MethodGet, "/nights/1/placards"}, {http.MethodGet, "/nights/1/guest-sheet"}, {http.MethodGet, "/nights/1/print"}, {http.MethodGet, "/nights/1/cards"},
	{http.MethodGet, "/nights/1/programme"}, {http.MethodGet, "/nights/1/departure"}, {http.MethodGet, "/nights/1/roster/call-list"},
	{http.MethodPost, "/nights/1/answers/remind"}, {http.MethodPost, "/crew/1/link"}, {http.MethodPost, "/people/1/link"},
	{http.MethodGet, "/n/1"}, {http.MethodGet, "/n/1/programme.json"}, {http.MethodGet, "/people/1"},
}

// withAddress are those of them that name the address of the site.
var withAddress = regexp.MustCompile(`/(placards|guest-sheet|print|remind|link)$`)

// TestLinksThatLeaveNameTheStatedSite guards that with a stated address no Host
// and no forwarded header of a client gets into anything that leaves the site.
func TestLinksThatLeaveNameTheStatedSite(t *testing.T) {
	g, _ := furnished(t)
	stated := startGuarded(t, func(c *web.Config) {
		c.Store, c.Accounts.Store, c.Origin = g.store, g.store, "https://stars.example/"
	})
	ada := stated.browser()
	ada.save("/sign-in", "name", "Ada", "password", goodPassword)
	ada.save("/nights/1/programme/publish")
	for _, x := range leaving {
		p := ada.ask(x.method, x.path, "evil.example", forged)
		if p.status != http.StatusOK {
			t.Errorf("%s: status %d", x.path, p.status)
		}
		if strings.Contains(p.body, "evil.example") || strings.Contains(p.header.Get("Location"), "evil") {
			t.Errorf("%s names the host that the client sent", x.path)
		}
		if withAddress.MatchString(x.path) && !strings.Contains(p.body, "https://stars.example/") {
			t.Errorf("%s does not name the stated address", x.path)
		}
	}
}

// TestForgedHeadersCountForNothing guards the rule without a stated address:
// links name the host that was asked for, and whatever a client that is no
// trusted proxy says of TLS or of other hosts is not believed.
func TestForgedHeadersCountForNothing(t *testing.T) {
	g, ada := furnished(t)
	host := strings.TrimPrefix(g.srv.URL, "http://")
	ada.save("/nights/1/programme/publish")
	for _, x := range leaving {
		p := ada.ask(x.method, x.path, "", forged)
		if strings.Contains(p.body, "evil.example") {
			t.Errorf("%s names a host out of a forwarded header", x.path)
		}
		if strings.Contains(p.body, "https://"+host) || p.header.Get("Strict-Transport-Security") != "" {
			t.Errorf("%s believes a stranger that it came over TLS", x.path)
		}
		if withAddress.MatchString(x.path) && !strings.Contains(p.body, "http://"+host+"/") {
			t.Errorf("%s does not name http://%s", x.path, host)
		}
	}
	// What one asks with another Host is not what the next one gets.
	if p := ada.ask(http.MethodGet, "/nights/1/placards", "elsewhere.example", nil); !strings.Contains(p.body, "http://elsewhere.example/n/1") {
		t.Error("the placards do not follow the host that was asked for")
	}
	if p := ada.ask(http.MethodGet, "/nights/1/placards", "", nil); strings.Contains(p.body, "elsewhere.example") {
		t.Error("the answer to another host was given again")
	}
	proxied := startGuarded(t, func(c *web.Config) {
		c.Store, c.Accounts.Store, c.Proxies = g.store, g.store, []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}
	})
	bo := proxied.browser()
	bo.save("/sign-in", "name", "Ada", "password", goodPassword)
	p := bo.ask(http.MethodGet, "/nights/1/placards", "stars.example", map[string]string{"X-Forwarded-Proto": "https", "X-Forwarded-Host": "evil.example"})
	if !strings.Contains(p.body, "https://stars.example/n/1") || strings.Contains(p.body, "evil") {
		t.Error("a trusted proxy's word about TLS is not believed, or its word about the host is")
	}
}

// TestUnsoundHosts guards that a Host which is no host's name is refused (RFC
// 9110, 7.2: 400), before it gets anywhere; sound ones of every kind pass.
func TestUnsoundHosts(t *testing.T) {
	v := visit(t)
	answer := func(host string) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodGet, "/club", nil)
		r.Host = host
		w := httptest.NewRecorder()
		v.handler.ServeHTTP(w, r)
		return w
	}
	for _, host := range []string{
		`evil.example"><script>`, "evil.example/path", "user@evil.example", "evil.example:80:80", "evil.example:", "evil.example:port", "a b", "evil.example\r\nX: y",
		"évil.example", "%65vil.example", "-evil.example", ".", "[::1", "::1", "[::1]]:80", "[g::1]", "evil.example,stars.example", "(evil)", "'evil'", strings.Repeat("a", 300), "\x00", "stars.example?x", "stars.example#x",
	} {
		w := answer(host)
		if w.Code != http.StatusBadRequest || len(host) > 3 && strings.Contains(w.Body.String(), host) || w.Header().Get("Content-Security-Policy") == "" {
			t.Errorf("%.40q: status %d, %.80q", host, w.Code, w.Body)
		}
	}
	for _, host := range []string{"stars.example", "STARS.example:8080", "stars.example.", "localhost", "127.0.0.1:8080", "[::1]:8080", "[2001:db8::7]", "club_1.stars.example", "xn--strn-loa.example", "10.0.0.7", ""} {
		if w := answer(host); w.Code != http.StatusOK {
			t.Errorf("%q: status %d", host, w.Code)
		}
	}
}

// TestOneFileReadsHost holds every other file to the one rule: only client.go
// reads Host and what proxies add.
func TestOneFileReadsHost(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 50 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	reads := regexp.MustCompile(`\b(r|req|request)\.(Host|URL\.Host|TLS)\b|"(X-Forwarded|Forwarded|X-Real|X-Original|True-Client)`)
	found := false
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		b, err := os.ReadFile(filepath.Clean(f))
		if err != nil {
			t.Fatal(err)
		}
		m := reads.Find(b)
		if f == "client.go" {
			found = m != nil
		} else if m != nil {
			t.Errorf("%s reads %s; client.go has the rule", f, m)
		}
	}
	if !found {
		t.Error("client.go reads neither: the search is wrong")
	}
}
