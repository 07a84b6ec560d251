package web_test

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"duskboard/internal/account"
	"duskboard/internal/lineup"
)

// TestHistory guards who changed what, and that an earlier line-up comes back,
// but not over a change that the page did not show.
func TestHistory(t *testing.T) {
	ctx := context.Background()
	g := startGuarded(t, nil)
	ada := g.coordinator()
	fill(ada)
	plan, err := g.store.Plan(ctx, 1)
	if err != nil {
		t.Fatal(err)
	}
	show := []lineup.Showing{{InstrumentID: 1, TargetID: "moon", EyepieceID: 2, From: plan.Night.PublicFrom, Length: plan.Night.Block}}
	v, err := g.store.SaveShowings(ctx, 1, plan.LineUpVersion, show, "show the Moon")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := g.store.SaveShowings(ctx, 1, v, nil, "clear"); err != nil {
		t.Fatal(err)
	}
	p := ada.get("/nights/1/history").wants(http.StatusOK)
	sound(t, "/nights/1/history", p)
	list := p.testid("history")
	if !strings.Contains(list, "Ada") || !strings.Contains(list, "Show the Moon") {
		t.Errorf("the history says %q", list)
	}
	var back string
	for _, n := range p.all(tag("form")) {
		if a := attr(n, "action"); back == "" && strings.HasSuffix(a, "/line-up") {
			back = a // the newest that is not in force
		}
	}
	version := p.value("Version")
	ada.save(back, "Version", version)
	if plan, err = g.store.Plan(ctx, 1); err != nil || len(plan.Showings) != 1 || plan.Showings[0].TargetID != "moon" {
		t.Errorf("brought back: %+v, %v", plan.Showings, err)
	}
	ada.post(back, "Version", version).wants(http.StatusConflict)
	cy := g.member(ada, "Cy", account.Crew)
	cy.get("/nights/1/history").wants(http.StatusOK)
	cy.post(back, "Version", version).wants(http.StatusForbidden)
}

// TestSecondEditorChooses guards that the second of two editors sees both
// versions of every kind of thing that is edited, and can keep either.
func TestSecondEditorChooses(t *testing.T) {
	v := visit(t)
	fill(v)
	for _, c := range []struct {
		path, field, theirs, mine string
		rest                      []string
	}{
		{"/kit/eyepieces/2", "Name", "Theirs", "Mine", []string{"FocalLength", "25", "ApparentField", "52", "Barrel", "1.25in", "Count", "1"}},
		{"/sites/1", "Name", "Theirs", "Mine", []string{"Lat", "52.5163 N", "Lon", "13.3777 E", "Step", "4", "Zone", "Europe/Berlin"}},
		{"/crew/1", "Name", "Theirs", "Mine", nil},
		{"/nights/1/edit", "Name", "Theirs", "Mine", []string{"Date", "2026-09-19", "Site", "1", "From", "20:00", "To", "22:30", "Guests", "80", "Audience", "families", "Block", "15"}},
	} {
		version := v.get(c.path).wants(http.StatusOK).value("Version")
		form := func(version, value string) []string {
			return append([]string{"Version", version, c.field, value}, c.rest...)
		}
		v.save(c.path, form(version, c.theirs)...)
		p := v.post(c.path, form(version, c.mine)...).wants(http.StatusConflict)
		if said := p.testid("conflict"); !strings.Contains(said, c.theirs) || !strings.Contains(said, c.mine) {
			t.Errorf("%s: the page does not show both: %q", c.path, said)
		}
		if p.value(c.field) != c.mine {
			t.Errorf("%s: what was typed is not kept: %q", c.path, p.value(c.field))
		}
		if got := v.get(c.path + "?").value(c.field); got != c.theirs { // the link "take theirs"
			t.Errorf("%s: taking theirs shows %q", c.path, got)
		}
		v.save(c.path, form(p.value("Version"), c.mine)...)
		if got := v.get(c.path).value(c.field); got != c.mine {
			t.Errorf("%s: after keeping mine: %q", c.path, got)
		}
	}
}

// undoOf is the address that the words at the top of a page offer to undo with.
func undoOf(p page) string {
	for _, n := range p.all(tag("form")) {
		if a := attr(n, "action"); strings.HasSuffix(a, "/undo") {
			return a
		}
	}
	p.t.Fatalf("no undo beside %q", p.testid("flash"))
	return ""
}

// TestBroughtBackRosterCanBeUndone guards that bringing back an earlier roster
// offers to undo it, and that this gives the roster that was in force before.
func TestBroughtBackRosterCanBeUndone(t *testing.T) {
	v := crowded(t)
	v.save("/nights/1/roster/propose")
	first := v.plan().Duties
	v.save("/nights/1/roster/clear")
	if len(first) == 0 || len(v.plan().Duties) != 0 {
		t.Fatalf("%d duties proposed, %d after clearing", len(first), len(v.plan().Duties))
	}
	p := v.get("/nights/1/history").wants(http.StatusOK)
	back := ""
	for _, n := range p.all(tag("form")) {
		if a := attr(n, "action"); back == "" && strings.HasSuffix(a, "/roster") {
			back = a // the newest that is not in force
		}
	}
	v.save(back, "Version", strconv.FormatInt(v.plan().RosterVersion, 10))
	if got := v.plan().Duties; len(got) != len(first) {
		t.Errorf("%d duties brought back, want %d", len(got), len(first))
	}
	undo := undoOf(v.get("/nights/1/history"))
	if undo != "/nights/1/roster/undo" {
		t.Errorf("undo by %q", undo)
	}
	v.save(undo)
	if got := v.plan().Duties; len(got) != 0 {
		t.Errorf("after undo there are %d duties, want none as before", len(got))
	}
	v.save("/nights/1/roster/redo")
	if got := v.plan().Duties; len(got) != len(first) {
		t.Errorf("done again: %d duties, want %d", len(got), len(first))
	}
}
