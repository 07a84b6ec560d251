package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"runtime/debug"
	"time"

	"duskboard/internal/store"
)

// version is the revision that the program was built from, or "development".
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "development"
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 8 {
			return s.Value[:8]
		}
	}
	return "development"
}

// dataFlags parses a command with --data and at most one file name.
func dataFlags(name string, args []string, env func(string) string, stderr io.Writer) (database, file string, err error) {
	data := env("DUSKBOARD_DATA")
	if data == "" {
		data = "data"
	}
	// The file may stand before or behind the flags.
	if len(args) > 0 && args[0] != "" && args[0][0] != '-' {
		file, args = args[0], args[1:]
	}
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(stderr)
	f.StringVar(&data, "data", data, "folder that holds the club's data (DUSKBOARD_DATA)")
	if err := f.Parse(args); err != nil {
		return "", "", fmt.Errorf("%w: %v", errUsage, err)
	}
	if file == "" && f.NArg() > 0 {
		file = f.Arg(0)
	}
	return filepath.Join(data, databaseName), file, nil
}

// backup copies the database, also while a server uses it.
func backup(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) error {
	database, file, err := dataFlags("backup", args, env, stderr)
	if err != nil {
		return err
	}
	if file == "" {
		return fmt.Errorf("%w: name the file to write, as in duskboard backup club-backup.db", errUsage)
	}
	st, err := store.Open(ctx, database)
	if err != nil {
		return err
	}
	defer st.Close()
	if err := st.Backup(ctx, file); err != nil {
		return err
	}
	fmt.Fprintf(stdout, "Copied to %s.\n", file)
	return nil
}

// restore checks a copy and puts it in place; what it replaces is kept.
func restore(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) error {
	database, file, err := dataFlags("restore", args, env, stderr)
	if err != nil {
		return err
	}
	if file == "" {
		return fmt.Errorf("%w: name the copy to restore, as in duskboard restore club-backup.db", errUsage)
	}
	kept, err := store.Restore(ctx, file, database)
	if err != nil {
		return err
	}
	if kept != "" {
		fmt.Fprintf(stdout, "What was there is kept as %s.\n", kept)
	}
	fmt.Fprintln(stdout, "Restored.")
	return nil
}

// health asks a running server whether it is well.
func health(ctx context.Context, args []string, _ func(string) string, stdout, stderr io.Writer) error {
	f := flag.NewFlagSet("health", flag.ContinueOnError)
	f.SetOutput(stderr)
	addr := f.String("addr", "127.0.0.1:8080", "address of the server")
	if err := f.Parse(args); err != nil {
		return fmt.Errorf("%w: %v", errUsage, err)
	}
	ctx, cancel := context.WithTimeout(ctx, 4*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+*addr+"/healthz", nil)
	if err != nil {
		return fmt.Errorf("%w: %v", errUsage, err)
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return err
	}
	defer resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		return fmt.Errorf("the server at %s answers %s", *addr, resp.Status)
	}
	fmt.Fprintln(stdout, "well")
	return nil
}
