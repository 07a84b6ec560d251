package store_test

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/pressly/goose/v3"

	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/store"
	"duskboard/migrations"
)

// TestMigrationFilesFollowTheRules guards numbering without gaps and the
// comment on top of each file.
func TestMigrationFilesFollowTheRules(t *testing.T) {
	files, err := fs.Glob(migrations.FS, "*.sql")
	must(t, err)
	name := regexp.MustCompile(`^(\d{4})_[a-z0-9_]+\.sql$`)
	for i, f := range files {
		m := name.FindStringSubmatch(f)
		if m == nil || m[1] != fmt.Sprintf("%04d", i+1) {
			t.Errorf("file %d is called %s, want %04d_what_it_does.sql", i+1, f, i+1)
		}
		b, err := fs.ReadFile(migrations.FS, f)
		must(t, err)
		top, _, found := strings.Cut(string(b), "-- +goose Up\n")
		if !found || !strings.HasPrefix(top, "-- Why: ") || !strings.Contains(top, "\n-- Existing rows: ") {
			t.Errorf("%s has no comment on top that says why and what happens to existing rows", f)
		}
		if strings.Contains(string(b), "NO TRANSACTION") {
			t.Errorf("%s does not run in a transaction", f)
		}
	}
	newest, err := store.NewestVersion()
	must(t, err)
	if newest != int64(len(files)) {
		t.Errorf("the newest version is %d of %d files", newest, len(files))
	}
}

// oldDatabase makes a database as the program of an earlier version left it,
// with rows in all its tables, and returns its path.
func oldDatabase(t *testing.T, version int64) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "club.db")
	conn, err := sql.Open("sqlite3", "file:"+path+"?_foreign_keys=true&_journal_mode=WAL")
	must(t, err)
	defer conn.Close()
	conn.SetMaxOpenConns(1)
	g, err := goose.NewProvider(goose.DialectSQLite3, conn, migrations.FS, goose.WithDisableGlobalRegistry(true))
	must(t, err)
	for v := int64(1); v <= version; v++ {
		_, err := g.UpTo(context.Background(), v)
		must(t, err)
		rows, err := os.ReadFile(fmt.Sprintf("testdata/rows_%04d.sql", v))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		must(t, err)
		if _, err := conn.Exec(string(rows)); err != nil {
			t.Fatalf("rows of version %d: %v", v, err)
		}
	}
	return path
}

// TestEveryEarlierVersionComesToTheNewest opens a database of each version,
// with data, and looks for the data through the store.
func TestEveryEarlierVersionComesToTheNewest(t *testing.T) {
	ctx := context.Background()
	newest, err := store.NewestVersion()
	must(t, err)
	for v := int64(1); v <= newest; v++ {
		t.Run(fmt.Sprintf("from %d", v), func(t *testing.T) {
			path := oldDatabase(t, v)
			s := openAt(t, path)

			club, err := s.Club(ctx)
			must(t, err)
			site, err := s.Site(ctx, 5)
			must(t, err)
			if club.Name != "Ash Field Skywatchers" || len(site.Horizon) != 2 || site.Horizon[0].Alt != 6.5 {
				t.Errorf("club %+v and site %+v are not those of version 1", club, site)
			}
			if v >= 3 {
				k, err := s.Kit(ctx, true)
				must(t, err)
				if len(k.Instruments) != 1 || k.Instruments[0].Aperture != 203 || len(k.Finders) != 1 || k.Finders[0].ForID != 11 {
					t.Errorf("kit %+v is not that of version 3", k)
				}
			}
			if v >= 4 {
				checkOldNight(t, s, v)
			}
			if v >= 7 {
				if _, err := s.OwnTarget(ctx, "own-4"); err != nil {
					t.Error(err)
				}
			}
			must(t, s.Close())

			copies, err := filepath.Glob(path + ".before-update-*")
			must(t, err)
			if wantCopy := v < newest; wantCopy != (len(copies) == 1) {
				t.Errorf("copies made before the update: %v", copies)
			}
			for _, c := range copies {
				if got := versionOf(t, c); got != v {
					t.Errorf("the copy has version %d, want %d", got, v)
				}
			}
			// Again: nothing to do, nothing to copy.
			must(t, openAt(t, path).Close())
			again, err := filepath.Glob(path + "*")
			must(t, err)
			if len(again) != 1+len(copies) {
				t.Errorf("a second start left files: %v", again)
			}
		})
	}
}

// checkOldNight looks at the night of version 4, whose line-up is older than
// the history: undo must come back to it.
func checkOldNight(t *testing.T, s *store.Store, v int64) {
	t.Helper()
	ctx := context.Background()
	p, err := s.Plan(ctx, 8)
	must(t, err)
	want := []lineup.Showing{{ID: 21, InstrumentID: 11, TargetID: "moon", EyepieceID: 12, From: evening, Length: 30 * time.Minute, Pinned: true}}
	same(t, "showings", want, p.Showings)
	if len(p.Duties) != 1 || len(p.Forbidden) != 1 || len(p.Kit.Eyepieces) != 1 || len(p.MustShow) != 1 || p.LineUpVersion != 4 || p.CanUndo {
		t.Errorf("plan %+v is not that of version 4", p)
	}
	if v >= 6 && (len(p.Weather.Hours) != 1 || p.Weather.Hours[0].Wind != 2) {
		t.Errorf("weather %+v is not that of version 6", p.Weather)
	}
	if d, ok := p.Decided(); v >= 8 && (!ok || d.Who != "Ada" || p.GoRules.Decide != 690 || len(p.PutOuts) != 1 || !p.PutOuts[0].FanOff || p.PutOuts[0].StorageTemp != nil || len(p.Packing) != 1) {
		t.Errorf("rules %+v, decisions %+v, put-outs %+v and packing %+v are not those of version 8", p.GoRules, p.Decisions, p.PutOuts, p.Packing)
	}
	if v < 8 && p.GoRules.Thresholds != field.DefaultThresholds() {
		t.Errorf("thresholds %+v are not the common ones", p.GoRules.Thresholds)
	}
	if kept, err := s.KeptLineUps(ctx, 8); err != nil || v >= 12 && (len(kept) != 1 || kept[0].Name != "if it clears late" || len(kept[0].Showings) != 1) {
		t.Errorf("kept line-ups %+v (%v) are not those of version 12", kept, err)
	}
	if v >= 17 {
		if len(p.Ground.Features) != 1 || p.Ground.Features[0].Height != 14 || len(p.Places) != 1 || p.Places[0].Number != 4 || p.FieldVersion != 2 || !p.CanUndoPlaces {
			t.Errorf("ground %+v and places %+v are not those of version 17", p.Ground, p.Places)
		}
	}
	_, err = s.SaveShowings(ctx, 8, 4, nil, "clear")
	must(t, err)
	_, err = s.Undo(ctx, 8)
	must(t, err)
	p, err = s.Plan(ctx, 8)
	must(t, err)
	same(t, "showings after undo", want, p.Showings)
	same(t, "forbidden after undo", []lineup.Pair{{InstrumentID: 11, TargetID: "m13"}}, p.Forbidden)
}

func versionOf(t *testing.T, path string) (v int64) {
	t.Helper()
	conn, err := sql.Open("sqlite3", "file:"+path+"?mode=ro")
	must(t, err)
	defer conn.Close()
	must(t, conn.QueryRow("SELECT max(version_id) FROM goose_db_version").Scan(&v))
	return v
}

// TestOpeningTwiceChangesNothing compares the whole content.
func TestOpeningTwiceChangesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "club.db")
	s := openAt(t, path)
	aNight(t, s)
	must(t, s.Close())
	before, err := os.ReadFile(path)
	must(t, err)
	must(t, openAt(t, path).Close())
	after, err := os.ReadFile(path)
	must(t, err)
	if string(before) != string(after) {
		t.Error("opening and closing changed the file")
	}
}

func TestOpenRefusesWhatIsNotItsOwn(t *testing.T) {
	ctx := context.Background()
	write := func(t *testing.T, statements string) string {
		path := filepath.Join(t.TempDir(), "x.db")
		conn, err := sql.Open("sqlite3", "file:"+path)
		must(t, err)
		defer conn.Close()
		_, err = conn.Exec(statements)
		must(t, err)
		return path
	}
	refuse := func(t *testing.T, path string, want error, words string) {
		t.Helper()
		before, err := os.ReadFile(path)
		must(t, err)
		s, err := store.Open(ctx, path)
		if err == nil {
			s.Close()
			t.Fatal("it was opened")
		}
		if (want != nil && !errors.Is(err, want)) || !strings.Contains(err.Error(), words) {
			t.Errorf("got %v, want words like %q", err, words)
		}
		if copies, _ := filepath.Glob(path + ".before*"); copies != nil {
			t.Errorf("a refused database was copied to %v", copies)
		}
		after, err := os.ReadFile(path)
		must(t, err)
		if len(before) != len(after) {
			t.Error("a refused database was changed")
		}
	}
	t.Run("newer", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "club.db")
		s := openAt(t, path)
		must(t, s.Exec(ctx, "INSERT INTO goose_db_version (version_id, is_applied) VALUES (9000, 1)"))
		must(t, s.Close())
		refuse(t, path, store.ErrNewer, "newer version of Duskboard")
	})
	t.Run("another program's", func(t *testing.T) {
		refuse(t, write(t, "CREATE TABLE recipes (x)"), store.ErrForeign, "not one of Duskboard's")
	})
	t.Run("another program's with the same migration tool", func(t *testing.T) {
		refuse(t, write(t, "CREATE TABLE goose_db_version (id INTEGER PRIMARY KEY, version_id INTEGER, is_applied INTEGER); INSERT INTO goose_db_version VALUES (1, 3, 1)"), store.ErrForeign, "not one of Duskboard's")
	})
	t.Run("no database at all", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "x.db")
		must(t, os.WriteFile(path, []byte(strings.Repeat("hello ", 500)), 0o600))
		refuse(t, path, nil, "not a database")
	})
	t.Run("a folder that is not there", func(t *testing.T) {
		if _, err := store.Open(ctx, filepath.Join(t.TempDir(), "no", "club.db")); err == nil {
			t.Error("it was opened")
		}
	})
}

// TestFirstStartMayBeKilled opens what a start leaves that dies before its
// first migration: the migration tool's table and nothing else.
func TestFirstStartMayBeKilled(t *testing.T) {
	path := oldDatabase(t, 0)
	conn, err := sql.Open("sqlite3", "file:"+path)
	must(t, err)
	g, err := goose.NewProvider(goose.DialectSQLite3, conn, migrations.FS)
	must(t, err)
	_, err = g.GetDBVersion(context.Background()) // makes the table
	must(t, err)
	must(t, conn.Close())
	s := openAt(t, path)
	x := night.Site{Name: "x", Zone: "UTC", Brightness: 20}
	must(t, s.SaveSite(context.Background(), &x))
	_, err = s.Night(context.Background(), 1)
	wantKind(t, err, fault.NotFound, "night in an empty database")
}
