package store_test

import (
	"context"
	"testing"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/internal/store"
)

const someHash = "$argon2id$v=19$m=19456,t=2,p=1$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA"

func firstAccount(t *testing.T, s *store.Store) account.Account {
	t.Helper()
	a := account.Account{Name: "Ada", Role: account.Coordinator, Password: someHash, Made: evening}
	must(t, s.FirstAccount(context.Background(), &a))
	return a
}

// TestAccounts guards the life of an account: one first, names that differ by
// more than case, versions, epochs, and that a coordinator is always left.
func TestAccounts(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	ada := firstAccount(t, s)
	second := account.Account{Name: "Eve", Role: account.Coordinator, Password: someHash, Made: evening}
	wantKind(t, s.FirstAccount(ctx, &second), fault.Conflict, "a second first account")

	same := account.Account{Name: "ADA", Role: account.Viewer, Made: evening}
	wantKind(t, s.NewAccount(ctx, &same), fault.Conflict, "a name in other case")
	odd := account.Account{Name: "Odd", Role: "owner", Made: evening}
	wantKind(t, s.NewAccount(ctx, &odd), fault.Invalid, "an unknown role")

	last := ada
	last.Role = account.Crew
	wantKind(t, s.SaveAccount(ctx, &last), fault.Conflict, "the last coordinator becoming crew")
	last = ada
	last.Disabled = true
	wantKind(t, s.SaveAccount(ctx, &last), fault.Conflict, "closing the last coordinator")
	wantKind(t, s.RemoveAccount(ctx, ada.ID, ada.Version), fault.Conflict, "removing the last coordinator")

	bo := account.Account{Name: "Bo", Role: account.Coordinator, Made: evening}
	must(t, s.NewAccount(ctx, &bo))
	wantKind(t, s.RemoveAccount(ctx, ada.ID, ada.Version), fault.Conflict, "removing the last who can sign in")
	must(t, s.SetPassword(ctx, bo.ID, someHash))

	old := ada
	ada.Role = account.Viewer
	must(t, s.SaveAccount(ctx, &ada))
	wantKind(t, s.SaveAccount(ctx, &old), fault.Conflict, "saving an older version")
	got, err := s.AccountNamed(ctx, "ada")
	must(t, err)
	if got.Role != account.Viewer || got.Epoch != 2 || got.Version != ada.Version || !got.Made.Equal(evening) {
		t.Errorf("account %+v: want a viewer of epoch 2", got)
	}
	must(t, s.EndSessions(ctx, ada.ID))
	must(t, s.RemoveAccount(ctx, ada.ID, ada.Version))
	_, err = s.Account(ctx, ada.ID)
	wantKind(t, err, fault.NotFound, "an account that was removed")
	again := account.Account{Name: "Ada", Role: account.Viewer, Made: evening}
	must(t, s.NewAccount(ctx, &again))
	if again.ID == ada.ID {
		t.Error("an id was used twice: an old session would be another's")
	}
}

// TestLinksWorkOnce guards that a link sets a password once, in its time, and
// that a newer one replaces it.
func TestLinksWorkOnce(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	ada := firstAccount(t, s)
	ends := evening.Add(time.Hour)
	must(t, s.NewLink(ctx, ada.ID, account.TokenHash("one"), ends))
	must(t, s.NewLink(ctx, ada.ID, account.TokenHash("two"), ends))

	_, err := s.UseLink(ctx, account.TokenHash("one"), someHash, evening)
	wantKind(t, err, fault.NotFound, "a replaced link")
	_, err = s.LinkedAccount(ctx, account.TokenHash("two"), ends)
	wantKind(t, err, fault.NotFound, "a link at its end")
	got, err := s.UseLink(ctx, account.TokenHash("two"), someHash, evening)
	must(t, err)
	if got.ID != ada.ID || got.Epoch != 2 {
		t.Errorf("the link set the password of %+v", got)
	}
	_, err = s.UseLink(ctx, account.TokenHash("two"), someHash, evening)
	wantKind(t, err, fault.NotFound, "a used link")
}

// TestSessions guards that a session is found by its token until it ends, and
// that the token is not in the database.
func TestSessions(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	ada := firstAccount(t, s)
	ends := evening.Add(time.Hour)
	must(t, s.KeepSession(ctx, "secret-token", []byte("held"), ends))
	data, found, err := s.FindSession(ctx, "secret-token", evening)
	must(t, err)
	if !found || string(data) != "held" {
		t.Errorf("session %q found %v", data, found)
	}
	if _, found, _ := s.FindSession(ctx, "secret-token", ends); found {
		t.Error("a session is found at its end")
	}
	if _, found, _ := s.FindSession(ctx, account.TokenHash("secret-token"), evening); found {
		t.Error("what stands in the database opens a session")
	}
	must(t, s.KeepSession(ctx, "secret-token", []byte("held"), ends.Add(30*time.Second)))
	if _, found, _ := s.FindSession(ctx, "secret-token", ends); found {
		t.Error("half a minute more was written")
	}
	must(t, s.KeepSession(ctx, "secret-token", []byte("held"), ends.Add(20*time.Minute)))
	if _, found, _ := s.FindSession(ctx, "secret-token", ends); !found {
		t.Error("twenty minutes more were not written")
	}
	must(t, s.NoteSignIn(ctx, ada.ID, "name ada", ends.Add(time.Hour)))
	must(t, s.DropSession(ctx, "secret-token"))
}

func TestSignInFaults(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	ada := firstAccount(t, s)
	for range 3 {
		must(t, s.NoteSignInFaults(ctx, evening, "name ada", "address 192.0.2.7"))
	}
	n, last, err := s.SignInFaults(ctx, "name ada")
	must(t, err)
	if n != 3 || !last.Equal(evening) {
		t.Errorf("%d faults, the last at %v", n, last)
	}
	must(t, s.NoteSignIn(ctx, ada.ID, "name ada", evening))
	if n, _, _ := s.SignInFaults(ctx, "name ada"); n != 0 {
		t.Errorf("%d faults after a sign-in", n)
	}
	must(t, s.NoteSignInFaults(ctx, evening.Add(25*time.Hour), "name bo"))
	if n, _, _ := s.SignInFaults(ctx, "address 192.0.2.7"); n != 0 {
		t.Errorf("%d faults a day later", n)
	}
}
