package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"time"

	"duskboard/cmd/duskboard/demo"
	"duskboard/internal/store"
	"duskboard/internal/weather"
	"duskboard/web"
)

// databaseName is the file inside the data folder.
const databaseName = "club.db"

// drainTime is how long requests under way may take once the server stops.
const drainTime = 10 * time.Second

// settings are what the server reads from flags and the environment, once.
type settings struct {
	Addr string
	Data string
	Demo bool
	// Forecast is asked for weather when somebody presses the button; nil in
	// the demo and when it is off.
	Forecast weather.Provider
}

func parseSettings(args []string, env func(string) string, stderr io.Writer) (settings, error) {
	s := settings{Addr: env("DUSKBOARD_ADDR"), Data: env("DUSKBOARD_DATA")}
	if s.Addr == "" {
		s.Addr = "127.0.0.1:8080"
	}
	if s.Data == "" {
		s.Data = "data"
	}
	f := flag.NewFlagSet("serve", flag.ContinueOnError)
	f.SetOutput(stderr)
	forecast := forecastFlags(f, env)
	f.StringVar(&s.Addr, "addr", s.Addr, "address to listen on (DUSKBOARD_ADDR)")
	f.StringVar(&s.Data, "data", s.Data, "folder that holds the club's data (DUSKBOARD_DATA)")
	f.BoolVar(&s.Demo, "demo", false, "an invented club with a planned night, in a temporary folder")
	if err := f.Parse(args); err != nil {
		return s, fmt.Errorf("%w: %v", errUsage, err)
	}
	if f.NArg() > 0 {
		return s, fmt.Errorf("%w: unexpected word %q", errUsage, f.Arg(0))
	}
	var err error
	s.Forecast, err = forecast.provider(s.Demo)
	return s, err
}

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
	}
	handler, err := web.New(web.Config{Store: st, Clock: time.Now, Logger: logger, Demo: cfg.Demo, Version: version(), Forecast: cfg.Forecast})
	if err != nil {
		return err
	}
	ln, err := net.Listen("tcp", cfg.Addr)
	if err != nil {
		return fmt.Errorf("listen on %s (is another server running there? --addr chooses another): %w", cfg.Addr, err)
	}
	fmt.Fprintf(stdout, "Duskboard is ready: open http://%s in a browser. Ctrl-C stops it.\n", browserAddr(ln.Addr()))
	return listen(ctx, ln, handler, logger)
}

// listen serves until ctx ends, then lets requests under way finish.
func listen(ctx context.Context, ln net.Listener, h http.Handler, logger *slog.Logger) error {
	srv := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       2 * time.Minute,
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
