package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"duskboard/internal/account"
	"duskboard/web"
)

// furnished is a guarded club with something on every page: a night with kit,
// weather, a line-up, a kept version, a roster and a decision, things retired,
// and targets of the club's own.
func furnished(t *testing.T) (*guarded, *visitor) {
	t.Helper()
	v := crowded(t)
	v.save("/nights/1/line-up/propose") // for the history; the kit of this club shows little by itself
	for _, x := range []struct{ target, from, to string }{{"m13", "0", "3"}, {"m57", "3", "6"}, {"m15", "6", "9"}} {
		v.save("/nights/1/line-up/showings", "instrument", "1", "target", x.target, "from", x.from, "to", x.to)
	}
	v.save("/nights/1/weather/lines", threeLines()...)
	v.save("/nights/1/line-up/versions", "name", "As agreed")
	v.save("/nights/1/roster/propose")
	v.save("/nights/1/decision", "word", "go", "who", "Priya", "words", "Clear until eleven.")
	v.save("/targets", "name", "Our cluster", "place", "05 35 17 -05 23 28", "kind", "open cluster")
	v.save("/targets/satellites", "satellite", sample)
	v.save("/kit/filters/5/retire", "version", "1")
	v.save("/sites", "Name", "Old Quarry", "Lat", "52", "Lon", "13", "Step", "5")
	v.save("/sites/2/retire", "version", "1")
	v.save("/crew/2/retire", "version", "1")
	v.save("/nights", "Date", "2026-10-17", "Site", "1", "From", "20:00", "To", "22:30", "Guests", "40", "Audience", "adults", "Block", "15")
	v.save(retireButton(t, v.get("/nights/2/edit")))
	g := startGuarded(t, func(c *web.Config) { c.Store, c.Accounts.Store = v.store, v.store })
	g.store = v.store
	return g, g.coordinator()
}

// seeds fills the parameters of a pattern with things of the furnished club.
func seeds(pattern string) string {
	for _, known := range []struct{ name, value string }{
		{"{night}", "1"}, {"{target}", "m13"}, {"{instrument}", "1"}, {"{volunteer}", "1"}, {"{kept}", "1"}, {"{person}", "1"},
	} {
		pattern = strings.ReplaceAll(pattern, known.name, known.value)
	}
	return regexp.MustCompile(`\{[a-z]+\}`).ReplaceAllString(pattern, "1")
}

// TestPagesOfferOnlyWhatTheyKeep walks every page that a stranger, a viewer and
// a crew member may open, along its links and from each route of the table, and
// wants no link and no form on it that the table of rights refuses them.
func TestPagesOfferOnlyWhatTheyKeep(t *testing.T) {
	g, ada := furnished(t)
	for _, role := range []account.Role{"", account.Viewer, account.Crew, account.Coordinator} {
		t.Run("as "+string(role), func(t *testing.T) {
			v := g.browser()
			if role != "" {
				v = g.member(ada, "Somebody "+string(role), role)
			}
			may := web.MayAs(t, role)
			todo := []string{"/", "/no/such/page"}
			for _, pattern := range web.RoutesOf(t, http.MethodGet, role) {
				if !strings.Contains(pattern, "*") && !strings.Contains(pattern, "{token}") {
					todo = append(todo, seeds(pattern))
				}
			}
			if role == "" {
				todo = append(todo, "/sign-in", "/c/none", "/setup/none", "/account/link/none")
			}
			pages := walk(t, v, may, todo)
			// Fewer pages would mean that the walk, not the site, has changed.
			if least := map[account.Role]int{"": 4, account.Viewer: 25, account.Crew: 28, account.Coordinator: 80}[role]; pages < least {
				t.Errorf("only %d pages walked, want %d", pages, least)
			}
		})
	}
}

// walk follows links from the addresses given, each kind of address twice, and reports what is offered in vain. It returns how many pages it saw.
func walk(t *testing.T, v *visitor, may func(method, address string) bool, todo []string) int {
	t.Helper()
	seen, kinds, pages := map[string]bool{}, map[string]int{}, 0
	number := regexp.MustCompile(`[0-9]+`)
	for len(todo) > 0 {
		address := todo[0]
		todo = todo[1:]
		kind := number.ReplaceAllString(address, "#")
		if seen[address] || kinds[kind] >= 2 {
			continue
		}
		seen[address], kinds[kind] = true, kinds[kind]+1
		p := v.get(address)
		if p.status >= 500 {
			t.Errorf("%s: status %d", address, p.status)
		}
		if !strings.HasPrefix(p.header.Get("Content-Type"), "text/html") {
			continue
		}
		pages++
		for _, o := range offers(p, address) {
			if here := strings.HasPrefix(o.address, address+"#"); !here && !may(o.method, o.address) {
				t.Errorf("%s offers %s %s, which would be refused", address, o.method, o.address)
			} else if o.method == http.MethodGet && !strings.HasPrefix(o.address, "/static/") && strings.HasPrefix(o.address, "/") {
				before, _, _ := strings.Cut(o.address, "#")
				todo = append(todo, before)
			}
		}
	}
	return pages
}

// offer is one request that a page offers.
type offer struct{ method, address string }

// offers lists the links and forms of a page, scripted ones included, by
// absolute address.
func offers(p page, from string) []offer {
	var all []offer
	base, err := url.Parse(from)
	if err != nil {
		p.t.Fatal(err)
	}
	add := func(method, address string) {
		u, err := base.Parse(address)
		if err != nil {
			p.t.Errorf("%s: address %q: %v", from, address, err)
			return
		}
		all = append(all, offer{method, u.String()})
	}
	for n := range p.root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		method := http.MethodGet
		if n.Data == "form" && strings.EqualFold(attr(n, "method"), "post") {
			method = http.MethodPost
		}
		for _, a := range n.Attr {
			switch a.Key {
			case "href", "hx-get":
				add(http.MethodGet, a.Val)
			case "action":
				add(method, a.Val)
			case "hx-post", "formaction":
				add(http.MethodPost, a.Val)
			}
		}
	}
	return slices.Compact(all)
}
