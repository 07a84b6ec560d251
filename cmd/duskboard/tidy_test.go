package main

import (
	"bytes"
	"context"
	"log/slog"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store"
)

// TestTidyAtStartAndDaily lets a given clock run: what lies in the bin stays
// its 30 days, is deleted by the next round, and no name is in the log.
func TestTidyAtStartAndDaily(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	st, err := store.Open(ctx, filepath.Join(t.TempDir(), "club.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	site := night.Site{Name: "Old field", Zone: "UTC", Brightness: 20, Retired: true}
	if err := st.SaveSite(ctx, &site); err != nil {
		t.Fatal(err)
	}
	v := crew.Volunteer{Name: "Zoë Quillfeather", Retired: true}
	if err := st.SaveVolunteer(ctx, &v); err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	clock, tick := make(chan time.Time), make(chan time.Time)
	done := make(chan struct{})
	go func() {
		defer close(done)
		tidyEach(ctx, st, func() time.Time { return <-clock }, tick, slog.New(slog.NewTextHandler(&log, nil)))
	}()
	start := time.Now()
	clock <- start // the round at the start
	tick <- start
	clock <- start.Add(29 * 24 * time.Hour)
	tick <- start // taken only when the round before is over
	if _, err := st.Site(ctx, site.ID); err != nil {
		t.Errorf("after 29 days the site is gone: %v", err)
	}
	clock <- start.Add(31 * 24 * time.Hour)
	tick <- start
	if _, err := st.Site(ctx, site.ID); fault.KindOf(err) != fault.NotFound {
		t.Errorf("after 31 days: %v", err)
	}
	if v, err := st.Volunteer(ctx, v.ID); err != nil || !v.Forgotten {
		t.Errorf("after 31 days: %+v, %v", v, err)
	}
	stop()
	clock <- start // the round that the last tick began
	<-done
	if !strings.Contains(log.String(), "deleted=2") || strings.Contains(log.String(), "Quillfeather") {
		t.Errorf("the log says %s", log.String())
	}
}
