package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// sessionStep is by how much the end of a session may lag behind its last use:
// without it every page looked at would be a write, and every answer that the
// server keeps would be dropped with it.
const sessionStep = 15 * time.Minute

// FindSession returns what a session holds; found is false when there is none
// or it is over. Only the hash of the token is in the database.
func (s *Store) FindSession(ctx context.Context, token string, now time.Time) (data []byte, found bool, err error) {
	err = s.read(ctx, "load session", func(q *db.Queries) error {
		r, err := q.GetSession(ctx, account.TokenHash(token))
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		if err == nil && now.Before(r.ExpiresAt.Time) {
			data, found = r.Data, true
		}
		return err
	})
	return data, found, err
}

// KeepSession keeps what a session holds until it ends. A session that is the
// same but for an end that moved by less than sessionStep is left as it is.
func (s *Store) KeepSession(ctx context.Context, token string, data []byte, ends time.Time) error {
	hash, same := account.TokenHash(token), false
	err := s.read(ctx, "load session", func(q *db.Queries) error {
		r, err := q.GetSession(ctx, hash)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		same = err == nil && bytes.Equal(r.Data, data) && ends.Sub(r.ExpiresAt.Time).Abs() < sessionStep
		return err
	})
	if err != nil || same {
		return err
	}
	return s.write(ctx, "keep session", func(q *db.Queries) error {
		return q.PutSession(ctx, db.PutSessionParams{Hash: hash, Data: data, ExpiresAt: column.Instant{Time: ends}})
	})
}

// DropSession ends a session.
func (s *Store) DropSession(ctx context.Context, token string) error {
	return s.write(ctx, "drop session", func(q *db.Queries) error { return q.DeleteSession(ctx, account.TokenHash(token)) })
}

// SignInFaults returns how often sign-in was refused under a key and when last;
// 0 when never.
func (s *Store) SignInFaults(ctx context.Context, key string) (count int64, last time.Time, err error) {
	err = s.read(ctx, "load sign-in faults", func(q *db.Queries) error {
		r, err := q.GetSignInFault(ctx, account.TokenHash(key))
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		count, last = r.Count, r.LastAt.Time
		return err
	})
	return count, last, err
}

// NoteSignInFaults counts one refused sign-in under each key.
func (s *Store) NoteSignInFaults(ctx context.Context, now time.Time, keys ...string) error {
	return s.write(ctx, "note sign-in fault", func(q *db.Queries) error {
		if err := q.DeleteOldSignInFaults(ctx, column.Instant{Time: now.Add(-account.Forget)}); err != nil {
			return err
		}
		for _, key := range keys {
			if err := q.PutSignInFault(ctx, account.TokenHash(key), column.Instant{Time: now}); err != nil {
				return err
			}
		}
		return nil
	})
}

// NoteSignIn forgets the faults of a key and marks the account as seen; what
// has run out of sessions and links goes, too.
func (s *Store) NoteSignIn(ctx context.Context, id int64, key string, now time.Time) error {
	at := column.Instant{Time: now}
	return s.write(ctx, "note sign-in", func(q *db.Queries) error {
		return errors.Join(
			q.DeleteSignInFault(ctx, account.TokenHash(key)),
			q.SetSeen(ctx, at, id),
			q.DeleteOldSessions(ctx, at),
			q.DeleteOldAccountLinks(ctx, at),
		)
	})
}
