package web

import (
	"encoding/json"
	"net/http"
	"time"

	"duskboard/internal/account/passkey"
	"duskboard/internal/fault"
)

// askSignIn begins a sign-in with a passkey.
func (s *server) askSignIn(w http.ResponseWriter, r *http.Request) error {
	p, err := s.party(r)
	if err != nil {
		return err
	}
	if wait, err := s.passkeyWait(r); err != nil || wait > 0 {
		return tooSoon(err)
	}
	options, text, err := p.Ask()
	if err != nil {
		return err
	}
	if err := s.ask(r, question{Kind: "enter", Text: text}); err != nil {
		return err
	}
	if person(r).ID == 0 {
		// A stranger's session need not outlive the question.
		s.guard.sessions.SetDeadline(r.Context(), time.Now().Add(2*questionLife))
	}
	sendJSON(w, http.StatusOK, json.RawMessage(options))
	return nil
}

// passkeyWait is how long an address has to wait after answers that did not fit.
func (s *server) passkeyWait(r *http.Request) (time.Duration, error) {
	return s.signInWait(r, "passkeys from "+addressOf(r), "address "+addressOf(r), s.now())
}

func tooSoon(err error) error {
	if err != nil {
		return err
	}
	return errTooMany
}

// answerSignIn signs in by the answer of a passkey.
func (s *server) answerSignIn(w http.ResponseWriter, r *http.Request) error {
	ctx, now := r.Context(), s.now()
	p, err := s.party(r)
	if err != nil {
		return err
	}
	if wait, err := s.passkeyWait(r); err != nil || wait > 0 {
		return tooSoon(err)
	}
	q, err := s.asked(r, "enter")
	if err != nil {
		return err
	}
	answer, err := readAnswer(w, r)
	if err != nil {
		return err
	}
	var before []byte
	find := func(credential []byte) (passkey.Key, error) {
		k, err := s.guard.Store.Passkey(ctx, credential)
		before = k.Record
		return k, err
	}
	k, err := p.Check(q.Text, answer, find)
	if err != nil {
		if fault.KindOf(err) == fault.Forbidden {
			if err := s.guard.Store.NoteSignInFaults(ctx, now, "passkeys from "+addressOf(r), "address "+addressOf(r)); err != nil {
				return err
			}
		}
		return err
	}
	a, err := s.guard.Store.Account(ctx, k.AccountID)
	switch {
	case err != nil:
		return err
	case a.Disabled:
		return fault.New(fault.Forbidden, "This account is closed. A coordinator can open it again.")
	}
	if err := s.guard.Store.UsePasskey(ctx, k.ID, before, k.Record, now); err != nil {
		return err
	}
	if err := s.guard.Store.NoteSignIn(ctx, a.ID, "passkeys from "+addressOf(r), now); err != nil {
		return err
	}
	if err := s.begin(r, a); err != nil {
		return err
	}
	s.log.Info("signed in with a passkey", "account", a.ID)
	sendJSON(w, http.StatusOK, map[string]string{"to": localPath(r.URL.Query().Get("to"))})
	return nil
}
