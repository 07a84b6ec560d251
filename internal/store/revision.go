package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"sync"
)

// watch is a connection that never writes and does nothing but ask SQLite
// whether others have: PRAGMA data_version changes with every commit of another
// connection, of this process or another one, and says nothing of other kinds.
type watch struct {
	mu    sync.Mutex
	pool  *sql.DB
	ask   *sql.Stmt
	conn  *sql.Conn
	since int64 // how many connections there were: each counts from its own start
}

// Revision is another number after every committed write, by this process or by
// another one; equal numbers mean that nothing has changed in between.
func (s *Store) Revision(ctx context.Context) (int64, error) {
	w := &s.watch
	w.mu.Lock()
	defer w.mu.Unlock()
	// The question is short and its answer is everybody's: one who goes away
	// must not break the connection for the others.
	ctx = context.WithoutCancel(ctx)
	var n int64
	err := w.open(ctx, s.path)
	if err == nil {
		err = w.ask.QueryRowContext(ctx).Scan(&n)
	}
	if err != nil {
		return 0, fmt.Errorf("ask for the revision: %w", errors.Join(translate(err), w.shut()))
	}
	return w.since<<40 | n, nil
}

func (w *watch) open(ctx context.Context, path string) (err error) {
	if w.ask != nil {
		return nil
	}
	w.since++
	if w.pool, err = sql.Open(driver, readDSN(path)); err != nil {
		return err
	}
	if w.conn, err = w.pool.Conn(ctx); err != nil {
		return err
	}
	w.ask, err = w.conn.PrepareContext(ctx, "PRAGMA data_version")
	return err
}

// shut lets the connection go; the next question opens another.
func (w *watch) shut() error {
	var err error
	if w.ask != nil {
		err = w.ask.Close()
	}
	if w.conn != nil {
		err = errors.Join(err, w.conn.Close())
	}
	if w.pool != nil {
		err = errors.Join(err, w.pool.Close())
	}
	w.ask, w.conn, w.pool = nil, nil, nil
	return err
}

func (w *watch) close() error {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.shut()
}
