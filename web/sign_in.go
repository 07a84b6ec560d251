package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
	"github.com/go-chi/httprate"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// Tries from one address in a minute, with or without fault, on all pages that
// take a password or a secret link. The slow-down of guessing comes on top.
const triesPerMinute = 30

// accountRoutes are the pages of sign-in and of accounts.
func (s *server) accountRoutes(r chi.Router) {
	r.Group(func(r chi.Router) {
		byAddress := func(r *http.Request) (string, error) { return addressOf(r), nil }
		tooMany := s.page(func(http.ResponseWriter, *http.Request) error { return errTooMany })
		r.Use(httprate.LimitBy(triesPerMinute, time.Minute, byAddress, httprate.WithLimitHandler(tooMany)))
		r.Post("/sign-in", s.page(s.signIn))
		r.Post("/sign-in/passkey", s.scripted(s.askSignIn))
		r.Post("/sign-in/passkey/answer", s.scripted(s.answerSignIn))
		r.Post("/setup/{token}", s.page(s.setUp))
		r.Post("/account/link/{token}", s.page(s.useAccountLink))
	})
	r.Get("/sign-in", s.page(s.showSignIn))
	r.Post("/sign-out", s.page(s.signOut))
	r.Get("/setup/{token}", s.page(s.showSetup))
	r.Get("/account/link/{token}", s.page(s.showAccountLink))

	r.Get("/account", s.page(s.showAccount))
	r.Post("/account/password", s.page(s.changePassword))
	r.Post("/account/passkeys/ask", s.scripted(s.askPasskey))
	r.Post("/account/passkeys", s.scripted(s.makePasskey))
	r.Post("/account/passkeys/{passkey}/remove", s.page(s.removePasskey))
	r.Post("/account/sign-out-everywhere", s.page(s.signOutEverywhere))

	r.Route("/people", func(r chi.Router) {
		r.Get("/", s.page(s.showPeople))
		r.Post("/", s.page(s.createAccount))
		r.Get("/{id}", s.page(s.showAccountOf))
		r.Post("/{id}", s.page(s.updateAccount))
		r.Post("/{id}/link", s.page(s.linkAccount))
		r.Post("/{id}/sign-out", s.page(s.signOutAccount))
		r.Post("/{id}/passkeys/remove", s.page(s.removePasskeysOf))
		r.Post("/{id}/remove", s.page(s.removeAccount))
	})
}

// addressOf is the address that a request counts for: that of the client, as
// the trusted proxies tell it; for IPv6 the network, of which one client has
// as many addresses as it likes.
func addressOf(r *http.Request) string {
	return httprate.CanonicalizeIP(middleware.GetClientIP(r.Context()))
}

func (s *server) showSignIn(w http.ResponseWriter, r *http.Request) error {
	if person(r).ID != 0 {
		return redirect(w, r, localPath(r.URL.Query().Get("to")), views.Flash{})
	}
	return s.renderSignIn(w, r, http.StatusOK, views.SignInModel{To: localPath(r.URL.Query().Get("to"))})
}

func (s *server) renderSignIn(w http.ResponseWriter, r *http.Request, status int, m views.SignInModel) error {
	m.Insecure = !s.guard.PlainCookies && !secure(r) && !loopback(r)
	all, err := s.guard.Store.Accounts(r.Context())
	if err != nil {
		return err
	}
	m.Empty = len(all) == 0
	_, none := s.party(r)
	m.Passkeys = none == nil
	return s.show(w, r, status, views.Head{Title: "Sign in"}, views.SignIn(m))
}

// signIn compares name and password. Every refusal has the same words, whether
// the name, the password or the account was the reason.
func (s *server) signIn(w http.ResponseWriter, r *http.Request) error {
	ctx, now := r.Context(), s.now()
	if err := r.ParseForm(); err != nil {
		return err
	}
	name := strings.Join(strings.Fields(r.PostForm.Get("name")), " ")
	m := views.SignInModel{Name: name, To: localPath(r.PostForm.Get("to"))}
	byName, byAddress := "name "+strings.ToLower(name), "address "+addressOf(r)

	wait, err := s.signInWait(r, byName, byAddress, now)
	if err != nil {
		return err
	}
	if wait > 0 {
		seconds := int(math.Ceil(wait.Seconds()))
		w.Header().Set("Retry-After", strconv.Itoa(seconds))
		m.Fault = fmt.Sprintf("Too many tries that did not fit. Wait %s, then try again.", plural(seconds, "second", "seconds"))
		return s.renderSignIn(w, r, http.StatusTooManyRequests, m)
	}
	a, err := s.guard.Store.AccountNamed(ctx, name)
	if err != nil && fault.KindOf(err) != fault.NotFound {
		return err
	}
	password := r.PostForm.Get("password")
	ok, stale, err := account.Match(ctx, a.Password, password)
	if err != nil {
		return err
	}
	if !ok || a.Disabled {
		if err := s.guard.Store.NoteSignInFaults(ctx, now, byName, byAddress); err != nil {
			return err
		}
		m.Fault = "Name and password do not fit together."
		return s.renderSignIn(w, r, http.StatusUnprocessableEntity, m)
	}
	if stale {
		if hash, err := account.Hash(ctx, password); err == nil { // else the old one serves on
			if err := s.guard.Store.Rehash(ctx, a.ID, a.Password, hash); err != nil {
				return err
			}
		}
	}
	if err := s.guard.Store.NoteSignIn(ctx, a.ID, byName, now); err != nil {
		return err
	}
	if err := s.begin(r, a); err != nil {
		return err
	}
	return redirect(w, r, m.To, views.Flash{})
}

// signInWait is how long a further try has to wait, by name and by address.
func (s *server) signInWait(r *http.Request, byName, byAddress string, now time.Time) (time.Duration, error) {
	n, last, err := s.guard.Store.SignInFaults(r.Context(), byName)
	if err != nil {
		return 0, err
	}
	m, lastThere, err := s.guard.Store.SignInFaults(r.Context(), byAddress)
	if err != nil {
		return 0, err
	}
	return max(account.Wait(n, last, now), account.WaitFrom(m, lastThere, now)), nil
}

func (s *server) signOut(w http.ResponseWriter, r *http.Request) error {
	if err := s.guard.sessions.Destroy(r.Context()); err != nil {
		return err
	}
	return redirect(w, r, "/sign-in", views.Flash{Text: "You are signed out."})
}
