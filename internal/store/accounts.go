package store

import (
	"context"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// errLast is the answer to a change that would leave nobody who can manage
// accounts.
func errLast() error {
	return fault.New(fault.Conflict, "That would leave no coordinator who can sign in. Make another coordinator first.")
}

func accountOf(r db.Account) account.Account {
	return account.Account{
		ID: r.ID, Version: r.Version, Name: r.Name, Role: r.Role, Password: r.Password,
		Epoch: r.Epoch, Disabled: r.Disabled, Made: r.MadeAt.Time, Seen: r.SeenAt.Time,
	}
}

// Accounts returns every account, by name.
func (s *Store) Accounts(ctx context.Context) (as []account.Account, err error) {
	err = s.read(ctx, "load accounts", func(q *db.Queries) error {
		rows, err := q.ListAccounts(ctx)
		as, err = each(rows, err, accountOf)
		return err
	})
	return as, err
}

// Account returns one account.
func (s *Store) Account(ctx context.Context, id int64) (a account.Account, err error) {
	err = s.read(ctx, "load account", func(q *db.Queries) error {
		r, err := q.GetAccount(ctx, id)
		a = accountOf(r)
		return missing(err, "account", id)
	})
	return a, err
}

// AccountNamed returns the account of a name, whatever the case of its letters.
func (s *Store) AccountNamed(ctx context.Context, name string) (a account.Account, err error) {
	err = s.read(ctx, "load account", func(q *db.Queries) error {
		r, err := q.GetAccountByName(ctx, name)
		a = accountOf(r)
		return missing(err, "account called", name)
	})
	return a, err
}

// FirstAccount makes the first coordinator; fault.Conflict when there is an
// account already.
func (s *Store) FirstAccount(ctx context.Context, a *account.Account) error {
	return s.write(ctx, "make the first account", func(q *db.Queries) error {
		n, err := q.CountAccounts(ctx)
		if err != nil {
			return err
		}
		if n > 0 {
			return fault.New(fault.Conflict, "There is a coordinator already; this link is used up.")
		}
		return insertAccount(ctx, q, a)
	})
}

// NewAccount makes an account; fault.Conflict when the name is taken.
func (s *Store) NewAccount(ctx context.Context, a *account.Account) error {
	return s.write(ctx, "make an account", func(q *db.Queries) error { return insertAccount(ctx, q, a) })
}

func insertAccount(ctx context.Context, q *db.Queries, a *account.Account) error {
	id, err := q.InsertAccount(ctx, db.InsertAccountParams{Name: a.Name, Role: a.Role, Password: a.Password, MadeAt: column.Instant{Time: a.Made}})
	if err != nil {
		return takenName(err)
	}
	a.ID, a.Version, a.Epoch = id, 1, 1
	return nil
}

func takenName(err error) error {
	if fault.KindOf(translate(err)) == fault.Conflict {
		return fault.Wrap(fault.Conflict, err, "There is an account of that name already.")
	}
	return err
}

// SaveAccount changes name, role and whether the account is closed. A new role
// and closing end its sessions. The last coordinator stays one.
func (s *Store) SaveAccount(ctx context.Context, a *account.Account) error {
	err := s.write(ctx, "save account", func(q *db.Queries) error {
		n, err := q.UpdateAccount(ctx, db.UpdateAccountParams{ID: a.ID, Version: a.Version, Name: a.Name, Role: a.Role, Disabled: a.Disabled})
		if err != nil {
			return takenName(err)
		}
		if n == 0 {
			if _, err := q.GetAccount(ctx, a.ID); err != nil {
				return missing(err, "account", a.ID)
			}
			return changed("account")
		}
		return keepOne(ctx, q)
	})
	if err == nil {
		a.Version++
	}
	return err
}

// RemoveAccount deletes an account with its links and passkeys; its sessions
// are over. It does not go into the bin: a way in that was shut must not be
// opened again by a press. fault.Conflict when it was changed since version.
func (s *Store) RemoveAccount(ctx context.Context, id, version int64) error {
	return s.write(ctx, "remove account", func(q *db.Queries) error {
		a, err := q.GetAccount(ctx, id)
		if err != nil {
			return missing(err, "account", id)
		}
		if a.Version != version {
			return changed("account")
		}
		if _, err := q.DeleteAccount(ctx, id); err != nil {
			return err
		}
		return keepOne(ctx, q)
	})
}

func keepOne(ctx context.Context, q *db.Queries) error {
	n, err := q.CountActing(ctx)
	if err == nil && n == 0 {
		return errLast()
	}
	return err
}

// SetPassword keeps a new hash, ends every session of the account and uses up
// its links.
func (s *Store) SetPassword(ctx context.Context, id int64, hash string) error {
	return s.write(ctx, "set a password", func(q *db.Queries) error { return setPassword(ctx, q, id, hash) })
}

func setPassword(ctx context.Context, q *db.Queries, id int64, hash string) error {
	n, err := q.SetPassword(ctx, hash, id)
	switch {
	case err != nil:
		return err
	case n == 0:
		return fault.New(fault.NotFound, "There is no account %d here.", id)
	}
	return q.DeleteAccountLinks(ctx, id)
}

// Rehash replaces the hash of an unchanged password by a stronger one.
func (s *Store) Rehash(ctx context.Context, id int64, before, after string) error {
	return s.write(ctx, "hash a password anew", func(q *db.Queries) error {
		return q.RehashPassword(ctx, db.RehashPasswordParams{New: after, ID: id, Old: before})
	})
}

// EndSessions ends every session of the account.
func (s *Store) EndSessions(ctx context.Context, id int64) error {
	return s.write(ctx, "end sessions", func(q *db.Queries) error {
		n, err := q.RaiseEpoch(ctx, id)
		if err == nil && n == 0 {
			return fault.New(fault.NotFound, "There is no account %d here.", id)
		}
		return err
	})
}

// NewLink keeps the hash of a link with which a password is set once. An
// earlier link of the account is used up.
func (s *Store) NewLink(ctx context.Context, id int64, hash string, ends time.Time) error {
	return s.write(ctx, "make a link", func(q *db.Queries) error {
		if err := q.DeleteAccountLinks(ctx, id); err != nil {
			return err
		}
		return q.InsertAccountLink(ctx, db.InsertAccountLinkParams{Hash: hash, AccountID: id, ExpiresAt: column.Instant{Time: ends}})
	})
}

func errLink() error {
	return fault.New(fault.NotFound, "This link is used up or too old. Ask a coordinator for a new one.")
}

// LinkedAccount returns the account of a link that is still good.
func (s *Store) LinkedAccount(ctx context.Context, hash string, now time.Time) (a account.Account, err error) {
	err = s.read(ctx, "load link", func(q *db.Queries) error {
		a, err = linked(ctx, q, hash, now)
		return err
	})
	return a, err
}

func linked(ctx context.Context, q *db.Queries, hash string, now time.Time) (account.Account, error) {
	r, err := q.GetAccountLink(ctx, hash)
	if err != nil || !now.Before(r.ExpiresAt.Time) || r.Account.Disabled {
		if err == nil || missing(err, "", "") != err {
			err = errLink()
		}
		return account.Account{}, err
	}
	return accountOf(r.Account), nil
}

// UseLink sets the password of a link's account and uses the link up, once.
func (s *Store) UseLink(ctx context.Context, hash, password string, now time.Time) (a account.Account, err error) {
	err = s.write(ctx, "use link", func(q *db.Queries) error {
		if a, err = linked(ctx, q, hash, now); err != nil {
			return err
		}
		if err := setPassword(ctx, q, a.ID, password); err != nil {
			return err
		}
		r, err := q.GetAccount(ctx, a.ID)
		a = accountOf(r)
		return err
	})
	return a, err
}
