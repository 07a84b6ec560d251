package store_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store"
)

// fullClub opens a database with rows in all its tables.
func fullClub(t *testing.T) (path string, s *store.Store) {
	t.Helper()
	newest, err := store.NewestVersion()
	must(t, err)
	path = oldDatabase(t, newest)
	s = openAt(t, path)
	aKit(t, s) // the kinds of gear of which the rows of the migrations have none
	return path, s
}

// wholeFile writes a club out.
func wholeFile(t *testing.T, s *store.Store) []byte {
	t.Helper()
	var b bytes.Buffer
	var told int64
	must(t, s.Whole(context.Background(), &b, evening, func(n int64) { told = n }, nil))
	if told != int64(b.Len()) {
		t.Errorf("%d bytes were told, %d came", told, b.Len())
	}
	return b.Bytes()
}

// TestEverythingComesOutAndInAgain takes a club out that has rows in every
// table and reads it into an empty folder: every row of every table is the
// same, whatever tables there are.
func TestEverythingComesOutAndInAgain(t *testing.T) {
	ctx := context.Background()
	path, s := fullClub(t)
	file := wholeFile(t, s)
	must(t, s.Close())
	to := filepath.Join(t.TempDir(), "club.db")
	var rows int64
	must(t, store.ReadWhole(ctx, bytes.NewReader(file), to, func(done, _ int64) { rows = done }))
	left, err := filepath.Glob(to + "*")
	must(t, err)
	if len(left) != 1 {
		t.Errorf("beside the club lie %v", left)
	}
	before, err := store.Dump(ctx, path)
	must(t, err)
	after, err := store.Dump(ctx, to)
	must(t, err)
	if d := cmp.Diff(before, after); d != "" {
		t.Errorf("the club comes back different (-before +after):\n%s", d)
	}
	var all int64
	for name, rs := range before {
		all += int64(len(rs))
		if len(rs) == 0 {
			t.Errorf("table %s is empty: the test needs a row there (testdata/rows_NNNN.sql)", name)
		}
	}
	if rows != all {
		t.Errorf("%d rows were told, there are %d", rows, all)
	}
	for _, secret := range []string{"argon2id", "9f86d081884c7d65"} {
		if bytes.Contains(file, []byte(secret)) {
			t.Errorf("the file holds a secret: %s", secret)
		}
	}
	// The club works: a new row gets an id that none had.
	c := openAt(t, to)
	k, err := c.Kit(ctx, true)
	must(t, err)
	if x := anInstrument(t, c, "New"); len(k.Instruments) == 0 || x.ID <= k.Instruments[0].ID {
		t.Errorf("the new instrument has id %d", x.ID)
	}
}

// TestFilesOfEarlierSchemasAreRead guards files that an earlier version of the
// program wrote: read and updated is the same as updated in place.
func TestFilesOfEarlierSchemasAreRead(t *testing.T) {
	ctx := context.Background()
	newest, err := store.NewestVersion()
	must(t, err)
	for v := int64(1); v < newest; v++ {
		path := oldDatabase(t, v)
		var file bytes.Buffer
		must(t, store.WholeOf(ctx, path, &file, evening))
		to := filepath.Join(t.TempDir(), "club.db")
		must(t, store.ReadWhole(ctx, &file, to, nil))
		must(t, openAt(t, path).Close())
		before, err := store.Dump(ctx, path)
		must(t, err)
		after, err := store.Dump(ctx, to)
		must(t, err)
		for _, d := range []map[string][]string{before, after} { // rows that the update dated itself
			for _, name := range []string{"bin", "consents", "night_log"} {
				d[name] = []string{fmt.Sprint(len(d[name]))}
			}
		}
		if d := cmp.Diff(before, after); d != "" {
			t.Errorf("from schema %d (-updated +read):\n%s", v, d)
		}
	}
}

// TestFilesThatAreNotWholeAreRefused guards that a file with any fault makes
// no club, and that the words say where it is.
func TestFilesThatAreNotWholeAreRefused(t *testing.T) {
	ctx := context.Background()
	_, s := fullClub(t)
	file := string(wholeFile(t, s))
	newest, err := store.NewestVersion()
	must(t, err)
	schema := fmt.Sprintf(`"schema":%d`, newest)
	for name, c := range map[string]struct{ file, says string }{
		"nothing":           {"", "JSON"},
		"another format":    {strings.Replace(file, "duskboard-club/1", "duskboard-night/1", 1), "format"},
		"a newer schema":    {strings.Replace(file, schema, `"schema":9999`, 1), "newer"},
		"cut off":           {file[:len(file)/2], ""},
		"text behind":       {file + "x", ""},
		"a table twice":     {strings.Replace(file, `"sequences"`, `"club":[],"sequences"`, 1), ""},
		"a strange table":   {strings.Replace(file, `"club":[`, `"klub":[`, 1), "klub"},
		"a missing table":   {strings.Replace(file, `"satellites":[`+between(file, `"satellites":[`, "]")+"],\n", "", 1), "satellites"},
		"no settings":       {strings.Replace(file, `"club":[`+between(file, `"club":[`, "\n]"), `"club":[`, 1), "club"},
		"a strange column":  {strings.Replace(file, `"paper":`, `"paper2":`, 1), "paper"},
		"a missing site":    {strings.Replace(file, `"sites":[`+between(file, `"sites":[`, "\n]"), `"sites":[`, 1), ""},
		"a far latitude":    {strings.Replace(file, `"lat":`, `"lat":9`, 1), "sites"},
		"an endless number": {strings.Replace(file, `"lat":`, `"lat":1e309,"x":`, 1), "sites"},
		"no number":         {strings.Replace(file, `"lat":`, `"lat":NaN,"x":`, 1), "JSON"},
		"deep brackets":     {`{"format":` + strings.Repeat("[", 1<<20), "brackets"},
		"one long line":     {`{"format":"` + strings.Repeat("x", 10<<20), "longer"},
	} {
		to := filepath.Join(t.TempDir(), "club.db")
		err := store.ReadWhole(ctx, strings.NewReader(c.file), to, nil)
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
		if left, _ := filepath.Glob(to + "*"); len(left) != 0 {
			t.Errorf("%s: left behind %v", name, left)
		}
	}
	to := filepath.Join(t.TempDir(), "club.db")
	must(t, os.WriteFile(to, []byte("mine"), 0o600))
	if err := store.ReadWhole(ctx, strings.NewReader(file), to, nil); fault.KindOf(err) != fault.Conflict {
		t.Errorf("read over a club: %v", err)
	}
}

// between is what stands between two texts.
func between(s, from, to string) string {
	_, s, _ = strings.Cut(s, from)
	s, _, _ = strings.Cut(s, to)
	return s
}

// TestOnePersonsData guards that the file about a volunteer holds what refers
// to them in every table, with the reasons, and nobody else.
func TestOnePersonsData(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	_, v := busyVolunteer(t, s)
	other := aVolunteer(t, s, "Somebody Else")
	var b bytes.Buffer
	must(t, s.Person(ctx, &b, v.ID))
	var got struct {
		Format, Name string
		Kept         []struct {
			Table, Why string
			Rows       []map[string]any
		}
	}
	must(t, json.Unmarshal(b.Bytes(), &got))
	in := map[string]int{}
	for _, k := range got.Kept {
		in[k.Table] = len(k.Rows)
		if k.Why == "" {
			t.Errorf("%s: no reason is given", k.Table)
		}
	}
	want := []string{"bin", "club_log", "consents", "crew_links", "decisions", "duties", "gear", "imports", "kept_line_ups", "night_lifts", "night_log", "night_volunteers", "packing", "volunteers"}
	if keys := slices.Sorted(maps.Keys(in)); !slices.Equal(keys, want) || in["volunteers"] != 1 {
		t.Errorf("tables %v, want %v", keys, want)
	}
	if got.Name != v.Name || strings.Contains(b.String(), other.Name) || strings.Contains(b.String(), "bbbb") {
		t.Errorf("the file holds what it should not:\n%s", b.String())
	}
	if err := s.Person(ctx, io.Discard, 999); fault.KindOf(err) != fault.NotFound {
		t.Errorf("nobody's data: %v", err)
	}
}

// FuzzReadWhole guards that no file brings the program down, and that a file
// that is taken makes a club that comes out as it went in.
func FuzzReadWhole(f *testing.F) {
	s := openAt(f, filepath.Join(f.TempDir(), "club.db"))
	var b bytes.Buffer
	must(f, s.Whole(context.Background(), &b, evening, nil, nil))
	f.Add(b.String())
	f.Add(`{"format":"duskboard-club/1","schema":1,"made":"","tables":{"club":[{"id":1}]}}`)
	f.Add(`{"format":"duskboard-club/1","schema":-1,"made":"` + strings.Repeat(`\u202e`, 9) + `","tables":{`)
	f.Fuzz(func(t *testing.T, file string) {
		ctx := context.Background()
		to := filepath.Join(t.TempDir(), "club.db")
		if err := store.ReadWhole(ctx, strings.NewReader(file), to, nil); err != nil {
			if _, err := os.Stat(to); err == nil {
				t.Error("a refused file made a club")
			}
			return
		}
		s := openAt(t, to)
		if _, err := s.Club(ctx); err != nil {
			t.Errorf("a club without settings: %v", err)
		}
		must(t, s.Whole(ctx, io.Discard, time.Time{}, nil, nil))
		if _, err := s.Tidy(night.By(ctx, "x"), evening); err != nil {
			t.Error(err)
		}
	})
}
