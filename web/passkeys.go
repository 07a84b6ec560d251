package web

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strconv"
	"sync"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/account/passkey"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// PasskeyStore keeps the public halves of passkeys.
type PasskeyStore interface {
	Passkeys(ctx context.Context, accountID int64) ([]passkey.Key, error)
	Passkey(ctx context.Context, credential []byte) (passkey.Key, error)
	AddPasskey(ctx context.Context, k *passkey.Key) error
	UsePasskey(ctx context.Context, id int64, before, after []byte, now time.Time) error
	RemovePasskey(ctx context.Context, accountID, id int64) error
	RemovePasskeys(ctx context.Context, accountID int64) error
}

// questionLife is how long a question may wait for its answer: browsers give
// their visitor as long (W3C Web Authentication Level 3, 5.1.3 step 4,
// recommends 5 minutes and more).
const questionLife = 5 * time.Minute

// question is what a session keeps between the two halves of a ceremony. A kind
// of its own for each, so that one's answer never counts for the other.
type question struct {
	Kind string
	Ends time.Time
	Name string // of the key to be made
	Text passkey.Question
}

const questionKey = "passkey"

// party is the site as passkeys know it: the stated origin, or where the
// browser says that it is. A wrong Host can do no harm: a key signs for the
// site that its browser sees, and a key made there is of no use here.
func (s *server) party(r *http.Request) (*passkey.Party, error) {
	if s.stated != "" && !atHost(r, s.stated) {
		return nil, fault.New(fault.Invalid, "Passkeys are used at %s.", s.stated)
	}
	return passkey.At(s.origin(r))
}

// spent remembers answered questions until they would have ended anyway. The
// session forgets its question at the end of the request only; of two answers
// sent at once, one must lose.
type spent struct {
	mu  sync.Mutex
	all map[string]time.Time
}

// first reports whether a question is answered for the first time.
func (x *spent) first(q question, now time.Time) bool {
	x.mu.Lock()
	defer x.mu.Unlock()
	for k, ends := range x.all {
		if now.After(ends) {
			delete(x.all, k)
		}
	}
	if _, again := x.all[string(q.Text)]; again {
		return false
	}
	if x.all == nil {
		x.all = map[string]time.Time{}
	}
	x.all[string(q.Text)] = q.Ends
	return true
}

// ask keeps a question in the session.
func (s *server) ask(r *http.Request, q question) error {
	q.Ends = s.now().Add(questionLife)
	b, err := json.Marshal(q)
	if err != nil {
		return err
	}
	s.guard.sessions.Put(r.Context(), questionKey, string(b))
	return nil
}

// asked takes the question of a kind out of the session: it counts once, and
// only in time.
func (s *server) asked(r *http.Request, kind string) (question, error) {
	var q question
	text := s.guard.sessions.PopString(r.Context(), questionKey)
	if text == "" {
		return q, errNotAsked()
	}
	if err := json.Unmarshal([]byte(text), &q); err != nil {
		return q, err
	}
	if now := s.now(); q.Kind != kind || now.After(q.Ends) || !s.guard.spent.first(q, now) {
		return q, errNotAsked()
	}
	return q, nil
}

func errNotAsked() error {
	return fault.New(fault.Forbidden, "That took too long, or was answered already. Try again.")
}

// scripted is the adapter for what the script of passkeys asks: faults come as
// JSON with the sentence to show.
func (s *server) scripted(a action) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		err := a(w, r)
		if err == nil {
			return
		}
		recordOf(r).err = err
		words, status := "Something went wrong here. Try again, or sign in with your password.", statusOf[fault.KindOf(err)]
		var tooLarge *http.MaxBytesError
		switch {
		case errors.Is(err, errTooMany):
			words, status = "Too many tries. Wait a minute, then try again.", http.StatusTooManyRequests
		case errors.As(err, &tooLarge):
			words, status = "That is too large for a passkey.", http.StatusRequestEntityTooLarge
		case visitorWords(err) != "":
			words = visitorWords(err)
		}
		sendJSON(w, status, map[string]string{"fault": words})
	}
}

// visitorWords is the message of an error that is meant for the visitor, else "".
func visitorWords(err error) string {
	if own, ok := errors.AsType[*fault.Error](err); ok {
		return own.Message
	}
	return ""
}

func sendJSON(w http.ResponseWriter, status int, v any) {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err) // what is sent here always marshals
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(b)
}

// maxAnswer is the largest answer of a browser, in bytes; an attestation with
// its certificates stays below.
const maxAnswer = 64 << 10

func readAnswer(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	return io.ReadAll(http.MaxBytesReader(w, r.Body, maxAnswer))
}

// askPasskey begins the making of a key. It wants the present password, as a
// new password does: a phone left on a table must not be enough for a way in
// that lasts.
func (s *server) askPasskey(w http.ResponseWriter, r *http.Request) error {
	p, err := s.party(r)
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	a := person(r)
	name, err := account.CleanName(r.PostForm.Get("name"))
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "Call the passkey something short that can be read, as “phone”.")
	}
	ok, err := s.presentPassword(r, a)
	switch {
	case err != nil:
		return err
	case !ok:
		return fault.New(fault.Invalid, "That is not your present password.")
	}
	have, err := s.guard.Store.Passkeys(r.Context(), a.ID)
	if err != nil {
		return err
	}
	options, text, err := p.AskNew(a.Name, have)
	if err != nil {
		return err
	}
	if err := s.ask(r, question{Kind: "make", Name: name, Text: text}); err != nil {
		return err
	}
	sendJSON(w, http.StatusOK, json.RawMessage(options))
	return nil
}

// makePasskey keeps the key that the browser made.
func (s *server) makePasskey(w http.ResponseWriter, r *http.Request) error {
	p, err := s.party(r)
	if err != nil {
		return err
	}
	q, err := s.asked(r, "make")
	if err != nil {
		return err
	}
	answer, err := readAnswer(w, r)
	if err != nil {
		return err
	}
	k, err := p.Make(q.Text, answer)
	if err != nil {
		return err
	}
	k.AccountID, k.Name, k.Made = person(r).ID, q.Name, s.now()
	if err := s.guard.Store.AddPasskey(r.Context(), &k); err != nil {
		return err
	}
	s.log.Info("passkey added", "account", k.AccountID)
	setFlash(w, views.Flash{Text: "The passkey “" + k.Name + "” is added. From now on it is enough to sign in."})
	sendJSON(w, http.StatusOK, map[string]string{"to": "/account"})
	return nil
}

// removePasskey takes a key out; whatever it opened elsewhere is closed.
func (s *server) removePasskey(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "passkey")
	if err != nil {
		return err
	}
	a := person(r)
	if err := s.guard.Store.RemovePasskey(r.Context(), a.ID, id); err != nil {
		return err
	}
	s.log.Info("passkey removed", "account", a.ID)
	if err := s.goOn(r, a.ID); err != nil {
		return err
	}
	return redirect(w, r, "/account", views.Flash{Text: "The passkey is removed, and every other device is signed out."})
}

// removePasskeysOf takes out all keys of somebody who lost a device.
func (s *server) removePasskeysOf(w http.ResponseWriter, r *http.Request) error {
	a, err := s.storedAccount(r)
	if err != nil {
		return err
	}
	if err := s.guard.Store.RemovePasskeys(r.Context(), a.ID); err != nil {
		return err
	}
	s.log.Info("passkeys removed", "account", a.ID)
	return redirect(w, r, accountPath(a.ID), views.Flash{Text: "The passkeys of " + a.Name + " are removed, and every device is signed out."})
}

// passkeyRows are an account's keys as its page lists them.
func passkeyRows(keys []passkey.Key, here string) []views.PasskeyRow {
	var rows []views.PasskeyRow
	for _, k := range keys {
		row := views.PasskeyRow{Name: k.Name, Made: dayOf(k.Made), Used: dayOf(k.Used), Remove: "/account/passkeys/" + strconv.FormatInt(k.ID, 10) + "/remove"}
		if k.Party != here {
			row.Elsewhere = k.Party
		}
		rows = append(rows, row)
	}
	return rows
}
