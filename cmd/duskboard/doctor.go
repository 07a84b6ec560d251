package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"duskboard/internal/store"
)

// doctor checks the machine and the data and says what to do about each fault.
func doctor(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) error {
	database, _, err := dataFlags("doctor", args, env, stderr)
	if err != nil {
		return err
	}
	bad := 0
	say := func(name string, ok bool, words string) {
		mark := "ok   "
		if !ok {
			mark, bad = "FAULT", bad+1
		}
		fmt.Fprintf(stdout, "%s  %-14s %s\n", mark, name, words)
	}
	_, err = time.LoadLocation("Australia/Lord_Howe")
	say("zone data", err == nil, "built into the program")
	year := time.Now().Year()
	say("clock", year >= 2026 && year <= 2100, fmt.Sprintf("says %s; a wrong clock plans the wrong night", time.Now().Format("2 January 2006 15:04 MST")))
	for _, c := range store.Doctor(ctx, database) {
		say(c.Name, c.OK, c.Words)
	}
	if bad > 0 {
		return errors.New("something needs attention, see above")
	}
	return nil
}
