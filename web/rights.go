package web

import (
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/account"
)

// right is the least that somebody must be to use a route: anyone, or one of
// the roles.
type right string

const (
	anyone     right = "anyone" // without an account; the address itself may be a secret
	viewers          = right(account.Viewer)
	crewOnly         = right(account.Crew)
	organisers       = right(account.Coordinator)
)

// allows reports whether a role is enough; role "" is somebody not signed in.
// A right that is not stated is nobody's but a coordinator's: a forgotten entry
// locks a page instead of opening it.
func (n right) allows(role account.Role) bool {
	switch n {
	case anyone:
		return true
	case "":
		return role.Covers(account.Coordinator)
	}
	return role.Covers(account.Role(n))
}

// rights is the one table of who may do what, by method and route. A test walks
// the router and fails for a route that is missing here. Contact data stands on
// organisers' pages and on a person's own only.
var rights = withGear(map[string]right{
	// Shell and what the public sees
	"GET /":            viewers,
	"GET /healthz":     anyone,
	"GET /style":       viewers,
	"GET /about":       anyone,
	"GET /club":        organisers,
	"POST /club":       organisers,
	"POST /theme":      anyone,
	"GET /static/*":    anyone,
	"GET /favicon.ico": anyone,

	// The user's guide holds nothing of the club
	"GET /guide":        anyone,
	"GET /guide/all":    anyone,
	"GET /guide/{page}": anyone,

	// Accounts
	"GET /sign-in":                            anyone,
	"POST /sign-in":                           anyone,
	"POST /sign-in/passkey":                   anyone,
	"POST /sign-in/passkey/answer":            anyone,
	"POST /sign-out":                          anyone, // ends the sender's own session, if any
	"GET /setup/{token}":                      anyone, // the link is the right
	"POST /setup/{token}":                     anyone,
	"GET /account/link/{token}":               anyone,
	"POST /account/link/{token}":              anyone,
	"GET /account":                            viewers,
	"POST /account/password":                  viewers,
	"POST /account/passkeys/ask":              viewers,
	"POST /account/passkeys":                  viewers,
	"POST /account/passkeys/{passkey}/remove": viewers,
	"POST /account/sign-out-everywhere":       viewers,
	"GET /people":                             organisers,
	"POST /people":                            organisers,
	"GET /people/{id}":                        organisers,
	"POST /people/{id}":                       organisers,
	"POST /people/{id}/link":                  organisers,
	"POST /people/{id}/sign-out":              organisers,
	"POST /people/{id}/passkeys/remove":       organisers,
	"POST /people/{id}/remove":                organisers,

	// Kit; the pages of each kind of gear are added by withGear
	"GET /kit":                        viewers,
	"GET /kit/compare":                viewers,
	"GET /kit/instruments/{id}/sheet": viewers,
	"GET /kit/buy":                    viewers,

	// The club's data as a whole: tables in and out, the bin, privacy
	"GET /kit/import":                       organisers,
	"POST /kit/import":                      organisers,
	"GET /kit/import/template.csv":          organisers,
	"GET /kit/export.csv":                   organisers,
	"GET /sites/import":                     organisers,
	"POST /sites/import":                    organisers,
	"GET /sites/import/template.csv":        organisers,
	"GET /sites/export.csv":                 organisers,
	"GET /nights/table/import":              organisers,
	"POST /nights/table/import":             organisers,
	"GET /nights/table/import/template.csv": organisers,
	"GET /nights/table/export.csv":          organisers,
	"GET /targets/import":                   organisers,
	"POST /targets/import":                  organisers,
	"GET /targets/import/template.csv":      organisers,
	"GET /targets/export.csv":               organisers,
	"GET /crew/export.csv":                  organisers,
	"POST /imports/{import}/undo":           organisers,
	"GET /club/data":                        organisers,
	"GET /club/data/everything.json":        organisers,
	"POST /club/data/keeping":               organisers,
	"GET /bin":                              organisers,
	"POST /bin/{kind}/{ref}/take-back":      organisers,
	"POST /bin/{kind}/{ref}/discard":        organisers,
	"GET /privacy":                          anyone, // says what kinds of things are kept, of nobody
	"GET /crew/{id}/data.json":              organisers,
	"GET /c/{token}/data.json":              anyone, // the address is the right
	"POST /c/{token}/consent":               anyone,

	// Nights
	"GET /nights":                                  viewers,
	"GET /nights/new":                              organisers,
	"GET /nights/import":                           organisers,
	"POST /nights/import":                          organisers,
	"GET /nights/import/schema.json":               organisers,
	"GET /nights/{night}/night.json":               organisers,
	"POST /nights":                                 organisers,
	"POST /nights/sky":                             organisers,
	"GET /nights/{night}":                          viewers,
	"GET /nights/{night}/edit":                     organisers,
	"POST /nights/{night}/edit":                    organisers,
	"POST /nights/{night}/retire":                  organisers,
	"POST /nights/{night}/restore":                 organisers,
	"GET /nights/{night}/choose":                   organisers,
	"POST /nights/{night}/choose":                  organisers,
	"GET /nights/{night}/targets":                  organisers,
	"GET /nights/{night}/history":                  crewOnly,
	"POST /nights/{night}/history/{entry}/line-up": organisers,
	"POST /nights/{night}/history/{entry}/roster":  organisers,
	"GET /nights/{night}/sky":                      viewers,
	"GET /nights/{night}/fits":                     viewers,
	"GET /nights/{night}/why":                      viewers,
	"GET /nights/{night}/buy":                      viewers,
	"POST /nights/{night}/buy":                     organisers,
	"GET /nights/{night}/cards":                    viewers,
	"GET /nights/{night}/placards":                 viewers,
	"GET /nights/{night}/guest-sheet":              viewers,
	"GET /nights/{night}/print":                    viewers,
	"GET /nights/{night}/programme":                viewers,
	"POST /nights/{night}/papers":                  organisers,
	"POST /nights/{night}/programme/publish":       organisers,
	"POST /nights/{night}/programme/withdraw":      organisers,

	// What guests see, once a coordinator made it public
	"GET /n/{night}":                anyone,
	"GET /n/{night}/programme.json": anyone,

	// Weather, glass, the decision, and who packs what
	"GET /worker.js":                                     anyone,
	"GET /nights/{night}/weather":                        viewers,
	"POST /nights/{night}/weather/lines":                 organisers,
	"POST /nights/{night}/weather/file":                  organisers,
	"POST /nights/{night}/weather/fetch":                 organisers,
	"POST /nights/{night}/weather/clear":                 organisers,
	"GET /nights/{night}/glass":                          viewers,
	"POST /nights/{night}/glass/{instrument}/put-out":    organisers,
	"POST /nights/{night}/glass/{instrument}/measure":    organisers,
	"GET /nights/{night}/decision":                       viewers,
	"POST /nights/{night}/decision":                      organisers,
	"POST /nights/{night}/decision/thresholds":           organisers,
	"GET /nights/{night}/departure":                      crewOnly,
	"POST /nights/{night}/departure/packing":             organisers,
	"GET /nights/{night}/departure/{volunteer}":          crewOnly,
	"POST /nights/{night}/departure/{volunteer}/packing": crewOnly,

	// The layout of the field
	"GET /nights/{night}/field":                      viewers,
	"GET /nights/{night}/field/sheet":                viewers,
	"POST /nights/{night}/field/suggest":             organisers,
	"POST /nights/{night}/field/undo":                organisers,
	"POST /nights/{night}/field/redo":                organisers,
	"POST /nights/{night}/field/places":              organisers,
	"POST /nights/{night}/field/places/{instrument}": organisers,

	// Line-up
	"GET /nights/{night}/line-up":                            viewers,
	"POST /nights/{night}/line-up/propose":                   organisers,
	"POST /nights/{night}/line-up/clear":                     organisers,
	"POST /nights/{night}/line-up/allow":                     organisers,
	"POST /nights/{night}/line-up/showings/{showing}/place":  organisers,
	"POST /nights/{night}/line-up/showings/{showing}/swap":   organisers,
	"POST /nights/{night}/line-up/undo":                      organisers,
	"POST /nights/{night}/line-up/redo":                      organisers,
	"GET /nights/{night}/line-up/new":                        organisers,
	"GET /nights/{night}/line-up/versions":                   viewers,
	"POST /nights/{night}/line-up/versions":                  organisers,
	"GET /nights/{night}/line-up/versions/{kept}":            viewers,
	"POST /nights/{night}/line-up/versions/{kept}/restore":   organisers,
	"POST /nights/{night}/line-up/versions/{kept}/forget":    organisers,
	"GET /nights/{night}/line-up/replan":                     organisers,
	"POST /nights/{night}/line-up/replan":                    organisers,
	"POST /nights/{night}/line-up/showings":                  organisers,
	"GET /nights/{night}/line-up/showings/{showing}":         viewers,
	"POST /nights/{night}/line-up/showings/{showing}/pin":    organisers,
	"POST /nights/{night}/line-up/showings/{showing}/remove": organisers,
	"POST /nights/{night}/line-up/showings/{showing}/forbid": organisers,

	// Crew: names to the crew, contact data to coordinators
	"GET /crew":               crewOnly,
	"GET /crew/new":           organisers,
	"POST /crew":              organisers,
	"GET /crew/{id}":          organisers,
	"POST /crew/{id}":         organisers,
	"POST /crew/{id}/retire":  organisers,
	"POST /crew/{id}/restore": organisers,

	// Roster: names to the crew, changes and contacts to coordinators
	"GET /nights/{night}/roster":                        crewOnly,
	"GET /nights/{night}/roster/call-list":              organisers,
	"POST /nights/{night}/roster/propose":               organisers,
	"POST /nights/{night}/roster/clear":                 organisers,
	"POST /nights/{night}/roster/restore":               organisers,
	"POST /nights/{night}/roster/undo":                  organisers,
	"POST /nights/{night}/roster/redo":                  organisers,
	"POST /nights/{night}/roster/duties/{duty}/move":    organisers,
	"POST /nights/{night}/roster/duties/{duty}/swap":    organisers,
	"GET /nights/{night}/roster/new":                    organisers,
	"POST /nights/{night}/roster/check":                 organisers,
	"POST /nights/{night}/roster/duties":                organisers,
	"GET /nights/{night}/roster/duties/{duty}":          organisers,
	"POST /nights/{night}/roster/duties/{duty}/pin":     organisers,
	"POST /nights/{night}/roster/duties/{duty}/remove":  organisers,
	"POST /nights/{night}/roster/duties/{duty}/take":    organisers,
	"GET /nights/{night}/roster/people/{person}":        organisers,
	"POST /nights/{night}/roster/people/{person}/drop":  organisers,
	"POST /nights/{night}/roster/people/{person}/cover": organisers,
	"GET /nights/{night}/attendance":                    organisers,
	"POST /nights/{night}/attendance":                   organisers,
	"GET /nights/{night}/answers":                       organisers,
	"POST /nights/{night}/answers/remind":               organisers,
	"GET /crew/rules":                                   organisers,
	"POST /crew/rules":                                  organisers,
	"GET /crew/hours":                                   organisers,
	"GET /crew/hours.csv":                               organisers,
	"GET /crew/import":                                  organisers,
	"POST /crew/import":                                 organisers,
	"GET /crew/import/example.csv":                      organisers,
	"GET /crew/{id}/link":                               organisers,
	"POST /crew/{id}/link":                              organisers,
	"POST /crew/{id}/link/revoke":                       organisers,
	"POST /crew/{id}/forget":                            organisers,

	// A volunteer's own page: the address is the right
	"GET /c/{token}":                         anyone,
	"GET /c/{token}/calendar.ics":            anyone,
	"POST /c/{token}/nights/{night}":         anyone,
	"POST /c/{token}/nights/{night}/packing": anyone,
	"GET /c/{token}/nights/{night}/cards":    anyone,
	"GET /n/{night}/crew/{token}.ics":        anyone,

	// Targets
	"GET /targets":                                viewers,
	"POST /targets":                               organisers,
	"POST /targets/{target}/remove":               organisers,
	"POST /targets/satellites":                    organisers,
	"POST /targets/satellites/{satellite}/remove": organisers,

	// What the cards say
	"GET /words":                        organisers,
	"POST /words/language":              organisers,
	"POST /words/file":                  organisers,
	"GET /words/{lang}/texts.csv":       organisers,
	"POST /words/{lang}/undo":           organisers,
	"POST /words/{lang}/remove":         organisers,
	"POST /words/{lang}/restore":        organisers,
	"GET /words/{lang}/{target}":        organisers,
	"POST /words/{lang}/{target}":       organisers,
	"POST /words/{lang}/{target}/reset": organisers,
	"POST /words/{lang}/{target}/undo":  organisers,

	// Sites
	"GET /sites":                   viewers,
	"GET /sites/new":               organisers,
	"POST /sites":                  organisers,
	"POST /sites/zone":             organisers,
	"POST /sites/horizon":          organisers,
	"GET /sites/{id}":              organisers,
	"POST /sites/{id}":             organisers,
	"POST /sites/{id}/retire":      organisers,
	"POST /sites/{id}/restore":     organisers,
	"GET /sites/{id}/ground":       organisers,
	"POST /sites/{id}/ground":      organisers,
	"POST /sites/{id}/ground/undo": organisers,
	"POST /sites/{id}/ground/draw": organisers,
})

// gearPaths are the kinds of gear as they stand in addresses.
var gearPaths = []string{"instruments", "eyepieces", "amplifiers", "diagonals", "filters", "finders", "dew-gear", "batteries", "steps"}

// withGear adds the same pages for each kind of gear.
func withGear(table map[string]right) map[string]right {
	for _, p := range gearPaths {
		for _, route := range []string{"GET /new", "POST ", "POST /assumed", "GET /{id}", "POST /{id}", "POST /{id}/retire", "POST /{id}/restore"} {
			method, tail, _ := strings.Cut(route, " ")
			table[method+" /kit/"+p+tail] = organisers
		}
	}
	return table
}

// routeName is how a route stands in the table: without the traces of mounted
// routers and without a slash at the end.
func routeName(method, pattern string) string {
	pattern = strings.ReplaceAll(pattern, "/*/", "/")
	if pattern != "/" {
		pattern = strings.TrimSuffix(pattern, "/")
	}
	return method + " " + pattern
}

// routeOf returns the name of the route that a request will take; "" when there
// is none.
func routeOf(site chi.Routes, r *http.Request) string {
	method, path := r.Method, r.URL.Path
	if method == http.MethodHead {
		method = http.MethodGet // as middleware.GetHead has it
	}
	if r.URL.RawPath != "" {
		path = r.URL.RawPath // as the router has it
	}
	return routeAt(site, method, path)
}

// routeAt is routeOf for a method and a path.
func routeAt(site chi.Routes, method, path string) string {
	if path == "" {
		path = "/"
	}
	pattern := site.Find(chi.NewRouteContext(), method, path)
	if pattern == "" {
		return ""
	}
	return routeName(method, pattern)
}
