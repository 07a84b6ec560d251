package web

import (
	"net/http"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/account"
	"duskboard/web/views"
)

// MayAs is what pages for a role are made with, for tests outside the package.
func MayAs(t testing.TB, role account.Role) views.MayFunc {
	return mayOf(everyRoute(t), role)
}

// RoutesOf lists the routes of a method that a role may use, as patterns.
func RoutesOf(t testing.TB, method string, role account.Role) []string {
	t.Helper()
	var all []string
	_ = chi.Walk(everyRoute(t), func(m, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		if name := routeName(m, pattern); m == method && rights[name].allows(role) {
			all = append(all, strings.TrimPrefix(name, method+" "))
		}
		return nil
	})
	return all
}
