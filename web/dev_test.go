package web_test

import (
	"context"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"duskboard/internal/store"
	"duskboard/web"
)

func TestDevServe(t *testing.T) {
	addr := os.Getenv("DUSK_DEV")
	if addr == "" {
		t.Skip("no DUSK_DEV")
	}
	st, err := store.Open(context.Background(), filepath.Join(os.Getenv("DUSK_DATA"), "x.db"))
	if err != nil {
		t.Fatal(err)
	}
	h, err := web.New(web.Config{Store: st, Clock: time.Now, Logger: slog.Default()})
	if err != nil {
		t.Fatal(err)
	}
	t.Fatal(http.ListenAndServe(addr, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Query().Has("lamp") {
			r.AddCookie(&http.Cookie{Name: "theme", Value: "lamp"})
		}
		h.ServeHTTP(w, r)
	})))
}
