package web_test

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/netip"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"duskboard/internal/account"
	"duskboard/internal/account/passkey/softkey"
	"duskboard/web"
)

const club = "https://stars.example"

// behindProxy is a club that a trusted proxy serves as https://stars.example.
func behindProxy(t *testing.T) *guarded {
	return startGuarded(t, func(c *web.Config) { c.Proxies = []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")} })
}

// script sends as the pages' script does, through the proxy.
func (v *visitor) script(path, kind string, body []byte) (int, map[string]any, []byte) {
	v.t.Helper()
	req, err := http.NewRequest(http.MethodPost, v.base+path, bytes.NewReader(body))
	if err != nil {
		v.t.Fatal(err)
	}
	v.http.Transport = asStars{} // below the cookies, which belong to the address of the test
	req.Header.Set("Content-Type", kind)
	req.Header.Set("X-Forwarded-Proto", "https")
	req.Header.Set("Sec-Fetch-Site", "same-origin")
	p := v.do(req)
	var m map[string]any
	if err := json.Unmarshal([]byte(p.body), &m); err != nil {
		v.t.Fatalf("%s answers %d, no JSON: %.200s", path, p.status, p.body)
	}
	return p.status, m, []byte(p.body)
}

// asStars says to the server that the browser asked for stars.example.
type asStars struct{}

func (asStars) RoundTrip(r *http.Request) (*http.Response, error) {
	if r.Header.Get("X-Forwarded-Proto") == "https" {
		r = r.Clone(r.Context())
		r.Host = "stars.example"
	}
	return http.DefaultTransport.RoundTrip(r)
}

const form, asJSON = "application/x-www-form-urlencoded", "application/json"

// add makes a passkey for whoever v is, as the account page does.
func (v *visitor) add(name, password string) *softkey.Key {
	v.t.Helper()
	status, m, options := v.script("/account/passkeys/ask", form, []byte("name="+name+"&old="+strings.ReplaceAll(password, " ", "+")))
	if status != http.StatusOK {
		v.t.Fatalf("asking for a passkey: %d %v", status, m)
	}
	k := softkey.New(club, "stars.example")
	answer, err := k.Make(options)
	if err != nil {
		v.t.Fatal(err)
	}
	if status, m, _ := v.script("/account/passkeys", asJSON, answer); status != http.StatusOK || m["to"] != "/account" {
		v.t.Fatalf("making a passkey: %d %v", status, m)
	}
	return k
}

// question asks for a sign-in and returns the signed answer.
func (v *visitor) question(k *softkey.Key) []byte {
	v.t.Helper()
	status, m, options := v.script("/sign-in/passkey", asJSON, nil)
	if status != http.StatusOK {
		v.t.Fatalf("asking to sign in: %d %v", status, m)
	}
	answer, err := k.Sign(options)
	if err != nil {
		v.t.Fatal(err)
	}
	return answer
}

func (v *visitor) answer(b []byte) (int, map[string]any) {
	v.t.Helper()
	status, m, _ := v.script("/sign-in/passkey/answer?to=%2Fnights", asJSON, b)
	return status, m
}

func (v *visitor) signedIn() bool { return v.get("/account").status == http.StatusOK }

// TestPasskeys is the whole way behind a proxy: two keys with names, signing in
// with one, last use shown, sign-out everywhere, and a key removed.
func TestPasskeys(t *testing.T) {
	g := behindProxy(t)
	ada := g.coordinator()
	if n := len(ada.get("/account").all(having("data-testid", "no-passkeys"))); n != 1 {
		t.Error("the account does not say that there is no passkey yet")
	}
	phone := ada.add("Phone", goodPassword)
	ada.add("Blue+key", goodPassword)
	if s := ada.get("/account").testid("passkeys"); strings.Count(s, "last used never") != 2 || !strings.Contains(s, "Blue key") {
		t.Errorf("the account lists %q", s)
	}

	v := g.browser()
	if status, m := v.answer(v.question(phone)); status != http.StatusOK || m["to"] != "/nights" {
		t.Fatalf("signing in: %d %v", status, m)
	}
	if !v.signedIn() {
		t.Fatal("a passkey signed in, but the session does not count")
	}
	if s := v.get("/account").testid("passkeys"); !strings.Contains(s, "Phone added 14 September 2026, last used 14 September 2026") {
		t.Errorf("the account lists %q", s)
	}
	// What is changed now stands in the history under the account's name.
	fill(v)
	v.save("/nights/1/line-up/propose")
	if s := v.get("/nights/1/history").testid("history"); !strings.Contains(s, "Ada") {
		t.Errorf("the history says %q", s)
	}
	ada.save("/account/sign-out-everywhere")
	if v.signedIn() {
		t.Error("signed out everywhere, but the passkey's session goes on")
	}

	if _, m := v.answer(v.question(phone)); m["to"] == nil {
		t.Fatalf("signing in again: %v", m)
	}
	ada.save("/sign-in", "name", "Ada", "password", goodPassword)
	ada.save("/account/passkeys/2/remove") // by name: "Blue key" is 2, "Phone" is 1
	ada.save("/account/passkeys/1/remove")
	if v.signedIn() {
		t.Error("the session that a removed passkey began goes on")
	}
	if status, m := v.answer(v.question(phone)); status != http.StatusForbidden || !strings.Contains(m["fault"].(string), "not known here") {
		t.Errorf("a removed passkey: %d %v", status, m)
	}
	if s := g.log.String(); strings.Contains(s, "Ada") || strings.Contains(s, "Blue key") {
		t.Error("the log has a name")
	}
}

// TestPasskeyQuestions guards that a question is answered once, in time, by the
// browser that was asked and for what it was asked.
func TestPasskeyQuestions(t *testing.T) {
	g := behindProxy(t)
	ada := g.coordinator()
	k := ada.add("Phone", goodPassword)
	refused := func(what string, v *visitor, b []byte) {
		t.Helper()
		if status, m := v.answer(b); status != http.StatusForbidden || m["fault"] == "" || v.signedIn() {
			t.Errorf("%s: %d %v", what, status, m)
		}
		g.now = g.now.Add(time.Hour) // so that the slow-down is not what refuses
	}

	v := g.browser()
	b := v.question(k)
	if status, m := v.answer(b); status != http.StatusOK {
		t.Fatalf("%d %v", status, m)
	}
	v.save("/sign-out")
	refused("an answer sent again", v, b)
	v.question(k)
	refused("an answer to the question before", v, b)

	v = g.browser()
	b = v.question(k)
	g.now = g.now.Add(5*time.Minute + time.Second)
	refused("an answer after five minutes", v, b)

	v = g.browser()
	b = v.question(k)
	refused("an answer from another browser", g.browser(), b)

	k.Origin = "https://stars.example.evil.example"
	v = g.browser()
	refused("an answer from another origin", v, v.question(k))
	k.Origin = club

	bob := g.member(ada, "Bob", account.Crew)
	bobs := bob.add("Phone", goodPassword+"+Bob")
	handle := bobs.Handle
	bobs.Handle = k.Handle
	v = g.browser()
	refused("Bob's passkey that claims to be Ada's", v, v.question(bobs))
	bobs.Handle = handle

	// The answer of a sign-in makes no passkey, and the other way round.
	b = ada.question(k)
	if status, _, _ := ada.script("/account/passkeys", asJSON, b); status != http.StatusForbidden {
		t.Errorf("a sign-in's answer made a passkey: %d", status)
	}
	// Bob cannot take Ada's away.
	if p := bob.post("/account/passkeys/1/remove"); p.status != http.StatusNotFound {
		t.Errorf("Bob removes Ada's passkey: %d", p.status)
	}
	// Ada's key again, in Bob's account.
	_, _, options := bob.script("/account/passkeys/ask", form, []byte("name=Mine&old="+strings.ReplaceAll(goodPassword+" Bob", " ", "+")))
	again, err := k.Make(options)
	if err != nil {
		t.Fatal(err)
	}
	if status, _, _ := bob.script("/account/passkeys", asJSON, again); status != http.StatusConflict {
		t.Errorf("one credential in two accounts: %d", status)
	}
	ada.post("/people/2", "Version", "2", "name", "Bob", "role", "crew", "closed", "1")
	v = g.browser()
	refused("the passkey of a closed account", v, v.question(bobs))
}

// TestPasskeyNeedsPassword guards that a passkey, which lasts, wants the present
// password, with guessing slowed down; and where none is offered.
func TestPasskeyNeedsPassword(t *testing.T) {
	g := behindProxy(t)
	ada := g.coordinator()
	wrong, last := 0, 0
	for range 8 {
		last, _, _ = ada.script("/account/passkeys/ask", form, []byte("name=Phone&old=wrong"))
		if last == http.StatusUnprocessableEntity {
			wrong++
		}
	}
	if wrong == 0 || last != http.StatusTooManyRequests {
		t.Errorf("%d wrong passwords, then %d", wrong, last)
	}
	if status, m, _ := ada.script("/account/passkeys/ask", form, []byte("name=&old=x")); status != http.StatusUnprocessableEntity {
		t.Errorf("a passkey without a name: %d %v", status, m)
	}
	// By a bare address there is none, and the page says why.
	if s := text(ada.get("/account").root); !strings.Contains(s, "not by a bare address") {
		t.Error("the account page does not say why there is no passkey here")
	}
	if n := len(g.browser().get("/sign-in").all(func(n *html.Node) bool { return has(n, "data-passkey-enter") })); n != 0 {
		t.Error("a passkey is offered at a bare address")
	}
}
