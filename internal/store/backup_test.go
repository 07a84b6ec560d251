package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store"
)

// TestBackupWhileWritingIsWhole copies again and again while somebody writes.
// Each write makes two rows in one transaction (a night and the first entry of
// its history), so a copy that caught half of one would show.
func TestBackupWhileWritingIsWhole(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s := openAt(t, filepath.Join(dir, "club.db"))
	n := aNight(t, s)

	stop := make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() {
		for {
			select {
			case <-stop:
				return
			default:
				x := n
				x.ID = 0
				if err := s.SaveNight(ctx, &x); err != nil {
					t.Error(err)
					return
				}
			}
		}
	})
	var copies []string
	for i := range 5 {
		file := filepath.Join(dir, "copy"+string(rune('a'+i)))
		must(t, s.Backup(ctx, file))
		copies = append(copies, file)
	}
	close(stop)
	wg.Wait()

	for _, file := range copies {
		c := openAt(t, file)
		nights, err := c.Count(ctx, "nights")
		must(t, err)
		entries, err := c.Count(ctx, "night_log")
		must(t, err)
		if nights == 0 || nights != entries {
			t.Errorf("%s has %d nights and %d entries, want as many", file, nights, entries)
		}
	}
	wantKind(t, s.Backup(ctx, copies[0]), fault.Conflict, "backup over a file that is there")
	if left, _ := filepath.Glob(filepath.Join(dir, "*.part*")); left != nil {
		t.Errorf("half copies are left: %v", left)
	}
	if err := s.Backup(ctx, filepath.Join(dir, "no", "such", "folder")); err == nil {
		t.Error("a backup into a folder that is not there returned no error")
	}
}

func TestBackupIsOnePrivateFile(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s := openAt(t, filepath.Join(dir, "club.db"))
	aSite(t, s)
	file := filepath.Join(dir, "copy")
	must(t, s.Backup(ctx, file))
	if all, _ := filepath.Glob(file + "*"); len(all) != 1 {
		t.Errorf("the copy has companions: %v", all)
	}
	for _, f := range []string{file, filepath.Join(dir, "club.db"), filepath.Join(dir, "club.db-wal")} {
		info, err := os.Stat(f)
		must(t, err)
		if info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s may be read by others: %v", f, info.Mode())
		}
	}
}

// names returns the names of all sites of a database.
func names(t *testing.T, path string) (ns []string) {
	t.Helper()
	s := openAt(t, path)
	defer s.Close()
	sites, err := s.Sites(context.Background())
	must(t, err)
	for _, x := range sites {
		ns = append(ns, x.Name)
	}
	return ns
}

func saveSite(t *testing.T, s *store.Store, name string) {
	t.Helper()
	must(t, s.SaveSite(context.Background(), &night.Site{Name: name, Zone: "UTC", Brightness: 20}))
}

// TestRestoreBringsBackAndKeeps goes the whole way: back up, change, restore.
func TestRestoreBringsBackAndKeeps(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	path, file := filepath.Join(dir, "club.db"), filepath.Join(dir, "copy")
	s := openAt(t, path)
	saveSite(t, s, "before")
	must(t, s.Backup(ctx, file))
	saveSite(t, s, "later")

	_, err := store.Restore(ctx, file, path)
	wantKind(t, err, fault.Conflict, "restore while the database is in use")
	must(t, s.Close())
	same(t, "after a refused restore", []string{"before", "later"}, names(t, path))

	kept, err := store.Restore(ctx, file, path)
	must(t, err)
	same(t, "restored", []string{"before"}, names(t, path))
	same(t, "kept", []string{"before", "later"}, names(t, kept))

	again, err := store.Restore(ctx, kept, path)
	must(t, err)
	if again == kept {
		t.Errorf("the second restore kept its own source as %s", again)
	}
	same(t, "restored again", []string{"before", "later"}, names(t, path))

	fresh := filepath.Join(dir, "new.db")
	kept, err = store.Restore(ctx, file, fresh)
	must(t, err)
	if kept != "" {
		t.Errorf("a restore to a new place kept %q", kept)
	}
	same(t, "restored to a new place", []string{"before"}, names(t, fresh))
}

// TestRestoreRefusesBadCopies guards that nothing is touched when the copy
// cannot be used.
func TestRestoreRefusesBadCopies(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	path := filepath.Join(dir, "club.db")
	s := openAt(t, path)
	saveSite(t, s, "mine")
	for range 200 {
		saveSite(t, s, strings.Repeat("filler ", 40)) // several pages, so that there is something to damage
	}
	whole := filepath.Join(dir, "whole")
	must(t, s.Backup(ctx, whole))
	must(t, s.Close())
	bytes, err := os.ReadFile(whole)
	must(t, err)

	file := func(name string, b []byte) string {
		f := filepath.Join(dir, name)
		must(t, os.WriteFile(f, b, 0o600))
		return f
	}
	damaged := append([]byte(nil), bytes...)
	for i := 8 * 4096; i < len(damaged); i++ {
		damaged[i] ^= 0x5a
	}
	newer := filepath.Join(dir, "newer")
	must(t, os.WriteFile(newer, bytes, 0o600))
	n := openAt(t, newer)
	must(t, n.Exec(ctx, "INSERT INTO goose_db_version (version_id, is_applied) VALUES (9000, 1)"))
	must(t, n.Close())

	for name, c := range map[string]struct {
		file string
		kind fault.Kind
	}{
		"missing":        {filepath.Join(dir, "nowhere"), fault.NotFound},
		"empty":          {file("empty", nil), fault.Invalid},
		"text":           {file("text", []byte(strings.Repeat("not a database ", 400))), fault.Invalid},
		"damaged":        {file("damaged", damaged), fault.Invalid},
		"half":           {file("half", bytes[:len(bytes)/2]), fault.Invalid},
		"of a newer one": {newer, fault.Invalid},
	} {
		t.Run(name, func(t *testing.T) {
			kept, err := store.Restore(ctx, c.file, path)
			wantKind(t, err, c.kind, "restore")
			if kept != "" {
				t.Errorf("a refused restore kept %s", kept)
			}
		})
	}
	if left, _ := filepath.Glob(path + "*"); len(left) != 1 {
		t.Errorf("refused restores left files: %v", left)
	}
	if ns := names(t, path); len(ns) != 201 {
		t.Errorf("the database has %d sites after refused restores, want 201", len(ns))
	}
	if _, err := store.Restore(ctx, newer, path); !errors.Is(err, store.ErrNewer) {
		t.Errorf("a newer copy is refused with %v", err)
	}
}

// TestRestoreOverADamagedDatabaseKeepsItAsItIs also puts a log beside the
// damaged file, which must not be played into the restored one.
func TestRestoreOverADamagedDatabaseKeepsItAsItIs(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	path, file := filepath.Join(dir, "club.db"), filepath.Join(dir, "copy")
	s := openAt(t, path)
	saveSite(t, s, "before")
	must(t, s.Backup(ctx, file))
	must(t, s.Close())
	wreck := []byte(strings.Repeat("wreck", 1000))
	must(t, os.WriteFile(path, wreck, 0o600))
	must(t, os.WriteFile(path+"-wal", wreck, 0o600))

	if _, err := store.Open(ctx, path); err == nil || !strings.Contains(err.Error(), "restore a backup") {
		t.Errorf("a wreck is opened with %v, want a word on restoring", err)
	}
	kept, err := store.Restore(ctx, file, path)
	must(t, err)
	got, err := os.ReadFile(kept)
	must(t, err)
	if string(got) != string(wreck) {
		t.Error("the damaged file was not kept as it was")
	}
	same(t, "restored", []string{"before"}, names(t, path))
}

func TestDoctorSaysWhatIsWrong(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	path := filepath.Join(dir, "club.db")
	bad := func(path string) (names []string) {
		for _, c := range store.Doctor(ctx, path) {
			if c.Words == "" {
				t.Errorf("check %s says nothing", c.Name)
			}
			if !c.OK {
				names = append(names, c.Name)
			}
		}
		return names
	}
	same(t, "no database yet", []string(nil), bad(path))
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		t.Error("the doctor made a database")
	}
	s := openAt(t, path)
	same(t, "in use", []string(nil), bad(path))
	for range 200 {
		saveSite(t, s, strings.Repeat("filler ", 40))
	}
	must(t, s.Exec(ctx, "INSERT INTO goose_db_version (version_id, is_applied) VALUES (9000, 1)"))
	same(t, "newer", []string{"version"}, bad(path))
	must(t, s.Exec(ctx, "DELETE FROM goose_db_version WHERE version_id = 9000"))
	must(t, s.Exec(ctx, "PRAGMA foreign_keys = OFF"))
	must(t, s.Exec(ctx, "INSERT INTO eyepieces VALUES (77, 25, 50, 0, '', 0, '', 0)"))
	same(t, "a link to nowhere", []string{"integrity"}, bad(path))
	must(t, s.Close())

	b, err := os.ReadFile(path)
	must(t, err)
	for i := len(b) - 8*4096; i < len(b); i++ {
		b[i] ^= 0x5a
	}
	must(t, os.WriteFile(path, b, 0o600))
	same(t, "damaged", []string{"integrity"}, bad(path))
	same(t, "no folder", []string{"free space", "folder"}, bad(filepath.Join(dir, "no", "club.db")))
}
