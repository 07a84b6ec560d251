package web_test

import (
	"bytes"
	"net/http"
	"net/netip"
	"regexp"
	"slices"
	"strings"
	"testing"

	"duskboard/internal/account"
	"duskboard/web"
)

// owes are the headers of every answer, with what each must hold (ASVS 5.0, 3.4).
var owes = []struct {
	header string
	parts  []string
}{
	{"Content-Security-Policy", []string{"default-src 'self'", "script-src 'self'", "style-src 'self'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'", "form-action 'self'"}},
	{"X-Content-Type-Options", []string{"nosniff"}},
	{"Cross-Origin-Opener-Policy", []string{"same-origin"}},
	{"Strict-Transport-Security", []string{"max-age=63072000"}},
}

// TestEveryRouteOwesItsHeaders asks every route of the router over TLS, by GET
// and by an empty POST, as a coordinator and as a stranger, and scans headers,
// cookies and bodies of whatever answers.
func TestEveryRouteOwesItsHeaders(t *testing.T) {
	g, _ := furnished(t)
	tls := startGuarded(t, func(c *web.Config) {
		c.Store, c.Accounts.Store, c.Accounts.PlainCookies = g.store, g.store, false
		c.Proxies = []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}
	})
	plain := g.browser()
	plain.save("/sign-in", "name", "Ada", "password", goodPassword)
	answers := 0
	for _, method := range []string{http.MethodGet, http.MethodPost} {
		for _, pattern := range web.RoutesOf(t, method, account.Coordinator) {
			path := strings.ReplaceAll(seeds(strings.ReplaceAll(pattern, "{token}", "none")), "*", "none.css")
			req, err := http.NewRequest(method, tls.srv.URL+path, nil)
			if err != nil {
				t.Fatal(err)
			}
			req.Header.Set("X-Forwarded-Proto", "https")
			req.Header.Set("Cookie", "theme=lamp; flash=e30; __Host-session=none")
			req.Header.Set("Sec-Fetch-Site", "same-origin")
			scan(t, method+" "+path, tls.browser().do(req))
			answers++
			if method == http.MethodGet {
				p := plain.get(path)
				p.header.Set("Strict-Transport-Security", "max-age=63072000") // owed over TLS only
				scan(t, "as a coordinator "+path, p)
			}
		}
	}
	if answers < 150 {
		t.Errorf("only %d routes answered", answers)
	}
}

func scan(t *testing.T, what string, p page) {
	t.Helper()
	for _, o := range owes {
		for _, part := range o.parts {
			if !strings.Contains(p.header.Get(o.header), part) {
				t.Errorf("%s: %s is %q, want %s", what, o.header, p.header.Get(o.header), part)
			}
		}
	}
	// no-referrer where the address itself is a secret.
	if ref := p.header.Get("Referrer-Policy"); ref != "same-origin" && ref != "no-referrer" {
		t.Errorf("%s: Referrer-Policy is %q", what, ref)
	}
	if csp := p.header.Get("Content-Security-Policy"); strings.Contains(csp, "unsafe") || strings.Contains(csp, "http") {
		t.Errorf("%s: policy %q opens a door", what, csp)
	}
	for _, c := range (&http.Response{Header: p.header}).Cookies() {
		if !c.HttpOnly || c.SameSite != http.SameSiteLaxMode || c.Path != "/" || c.Domain != "" {
			t.Errorf("%s: cookie %q", what, c.Raw)
		}
		if strings.HasPrefix(c.Name, "__Host-") && !c.Secure {
			t.Errorf("%s: cookie %q without Secure", what, c.Raw)
		}
	}
	for _, inside := range []string{"goroutine ", ".go:", "sqlite", "SELECT ", "UNIQUE constraint"} {
		if p.status >= 400 && strings.Contains(p.body, inside) {
			t.Errorf("%s: status %d shows %q", what, p.status, inside)
		}
	}
	if p.status >= 500 {
		t.Errorf("%s: status %d: %.200s", what, p.status, p.body)
	}
}

// TestNothingChangesByGet asks every route by GET as a coordinator and wants
// the club's whole data the same after it as before. That somebody took all of
// it out is noted, which a safe method may do (RFC 9110, 9.2.1).
func TestNothingChangesByGet(t *testing.T) {
	g, ada := furnished(t)
	ada.get("/club/data/everything.json").wants(http.StatusOK)
	noted := func(line string) bool { return strings.Contains(line, `"what":"take everything out"`) }
	before := contents(t, g)
	if !slices.ContainsFunc(before, noted) {
		t.Error("nobody notes that the whole club was taken out")
	}
	count := regexp.MustCompile(`("sequences":.*"club_log":)\d+`)
	unnoted := func(lines []string) []string {
		lines = slices.DeleteFunc(lines, noted)
		for i, line := range lines {
			lines[i] = count.ReplaceAllString(line, "${1}0")
		}
		return lines
	}
	before = unnoted(before)
	for _, pattern := range web.RoutesOf(t, http.MethodGet, account.Coordinator) {
		if !strings.Contains(pattern, "*") && !strings.Contains(pattern, "{token}") {
			ada.get(seeds(pattern))
		}
	}
	after := unnoted(contents(t, g))
	if !slices.Equal(before, after) {
		for i := range min(len(before), len(after)) {
			if before[i] != after[i] {
				t.Fatalf("a GET changed the club: %.300q became %.300q", before[i], after[i])
			}
		}
		t.Fatalf("a GET changed the club: %d rows became %d", len(before), len(after))
	}
}

// TestLogHoldsNoPersonalData works through the pages of people and wants no
// name, address, number, token or password of theirs in the log.
func TestLogHoldsNoPersonalData(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	fill(ada)
	ada.save("/crew", "Name", "Zebedee Quill", "Email", "zq@club.example", "Phone", "+44 20 7946 0999")
	ada.post("/crew", "Name", strings.Repeat("Zebedee Quill", 60), "Email", "zq@club.example")
	ada.post("/people", "name", "Zebedee Quill", "role", "owner")
	member := g.member(ada, "Zebedee Quill", account.Crew)
	member.get("/nights?who=zq@club.example")
	p := ada.post("/crew/2/link").wants(http.StatusOK)
	token := ""
	for _, word := range strings.FieldsFunc(p.body, func(r rune) bool { return strings.ContainsRune(`"<> `, r) }) {
		if _, after, found := strings.Cut(word, "/c/"); found {
			token = after
		}
	}
	if token == "" {
		t.Fatal("no personal link on the page")
	}
	g.browser().get("/c/" + token).wants(http.StatusOK)
	g.browser().get("/c/" + token + "/calendar.ics")
	g.browser().post("/sign-in", "name", "Zebedee Quill", "password", "my secret words here")
	for _, secret := range []string{"Zebedee", "Quill", "zq@club.example", "Ada", goodPassword, "my secret", token, setupToken, member.sessionCookie()} {
		if strings.Contains(g.log.String(), secret) {
			t.Errorf("the log has %q", secret)
		}
	}
	// The number as typed, run together or as an address would write it; four
	// of its digits alone may be anybody's count of bytes.
	if phone := regexp.MustCompile(`7946(\D|%20)*0999`); phone.MatchString(g.log.String()) {
		t.Errorf("the log has %q", phone.FindString(g.log.String()))
	}
	if !strings.Contains(g.log.String(), `"route":"/c/{token}"`) {
		t.Error("the log does not have the requests at all")
	}
}

// contents are the lines of everything that the club can take out.
func contents(t *testing.T, g *guarded) []string {
	t.Helper()
	var b bytes.Buffer
	if err := g.store.Whole(t.Context(), &b, now, nil, nil); err != nil {
		t.Fatal(err)
	}
	return strings.SplitAfter(b.String(), "\n")
}
