package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"

	"github.com/a-h/templ"

	"duskboard/internal/fault"
	"duskboard/web/views"
)

// action is a handler that may fail. It writes nothing before it can no longer
// fail, so that the adapter can still answer with an error page.
type action func(w http.ResponseWriter, r *http.Request) error

// page is the adapter from an action to net/http.
func (s *server) page(a action) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if err := a(w, r); err != nil {
			s.fail(w, r, err)
		}
	}
}

// show renders a whole page: the shell around body. It takes the flash out of
// its cookie, so each message is seen once.
func (s *server) show(w http.ResponseWriter, r *http.Request, status int, head views.Head, body templ.Component) error {
	club, err := s.store.Club(r.Context())
	if err != nil {
		return fmt.Errorf("load club for page %q: %w", head.Title, err)
	}
	p := s.shell(r, head)
	p.Club = club.Name
	p.Flash = takeFlash(w, r)
	return send(r.Context(), w, status, views.Layout(p, body))
}

// fragment renders a part of a page, for htmx.
func (s *server) fragment(w http.ResponseWriter, r *http.Request, status int, body templ.Component) error {
	return send(r.Context(), w, status, body)
}

// wantsFragment reports whether htmx asks for a part of a page.
func wantsFragment(r *http.Request) bool {
	return r.Header.Get("HX-Request") == "true" && r.Header.Get("HX-Boosted") != "true"
}

// shell fills what every page has, from the request alone.
func (s *server) shell(r *http.Request, head views.Head) views.Page {
	return views.Page{
		Head: head, Theme: themeOf(r), Path: r.URL.RequestURI(), Assets: s.assets.prefix,
		Version: s.version, Demo: s.demo, Who: person(r).Name,
		Help: s.help(r),
	}
}

// send renders into a buffer first: a broken component gives a clean 500 and
// never half a page.
func send(ctx context.Context, w http.ResponseWriter, status int, c templ.Component) error {
	var buf bytes.Buffer
	if err := c.Render(ctx, &buf); err != nil {
		return fmt.Errorf("render: %w", err)
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	if h.Get("Cache-Control") == "" {
		// Pages may show contact data; only an explicit header lets them be kept.
		h.Set("Cache-Control", "no-store")
	}
	h.Add("Vary", "Cookie, HX-Request")
	w.WriteHeader(status)
	_, _ = buf.WriteTo(w) // the visitor has gone: nothing left to answer
	return nil
}

// errMethod answers a known address asked in the wrong way.
var errMethod = errors.New("method not allowed")

// errTooMany answers an address that asks too often.
var errTooMany = errors.New("too many requests")

// statusOf is the one table from the kind of an error to a status.
var statusOf = map[fault.Kind]int{
	fault.Invalid:   http.StatusUnprocessableEntity,
	fault.NotFound:  http.StatusNotFound,
	fault.Conflict:  http.StatusConflict,
	fault.Forbidden: http.StatusForbidden,
	fault.Internal:  http.StatusInternalServerError,
}

// fail answers with the page of an error and keeps the error for the log line.
// The message of an error with a kind is meant for the visitor; of any other
// error the visitor sees one fixed sentence and the id under which it is logged.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error) {
	rec := recordOf(r)
	rec.err = err

	status, m := statusOf[fault.KindOf(err)], views.ErrorModel{Path: r.URL.Path, ID: rec.id}
	var own *fault.Error
	var tooLarge *http.MaxBytesError
	switch {
	case errors.Is(err, errMethod):
		status, m.Title, m.Text = http.StatusMethodNotAllowed, "Not done this way", "This address exists, but not for what was asked of it. Go back and use the button on the page."
	case errors.Is(err, errTooMany):
		status, m.Title, m.Text = http.StatusTooManyRequests, "Too many tries", "Wait a minute, then try again."
	case errors.As(err, &tooLarge):
		status, m.Title, m.Text = http.StatusRequestEntityTooLarge, "Too large", fmt.Sprintf("What was sent is larger than %d kB.", tooLarge.Limit/1024)
	case errors.Is(err, context.DeadlineExceeded):
		status, m.Title, m.Text = http.StatusServiceUnavailable, "This took too long", "Nothing was changed. Please try again in a moment."
	case errors.As(err, &own):
		m.Title, m.Text = errorTitle[own.Kind], own.Message
	default:
		m.Title, m.Text = "Something went wrong here", "It is not your doing, and nothing you saved before is lost. Please try again; if it stays, tell whoever runs this server the number below."
		m.ShowID = true
	}

	p := s.shell(r, views.Head{Title: m.Title})
	if club, err := s.store.Club(r.Context()); err == nil {
		p.Club = club.Name // without it the page still stands
	}
	if send(r.Context(), w, status, views.Layout(p, views.ErrorPage(m))) != nil {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.WriteHeader(http.StatusInternalServerError)
		_, _ = w.Write(s.lastResort[themeOf(r)])
	}
}

var errorTitle = map[fault.Kind]string{
	fault.Invalid:   "This cannot be saved yet",
	fault.NotFound:  "Not here",
	fault.Conflict:  "Changed in the meantime",
	fault.Forbidden: "Not allowed",
}

// renderLastResort renders, at start-up, the page for when rendering fails.
func (s *server) renderLastResort() (map[string][]byte, error) {
	m := views.ErrorModel{Title: "Something went wrong here", Text: "It is not your doing. Please go back and try again."}
	out := map[string][]byte{}
	for _, theme := range themes {
		var buf bytes.Buffer
		p := views.Page{Head: views.Head{Title: m.Title}, Theme: theme, Path: "/", Assets: s.assets.prefix}
		if err := views.Layout(p, views.ErrorPage(m)).Render(context.Background(), &buf); err != nil {
			return nil, fmt.Errorf("web: render last-resort page: %w", err)
		}
		out[theme] = buf.Bytes()
	}
	return out, nil
}

// redirect ends a successful change: the browser gets the page to, and a
// message seen there once.
func redirect(w http.ResponseWriter, r *http.Request, to string, f views.Flash) error {
	if f.Text != "" {
		setFlash(w, f)
	}
	if wantsFragment(r) {
		w.Header().Set("HX-Redirect", to)
		w.WriteHeader(http.StatusNoContent)
		return nil
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}
