package web

import (
	"context"
	"encoding/json"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/go-chi/chi/v5"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// Accounts turns sign-in on. Without it everybody is a coordinator.
type Accounts struct {
	Store AccountStore
	// SetupToken is the secret of the link with which the first coordinator is
	// made; "" offers none. It works only while there is no account.
	SetupToken string
	// PlainCookies lets the session's cookie travel without TLS, for a club's
	// own network without certificates. Browsers keep other cookies there only
	// for localhost.
	PlainCookies bool
}

// AccountStore keeps accounts, sessions and refused sign-ins.
type AccountStore interface {
	Accounts(ctx context.Context) ([]account.Account, error)
	Account(ctx context.Context, id int64) (account.Account, error)
	AccountNamed(ctx context.Context, name string) (account.Account, error)
	FirstAccount(ctx context.Context, a *account.Account) error
	NewAccount(ctx context.Context, a *account.Account) error
	SaveAccount(ctx context.Context, a *account.Account) error
	RemoveAccount(ctx context.Context, id, version int64) error
	SetPassword(ctx context.Context, id int64, hash string) error
	Rehash(ctx context.Context, id int64, before, after string) error
	EndSessions(ctx context.Context, id int64) error
	NewLink(ctx context.Context, id int64, hash string, ends time.Time) error
	LinkedAccount(ctx context.Context, hash string, now time.Time) (account.Account, error)
	UseLink(ctx context.Context, hash, password string, now time.Time) (account.Account, error)

	FindSession(ctx context.Context, token string, now time.Time) ([]byte, bool, error)
	KeepSession(ctx context.Context, token string, data []byte, ends time.Time) error
	DropSession(ctx context.Context, token string) error

	PasskeyStore

	SignInFaults(ctx context.Context, key string) (int64, time.Time, error)
	NoteSignInFaults(ctx context.Context, now time.Time, keys ...string) error
	NoteSignIn(ctx context.Context, id int64, key string, now time.Time) error
}

// A session ends after a week without a request, and after a month in any
// case: long enough for the phone of somebody who helps each weekend.
const (
	idleLimit     = 7 * 24 * time.Hour
	absoluteLimit = 30 * 24 * time.Hour
)

// guard is what sign-in needs while the server runs.
type guard struct {
	Accounts
	sessions *scs.SessionManager
	spent    spent // answered questions of passkeys
}

func (s *server) newGuard(a Accounts) *guard {
	m := scs.New()
	m.IdleTimeout, m.Lifetime = idleLimit, absoluteLimit
	m.Store = sessionStore{a.Store}
	m.Codec = sessionCodec{}
	m.Cookie.HttpOnly, m.Cookie.SameSite, m.Cookie.Path = true, http.SameSiteLaxMode, "/"
	m.Cookie.Secure, m.Cookie.Name = !a.PlainCookies, "__Host-session"
	if a.PlainCookies {
		m.Cookie.Name = "session" // browsers take the prefix over TLS only
	}
	m.ErrorFunc = s.fail
	return &guard{Accounts: a, sessions: m}
}

// sessionStore lends our store to the session manager. The manager reads the
// machine's clock, so that is the clock of sessions, in tests too.
type sessionStore struct{ kept AccountStore }

func (s sessionStore) FindCtx(ctx context.Context, token string) ([]byte, bool, error) {
	return s.kept.FindSession(ctx, token, time.Now())
}

func (s sessionStore) CommitCtx(ctx context.Context, token string, b []byte, expiry time.Time) error {
	return s.kept.KeepSession(ctx, token, b, expiry)
}

func (s sessionStore) DeleteCtx(ctx context.Context, token string) error {
	return s.kept.DropSession(ctx, token)
}

// The manager's interface wants these as well; it calls those above.
func (s sessionStore) Find(token string) ([]byte, bool, error) {
	return s.FindCtx(context.Background(), token)
}

func (s sessionStore) Commit(token string, b []byte, expiry time.Time) error {
	return s.CommitCtx(context.Background(), token, b, expiry)
}

func (s sessionStore) Delete(token string) error { return s.DeleteCtx(context.Background(), token) }

// sessionCodec writes a session as JSON: the same session gives the same bytes,
// so that the store can tell that nothing changed.
type sessionCodec struct{}

type sessionRecord struct {
	Deadline time.Time         `json:"deadline"`
	Values   map[string]string `json:"values"`
}

func (sessionCodec) Encode(deadline time.Time, values map[string]any) ([]byte, error) {
	r := sessionRecord{deadline.UTC(), map[string]string{}}
	for k, v := range values {
		if text, ok := v.(string); ok {
			r.Values[k] = text
		}
	}
	return json.Marshal(r)
}

func (sessionCodec) Decode(b []byte) (time.Time, map[string]any, error) {
	var r sessionRecord
	if err := json.Unmarshal(b, &r); err != nil {
		return time.Time{}, nil, err
	}
	values := map[string]any{}
	for k, v := range r.Values {
		values[k] = v
	}
	return r.Deadline, values, nil
}

// whoKey is the one value of a session: "id:epoch" of the account.
const whoKey = "who"

func whoValue(a account.Account) string {
	return strconv.FormatInt(a.ID, 10) + ":" + strconv.FormatInt(a.Epoch, 10)
}

type personKey struct{}

// person returns who is signed in; the zero account when nobody is.
func person(r *http.Request) account.Account {
	a, _ := r.Context().Value(personKey{}).(account.Account)
	return a
}

// authorise is the one place where rights are enforced: it finds out who asks
// and compares with the table of rights. Without accounts it lets all pass.
func (s *server) authorise(site chi.Routes) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		if s.guard == nil {
			return next
		}
		known := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			who, err := s.signedIn(r)
			if err != nil {
				s.fail(w, r, err)
				return
			}
			ctx := night.By(context.WithValue(r.Context(), personKey{}, who), who.Name)
			ctx = views.WithMay(ctx, mayOf(site, who.Role)) // so that pages offer only what they keep
			r = r.WithContext(ctx)
			route := routeOf(site, r)
			switch {
			case route == "" || rights[route].allows(who.Role): // no route: the router says so
				next.ServeHTTP(w, r)
			case who.ID == 0:
				s.askToSignIn(w, r)
			default:
				s.fail(w, r, fault.New(fault.Forbidden, "Your account (%s) may not do this. A coordinator can.", accountRole(who.Role)))
			}
		})
		withSession := s.guard.sessions.LoadAndSave(known)
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			// Assets and the health check need no session and no row read.
			if strings.HasPrefix(r.URL.Path, "/static/") || r.URL.Path == "/healthz" {
				next.ServeHTTP(w, r)
				return
			}
			withSession.ServeHTTP(w, r)
		})
	}
}

// signedIn returns the account of the session: none when there is no session,
// the account is gone or closed, or its sessions were ended since.
func (s *server) signedIn(r *http.Request) (account.Account, error) {
	value := s.guard.sessions.GetString(r.Context(), whoKey)
	id, _, found := strings.Cut(value, ":")
	if !found {
		return account.Account{}, nil
	}
	n, err := strconv.ParseInt(id, 10, 64)
	if err != nil {
		return account.Account{}, nil
	}
	a, err := s.guard.Store.Account(r.Context(), n)
	switch {
	case fault.KindOf(err) == fault.NotFound:
		return account.Account{}, nil
	case err != nil:
		return account.Account{}, err
	case a.Disabled || whoValue(a) != value:
		return account.Account{}, nil
	}
	return a, nil
}

// askToSignIn leads to the sign-in page and from there back to a page that was
// asked for; a change that was sent is not repeated.
func (s *server) askToSignIn(w http.ResponseWriter, r *http.Request) {
	to := "/sign-in"
	if r.Method == http.MethodGet && r.URL.Path != "/" && !wantsFragment(r) {
		to += "?to=" + url.QueryEscape(r.URL.RequestURI())
	}
	_ = redirect(w, r, to, views.Flash{}) // without a flash it cannot fail
}

// begin starts the session of an account under a fresh token, so that a token
// planted before is worth nothing.
func (s *server) begin(r *http.Request, a account.Account) error {
	if err := s.guard.sessions.RenewToken(r.Context()); err != nil {
		return err
	}
	s.guard.sessions.Put(r.Context(), whoKey, whoValue(a))
	return nil
}

// accountRoles names the roles and says what each may.
var accountRoles = []views.Option{
	{Value: string(account.Coordinator), Text: "Coordinator", Hint: "plans nights, sees contact data, manages accounts"},
	{Value: string(account.Crew), Text: "Crew member", Hint: "sees the plans and works on a night"},
	{Value: string(account.Viewer), Text: "Viewer", Hint: "looks at the plans"},
}

func accountRole(r account.Role) string { return lowerFirst(wordFor(accountRoles, r)) }
