package web

import (
	"context"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"regexp"
	"strings"

	"github.com/go-chi/chi/v5/middleware"
)

// What a request is known to come from, and what the site is called. This file
// alone reads Host and the headers that a proxy adds; a test holds every other
// file to it. Those headers count only when the connection itself comes from a
// trusted proxy: anybody can send them.

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

// hostName is what a browser sends as Host: a name or an address, with or
// without a port (RFC 9110, 7.2; RFC 3986, 3.2.2 without its rarer marks, which
// no name in use has and which a page or a text would have to quote).
var hostName = regexp.MustCompile(`^([A-Za-z0-9_]([A-Za-z0-9_.-]{0,251}[A-Za-z0-9_])?\.?|\[[0-9A-Fa-f:.]{2,45}\])(:[0-9]{1,5})?$`)

// soundHost refuses a Host that is none, as RFC 9110, 7.2 demands. A missing
// one passes: health checks by HTTP/1.0 send none, browsers always do.
func soundHost(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Host != "" && !hostName.MatchString(r.Host) {
			http.Error(w, "The Host of this request is not a host's name.", http.StatusBadRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// reachedAt is the address of the site as this request has it: what its sender
// claims. Only [server.origin] may put it into anything that leaves the page.
func reachedAt(r *http.Request) string {
	if secure(r) {
		return "https://" + r.Host
	}
	return "http://" + r.Host
}

// atHost reports whether a request asks for the host of an address.
func atHost(r *http.Request, address string) bool {
	u, err := url.Parse(address)
	return err == nil && strings.EqualFold(u.Host, r.Host)
}

// origin is the address of the site for every link that leaves the page: codes
// on paper, letters, links to pass on. It is the stated one, if there is one,
// whatever Host says; else the one by which whoever gets the link came here.
func (s *server) origin(r *http.Request) string {
	if s.stated != "" {
		return s.stated
	}
	return reachedAt(r)
}
