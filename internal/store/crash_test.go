package store_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/store"
)

// The crash test runs this test binary a second time as a process that writes
// and tells of each write once it is acknowledged, and kills it.
const (
	crashVariable = "DUSKBOARD_CRASH_DATABASE" // set for the process that writes
	killsVariable = "DUSKBOARD_KILLS"          // how often to kill; 20 unless set
)

func TestMain(m *testing.M) {
	if path := os.Getenv(crashVariable); path != "" {
		fmt.Fprintln(os.Stderr, writeUntilKilled(path))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// writeUntilKilled saves sites and the line-up of night 1 for ever, and prints
// "site ID NAME" or "line-up VERSION" after each save that was acknowledged.
func writeUntilKilled(path string) error {
	ctx := context.Background()
	s, err := store.Open(ctx, path)
	if err != nil {
		return err
	}
	for i := 0; ; i++ {
		x := night.Site{Name: fmt.Sprintf("%d-%d", os.Getpid(), i), Zone: "UTC", Brightness: 20, Notes: strings.Repeat("x", 50*(i%100))}
		if err := s.SaveSite(ctx, &x); err != nil {
			return err
		}
		fmt.Printf("site %d %s\n", x.ID, x.Name)

		p, err := s.Plan(ctx, 1)
		if err != nil {
			return err
		}
		// As many showings as the version says: more than one row in one save.
		want := p.LineUpVersion + 1
		shows := make([]lineup.Showing, want%7)
		for j := range shows {
			shows[j] = lineup.Showing{InstrumentID: 1, TargetID: "moon", From: evening, Length: 600e9}
		}
		v, err := s.SaveShowings(ctx, 1, p.LineUpVersion, shows, "crash")
		if err != nil {
			return err
		}
		fmt.Printf("line-up %d\n", v)
	}
}

// TestAcknowledgedWritesSurviveKill kills a writing process many times, each
// time after another number of acknowledged writes, and then looks for all of
// them. DUSKBOARD_KILLS=100 makes it the long version.
func TestAcknowledgedWritesSurviveKill(t *testing.T) {
	kills := 20
	if v := os.Getenv(killsVariable); v != "" {
		n, err := strconv.Atoi(v)
		must(t, err)
		kills = n
	}
	path := filepath.Join(t.TempDir(), "club.db")
	s := openAt(t, path)
	anInstrument(t, s, "i")
	aNight(t, s)
	must(t, s.Close())

	sites, version := map[int64]string{}, int64(1)
	for i := range kills {
		for _, line := range killedAfter(t, path, 1+i*7%40) {
			var id, v int64
			var name string
			if n, _ := fmt.Sscanf(line, "site %d %s", &id, &name); n == 2 {
				sites[id] = name
			} else if n, _ := fmt.Sscanf(line, "line-up %d", &v); n == 1 {
				version = v
			} else {
				t.Fatalf("the writing process says %q", line)
			}
		}
		check(t, path, sites, version)
	}
	if len(sites) < kills/2 {
		t.Errorf("only %d sites were acknowledged in %d runs", len(sites), kills)
	}
	t.Logf("%d kills: %d sites and %d line-ups acknowledged, all there", kills, len(sites), version-1)
}

// killedAfter starts the writing process, kills it without warning once it
// has acknowledged n writes, and returns all that it acknowledged.
func killedAfter(t *testing.T, path string, n int) (acknowledged []string) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), crashVariable+"="+path)
	var words strings.Builder
	cmd.Stderr = &words
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	lines := bufio.NewReader(out)
	for {
		// What it printed before it died counts as well: read to the end. A
		// line without its end was not wholly said.
		line, err := lines.ReadString('\n')
		if err != nil {
			break
		}
		acknowledged = append(acknowledged, strings.TrimSuffix(line, "\n"))
		if len(acknowledged) == n {
			must(t, cmd.Process.Kill())
		}
	}
	cmd.Wait() // it was killed: always an error
	if words.Len() > 0 {
		t.Fatalf("the writing process failed: %s", words.String())
	}
	if len(acknowledged) < n {
		t.Fatalf("the writing process ended after %d writes, before it was killed", len(acknowledged))
	}
	return acknowledged
}

// check looks for everything acknowledged, and that saves are there whole.
func check(t *testing.T, path string, sites map[int64]string, version int64) {
	t.Helper()
	ctx := context.Background()
	s := openAt(t, path)
	defer s.Close()
	for _, c := range store.Doctor(ctx, path) {
		if !c.OK {
			t.Fatalf("%s: %s", c.Name, c.Words)
		}
	}
	all, err := s.Sites(ctx)
	must(t, err)
	there := map[int64]string{}
	for _, x := range all {
		there[x.ID] = x.Name
	}
	for id, name := range sites {
		if there[id] != name {
			t.Fatalf("site %d was acknowledged as %q and is %q", id, name, there[id])
		}
	}
	p, err := s.Plan(ctx, 1)
	must(t, err)
	// One save may have been kept without its acknowledgement coming through.
	if p.LineUpVersion < version || p.LineUpVersion > version+1 {
		t.Fatalf("line-up %d was acknowledged, %d is there", version, p.LineUpVersion)
	}
	if p.LineUpVersion > 1 && int64(len(p.Showings)) != p.LineUpVersion%7 {
		t.Fatalf("line-up %d has %d showings, half of a save", p.LineUpVersion, len(p.Showings))
	}
}
