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

// family is one metric with its samples, as the text exposition format has it:
// what it means, what kind of number it is, then a line for each sample.
type family struct {
	name, help, kind string // kind is "counter", which only rises, or "gauge"
	samples          []sample
}

// sample is one number; labels are as they stand in the line, "" for none.
type sample struct {
	labels, value string
}

// textFormat is the kind of answer: the text exposition format, version 0.0.4.
const textFormat = "text/plain; version=0.0.4; charset=utf-8"

// ServeHTTP answers the counts.
func (m *meter) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path != "/metrics" {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", textFormat)
	for _, f := range m.families() {
		fmt.Fprintf(w, "# HELP %s %s\n# TYPE %s %s\n", f.name, f.help, f.name, f.kind)
		for _, s := range f.samples {
			fmt.Fprintf(w, "%s%s %s\n", f.name, s.labels, s.value)
		}
	}
}

// families are all that is counted, with units in their names.
func (m *meter) families() []family {
	var mem runtime.MemStats
	runtime.ReadMemStats(&mem)
	one := func(format string, value any) []sample { return []sample{{value: fmt.Sprintf(format, value)}} }
	answers := family{name: "duskboard_answers_total", help: "Answers since the start, by the class of their status.", kind: "counter"}
	for class := 1; class <= 5; class++ {
		answers.samples = append(answers.samples, sample{fmt.Sprintf(`{class="%dxx"}`, class), fmt.Sprint(m.classes[class].Load())})
	}
	return []family{
		{"duskboard_up_seconds", "Time since the start.", "gauge", one("%.0f", time.Since(m.since).Seconds())},
		answers,
		{"duskboard_answer_seconds_total", "Time spent on all answers since the start.", "counter", one("%.3f", time.Duration(m.nanos.Load()).Seconds())},
		{"duskboard_requests_open", "Requests under way.", "gauge", one("%d", m.open.Load())},
		{"duskboard_goroutines", "Goroutines of the process.", "gauge", one("%d", runtime.NumGoroutine())},
		{"duskboard_heap_bytes", "Memory in use on the heap.", "gauge", one("%d", mem.HeapAlloc)},
		{"duskboard_memory_bytes", "Memory had from the system.", "gauge", one("%d", mem.Sys)},
	}
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
