package main

import (
	"context"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"duskboard/internal/store"
)

// Names of daily copies: what is rotated is only what has this form, so that
// a copy put there by hand stays.
const (
	copyPrefix = "duskboard-"
	copySuffix = ".db"
	copyStamp  = "20060102T150405Z"
)

// backupEach looks every hour whether a day has passed since the newest copy,
// until ctx ends. A copy that fails is told in the log and tried again.
func backupEach(ctx context.Context, st *store.Store, dir string, keep int, logger *slog.Logger) {
	tick := time.NewTicker(time.Hour)
	defer tick.Stop()
	for {
		if name, err := backupDue(ctx, st, dir, keep, time.Now()); err != nil {
			logger.Error("the daily copy was not made", "folder", dir, "err", err)
		} else if name != "" {
			logger.Info("daily copy made", "file", name)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// backupDue makes a copy when the newest is a day old, then removes the oldest
// beyond keep. It returns the name of the copy, "" when none was due. Old ones
// go only after the new one is there.
func backupDue(ctx context.Context, st *store.Store, dir string, keep int, now time.Time) (string, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("make the folder: %w", err)
	}
	copies, err := dailyCopies(dir)
	if err != nil {
		return "", err
	}
	if n := len(copies); n > 0 {
		newest, err := stampOf(copies[n-1])
		// A newest from the future is a clock that was wrong: copy again.
		if age := now.Sub(newest); err == nil && age >= 0 && age < 24*time.Hour {
			return "", nil
		}
	}
	name := filepath.Join(dir, copyPrefix+now.UTC().Format(copyStamp)+copySuffix)
	if err := st.Backup(ctx, name); err != nil {
		return "", err
	}
	if copies, err = dailyCopies(dir); err != nil {
		return name, err
	}
	for len(copies) > keep {
		if err := os.Remove(filepath.Join(dir, copies[0])); err != nil {
			return name, fmt.Errorf("remove an old copy: %w", err)
		}
		copies = copies[1:]
	}
	return name, nil
}

func stampOf(name string) (time.Time, error) {
	return time.Parse(copyPrefix+copyStamp+copySuffix, name)
}

// dailyCopies returns the names of the copies in a folder, oldest first.
func dailyCopies(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("look for copies: %w", err)
	}
	var names []string
	for _, e := range entries {
		if _, err := stampOf(e.Name()); err == nil && e.Type().IsRegular() && strings.HasSuffix(e.Name(), copySuffix) {
			names = append(names, e.Name())
		}
	}
	slices.Sort(names)
	return names, nil
}
