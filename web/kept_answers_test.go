package web_test

import (
	"context"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/kit"
	"duskboard/internal/store"
	"duskboard/web"
)

// counting counts how often the kit is loaded.
type counting struct {
	*store.Store
	loads atomic.Int64
}

func (c *counting) Kit(ctx context.Context, withRetired bool) (kit.Kit, error) {
	c.loads.Add(1)
	return c.Store.Kit(ctx, withRetired)
}

// TestAnswersAreKept guards that a page is made once for all who ask while
// nothing has changed, and anew after any write: by a form, or by another
// process at the same file.
func TestAnswersAreKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "club.db")
	st, err := store.Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	c := &counting{Store: st}
	v := visitWith(t, st, c)

	v.get("/kit").wants(http.StatusOK)
	first := c.loads.Load()
	var asking sync.WaitGroup
	for range 20 {
		asking.Go(func() {
			resp, err := http.Get(v.base + "/kit")
			if err != nil {
				t.Error(err)
				return
			}
			resp.Body.Close()
		})
	}
	asking.Wait()
	// http.Get asks for compressed pages, v.get does too: one more at most.
	if n := c.loads.Load(); n > first+1 {
		t.Errorf("20 visitors had the kit loaded %d times", n-first)
	}

	other, err := store.Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if err := other.SaveSteps(context.Background(), &kit.Steps{Base: kit.Base{Count: 1, Name: "Milking stool"}, Kind: kit.RailStool, Height: 0.4}); err != nil {
		t.Fatal(err)
	}
	if p := v.get("/kit"); !strings.Contains(p.body, "Milking stool") {
		t.Error("what another process wrote is not seen")
	}
	v.save("/kit/steps", "Kind", string(kit.RailStool), "Name", "Apple box", "Height", "0.3 m")
	if p := v.get("/kit"); !strings.Contains(p.body, "Apple box is in the kit") {
		t.Error("the word about what was saved is not said")
	}
	if p := v.get("/kit"); strings.Contains(p.body, "Apple box is in the kit") {
		t.Error("the word about what was saved is said twice")
	}
}

// TestKeptAnswersAreNotMixedUp guards that nobody gets a page that was made for
// somebody else, or for another theme.
func TestKeptAnswersAreNotMixedUp(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	ben := g.member(ada, "Ben", account.Viewer)
	for range 2 {
		for _, who := range []struct {
			v           *visitor
			name, else_ string
		}{{ada, "Ada", "Ben"}, {ben, "Ben", "Ada"}} {
			p := who.v.get("/kit").wants(http.StatusOK)
			if !strings.Contains(p.body, who.name) || strings.Contains(p.body, who.else_) {
				t.Errorf("%s sees a page of another person", who.name)
			}
		}
	}
	if p := g.browser().get("/kit"); p.status == http.StatusOK {
		t.Error("a stranger gets a page that was kept for members")
	}
	ben.save("/theme", "theme", "lamp", "back", "/kit")
	if p := ben.get("/kit"); !strings.Contains(p.body, `data-theme="lamp"`) {
		t.Error("the lamp's page is the paper's")
	}
	if p := ada.get("/kit"); !strings.Contains(p.body, `data-theme="paper"`) {
		t.Error("the paper's page is the lamp's")
	}
	// A person who is shut out is out at once.
	ada.save("/people/2", "Version", "2", "name", "Ben", "role", "viewer", "closed", "1")
	if p := ben.get("/kit"); p.status == http.StatusOK {
		t.Error("a person without an account any more gets kept pages")
	}
}

// TestKeptAnswersGrowOld guards that pages do not outlive the clock.
func TestKeptAnswersGrowOld(t *testing.T) {
	st, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "club.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	c := &counting{Store: st}
	at := now
	g := startGuarded(t, func(cfg *web.Config) { cfg.Store, cfg.Accounts, cfg.Clock = c, nil, func() time.Time { return at } })
	v := g.browser()
	v.get("/kit").wants(http.StatusOK)
	first := c.loads.Load()
	if v.get("/kit"); c.loads.Load() != first {
		t.Error("the second page was made anew")
	}
	at = at.Add(11 * time.Second)
	if v.get("/kit"); c.loads.Load() == first {
		t.Error("a page of eleven seconds ago was given again")
	}
}
