package web

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"mime"
	"net/http"
	"runtime/debug"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"duskboard/internal/fault"
)

// csp allows nothing but our own files. There is no inline script and no
// inline style anywhere, drawings included: they use classes and presentation
// attributes. data: images are for the tick of a checkbox.
const csp = "default-src 'self'; img-src 'self' data:; style-src 'self'; script-src 'self'; " +
	"object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'"

// record is what the log line of one request gathers on its way.
type record struct {
	id  string
	err error // why the answer was an error; nil otherwise
}

type recordKey struct{}

// recordOf returns the request's record; never nil.
func recordOf(r *http.Request) *record {
	if rec, ok := r.Context().Value(recordKey{}).(*record); ok {
		return rec
	}
	return &record{}
}

// requestID gives each request an id of our own; one sent along is ignored,
// because it would let a stranger write into the log.
func requestID(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		b := make([]byte, 6)
		rand.Read(b) // never fails
		rec := &record{id: hex.EncodeToString(b)}
		w.Header().Set("X-Request-Id", rec.id)
		next.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), recordKey{}, rec)))
	})
}

// logRequests writes one line for each request, after it: at level error with
// the cause for a 5xx, at info otherwise, at debug for assets.
func (s *server) logRequests(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		start := time.Now() // a stopwatch, not "now": tests do not need to set it
		ww := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
		next.ServeHTTP(ww, r)

		rec, status := recordOf(r), ww.Status()
		if status == 0 {
			status = http.StatusOK
		}
		route := chi.RouteContext(r.Context()).RoutePattern()
		level := slog.LevelInfo
		switch {
		case status >= 500:
			level = slog.LevelError
		case route == "/static/*" || route == "/healthz":
			level = slog.LevelDebug
		}
		attrs := []slog.Attr{
			slog.String("id", rec.id), slog.String("method", r.Method), slog.String("route", route),
			slog.String("path", loggedPath(route, r.URL.Path)), slog.Int("status", status), slog.Int("bytes", ww.BytesWritten()),
			slog.Duration("took", time.Since(start)),
		}
		if rec.err != nil {
			attrs = append(attrs, slog.String("err", rec.err.Error()))
		}
		s.log.LogAttrs(r.Context(), level, "request", attrs...)
	})
}

// loggedPath is the path as the log may have it: of a route with a secret in
// its address, the route.
func loggedPath(route, path string) string {
	if strings.Contains(route, "{token}") {
		return route
	}
	return path
}

// recoverPanics turns a panic into an internal error with its stack.
func (s *server) recoverPanics(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			v := recover()
			if v == nil {
				return
			}
			if v == http.ErrAbortHandler { // net/http's own way to drop a connection
				panic(v)
			}
			s.fail(w, r, fmt.Errorf("panic: %v\n%s", v, debug.Stack()))
		}()
		next.ServeHTTP(w, r)
	})
}

// secureHeaders sets the headers that every answer carries.
func secureHeaders(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", csp)
		if secure(r) { // two years; never on plain HTTP, where it would mean nothing
			h.Set("Strict-Transport-Security", "max-age=63072000")
		}
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), geolocation=(self), microphone=()")
		next.ServeHTTP(w, r)
	})
}

// deadline ends the request's context after d; work that honours the context
// stops and fail answers 503.
func deadline(d time.Duration) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			ctx, cancel := context.WithTimeout(r.Context(), d)
			defer cancel()
			next.ServeHTTP(w, r.WithContext(ctx))
		})
	}
}

// maxBody is the most bytes that a request may send, files included.
const maxBody = 2 << 20

// limitBody refuses to read more than n bytes of a request.
func limitBody(n int64) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			r.Body = http.MaxBytesReader(w, r.Body, n)
			next.ServeHTTP(w, r)
		})
	}
}

// sameOrigin refuses a change that another site's page sends with a visitor's
// browser.
func (s *server) sameOrigin(next http.Handler) http.Handler {
	guard := http.NewCrossOriginProtection()
	guard.SetDenyHandler(s.page(func(http.ResponseWriter, *http.Request) error {
		return fault.New(fault.Forbidden, "This form was sent from another site. Open the page here and send it again.")
	}))
	return guard.Handler(next)
}

// notWhole is the refusal of a form that could not be read; nil stays nil, and
// one that is too large is told by its own error.
func notWhole(err error) error {
	var tooLarge *http.MaxBytesError
	if err == nil || errors.As(err, &tooLarge) {
		return err
	}
	return fault.Wrap(fault.Invalid, err, "The form did not arrive whole. Go back and send it again.")
}

// soundForm refuses a form whose encoding is broken, as no browser sends it;
// after this, handlers can rely on their forms. Uploads are read by their
// handlers.
func (s *server) soundForm(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); r.Method == http.MethodPost && kind == "application/x-www-form-urlencoded" {
			if err := notWhole(r.ParseForm()); err != nil {
				s.fail(w, r, err)
				return
			}
		}
		next.ServeHTTP(w, r)
	})
}
