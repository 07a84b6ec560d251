package web

import (
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"duskboard/web/views"
)

// guideFor is the one table from a page of the program to the page of the guide
// about its task, by the beginning of the page's route; the longest one counts.
// A test walks the router: every page has a line here.
var guideFor = map[string]string{
	"/":          "start",
	"/style":     "start",
	"/club":      "start",
	"/about":     "exactness",
	"/sign-in":   "accounts",
	"/setup":     "accounts",
	"/account":   "accounts",
	"/people":    "accounts",
	"/kit":       "kit",
	"/targets":   "targets",
	"/sites":     "site",
	"/crew":      "volunteers",
	"/c/{token}": "own-page",
	"/bin":       "history",
	"/privacy":   "privacy",

	"/club/data":          "backup",
	"/sites/import":       "backup",
	"/sites/export.csv":   "backup",
	"/targets/import":     "backup",
	"/targets/export.csv": "backup",
	"/sites/{id}/ground":  "field",

	"/kit/import":                 "kit-table",
	"/kit/export.csv":             "kit-table",
	"/kit/buy":                    "fits",
	"/kit/compare":                "telescope",
	"/kit/instruments/{id}/sheet": "telescope",
	"/crew/hours":                 "hours",
	"/crew/rules":                 "roster",
	"/crew/{id}/link":             "answers",

	"/nights":                          "night",
	"/nights/import":                   "backup",
	"/nights/table":                    "backup",
	"/words":                           "print",
	"/nights/{night}/field":            "field",
	"/nights/{night}/night.json":       "backup",
	"/nights/{night}/choose":           "choose",
	"/nights/{night}/targets":          "choose",
	"/nights/{night}/sky":              "choose",
	"/nights/{night}/fits":             "fits",
	"/nights/{night}/why":              "fits",
	"/nights/{night}/buy":              "fits",
	"/nights/{night}/line-up":          "line-up",
	"/nights/{night}/line-up/replan":   "cloud",
	"/nights/{night}/roster":           "roster",
	"/nights/{night}/answers":          "answers",
	"/nights/{night}/cards":            "print",
	"/nights/{night}/placards":         "print",
	"/nights/{night}/guest-sheet":      "print",
	"/nights/{night}/print":            "print",
	"/nights/{night}/programme":        "programme",
	"/nights/{night}/weather":          "weather",
	"/nights/{night}/glass":            "dew",
	"/nights/{night}/decision":         "decision",
	"/nights/{night}/departure":        "departure",
	"/nights/{night}/history":          "history",
	"/nights/{night}/roster/people":    "dropout",
	"/nights/{night}/attendance":       "hours",
	"/nights/{night}/roster/call-list": "roster",
}

// guideKey finds the page of the guide for a route; "" when the route has none,
// as the guide itself and what guests see.
func guideKey(route string) string {
	key, longest := "", -1
	for prefix, k := range guideFor {
		rest, ok := strings.CutPrefix(route, prefix)
		if ok && (rest == "" || rest[0] == '/') && len(prefix) > longest {
			key, longest = k, len(prefix)
		}
	}
	return key
}

// help is the link from a page to the guide about its task; nil when there is
// none.
func (s *server) help(r *http.Request) *views.Link {
	at := chi.RouteContext(r.Context())
	if at == nil || s.book == nil {
		return nil
	}
	route := strings.TrimSpace(routeName("", at.RoutePattern()))
	p := s.book.Page(guideKey(route))
	if p == nil {
		return nil
	}
	return &views.Link{Text: p.Title, Href: p.Href()}
}
