package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"time"

	"duskboard/cmd/duskboard/demo"
	"duskboard/internal/account"
	"duskboard/internal/store"
	"duskboard/web"
)

// databaseName is the file inside the data folder.
const databaseName = "club.db"

// drainTime is how long requests under way may take once the server stops.
const drainTime = 10 * time.Second

// serve opens the store, builds the web server and runs it until ctx ends.
func serve(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) error {
	cfg, err := parseSettings(args, env, stderr)
	if err != nil {
		return err
	}
	logger := slog.New(slog.NewTextHandler(stderr, nil))
	if cfg.Demo {
		dir, err := os.MkdirTemp("", "duskboard-demo-")
		if err != nil {
			return fmt.Errorf("make a folder for the demo: %w", err)
		}
		defer os.RemoveAll(dir)
		cfg.Data = dir
	}
	if err := os.MkdirAll(cfg.Data, 0o700); err != nil {
		return fmt.Errorf("make the data folder %s: %w", cfg.Data, err)
	}
	st, err := store.Open(ctx, filepath.Join(cfg.Data, databaseName))
	if err != nil {
		return err
	}
	defer st.Close()
	if cfg.Demo {
		n, err := demo.Fill(ctx, st, time.Now())
		if err != nil {
			return fmt.Errorf("fill the demo: %w", err)
		}
		if err := demo.Propose(ctx, st, n.ID); err != nil {
			return fmt.Errorf("propose the demo's line-up: %w", err)
		}
		if err := demo.ProposeRoster(ctx, st, n.ID); err != nil {
			return fmt.Errorf("propose the demo's roster: %w", err)
		}
		if err := demo.LayOut(ctx, st, n.ID); err != nil {
			return fmt.Errorf("lay out the demo's field: %w", err)
		}
	}
	site := web.Config{Store: st, Clock: time.Now, Logger: logger, Demo: cfg.Demo, Version: version(), Forecast: cfg.Forecast, Proxies: cfg.Proxies, Origin: cfg.Origin}
	if !cfg.Demo {
		site.Accounts = &web.Accounts{Store: st, PlainCookies: cfg.InsecureCookies}
		if site.Accounts.SetupToken, err = firstStart(ctx, st); err != nil {
			return err
		}
	}
	handler, err := web.New(site)
	if err != nil {
		return err
	}
	if cfg.MetricsAddr != "" {
		m := &meter{since: time.Now()}
		handler = m.count(handler)
		if err := serveMetrics(ctx, cfg.MetricsAddr, m, logger); err != nil {
			return err
		}
	}
	ln, err := net.Listen("tcp", cfg.Addr)
	if err != nil {
		return fmt.Errorf("listen on %s (is another server running there? --addr chooses another): %w", cfg.Addr, err)
	}
	address := cfg.scheme() + "://" + browserAddr(ln.Addr())
	if ln, err = cfg.withTLS(ln); err != nil {
		return err
	}
	if cfg.BackupDir != "" && !cfg.Demo {
		ctx, stop := context.WithCancel(ctx)
		var copying sync.WaitGroup
		copying.Go(func() { backupEach(ctx, st, cfg.BackupDir, cfg.BackupKeep, logger) })
		defer copying.Wait() // before the store is closed
		defer stop()
	}
	{
		ctx, stop := context.WithCancel(ctx)
		var tidying sync.WaitGroup
		tick := time.NewTicker(24 * time.Hour)
		tidying.Go(func() { tidyEach(ctx, st, time.Now, tick.C, logger) })
		defer tidying.Wait() // before the store is closed
		defer tick.Stop()
		defer stop()
	}
	fmt.Fprintf(stdout, "Duskboard is ready: open %s in a browser. Ctrl-C stops it.\n", address)
	if site.Accounts != nil && site.Accounts.SetupToken != "" {
		// The one place where the token is seen. On a restart there is a new one.
		logger.Warn("there is no account yet: make the first one here, once", "link", address+"/setup/"+site.Accounts.SetupToken)
	}
	return listen(ctx, ln, handler, logger)
}

// firstStart returns a token for the setup link while there is no account.
func firstStart(ctx context.Context, st *store.Store) (string, error) {
	all, err := st.Accounts(ctx)
	if err != nil || len(all) > 0 {
		return "", err
	}
	return account.NewToken(), nil
}

// timeLimits end the connections of clients that send or read too slowly.
type timeLimits struct{ ReadHeader, Read, Write, Idle time.Duration }

// limits are those of the server; a test cuts them down.
var limits = timeLimits{ReadHeader: 5 * time.Second, Read: 30 * time.Second, Write: 60 * time.Second, Idle: 2 * time.Minute}

// listen serves until ctx ends, then lets requests under way finish.
func listen(ctx context.Context, ln net.Listener, h http.Handler, logger *slog.Logger) error {
	srv := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: limits.ReadHeader,
		ReadTimeout:       limits.Read,
		WriteTimeout:      limits.Write,
		IdleTimeout:       limits.Idle,
		MaxHeaderBytes:    1 << 16,
		ErrorLog:          slog.NewLogLogger(logger.Handler(), slog.LevelWarn),
	}
	failed := make(chan error, 1)
	go func() { failed <- srv.Serve(ln) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	drain, cancel := context.WithTimeout(context.WithoutCancel(ctx), drainTime)
	defer cancel()
	if err := srv.Shutdown(drain); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("stop: %w", err)
	}
	return nil
}

// browserAddr turns an address that listens everywhere into one that a
// browser on this machine can open.
func browserAddr(a net.Addr) string {
	host, port, err := net.SplitHostPort(a.String())
	if err != nil {
		return a.String()
	}
	if ip := net.ParseIP(host); ip == nil || ip.IsUnspecified() {
		host = "localhost"
	}
	return net.JoinHostPort(host, port)
}
