package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"runtime"
	"sync/atomic"
	"time"
)

// meter counts what the server did since it started, without addresses, names
// or pages: nothing of a person.
type meter struct {
	since   time.Time
	classes [6]atomic.Int64 // answers by the first digit of their status
	open    atomic.Int64    // requests under way
	nanos   atomic.Int64    // time spent on answers
}

type statusWriter struct {
	http.ResponseWriter
	status int
}

func (w *statusWriter) WriteHeader(status int) {
	if w.status == 0 {
		w.status = status
	}
	w.ResponseWriter.WriteHeader(status)
}

func (w *statusWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// count passes requests on and counts them.
func (m *meter) count(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		start := time.Now()
		sw := &statusWriter{ResponseWriter: w}
		m.open.Add(1)
		defer func() {
			m.open.Add(-1)
			m.nanos.Add(int64(time.Since(start)))
			if sw.status == 0 {
				sw.status = http.StatusOK
			}
			m.classes[min(max(sw.status/100, 0), 5)].Add(1)
		}()
		next.ServeHTTP(sw, r)
	})
}

// ServeHTTP answers the counts as lines of name and number.
func (m *meter) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path != "/metrics" {
		http.NotFound(w, r)
		return
	}
	var mem runtime.MemStats
	runtime.ReadMemStats(&mem)
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	fmt.Fprintf(w, "duskboard_up_seconds %.0f\n", time.Since(m.since).Seconds())
	for class := 1; class <= 5; class++ {
		fmt.Fprintf(w, "duskboard_answers_total{class=\"%dxx\"} %d\n", class, m.classes[class].Load())
	}
	fmt.Fprintf(w, "duskboard_answer_seconds_total %.3f\n", time.Duration(m.nanos.Load()).Seconds())
	fmt.Fprintf(w, "duskboard_requests_open %d\n", m.open.Load())
	fmt.Fprintf(w, "duskboard_goroutines %d\n", runtime.NumGoroutine())
	fmt.Fprintf(w, "duskboard_heap_bytes %d\n", mem.HeapAlloc)
	fmt.Fprintf(w, "duskboard_memory_bytes %d\n", mem.Sys)
}

// serveMetrics answers on an address of its own until ctx ends.
func serveMetrics(ctx context.Context, addr string, m *meter, logger *slog.Logger) error {
	ln, err := net.Listen("tcp", addr)
	if err != nil {
		return fmt.Errorf("listen on %s for metrics: %w", addr, err)
	}
	srv := &http.Server{Handler: m, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, WriteTimeout: 10 * time.Second}
	go func() {
		<-ctx.Done()
		_ = srv.Close() // nothing there is worth waiting for
	}()
	go func() {
		if err := srv.Serve(ln); !errors.Is(err, http.ErrServerClosed) {
			logger.Error("metrics", "err", err)
		}
	}()
	return nil
}
