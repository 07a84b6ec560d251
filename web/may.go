package web

import (
	"net/http"
	"net/url"
	"strings"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/account"
	"duskboard/web/views"
)

// mayOf tells pages what somebody with a role may ask for, out of the table of
// rights and by the router itself: an address that it knows no route for is not
// offered.
func mayOf(site chi.Routes, role account.Role) views.MayFunc {
	return func(method, address string) bool {
		u, err := url.Parse(address)
		if err != nil {
			return false
		}
		if u.Scheme != "" || u.Host != "" || u.Path == "" {
			return true // elsewhere, or a place on this page
		}
		if !strings.HasPrefix(u.Path, "/") {
			return false // the pages use whole paths only
		}
		route := routeAt(site, method, u.EscapedPath())
		return route != "" && rights[route].allows(role)
	}
}

// offer makes pages for a stranger until authorise knows who asks: a refusal on
// the way there offers nothing that a stranger may not have.
func (s *server) offer(site chi.Routes) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		if s.guard == nil {
			return next
		}
		stranger := mayOf(site, "")
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			next.ServeHTTP(w, r.WithContext(views.WithMay(r.Context(), stranger)))
		})
	}
}
