package web

import (
	"net/http"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// showAccount is the page of whoever is signed in.
func (s *server) showAccount(w http.ResponseWriter, r *http.Request) error {
	return s.renderAccount(w, r, http.StatusOK, nil)
}

func (s *server) renderAccount(w http.ResponseWriter, r *http.Request, status int, faults fault.Fields) error {
	a := person(r)
	keys, err := s.guard.Store.Passkeys(r.Context(), a.ID)
	if err != nil {
		return err
	}
	m := views.AccountModel{
		Name: a.Name, Role: wordFor(accountRoles, a.Role), Manages: a.Role.Covers(account.Coordinator),
		Old: views.Field{Name: "old", Label: "Present password", Type: "password", Error: faults.For("old"), Auto: "current-password", Width: "mid", Required: true},
		New: newPasswordField(faults), Faults: accountFaults(faults),
	}
	here := ""
	if p, none := s.party(r); none == nil {
		m.PasskeysHere, here = true, p.Name()
	} else {
		m.WhyNoPasskeys = visitorWords(none)
	}
	m.Passkeys = passkeyRows(keys, here)
	return s.show(w, r, status, views.Head{Title: "Your account"}, views.Account(m))
}

// changePassword wants the present password once more: a phone left on a table
// must not be enough to take an account over. Every other session ends.
func (s *server) changePassword(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	a := person(r)
	ok, err := s.presentPassword(r, a)
	if err != nil {
		return err
	}
	var faults fault.Fields
	if !ok {
		faults = append(faults, fault.Field{Name: "old", Message: "That is not your present password."})
	}
	hash, err := readNewPassword(r, a.Name, &faults)
	if err != nil {
		return err
	}
	if len(faults) > 0 {
		return s.renderAccount(w, r, http.StatusUnprocessableEntity, faults)
	}
	if err := s.guard.Store.SetPassword(r.Context(), a.ID, hash); err != nil {
		return err
	}
	if err := s.goOn(r, a.ID); err != nil {
		return err
	}
	return redirect(w, r, "/account", views.Flash{Text: "Your password is changed. Every other device is signed out."})
}

// presentPassword reports whether the form's field "old" is the password of the
// account; guessing is slowed down and ends in errTooMany.
func (s *server) presentPassword(r *http.Request, a account.Account) (bool, error) {
	now, key := s.now(), "password of "+a.Name
	wait, err := s.signInWait(r, key, "address "+addressOf(r), now)
	switch {
	case err != nil:
		return false, err
	case wait > 0:
		return false, errTooMany
	}
	ok, _, err := account.Match(r.Context(), a.Password, r.PostForm.Get("old"))
	if err == nil && !ok {
		err = s.guard.Store.NoteSignInFaults(r.Context(), now, key)
	}
	return ok, err
}

func (s *server) signOutEverywhere(w http.ResponseWriter, r *http.Request) error {
	if err := s.guard.Store.EndSessions(r.Context(), person(r).ID); err != nil {
		return err
	}
	if err := s.goOn(r, person(r).ID); err != nil {
		return err
	}
	return redirect(w, r, "/account", views.Flash{Text: "Every other device is signed out."})
}

// goOn keeps this session when all of the account were ended.
func (s *server) goOn(r *http.Request, id int64) error {
	a, err := s.guard.Store.Account(r.Context(), id)
	if err != nil {
		return err
	}
	return s.begin(r, a)
}
