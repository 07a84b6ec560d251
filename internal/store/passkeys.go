package store

import (
	"context"
	"time"

	"duskboard/internal/account/passkey"
	"duskboard/internal/fault"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

func passkeyOf(r db.Passkey) passkey.Key {
	return passkey.Key{
		ID: r.ID, AccountID: r.AccountID, Name: r.Name, Party: r.Party, Handle: r.Handle,
		Credential: r.Credential, Record: r.Record, Made: r.MadeAt.Time, Used: r.UsedAt.Time,
	}
}

// Passkeys returns the passkeys of an account, by name.
func (s *Store) Passkeys(ctx context.Context, accountID int64) (ks []passkey.Key, err error) {
	err = s.read(ctx, "load passkeys", func(q *db.Queries) error {
		rows, err := q.ListPasskeys(ctx, accountID)
		ks, err = each(rows, err, passkeyOf)
		return err
	})
	return ks, err
}

// Passkey returns the passkey that the browser names by a credential.
func (s *Store) Passkey(ctx context.Context, credential []byte) (k passkey.Key, err error) {
	err = s.read(ctx, "load passkey", func(q *db.Queries) error {
		r, err := q.GetPasskey(ctx, credential)
		k = passkeyOf(r)
		return missing(err, "passkey", "of this device")
	})
	return k, err
}

// AddPasskey keeps a new passkey; fault.Conflict when there is one of that
// credential.
func (s *Store) AddPasskey(ctx context.Context, k *passkey.Key) error {
	return s.write(ctx, "add a passkey", func(q *db.Queries) error {
		id, err := q.InsertPasskey(ctx, db.InsertPasskeyParams{
			AccountID: k.AccountID, Name: k.Name, Party: k.Party, Handle: k.Handle,
			Credential: k.Credential, Record: k.Record, MadeAt: column.At(k.Made),
		})
		if fault.KindOf(translate(err)) == fault.Conflict {
			return fault.Wrap(fault.Conflict, err, "This passkey is here already.")
		}
		k.ID = id
		return err
	})
}

// UsePasskey keeps the record that a sign-in left, in place of the one that it
// began with; fault.Conflict when another sign-in came between.
func (s *Store) UsePasskey(ctx context.Context, id int64, before, after []byte, now time.Time) error {
	return s.write(ctx, "use a passkey", func(q *db.Queries) error {
		n, err := q.UsePasskey(ctx, db.UsePasskeyParams{Record: after, UsedAt: column.At(now), ID: id, Before: before})
		if err == nil && n == 0 {
			return fault.New(fault.Conflict, "This passkey was used or removed just now. Try again.")
		}
		return err
	})
}

// RemovePasskey deletes one passkey of an account and ends the account's
// sessions: the lost phone may be signed in.
func (s *Store) RemovePasskey(ctx context.Context, accountID, id int64) error {
	return s.write(ctx, "remove a passkey", func(q *db.Queries) error {
		n, err := q.DeletePasskey(ctx, id, accountID)
		switch {
		case err != nil:
			return err
		case n == 0:
			return fault.New(fault.NotFound, "There is no such passkey in this account.")
		}
		_, err = q.RaiseEpoch(ctx, accountID)
		return err
	})
}

// RemovePasskeys deletes every passkey of an account and ends its sessions.
func (s *Store) RemovePasskeys(ctx context.Context, accountID int64) error {
	return s.write(ctx, "remove passkeys", func(q *db.Queries) error {
		if _, err := q.DeletePasskeys(ctx, accountID); err != nil {
			return err
		}
		_, err := q.RaiseEpoch(ctx, accountID)
		return err
	})
}
