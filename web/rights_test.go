package web

import (
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/account"
)

// noStore is enough to build the routes; no test here follows one.
type noStore struct{ Store }

// everyRoute returns the router of the whole site with accounts.
func everyRoute(t testing.TB) chi.Routes {
	t.Helper()
	s := &server{store: noStore{}}
	s.guard = s.newGuard(Accounts{})
	site, ok := s.routes().(chi.Routes)
	if !ok {
		t.Fatal("the site is not a router that can be walked")
	}
	return site
}

var parameter = regexp.MustCompile(`\{[a-z]+\}`)

// TestEveryRouteHasARight walks the router: each route stands in the table of
// rights, each entry of the table is a route, and the middleware finds the same
// entry for an address of that route as the router does.
func TestEveryRouteHasARight(t *testing.T) {
	site := everyRoute(t)
	seen := map[string]bool{}
	err := chi.Walk(site, func(method, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		name := routeName(method, pattern)
		seen[name] = true
		need, stated := rights[name]
		if !stated {
			t.Errorf("route %q has no right in the table (web/rights.go)", name)
		}
		if need != anyone && !account.Role(need).Known() && stated {
			t.Errorf("route %q has the unknown right %q", name, need)
		}
		path := strings.ReplaceAll(parameter.ReplaceAllString(pattern, "7"), "/*/", "/")
		path = strings.ReplaceAll(path, "*", "a/file")
		if got := routeOf(site, httptest.NewRequest(method, path, nil)); got != name {
			t.Errorf("address %s %s of route %q is judged as %q", method, path, name, got)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for name := range rights {
		if !seen[name] {
			t.Errorf("the table has %q, which is no route", name)
		}
	}
	if len(seen) < 100 {
		t.Errorf("only %d routes were walked", len(seen))
	}
}

// TestNoRouteChangesByGet guards that what is sent is judged by POST entries:
// the site knows GET and POST only.
func TestNoRouteChangesByGet(t *testing.T) {
	_ = chi.Walk(everyRoute(t), func(method, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		if method != http.MethodGet && method != http.MethodPost {
			t.Errorf("route %s %s: only GET and POST are used", method, pattern)
		}
		return nil
	})
}

// TestRightsAllow guards the order of rights, and that a forgotten entry is a
// coordinator's alone.
func TestRightsAllow(t *testing.T) {
	for _, c := range []struct {
		need right
		role account.Role
		want bool
	}{
		{anyone, "", true}, {viewers, "", false}, {viewers, account.Viewer, true}, {crewOnly, account.Viewer, false},
		{crewOnly, account.Crew, true}, {organisers, account.Crew, false}, {organisers, account.Coordinator, true},
		{"", account.Crew, false}, {"", account.Coordinator, true}, {"", "", false},
	} {
		if got := c.need.allows(c.role); got != c.want {
			t.Errorf("right %q allows %q: %v, want %v", c.need, c.role, got, c.want)
		}
	}
}
