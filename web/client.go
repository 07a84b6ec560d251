package web

import (
	"context"
	"net"
	"net/http"
	"net/netip"

	"github.com/go-chi/chi/v5/middleware"
)

// What a request is known to come from. Headers that a proxy adds count only
// when the connection itself comes from a trusted proxy: anybody can send them.

type schemeKey struct{}

// client finds out the client's address and whether it reached us over TLS.
func client(proxies []netip.Prefix) func(http.Handler) http.Handler {
	if len(proxies) == 0 {
		return middleware.ClientIPFromRemoteAddr
	}
	var words []string
	for _, p := range proxies {
		words = append(words, p.String())
	}
	byHeader := middleware.ClientIPFromXFF(words...)
	return func(next http.Handler) http.Handler {
		return byHeader(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.Header.Get("X-Forwarded-Proto") == "https" && fromAny(proxies, r.RemoteAddr) {
				r = r.WithContext(context.WithValue(r.Context(), schemeKey{}, true))
			}
			next.ServeHTTP(w, r)
		}))
	}
}

func fromAny(proxies []netip.Prefix, remote string) bool {
	peer, err := netip.ParseAddrPort(remote)
	if err != nil {
		return false
	}
	for _, p := range proxies {
		if p.Contains(peer.Addr().Unmap()) {
			return true
		}
	}
	return false
}

// secure reports whether the browser reached us over TLS, here or at a trusted
// proxy.
func secure(r *http.Request) bool {
	at, _ := r.Context().Value(schemeKey{}).(bool)
	return r.TLS != nil || at
}

// loopback reports whether the browser runs on this machine and asked for it by
// a name for itself: there it keeps secure cookies without TLS.
func loopback(r *http.Request) bool {
	host, _, err := net.SplitHostPort(r.Host)
	if err != nil {
		host = r.Host
	}
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}
