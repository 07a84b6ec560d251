package web_test

import (
	"net/http"
	"strings"
	"testing"

	"duskboard/internal/account"
)

// TestRightsAreEnforced asks a sample of pages as each kind of person; the walk
// over the table is in rights_test.go.
func TestRightsAreEnforced(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	fill(ada)
	people := map[account.Role]*visitor{
		"": g.browser(), account.Coordinator: ada,
		account.Viewer: g.member(ada, "Vi", account.Viewer), account.Crew: g.member(ada, "Cy", account.Crew),
	}
	const no, sign, ok = http.StatusForbidden, http.StatusSeeOther, http.StatusOK
	for _, c := range []struct {
		path                        string
		stranger, viewer, crew, all int
	}{
		{"/healthz", ok, ok, ok, ok}, {"/sites", sign, ok, ok, ok}, {"/nights/1", sign, ok, ok, ok},
		{"/crew", sign, no, ok, ok}, {"/crew/1", sign, no, no, ok}, {"/sites/1", sign, no, no, ok},
		{"/kit/instruments/1", sign, no, no, ok}, {"/people", sign, no, no, ok}, {"/nights/1/edit", sign, no, no, ok},
		{"/account", sign, ok, ok, ok}, {"/no/such/page", 404, 404, 404, 404},
	} {
		for role, want := range map[account.Role]int{"": c.stranger, account.Viewer: c.viewer, account.Crew: c.crew, account.Coordinator: c.all} {
			if p := people[role].get(c.path); p.status != want {
				t.Errorf("%s as %q: %d, want %d", c.path, role, p.status, want)
			}
		}
	}
	if p := people[account.Crew].post("/crew/1/retire"); p.status != no {
		t.Errorf("retiring a volunteer as crew: %d", p.status)
	}
	if p := people[""].post("/nights/1/retire"); p.status != sign {
		t.Errorf("retiring a night as a stranger: %d", p.status)
	}
	req, err := http.NewRequest(http.MethodHead, people[""].base+"/crew", nil)
	if err != nil {
		t.Fatal(err)
	}
	if p := people[""].do(req); p.status != sign {
		t.Errorf("HEAD /crew as a stranger: %d", p.status)
	}
	for _, path := range []string{"/account", "/people", "/people/1"} {
		sound(t, path, ada.get(path).wants(ok))
	}
	if p := people[account.Viewer].get("/crew"); !strings.Contains(p.testid("error"), "viewer") {
		t.Errorf("the refusal does not say why: %q", p.testid("error"))
	}
}
