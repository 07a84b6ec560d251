package web

import (
	"crypto/subtle"
	"errors"
	"net/http"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// errSetup answers a setup link that is not, or no longer, the one printed.
func errSetup() error {
	return fault.New(fault.NotFound, "This setup link is used up or not from the latest start. The server's log has the present one while there is no account.")
}

// checkSetup lets the setup link through while there is no account.
func (s *server) checkSetup(r *http.Request) error {
	token := chi.URLParam(r, "token")
	if s.guard.SetupToken == "" || subtle.ConstantTimeCompare([]byte(token), []byte(s.guard.SetupToken)) != 1 {
		return errSetup()
	}
	all, err := s.guard.Store.Accounts(r.Context())
	if err == nil && len(all) > 0 {
		return errSetup()
	}
	return err
}

func (s *server) showSetup(w http.ResponseWriter, r *http.Request) error {
	if err := s.checkSetup(r); err != nil {
		return err
	}
	return s.renderSetup(w, r, http.StatusOK, "", nil)
}

func (s *server) renderSetup(w http.ResponseWriter, r *http.Request, status int, name string, faults fault.Fields) error {
	m := views.PasswordModel{
		Title: "Make the first account", Lead: "You will be the coordinator: you plan nights and give others their accounts. This link works once.",
		Action: r.URL.Path, Save: "Make my account", Name: nameField(name, faults), New: newPasswordField(faults), Faults: accountFaults(faults),
	}
	return s.show(w, r, status, views.Head{Title: m.Title}, views.Password(m))
}

// setUp makes the first coordinator and signs them in.
func (s *server) setUp(w http.ResponseWriter, r *http.Request) error {
	if err := s.checkSetup(r); err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	a := account.Account{Role: account.Coordinator, Made: s.now()}
	var faults fault.Fields
	a.Name = readName(r, &faults)
	hash, err := readNewPassword(r, a.Name, &faults)
	if err != nil {
		return err
	}
	if len(faults) > 0 {
		return s.renderSetup(w, r, http.StatusUnprocessableEntity, r.PostForm.Get("name"), faults)
	}
	a.Password = hash
	if err := s.guard.Store.FirstAccount(r.Context(), &a); err != nil {
		return err
	}
	if err := s.begin(r, a); err != nil {
		return err
	}
	return redirect(w, r, "/", views.Flash{Text: "Welcome, " + a.Name + ". Others get their accounts under Accounts, behind your name above."})
}

// showAccountLink is where somebody sets their password by a link from a coordinator.
func (s *server) showAccountLink(w http.ResponseWriter, r *http.Request) error {
	a, err := s.guard.Store.LinkedAccount(r.Context(), account.TokenHash(chi.URLParam(r, "token")), s.now())
	if err != nil {
		return err
	}
	return s.renderAccountLink(w, r, http.StatusOK, a, nil)
}

func (s *server) renderAccountLink(w http.ResponseWriter, r *http.Request, status int, a account.Account, faults fault.Fields) error {
	m := views.PasswordModel{
		Title: "Set your password", Lead: "For the account “" + a.Name + "”. The link works once.",
		Action: r.URL.Path, Save: "Set it and sign in", New: newPasswordField(faults), Faults: accountFaults(faults),
	}
	return s.show(w, r, status, views.Head{Title: m.Title}, views.Password(m))
}

func (s *server) useAccountLink(w http.ResponseWriter, r *http.Request) error {
	hash := account.TokenHash(chi.URLParam(r, "token"))
	a, err := s.guard.Store.LinkedAccount(r.Context(), hash, s.now())
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	var faults fault.Fields
	password, err := readNewPassword(r, a.Name, &faults)
	if err != nil {
		return err
	}
	if len(faults) > 0 {
		return s.renderAccountLink(w, r, http.StatusUnprocessableEntity, a, faults)
	}
	if a, err = s.guard.Store.UseLink(r.Context(), hash, password, s.now()); err != nil {
		return err
	}
	if err := s.begin(r, a); err != nil {
		return err
	}
	return redirect(w, r, "/", views.Flash{Text: "Your password is set, and you are signed in."})
}

// readName reads the name of an account; a fault is noted at its field.
func readName(r *http.Request, faults *fault.Fields) string {
	name, err := account.CleanName(r.PostForm.Get("name"))
	note(faults, "name", err)
	return name
}

// readNewPassword reads and hashes a new password typed once; a fault is noted
// at its field and there is no hash then.
func readNewPassword(r *http.Request, name string, faults *fault.Fields) (hash string, err error) {
	password := r.PostForm.Get("new")
	if note(faults, "new", account.CheckPassword(password, name)); len(*faults) > 0 {
		return "", nil
	}
	return account.Hash(r.Context(), password)
}

// note adds the visitor's message of an error to the faults of a form.
func note(faults *fault.Fields, field string, err error) {
	var own *fault.Error
	if errors.As(err, &own) {
		*faults = append(*faults, fault.Field{Name: field, Message: own.Message})
	}
}

func nameField(value string, faults fault.Fields) *views.Field {
	return &views.Field{Name: "name", Label: "Name", Hint: "What you type at sign-in, and what the history of a night shows.", Value: value, Error: faults.For("name"), Auto: "username", Width: "mid", Required: true}
}

func newPasswordField(faults fault.Fields) views.Field {
	return views.Field{Name: "new", Label: "New password", Type: "password", Hint: "At least 12 characters, any you like. A few words in a row are easier to keep than signs.", Error: faults.For("new"), Auto: "new-password", Width: "mid", Required: true}
}

var accountLabels = map[string]string{"name": "Name", "new": "New password", "old": "Present password", "role": "May"}

func accountFaults(faults fault.Fields) []views.FieldError {
	var out []views.FieldError
	for _, f := range faults {
		out = append(out, views.FieldError{Name: f.Name, Label: accountLabels[f.Name], Message: f.Message})
	}
	return out
}
