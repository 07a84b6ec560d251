package account_test

import (
	"context"
	"encoding/base64"
	"strings"
	"testing"
	"time"

	"golang.org/x/crypto/argon2"

	"duskboard/internal/account"
)

// TestHashAndMatch guards the round trip and the cost: OWASP's Password Storage
// Cheat Sheet asks of Argon2id m=19456 KiB, t=2, p=1.
func TestHashAndMatch(t *testing.T) {
	ctx := context.Background()
	const password = "correct horse — battery"
	h, err := account.Hash(ctx, password)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(h, "$argon2id$v=19$m=19456,t=2,p=1$") {
		t.Errorf("hash %s does not have the cost asked for", h)
	}
	parts := strings.Split(h, "$")
	salt, _ := base64.RawStdEncoding.DecodeString(parts[4])
	key, _ := base64.RawStdEncoding.DecodeString(parts[5])
	if len(salt) != 16 || len(key) != 32 {
		t.Errorf("salt of %d and key of %d bytes, want 16 and 32", len(salt), len(key))
	}
	for _, c := range []struct {
		stored, typed string
		ok            bool
	}{
		{h, password, true}, {h, password + " ", false}, {h, "", false},
		{"", "nobody has this password", false}, {"", "", false},
		{h, strings.Repeat("x", account.MaxPassword+1), false},
	} {
		ok, stale, err := account.Match(ctx, c.stored, c.typed)
		if err != nil || ok != c.ok || stale {
			t.Errorf("match %q: %v, stale %v, %v; want %v", c.typed, ok, stale, err, c.ok)
		}
	}
	if other, _ := account.Hash(ctx, password); other == h {
		t.Error("the same password gave the same hash twice: no fresh salt")
	}
}

// TestMatchTakesHashesOfAnotherCost guards that hashes made under another cost
// still count and ask to be made anew; the reference is golang.org/x/crypto.
func TestMatchTakesHashesOfAnotherCost(t *testing.T) {
	salt := []byte("sixteen bytes!!!")
	key := argon2.IDKey([]byte("pass word pass word"), salt, 1, 64, 1, 32)
	stored := "$argon2id$v=19$m=64,t=1,p=1$" + base64.RawStdEncoding.EncodeToString(salt) + "$" + base64.RawStdEncoding.EncodeToString(key)
	ok, stale, err := account.Match(context.Background(), stored, "pass word pass word")
	if !ok || !stale || err != nil {
		t.Errorf("got %v, stale %v, %v; want a stale match", ok, stale, err)
	}
	for _, bad := range []string{"x", "$argon2i$v=19$m=64,t=1,p=1$AAAA$AAAA", "$argon2id$v=19$m=4294967295,t=1,p=1$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAA"} {
		if ok, _, err := account.Match(context.Background(), bad, "x"); ok || err == nil {
			t.Errorf("the damaged hash %q was taken", bad)
		}
	}
}

func TestHashEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for range 50 { // a free slot may be taken now and then; not fifty times
		if _, err := account.Hash(ctx, "x"); err != nil {
			return
		}
	}
	t.Error("a request that has ended is still hashed for")
}

func TestPasswords(t *testing.T) {
	for password, fine := range map[string]bool{
		"short":                       false,
		"elevenchars":                 false,
		"aaaaaaaaaaaaaaaa":            false,
		"abababababababab":            false,
		"123456789012":                false,
		"210987654321":                false,
		"abcdefghijklm":               false,
		"qwertyuiopas":                false,
		"Ada LovelaceX":               false,
		"Ada Lovelace and nine cats":  true,
		"pears on the dome":           true,
		"żółw przeszedł":              true,
		strings.Repeat("abcdefg", 50): false,
		"mond und sterne":             true,
	} {
		if err := account.CheckPassword(password, "Ada Lovelace"); (err == nil) != fine {
			t.Errorf("%q: %v, want fine %v", password, err, fine)
		}
	}
}

func TestNames(t *testing.T) {
	for typed, want := range map[string]string{
		"  Ada \t Byron ": "Ada Byron", "": "", " ": "", "a\u202eb": "", "a\x00b": "", "مريم": "مريم",
		strings.Repeat("é", 80): strings.Repeat("é", 80), strings.Repeat("é", 81): "", "\xff": "",
	} {
		if got, err := account.CleanName(typed); got != want || (err == nil) != (want != "") {
			t.Errorf("%q: got %q, %v; want %q", typed, got, err, want)
		}
	}
}

func TestRoles(t *testing.T) {
	for _, c := range []struct {
		have, least account.Role
		want        bool
	}{
		{account.Coordinator, account.Crew, true}, {account.Crew, account.Crew, true}, {account.Viewer, account.Crew, false},
		{"", account.Viewer, false}, {"admin", account.Viewer, false}, {account.Coordinator, "", false},
	} {
		if got := c.have.Covers(c.least); got != c.want {
			t.Errorf("%q covers %q: %v, want %v", c.have, c.least, got, c.want)
		}
	}
}

// TestWait guards that guessing slows down and is never stopped for good.
func TestWait(t *testing.T) {
	now := time.Date(2026, 9, 14, 20, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		faults int64
		ago    time.Duration
		want   time.Duration
	}{
		{0, 0, 0}, {4, 0, 0}, {5, 0, time.Second}, {7, 0, 4 * time.Second}, {7, 3 * time.Second, time.Second},
		{7, 5 * time.Second, 0}, {12, 0, time.Minute}, {1000, 0, time.Minute}, {1000, 25 * time.Hour, 0},
	} {
		if got := account.Wait(c.faults, now.Add(-c.ago), now); got != c.want {
			t.Errorf("%d faults, the last %v ago: wait %v, want %v", c.faults, c.ago, got, c.want)
		}
	}
	if got := account.WaitFrom(19, now, now); got != 0 {
		t.Errorf("an address waits %v after 19 faults", got)
	}
	if got := account.WaitFrom(90, now, now); got != 15*time.Minute {
		t.Errorf("an address waits %v after 90 faults, want 15 min", got)
	}
}

// TestTokens guards 128 bits and the published hash of "abc" (FIPS 180-2,
// appendix B.1).
func TestTokens(t *testing.T) {
	a, b := account.NewToken(), account.NewToken()
	if raw, err := base64.RawURLEncoding.DecodeString(a); err != nil || len(raw) != 16 || a == b {
		t.Errorf("tokens %q and %q", a, b)
	}
	if got := account.TokenHash("abc"); got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Errorf("hash of abc is %s", got)
	}
}
