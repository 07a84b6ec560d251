package web

import (
	"net/http"
	"strconv"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// linkLife is how long a link that sets a password is good.
const linkLife = 72 * time.Hour

func accountPath(id int64) string { return "/people/" + strconv.FormatInt(id, 10) }

// showPeople lists the accounts and offers a new one.
func (s *server) showPeople(w http.ResponseWriter, r *http.Request) error {
	return s.renderPeople(w, r, http.StatusOK, account.Account{Role: account.Crew}, nil)
}

func (s *server) renderPeople(w http.ResponseWriter, r *http.Request, status int, typed account.Account, faults fault.Fields) error {
	all, err := s.guard.Store.Accounts(r.Context())
	if err != nil {
		return err
	}
	m := views.PeopleModel{
		Table: views.Table{Caption: "Accounts", Columns: []views.Column{{Label: "Name"}, {Label: "May"}, {Label: "Last sign-in"}}},
		Name:  *nameField(typed.Name, faults), Role: roleChoice(typed.Role, faults), Faults: accountFaults(faults),
	}
	m.Name.Hint = "What they type at sign-in, and what the history of a night shows."
	m.Name.Auto = "off"
	for _, a := range all {
		m.Table.Rows = append(m.Table.Rows, []views.Cell{
			{Text: a.Name, Href: accountPath(a.ID), Mark: stateOf(a)}, {Text: wordFor(accountRoles, a.Role)}, {Text: dayOf(a.Seen)},
		})
	}
	return s.show(w, r, status, views.Head{Title: "Accounts", Crumbs: accountCrumbs}, views.People(m))
}

var accountCrumbs = []views.Link{{Text: "Your account", Href: "/account"}}

func stateOf(a account.Account) string {
	switch {
	case a.Disabled:
		return "closed"
	case a.Password == "":
		return "no password yet"
	}
	return ""
}

func dayOf(t time.Time) string {
	if t.IsZero() {
		return "never"
	}
	return t.Format("2 January 2006")
}

func roleChoice(value account.Role, faults fault.Fields) views.Choice {
	return views.Choice{Name: "role", Label: "May", Value: string(value), Options: accountRoles, Error: faults.For("role")}
}

func readRole(r *http.Request, faults *fault.Fields) account.Role {
	role := account.Role(r.PostForm.Get("role"))
	if !role.Known() {
		*faults = append(*faults, fault.Field{Name: "role", Message: "Choose one from the list."})
	}
	return role
}

// createAccount makes an account without a password and shows the link with
// which its owner sets one.
func (s *server) createAccount(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	var faults fault.Fields
	a := account.Account{Made: s.now(), Name: readName(r, &faults), Role: readRole(r, &faults)}
	if len(faults) == 0 {
		err := s.guard.Store.NewAccount(r.Context(), &a)
		if fault.KindOf(err) != fault.Conflict && err != nil {
			return err
		}
		note(&faults, "name", err)
	}
	if len(faults) > 0 {
		a.Name = r.PostForm.Get("name")
		return s.renderPeople(w, r, http.StatusUnprocessableEntity, a, faults)
	}
	return s.showNewLink(w, r, a)
}

func (s *server) showAccountOf(w http.ResponseWriter, r *http.Request) error {
	a, err := s.storedAccount(r)
	if err != nil {
		return err
	}
	return s.renderAccountOf(w, r, http.StatusOK, a, a.Name, nil)
}

func (s *server) storedAccount(r *http.Request) (account.Account, error) {
	id, err := idParam(r, "id")
	if err != nil {
		return account.Account{}, err
	}
	return s.guard.Store.Account(r.Context(), id)
}

func (s *server) renderAccountOf(w http.ResponseWriter, r *http.Request, status int, a account.Account, title string, faults fault.Fields) error {
	m := views.OneAccountModel{
		Title: title, State: stateOf(a), Path: accountPath(a.ID), Version: strconv.FormatInt(a.Version, 10),
		Name: *nameField(a.Name, faults), Role: roleChoice(a.Role, faults),
		Closed: views.Check{Name: "closed", Label: "Closed", Hint: "Cannot sign in until this is taken back.", Checked: a.Disabled},
		Faults: accountFaults(faults), Seen: dayOf(a.Seen), Made: dayOf(a.Made), HasPassword: a.Password != "", Hours: int(linkLife.Hours()),
	}
	m.Name.Auto, m.Name.Hint = "off", ""
	keys, err := s.guard.Store.Passkeys(r.Context(), a.ID)
	if err != nil {
		return err
	}
	if len(keys) > 0 {
		m.Passkeys = plural(len(keys), "passkey", "passkeys")
	}
	crumbs := append(accountCrumbs[:1:1], views.Link{Text: "Accounts", Href: "/people"})
	return s.show(w, r, status, views.Head{Title: title, Crumbs: crumbs}, views.OneAccount(m))
}

func (s *server) updateAccount(w http.ResponseWriter, r *http.Request) error {
	a, err := s.storedAccount(r)
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	title := a.Name
	var faults fault.Fields
	a.Name, a.Role, a.Disabled = readName(r, &faults), readRole(r, &faults), r.PostForm.Get("closed") != ""
	if v, err := strconv.ParseInt(r.PostForm.Get("Version"), 10, 64); err == nil {
		a.Version = v
	}
	if len(faults) == 0 {
		err := s.guard.Store.SaveAccount(r.Context(), &a)
		if err == nil {
			return redirect(w, r, "/people", views.Flash{Text: a.Name + " is saved."})
		}
		if fault.KindOf(err) != fault.Conflict {
			return err
		}
		// A taken name, the last coordinator, or somebody saved meanwhile: the
		// message says which, and the page shows what is there now.
		now, loadErr := s.guard.Store.Account(r.Context(), a.ID)
		if loadErr != nil {
			return loadErr
		}
		note(&faults, "name", err)
		a.Version = now.Version
		return s.renderAccountOf(w, r, http.StatusConflict, a, title, faults)
	}
	return s.renderAccountOf(w, r, http.StatusUnprocessableEntity, a, title, faults)
}

// linkAccount makes a new link for somebody who forgot the password.
func (s *server) linkAccount(w http.ResponseWriter, r *http.Request) error {
	a, err := s.storedAccount(r)
	if err != nil {
		return err
	}
	return s.showNewLink(w, r, a)
}

// showNewLink shows a fresh link once; only its hash is kept.
func (s *server) showNewLink(w http.ResponseWriter, r *http.Request, a account.Account) error {
	token := account.NewToken()
	ends := s.now().Add(linkLife)
	if err := s.guard.Store.NewLink(r.Context(), a.ID, account.TokenHash(token), ends); err != nil {
		return err
	}
	m := views.LinkModel{Name: a.Name, Link: s.origin(r) + "/account/link/" + token, Hours: int(linkLife.Hours()), Back: accountPath(a.ID)}
	crumbs := append(accountCrumbs[:1:1], views.Link{Text: "Accounts", Href: "/people"})
	return s.show(w, r, http.StatusOK, views.Head{Title: "A link for " + a.Name, Crumbs: crumbs}, views.NewLink(m))
}

func (s *server) signOutAccount(w http.ResponseWriter, r *http.Request) error {
	a, err := s.storedAccount(r)
	if err != nil {
		return err
	}
	if err := s.guard.Store.EndSessions(r.Context(), a.ID); err != nil {
		return err
	}
	return redirect(w, r, accountPath(a.ID), views.Flash{Text: a.Name + " is signed out on every device."})
}

// removeAccount is final and at once, for the reason that the store states.
func (s *server) removeAccount(w http.ResponseWriter, r *http.Request) error {
	a, err := s.storedAccount(r)
	if err != nil {
		return err
	}
	version, err := strconv.ParseInt(r.PostFormValue("Version"), 10, 64)
	if err != nil {
		return fault.New(fault.Invalid, "The page was not complete. Open the account again.")
	}
	if err := s.guard.Store.RemoveAccount(r.Context(), a.ID, version); err != nil {
		return err
	}
	return redirect(w, r, "/people", views.Flash{Text: "The account of " + a.Name + " is gone, and with it every way in. What they planned stays."})
}
