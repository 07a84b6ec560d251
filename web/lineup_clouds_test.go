package web_test

import (
	"net/http"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"duskboard/internal/account"
	"duskboard/internal/catalog"
	"duskboard/internal/night"
)

// TestDrawnCloud: each part of the drawn sky has its box; what is ticked covers
// the targets behind it, is drawn covered, and is what is taken.
func TestDrawnCloud(t *testing.T) {
	v := boarded(t)
	p := v.get("/nights/1/line-up/replan").wants(http.StatusOK)
	if boxes, cells := p.all(having("name", "sky")), p.all(having("class", "cloud-cell")); len(boxes) != 24 || len(cells) != 24 {
		t.Fatalf("%d boxes and %d parts of the sky, want 8 directions of 3 heights", len(boxes), len(cells))
	}
	// Everything but the overhead is covered, all round.
	q := "from=20:00&seeing=&guests="
	for _, d := range "01234567" {
		q += "&sky=" + string(d) + "-0&sky=" + string(d) + "-1"
	}
	p = v.get("/nights/1/line-up/replan?" + q).wants(http.StatusOK)
	if n := len(p.all(having("class", "cloud-cell covered"))); n != 16 {
		t.Errorf("%d parts are drawn covered, want 16", n)
	}
	if !strings.Contains(p.testid("replanned"), "cloud hides it") {
		t.Errorf("replanned: %q", p.testid("replanned"))
	}
	kept := 0
	take := p.all(func(n *html.Node) bool {
		return n.Data == "input" && attr(n, "name") == "sky" && attr(n, "type") == "hidden"
	})
	kept = len(take)
	if kept != 16 {
		t.Errorf("taking it sends %d of 16 parts", kept)
	}
	form := []string{"from", "20:00", "version", p.value("version")}
	for _, n := range take {
		form = append(form, "sky", attr(n, "value"))
	}
	v.save("/nights/1/line-up/replan", form...)
	plan := v.plan()
	sh, err := night.Build(plan, catalog.Default())
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range plan.Showings {
		target, _ := sh.Target(x.TargetID)
		if alt := sh.Sky.At(catalog.ObjectOf(target), x.From.Add(x.Length/2)).AltRefracted; alt < 60 {
			t.Errorf("%s at %.0f degrees stands behind the cloud", x.TargetID, alt)
		}
	}
	for _, bad := range []string{"8-0", "0-3", "x", "1", "-1-0"} {
		if r := v.get("/nights/1/line-up/replan?from=20:00&sky=" + bad).wants(http.StatusUnprocessableEntity); r.faults() == "" {
			t.Errorf("%s: refused without a word", bad)
		}
	}
}

// TestViewersSeeNoButtons: who may look at a line-up and not change it is
// offered no form that would be refused, and no link to one.
func TestViewersSeeNoButtons(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	ada.board()
	ada.save("/nights/1/line-up/versions", "version", ada.get("/nights/1/line-up").value("version"), "name", "First idea")
	vi := g.member(ada, "Vi", account.Viewer)
	for _, path := range []string{"/nights/1/line-up", "/nights/1/line-up?show=1", "/nights/1/line-up/showings/1", "/nights/1/line-up/versions", "/nights/1/line-up/versions/1", "/nights/1/fits", "/nights/1/why?instrument=1&target=m13", "/nights/1/buy"} {
		p := vi.get(path).wants(http.StatusOK)
		for _, f := range p.all(func(n *html.Node) bool { return n.Data == "form" && strings.EqualFold(attr(n, "method"), "post") }) {
			if a := attr(f, "action"); a != "/theme" && a != "/sign-out" {
				t.Errorf("%s: a viewer is offered to post to %s", path, a)
			}
		}
		for _, a := range p.all(tag("a")) {
			if to := attr(a, "href"); strings.Contains(to, "/line-up/new") || strings.Contains(to, "/replan") {
				t.Errorf("%s: a viewer is led to %s", path, to)
			}
		}
		if len(ada.get(path).all(func(n *html.Node) bool { return n.Data == "form" })) == 0 {
			t.Errorf("%s: the coordinator has no form either; the test says nothing", path)
		}
	}
}
