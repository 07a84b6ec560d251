package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"duskboard/internal/store"
)

// exportWhole writes everything that a club entered to a file, also while a
// server uses it.
func exportWhole(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) (err error) {
	database, file, err := dataFlags("export", args, env, stderr)
	if err != nil {
		return err
	}
	if file == "" {
		return fmt.Errorf("%w: name the file to write, as in duskboard export club.json", errUsage)
	}
	if _, err := os.Stat(database); err != nil {
		return fmt.Errorf("there is no club here: %w", err)
	}
	st, err := store.Open(ctx, database)
	if err != nil {
		return err
	}
	defer st.Close()
	// Nothing is overwritten, and a file that was begun does not stay.
	out, err := os.OpenFile(file, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer func() {
		if err = errors.Join(err, out.Close()); err != nil {
			err = errors.Join(err, os.Remove(file))
		}
	}()
	var rows int64
	err = st.Whole(ctx, out, time.Now(), nil, func(done, all int64) {
		rows = done
		if done%10000 == 0 && done > 0 {
			fmt.Fprintf(stderr, "%d of %d rows\n", done, all)
		}
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(stdout, "%d rows are in %s. Passwords and links are not; the file holds names and contact data: keep it as carefully as the club's folder.\n", rows, file)
	return out.Sync()
}

// importWhole makes a club from such a file, in a folder that has none.
func importWhole(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) error {
	database, file, err := dataFlags("import", args, env, stderr)
	if err != nil {
		return err
	}
	if file == "" {
		return fmt.Errorf("%w: name the file to read, as in duskboard import club.json --data NEW-FOLDER", errUsage)
	}
	in, err := os.Open(file)
	if err != nil {
		return err
	}
	defer in.Close()
	if err := os.MkdirAll(filepath.Dir(database), 0o700); err != nil {
		return err
	}
	var rows int64
	err = store.ReadWhole(ctx, in, database, func(done, _ int64) {
		if rows = done; done%10000 == 0 && done > 0 {
			fmt.Fprintf(stderr, "%d rows\n", done)
		}
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(stdout, "%d rows are in. Accounts have no password yet: duskboard account link NAME --data %s gives a coordinator a link.\n", rows, filepath.Dir(database))
	return nil
}
