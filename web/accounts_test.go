package web_test

import (
	"bytes"
	"context"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/netip"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/store"
	"duskboard/web"
)

const setupToken = "setup-token-of-the-test"

// guarded is a server with accounts. Its clock can be moved.
type guarded struct {
	t     testing.TB
	store *store.Store
	log   *bytes.Buffer
	srv   *httptest.Server
	now   time.Time
}

func startGuarded(t testing.TB, change func(*web.Config)) *guarded {
	t.Helper()
	st, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "club.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	g := &guarded{t: t, store: st, log: &bytes.Buffer{}, now: now}
	cfg := web.Config{
		Store: st, Clock: func() time.Time { return g.now }, Logger: slog.New(slog.NewJSONHandler(g.log, nil)),
		Accounts: &web.Accounts{Store: st, SetupToken: setupToken, PlainCookies: true},
	}
	if change != nil {
		change(&cfg)
	}
	h, err := web.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	g.srv = httptest.NewServer(h)
	t.Cleanup(g.srv.Close)
	return g
}

// browser is a fresh visitor with cookies of its own.
func (g *guarded) browser() *visitor {
	g.t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		g.t.Fatal(err)
	}
	return &visitor{
		t: g.t, base: g.srv.URL, store: g.store, log: g.log,
		http: &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }},
	}
}

const goodPassword = "pears on the dome"

// coordinator sets the club up and returns the browser that did.
func (g *guarded) coordinator() *visitor {
	v := g.browser()
	v.save("/setup/"+setupToken, "name", "Ada", "new", goodPassword)
	return v
}

// member makes an account by the pages and returns a browser signed in to it.
func (g *guarded) member(by *visitor, name string, role account.Role) *visitor {
	g.t.Helper()
	p := by.post("/people", "name", name, "role", string(role)).wants(http.StatusOK)
	v := g.browser()
	v.save(linkPath(g.t, p), "new", goodPassword+" "+name)
	return v
}

// linkPath is the path of the link that a page shows.
func linkPath(t testing.TB, p page) string {
	t.Helper()
	u, err := url.Parse(p.testid("link"))
	if err != nil || u.Path == "" {
		t.Fatalf("no link on the page: %q", p.testid("link"))
	}
	return u.Path
}

// sessionCookie is the session as the browser holds it.
func (v *visitor) sessionCookie() string {
	u, _ := url.Parse(v.base)
	for _, c := range v.http.Jar.Cookies(u) {
		if c.Name == "session" {
			return c.Value
		}
	}
	return ""
}

// TestFirstStart guards the way in: nothing without an account, the link that
// works once, and only while there is no account.
func TestFirstStart(t *testing.T) {
	g := startGuarded(t, nil)
	v := g.browser()
	if p := v.get("/nights"); p.status != http.StatusSeeOther || p.header.Get("Location") != "/sign-in?to=%2Fnights" {
		t.Errorf("a stranger gets %d to %q", p.status, p.header.Get("Location"))
	}
	sound(t, "/sign-in", v.get("/sign-in").wants(http.StatusOK))
	v.get("/setup/another-token").wants(http.StatusNotFound)
	v.post("/setup/another-token", "name", "Eve", "new", goodPassword).wants(http.StatusNotFound)
	sound(t, "/setup", v.get("/setup/"+setupToken).wants(http.StatusOK))

	p := v.post("/setup/"+setupToken, "name", "", "new", "short").wants(http.StatusUnprocessableEntity)
	if p.fault("name") == "" || p.fault("new") == "" {
		t.Errorf("faults beside the fields: %q, %q", p.fault("name"), p.fault("new"))
	}
	if to := v.save("/setup/"+setupToken, "name", "Ada", "new", goodPassword); to != "/" {
		t.Errorf("setup leads to %s", to)
	}
	sound(t, "/sites/new", v.get("/sites/new").wants(http.StatusOK))
	v.get("/setup/" + setupToken).wants(http.StatusNotFound)
	g.browser().post("/setup/"+setupToken, "name", "Eve", "new", goodPassword).wants(http.StatusNotFound)
	if strings.Contains(g.log.String(), setupToken) {
		t.Error("the log has the secret of a link")
	}
}

// TestSignIn guards the session: one answer for every fault, a fresh token at
// each sign-in, and its end.
func TestSignIn(t *testing.T) {
	g := startGuarded(t, nil)
	g.coordinator()
	v := g.browser()
	unknown := v.post("/sign-in", "name", "Nobody", "password", goodPassword).wants(http.StatusUnprocessableEntity)
	wrong := v.post("/sign-in", "name", "Ada", "password", "wrong "+goodPassword).wants(http.StatusUnprocessableEntity)
	if unknown.testid("faults") != wrong.testid("faults") || wrong.testid("faults") == "" {
		t.Errorf("an unknown name %q and a wrong password %q are told apart", unknown.testid("faults"), wrong.testid("faults"))
	}
	for to, want := range map[string]string{"/kit": "/kit", "//evil.example/": "/", "https://evil.example/": "/"} {
		if got := g.browser().save("/sign-in", "name", "ada", "password", goodPassword, "to", to); got != want {
			t.Errorf("signing in with to=%s leads to %s, want %s", to, got, want)
		}
	}

	v.save("/sign-in", "name", "Ada", "password", goodPassword)
	before := v.sessionCookie()
	v.save("/sign-in", "name", "Ada", "password", goodPassword)
	after := v.sessionCookie()
	if before == "" || before == after {
		t.Errorf("session tokens %q and %q: not renewed at sign-in", before, after)
	}
	thief := g.browser()
	u, _ := url.Parse(g.srv.URL)
	thief.http.Jar.SetCookies(u, []*http.Cookie{{Name: "session", Value: before}})
	if p := thief.get("/kit"); p.status != http.StatusSeeOther {
		t.Errorf("the token from before sign-in still works: %d", p.status)
	}
	v.get("/kit").wants(http.StatusOK)
	v.save("/sign-out")
	if p := v.get("/kit"); p.status != http.StatusSeeOther {
		t.Errorf("after signing out: %d", p.status)
	}
	thief.http.Jar.SetCookies(u, []*http.Cookie{{Name: "session", Value: after}})
	if p := thief.get("/kit"); p.status != http.StatusSeeOther {
		t.Errorf("the token of a session that was signed out works: %d", p.status)
	}
}

// TestSessionCookie guards the cookie's marks: HttpOnly, SameSite=Lax, and
// Secure with the prefix unless plain cookies are asked for.
func TestSessionCookie(t *testing.T) {
	for _, plain := range []bool{false, true} {
		g := startGuarded(t, func(c *web.Config) { c.Accounts.PlainCookies = plain })
		p := g.browser().post("/setup/"+setupToken, "name", "Ada", "new", goodPassword).wants(http.StatusSeeOther)
		found := false
		for _, line := range p.header.Values("Set-Cookie") {
			c, err := http.ParseSetCookie(line)
			if err != nil || c.Name != map[bool]string{true: "session", false: "__Host-session"}[plain] {
				continue
			}
			found = true
			if !c.HttpOnly || c.SameSite != http.SameSiteLaxMode || c.Path != "/" || c.Domain != "" || c.Secure == plain {
				t.Errorf("plain %v: cookie %s", plain, line)
			}
			if c.MaxAge < 6*24*3600 || c.MaxAge > 7*24*3600+60 {
				t.Errorf("the cookie lives %d s, want the idle limit of a week", c.MaxAge)
			}
		}
		if !found {
			t.Errorf("plain %v: no session cookie in %q", plain, p.header.Values("Set-Cookie"))
		}
	}
}

// TestEndingSessions guards that a changed password, "everywhere else", a
// closed account and a new role end what is open.
func TestEndingSessions(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	phone := g.browser()
	signIn := func() { phone.save("/sign-in", "name", "Ada", "password", goodPassword) }
	out := func(what string) {
		t.Helper()
		if p := phone.get("/kit"); p.status != http.StatusSeeOther {
			t.Errorf("%s: the other device still gets %d", what, p.status)
		}
		ada.get("/kit").wants(http.StatusOK)
	}
	signIn()
	ada.save("/account/sign-out-everywhere")
	out("sign out everywhere")

	signIn()
	p := ada.post("/account/password", "old", "not it", "new", "another good password").wants(http.StatusUnprocessableEntity)
	if p.fault("old") == "" {
		t.Error("a wrong present password has no fault beside it")
	}
	ada.save("/account/password", "old", goodPassword, "new", "another good password")
	out("a new password")
	phone.post("/sign-in", "name", "Ada", "password", goodPassword).wants(http.StatusUnprocessableEntity)

	bo := g.member(ada, "Bo", account.Crew)
	bo.get("/crew").wants(http.StatusOK)
	ada.save("/people/2", "Version", "2", "name", "Bo", "role", "viewer")
	if p := bo.get("/crew"); p.status != http.StatusSeeOther {
		t.Errorf("with a new role the old session gets %d", p.status)
	}
	bo.save("/sign-in", "name", "Bo", "password", goodPassword+" Bo")
	bo.get("/crew").wants(http.StatusForbidden)
	ada.save("/people/2", "Version", "3", "name", "Bo", "role", "viewer", "closed", "1")
	if p := bo.get("/kit"); p.status != http.StatusSeeOther {
		t.Errorf("a closed account gets %d", p.status)
	}
	bo.post("/sign-in", "name", "Bo", "password", goodPassword+" Bo").wants(http.StatusUnprocessableEntity)
	ada.post("/people/1", "Version", "9", "name", "Ada", "role", "viewer").wants(http.StatusConflict)
	ada.post("/people/1/remove", "Version", ada.get("/people/1").value("Version")).wants(http.StatusConflict)
}

// TestRemovedAccountsAreGoneAtOnce guards that removing an account shuts every
// way in that its owner had, that no bin and no undo opens one again, that a
// new account of the same name is another, and that an old page removes nobody
// who was changed since.
func TestRemovedAccountsAreGoneAtOnce(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	bo := g.member(ada, "Bo", account.Crew)
	old := ada.get("/people/2").value("Version")
	ada.save("/people/2", "Version", old, "name", "Bo", "role", "coordinator")
	ada.post("/people/2/remove", "Version", old).wants(http.StatusConflict)
	ada.post("/people/2/remove").wants(http.StatusUnprocessableEntity)

	bo.save("/sign-in", "name", "Bo", "password", goodPassword+" Bo")
	bo.get("/kit").wants(http.StatusOK)
	link := linkPath(t, ada.post("/people/2/link").wants(http.StatusOK))
	p := ada.get("/people/2").wants(http.StatusOK)
	if !strings.Contains(p.body, "For good and at once") {
		t.Error("the page does not say that it is final")
	}
	ada.save("/people/2/remove", "Version", p.value("Version"))
	if p := ada.get("/people"); strings.Contains(p.testid("flash"), "Undo") || strings.Contains(p.body, "/undo") {
		t.Errorf("the next page offers a way back: %q", p.testid("flash"))
	}
	shut := func(when string) {
		t.Helper()
		if p := bo.get("/kit"); p.status != http.StatusSeeOther {
			t.Errorf("%s, the old session gets %d", when, p.status)
		}
		bo.get(link).wants(http.StatusNotFound)
		bo.post(link, "new", "quite another password").wants(http.StatusNotFound)
		bo.post("/sign-in", "name", "Bo", "password", goodPassword+" Bo").wants(http.StatusUnprocessableEntity)
	}
	shut("removed")
	bin, err := g.store.Bin(t.Context())
	if err != nil || len(bin) != 0 {
		t.Errorf("in the bin: %+v, %v", bin, err)
	}
	ada.post("/bin/account/2/take-back").wants(http.StatusNotFound)
	ada.get("/people/2").wants(http.StatusNotFound)
	ada.post("/people", "name", "Bo", "role", "coordinator").wants(http.StatusOK)
	shut("with a new account of that name")
	ada.get("/people/2").wants(http.StatusNotFound)
}

// TestRecovery guards the link by another coordinator: new, once, and for its
// time.
func TestRecovery(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	bo := g.member(ada, "Bo", account.Viewer)
	bo.get("/kit").wants(http.StatusOK)

	link := linkPath(t, ada.post("/people/2/link").wants(http.StatusOK))
	v := g.browser()
	sound(t, "link", v.get(link).wants(http.StatusOK))
	v.save(link, "new", "quite another password")
	v.get(link).wants(http.StatusNotFound)
	if p := bo.get("/kit"); p.status != http.StatusSeeOther {
		t.Errorf("the session from before the recovery gets %d", p.status)
	}
	late := linkPath(t, ada.post("/people/2/link").wants(http.StatusOK))
	g.now = g.now.Add(73 * time.Hour)
	g.browser().get(late).wants(http.StatusNotFound)
	g.browser().post(late, "new", "quite another password").wants(http.StatusNotFound)
}

// TestGuessingIsSlowed guards the slow-down per account: after five faults a
// try waits, the right password too, and after the pause it works.
func TestGuessingIsSlowed(t *testing.T) {
	g := startGuarded(t, nil)
	g.coordinator()
	v := g.browser()
	for range 5 {
		v.post("/sign-in", "name", "Ada", "password", "a guess that is wrong").wants(http.StatusUnprocessableEntity)
	}
	p := v.post("/sign-in", "name", "ADA", "password", goodPassword).wants(http.StatusTooManyRequests)
	if p.header.Get("Retry-After") != "1" {
		t.Errorf("Retry-After %q, want 1 s", p.header.Get("Retry-After"))
	}
	g.now = g.now.Add(2 * time.Second)
	v.save("/sign-in", "name", "Ada", "password", goodPassword)
}

// TestRateLimit guards the bound on tries from one address, whatever the names.
func TestRateLimit(t *testing.T) {
	g := startGuarded(t, func(c *web.Config) { c.Proxies = []netip.Prefix{netip.MustParsePrefix("127.0.0.0/8")} })
	g.coordinator()
	try := func(from string) int {
		req, err := http.NewRequest(http.MethodPost, g.srv.URL+"/setup/x", strings.NewReader(""))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("X-Forwarded-For", from)
		return g.browser().do(req).status
	}
	for i := range 30 {
		if got := try("192.0.2.7"); got != http.StatusNotFound {
			t.Fatalf("try %d: %d", i+1, got)
		}
	}
	if got := try("192.0.2.7"); got != http.StatusTooManyRequests {
		t.Errorf("try 31: %d, want 429", got)
	}
	if got := try("192.0.2.8"); got != http.StatusNotFound {
		t.Errorf("another address: %d", got)
	}
}

// TestTransportSecurity guards that HSTS is sent over TLS only, and that a
// header about it counts from a trusted proxy only.
func TestTransportSecurity(t *testing.T) {
	for name, proxies := range map[string][]netip.Prefix{"trusted": {netip.MustParsePrefix("127.0.0.1/32")}, "stranger": {netip.MustParsePrefix("10.0.0.0/8")}, "none": nil} {
		g := startGuarded(t, func(c *web.Config) { c.Proxies = proxies })
		req, err := http.NewRequest(http.MethodGet, g.srv.URL+"/sign-in", nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("X-Forwarded-Proto", "https")
		if got := g.browser().do(req).header.Get("Strict-Transport-Security") != ""; got != (name == "trusted") {
			t.Errorf("%s proxy: HSTS %v", name, got)
		}
	}
}
