package main

import (
	"context"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"testing"
	"time"

	"duskboard/cmd/duskboard/demo"
	"duskboard/internal/store"
	"duskboard/web"
)

// demoSite is the whole site over the demo's club, without a network.
func demoSite(b *testing.B) http.Handler {
	b.Helper()
	ctx := context.Background()
	st, err := store.Open(ctx, filepath.Join(b.TempDir(), databaseName))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { st.Close() })
	n, err := demo.Fill(ctx, st, time.Now())
	if err != nil {
		b.Fatal(err)
	}
	if err := demo.Propose(ctx, st, n.ID); err != nil {
		b.Fatal(err)
	}
	if err := demo.ProposeRoster(ctx, st, n.ID); err != nil {
		b.Fatal(err)
	}
	h, err := web.New(web.Config{Store: st, Clock: time.Now, Logger: slog.New(slog.DiscardHandler), Demo: true})
	if err != nil {
		b.Fatal(err)
	}
	return h
}

// BenchmarkPages answers each page of the demo's night of eight instruments
// again and again, compressed as a browser asks for it.
func BenchmarkPages(b *testing.B) {
	h := demoSite(b)
	for _, path := range []string{"/nights/1", "/nights/1/line-up", "/nights/1/fits", "/nights/1/sky", "/nights/1/roster", "/nights/1/cards", "/nights/1/departure", "/nights/1/departure/4", "/nights/1/glass", "/nights/1/weather", "/kit"} {
		b.Run(path, func(b *testing.B) {
			var size int
			for b.Loop() {
				req := httptest.NewRequest(http.MethodGet, path, nil)
				req.Header.Set("Accept-Encoding", "gzip")
				rec := httptest.NewRecorder()
				h.ServeHTTP(rec, req)
				if rec.Code != http.StatusOK {
					b.Fatalf("%s: %d", path, rec.Code)
				}
				size = rec.Body.Len()
			}
			b.ReportMetric(float64(size)/1000, "kB/page")
		})
	}
}

// BenchmarkStart opens the store and builds the site, as a start does once the
// club has its data.
func BenchmarkStart(b *testing.B) {
	ctx := context.Background()
	path := filepath.Join(b.TempDir(), databaseName)
	for b.Loop() {
		st, err := store.Open(ctx, path)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := web.New(web.Config{Store: st, Clock: time.Now, Logger: slog.New(slog.DiscardHandler)}); err != nil {
			b.Fatal(err)
		}
		st.Close()
	}
}
