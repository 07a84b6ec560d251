package passkey_test

import (
	"bytes"
	"slices"
	"testing"

	"duskboard/internal/account/passkey"
	"duskboard/internal/account/passkey/softkey"
	"duskboard/internal/fault"
)

const origin = "https://stars.example"

// TestOrigins guards where passkeys are offered: by name and over TLS, on this
// machine without (W3C Web Authentication Level 3, 5.1.3 step 8 and the notion
// of a secure context).
func TestOrigins(t *testing.T) {
	for o, party := range map[string]string{
		origin: "stars.example", "https://Stars.example:8443": "stars.example", "http://localhost:8080": "localhost", "https://stars.example/": "stars.example",
		"http://stars.example": "", "https://192.0.2.7": "", "http://127.0.0.1:8080": "", "https://[2001:db8::1]": "", "stars.example": "",
		"https://stars.example/club": "", "https://x@stars.example": "", "": "", "http://localhost.example": "",
	} {
		p, err := passkey.At(o)
		if (err == nil) != (party != "") || err == nil && p.Name() != party {
			t.Errorf("At(%q): %v, %v; want party %q", o, p, err, party)
		}
		if err != nil && fault.KindOf(err) != fault.Invalid {
			t.Errorf("At(%q): kind %v", o, fault.KindOf(err))
		}
	}
}

// made is a party with a key of an account.
func made(t *testing.T) (*passkey.Party, *softkey.Key, passkey.Key) {
	t.Helper()
	p, err := passkey.At(origin)
	if err != nil {
		t.Fatal(err)
	}
	options, q, err := p.AskNew("Ada", nil)
	if err != nil {
		t.Fatal(err)
	}
	soft := softkey.New(origin, "stars.example")
	answer, err := soft.Make(options)
	if err != nil {
		t.Fatal(err)
	}
	k, err := p.Make(q, answer)
	if err != nil {
		t.Fatal(err)
	}
	return p, soft, k
}

// sign asks, lets the key answer, and checks.
func sign(t *testing.T, p *passkey.Party, soft *softkey.Key, k passkey.Key) (passkey.Key, error) {
	t.Helper()
	options, q, err := p.Ask()
	if err != nil {
		t.Fatal(err)
	}
	answer, err := soft.Sign(options)
	if err != nil {
		t.Fatal(err)
	}
	return p.Check(q, answer, finder(k))
}

func finder(k passkey.Key) func([]byte) (passkey.Key, error) {
	return func(id []byte) (passkey.Key, error) {
		if !bytes.Equal(id, k.Credential) {
			return passkey.Key{}, fault.New(fault.NotFound, "no such key")
		}
		return k, nil
	}
}

// TestMakeAndSign is the plain way, with a counter that moves on and with one
// that stays at zero, as keys that are copied between devices have it.
func TestMakeAndSign(t *testing.T) {
	p, soft, k := made(t)
	if k.Party != "stars.example" || !bytes.Equal(k.Credential, soft.ID) || len(k.Handle) != 32 {
		t.Fatalf("key %+v", k)
	}
	for _, count := range []uint32{0, 0, 5, 6, 100} {
		soft.Counter = count
		used, err := sign(t, p, soft, k)
		if err != nil {
			t.Fatalf("counter %d: %v", count, err)
		}
		k = used
	}
}

// TestRefused guards what an answer must fit to.
func TestRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(s *softkey.Key, k *passkey.Key)
	}{
		{"another origin", func(s *softkey.Key, _ *passkey.Key) { s.Origin = "https://stars.example.evil.example" }},
		{"another port", func(s *softkey.Key, _ *passkey.Key) { s.Origin = "https://stars.example:444" }},
		{"plain http", func(s *softkey.Key, _ *passkey.Key) { s.Origin = "http://stars.example" }},
		{"another party", func(s *softkey.Key, _ *passkey.Key) { s.Party = "evil.example" }},
		{"owner not verified", func(s *softkey.Key, _ *passkey.Key) { s.Verified = false }},
		{"another account's handle", func(s *softkey.Key, _ *passkey.Key) { s.Handle = bytes.Repeat([]byte{7}, 32) }},
		{"no handle", func(s *softkey.Key, _ *passkey.Key) { s.Handle = nil }},
		{"another key under this name", func(s *softkey.Key, _ *passkey.Key) { *s = stranger(s) }},
		{"unknown key", func(s *softkey.Key, _ *passkey.Key) { s.ID = []byte("no such key here") }},
		{"made for another host", func(_ *softkey.Key, k *passkey.Key) { k.Party = "old.example" }},
	} {
		p, soft, k := made(t)
		c.change(soft, &k)
		if _, err := sign(t, p, soft, k); fault.KindOf(err) != fault.Forbidden {
			t.Errorf("%s: %v, want a refusal", c.name, err)
		}
	}
}

// stranger is another private key that claims to be s.
func stranger(s *softkey.Key) softkey.Key {
	other := softkey.New(s.Origin, s.Party)
	other.ID, other.Handle = s.ID, s.Handle
	return *other
}

// TestOldQuestion guards that an answer fits its own question only.
func TestOldQuestion(t *testing.T) {
	p, soft, k := made(t)
	options, _, _ := p.Ask()
	answer, err := soft.Sign(options)
	if err != nil {
		t.Fatal(err)
	}
	_, other, _ := p.Ask()
	if _, err := p.Check(other, answer, finder(k)); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("an answer to another question: %v", err)
	}
}

// TestCounterBackwards guards against a copied key (Web Authentication Level 3,
// 6.1.1).
func TestCounterBackwards(t *testing.T) {
	p, soft, k := made(t)
	soft.Counter = 9
	k, err := sign(t, p, soft, k)
	if err != nil {
		t.Fatal(err)
	}
	for _, count := range []uint32{9, 8, 0} {
		soft.Counter = count
		if _, err := sign(t, p, soft, k); fault.KindOf(err) != fault.Forbidden {
			t.Errorf("counter %d after 9: %v", count, err)
		}
	}
}

// TestSecondKey guards that an account's keys share a handle, that a device
// which has one is asked not to make another, and that there is an end.
func TestSecondKey(t *testing.T) {
	p, _, k := made(t)
	options, q, err := p.AskNew("Ada", []passkey.Key{k})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(options, []byte("excludeCredentials")) || !bytes.Contains(options, []byte(`"userVerification":"required"`)) || !bytes.Contains(options, []byte(`"residentKey":"required"`)) {
		t.Errorf("options %s", options)
	}
	soft := softkey.New(origin, "stars.example")
	answer, err := soft.Make(options)
	if err != nil {
		t.Fatal(err)
	}
	if second, err := p.Make(q, answer); err != nil || !bytes.Equal(second.Handle, k.Handle) {
		t.Errorf("second key %+v, %v", second, err)
	}
	if _, _, err := p.AskNew("Ada", slices.Repeat([]passkey.Key{k}, passkey.MaxKeys)); fault.KindOf(err) != fault.Conflict {
		t.Errorf("one key too many: %v", err)
	}
}

// FuzzAnswers feeds what is no answer to both checks: refused, never a panic.
func FuzzAnswers(f *testing.F) {
	p, err := passkey.At(origin)
	if err != nil {
		f.Fatal(err)
	}
	soft := softkey.New(origin, "stars.example")
	options, q, _ := p.AskNew("Ada", nil)
	answer, _ := soft.Make(options)
	k, err := p.Make(q, answer)
	if err != nil {
		f.Fatal(err)
	}
	ask, asked, _ := p.Ask()
	signed, _ := soft.Sign(ask)
	f.Add(answer)
	f.Add(signed)
	f.Add([]byte(`{"id":"","rawId":"","type":"public-key","response":{}}`))
	f.Add([]byte(`null`))
	f.Fuzz(func(t *testing.T, b []byte) {
		if _, err := p.Make(q, b); err != nil && fault.KindOf(err) != fault.Forbidden {
			t.Errorf("make: %v", err)
		}
		if _, err := p.Check(asked, b, finder(k)); err != nil && fault.KindOf(err) != fault.Forbidden {
			t.Errorf("check: %v", err)
		}
	})
}
