package web_test

import (
	"net/http"
	"strings"
	"testing"
)

// TestOpenStepsFirst: on a night's first page no step that is done stands
// before one that is open, and none is lost.
func TestOpenStepsFirst(t *testing.T) {
	v := planned(t, 0)
	p := v.get("/nights/1").wants(http.StatusOK)
	steps, done := 0, 0
	for _, list := range p.all(having("data-testid", "todo")) {
		for n := range list.ChildNodes() {
			switch {
			case n.Data != "li":
				continue
			case strings.Contains(attr(n, "class"), "done"):
				done++
			case done > 0:
				t.Errorf("%q is open and stands below what is done", text(n))
			}
			steps++
		}
	}
	if steps != 7 || done == 0 || done == steps {
		t.Errorf("%d steps, %d of them done", steps, done)
	}
}

// TestNobodyFreeOnce: that nobody is free is said once, not of each open post.
func TestNobodyFreeOnce(t *testing.T) {
	v := planned(t, 0)
	v.save("/nights/1/roster/propose")
	p := v.get("/nights/1/roster").wants(http.StatusOK)
	gaps := p.testid("gaps")
	if n := strings.Count(gaps, "missing"); n < 2 {
		t.Fatalf("only %d open posts: %q", n, gaps)
	}
	if n := strings.Count(gaps, "glad to do it and able is free"); n != 1 {
		t.Errorf("said %d times: %q", n, gaps)
	}
}
