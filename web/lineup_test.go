package web_test

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// boarded is a visitor before a night of two instruments with a line-up set by
// hand, so that no better proposal changes what these tests are about.
func boarded(t *testing.T) *visitor {
	t.Helper()
	v := visit(t)
	v.board()
	return v
}

// board makes the night of boarded.
func (v *visitor) board() {
	v.t.Helper()
	v.save("/sites", "Name", "Heron Meadow", "Lat", "52.5163 N", "Lon", "13.3777 E", "Step", "4")
	v.save("/kit/instruments", "Design", "newtonian", "Aperture", "8 in", "FocalLength", "f/6", "Mount", "rocker-box", "Name", "The Barrel")
	v.save("/kit/instruments", "Design", "achromat", "Aperture", "100", "FocalLength", "f/8", "Mount", "alt-az-hand", "Name", "Sparrow")
	v.save("/kit/eyepieces", "FocalLength", "25", "ApparentField", "52", "Barrel", "1.25in", "Count", "2", "Name", "Plain")
	v.save("/kit/eyepieces", "FocalLength", "12", "ApparentField", "60", "Barrel", "1.25in", "Name", "Sharp")
	v.save("/nights", "Date", "2026-09-19", "Site", "1", "From", "20:00", "To", "22:30", "Guests", "80", "Audience", "adults", "Block", "15")
	for _, x := range []struct{ instrument, target, from, to string }{{"1", "m13", "2", "5"}, {"1", "m57", "5", "8"}, {"2", "m31", "2", "6"}, {"2", "m15", "6", "9"}} {
		v.save("/nights/1/line-up/showings", "instrument", x.instrument, "target", x.target, "from", x.from, "to", x.to)
	}
}

// showing finds a showing again by its id.
func (v *visitor) showing(id int64) (lineup.Showing, bool) {
	for _, x := range v.plan().Showings {
		if x.ID == id {
			return x, true
		}
	}
	return lineup.Showing{}, false
}

// part asks as the script does: the answer is the part of the page that changes.
func (v *visitor) part(path string, pairs ...string) page {
	v.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	req, err := http.NewRequest(http.MethodPost, v.base+path, strings.NewReader(form.Encode()))
	if err != nil {
		v.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("HX-Request", "true")
	return v.do(req)
}

func placePath(x lineup.Showing, do string) string {
	return fmt.Sprintf("/nights/1/line-up/showings/%d/%s", x.ID, do)
}

// blocksOf are the blocks of 15 minutes that a showing covers.
func blocksOf(p night.Plan, x lineup.Showing) (from, to int) {
	return int(x.From.Sub(p.Night.PublicFrom) / p.Night.Block), int(x.To().Sub(p.Night.PublicFrom) / p.Night.Block)
}

// TestMoveSaysWhatItCosts guards that a change by hand is saved, names its
// cost, and that the cost said is the difference of the two scores on the page.
func TestMoveSaysWhatItCosts(t *testing.T) {
	v := boarded(t)
	p := v.plan()
	x := p.Showings[0]
	from, to := blocksOf(p, x)
	if to-from < 2 {
		t.Fatalf("the first showing has %d blocks", to-from)
	}
	before := v.get("/nights/1/line-up").testid("score")
	got := v.part(placePath(x, "place"), "span", fmt.Sprintf("%d-%d", from, to-1), "version", fmt.Sprint(p.LineUpVersion)).wants(http.StatusOK)
	says := got.testid("says")
	var b, a float64
	fmt.Sscan(before, &b)
	fmt.Sscan(got.testid("score"), &a)
	if !strings.Contains(says, "look") {
		t.Fatalf("says %q", says)
	}
	var cost float64
	if _, rest, ok := strings.Cut(says, "This costs "); ok {
		fmt.Sscan(rest, &cost)
	} else if _, rest, ok := strings.Cut(says, "This gains "); ok {
		fmt.Sscan(rest, &cost)
		cost = -cost
	}
	// Both scores and the cost are rounded to whole looks.
	if d := b - a - cost; d < -1 || d > 1 {
		t.Errorf("score %v, then %v, but %q", b, a, says)
	}
	now, ok := v.showing(x.ID)
	if nf, nt := blocksOf(p, now); !ok || nf != from || nt != to-1 {
		t.Errorf("stored blocks %d to %d, want %d to %d", nf, nt, from, to-1)
	}
	if picked := got.testid("picked"); !strings.Contains(picked, "Longer") {
		t.Errorf("the moved showing is not selected: %q", picked)
	}

	// Only asked, not done.
	v1 := v.plan().LineUpVersion
	try := v.part(placePath(x, "place"), "span", fmt.Sprintf("%d-%d", from, to), "try", "1").wants(http.StatusOK)
	if !strings.Contains(text(try.root), "look") || v.plan().LineUpVersion != v1 {
		t.Errorf("a trial says %q and leaves version %d, want %d", text(try.root), v.plan().LineUpVersion, v1)
	}
	// Beyond the public hours.
	v.part(placePath(x, "place"), "span", "8-99").wants(http.StatusUnprocessableEntity)
	v.part(placePath(x, "place"), "span", "5-5").wants(http.StatusUnprocessableEntity)
}

// TestStaleChange guards that a change decided on before an older line-up does
// nothing, says so, and leads to the new one, with and without the script.
func TestStaleChange(t *testing.T) {
	v := boarded(t)
	p := v.plan()
	x, old := p.Showings[0], fmt.Sprint(p.LineUpVersion)
	v.save(placePath(x, "pin"), "pinned", "1", "version", old)
	for _, c := range []struct {
		path  string
		pairs []string
	}{
		{placePath(x, "pin"), []string{"pinned", "0"}}, {placePath(x, "remove"), nil}, {placePath(x, "forbid"), nil},
		{placePath(x, "place"), []string{"span", "0-1"}}, {placePath(x, "swap"), []string{"with", fmt.Sprint(p.Showings[1].ID)}},
		{"/nights/1/line-up/undo", nil}, {"/nights/1/line-up/clear", nil}, {"/nights/1/line-up/propose", nil},
	} {
		for _, send := range []func(string, ...string) page{v.part, v.post} {
			got := send(c.path, append(c.pairs, "version", old)...).wants(http.StatusConflict)
			refused := got.testid("refused")
			if !strings.Contains(refused, "Somebody else") || !strings.Contains(refused, "Not done") {
				t.Errorf("%s: %q does not say what was not done", c.path, refused)
			}
			if len(got.all(func(n *html.Node) bool { return n.Data == "a" && attr(n, "href") == "/nights/1/line-up" })) == 0 {
				t.Errorf("%s: no way to the new line-up", c.path)
			}
		}
	}
	now, _ := v.showing(x.ID)
	if got := v.plan(); !now.Pinned || len(got.Showings) != len(p.Showings) || got.LineUpVersion != p.LineUpVersion+1 {
		t.Errorf("refused changes left version %d (want %d) and %+v", got.LineUpVersion, p.LineUpVersion+1, now)
	}
	v.part("/nights/1/line-up/showings/9999/pin").wants(http.StatusNotFound)
}

// TestSwapForbidAndUndo walks the other changes and takes all of them back.
func TestSwapForbidAndUndo(t *testing.T) {
	v := boarded(t)
	first := v.plan()
	// Two at one instrument, one after the other: they change their order.
	var a, b lineup.Showing
	for _, x := range first.Showings {
		for _, y := range first.Showings {
			if x.InstrumentID == y.InstrumentID && x.To().Equal(y.From) && a.ID == 0 {
				a, b = x, y
			}
		}
	}
	if a.ID == 0 {
		t.Fatal("no two showings follow each other")
	}
	v.save(placePath(a, "swap"), "with", fmt.Sprint(b.ID))
	a2, _ := v.showing(a.ID)
	b2, _ := v.showing(b.ID)
	if !b2.From.Equal(a.From) || !a2.To().Equal(b.To()) || a2.Length != a.Length || b2.Length != b.Length {
		t.Errorf("swapped: %v+%v and %v+%v", b2.From, b2.Length, a2.From, a2.Length)
	}
	// Across two instruments.
	var c lineup.Showing
	for _, x := range v.plan().Showings {
		if x.InstrumentID != a.InstrumentID {
			c = x
		}
	}
	v.save(placePath(a2, "swap"), "with", fmt.Sprint(c.ID))
	a3, _ := v.showing(a.ID)
	c3, _ := v.showing(c.ID)
	if a3.InstrumentID != c.InstrumentID || c3.InstrumentID != a2.InstrumentID || !a3.From.Equal(c.From) || !c3.From.Equal(a2.From) {
		t.Errorf("swapped across: %+v and %+v", a3, c3)
	}
	// Never here: gone, remembered, and not proposed again.
	v.save(placePath(a3, "forbid"))
	v.save("/nights/1/line-up/propose")
	for _, x := range v.plan().Showings {
		if x.InstrumentID == a3.InstrumentID && x.TargetID == a3.TargetID {
			t.Error("proposed where it is not wanted")
		}
	}
	v.save("/nights/1/line-up/allow", "instrument", fmt.Sprint(a3.InstrumentID), "target", a3.TargetID)
	if f := v.plan().Forbidden; len(f) != 0 {
		t.Errorf("still forbidden: %v", f)
	}
	for range 5 { // allow, propose, forbid, swap, swap: each is one step
		v.save("/nights/1/line-up/undo")
	}
	got := v.plan()
	for i, x := range first.Showings {
		if got.Showings[i] != x {
			t.Errorf("after all is taken back showing %d is %+v, want %+v", i, got.Showings[i], x)
		}
	}
}

// TestPinnedDoesNotGiveWay guards that a move over a pinned showing is refused
// by name.
func TestPinnedDoesNotGiveWay(t *testing.T) {
	v := boarded(t)
	p := v.plan()
	var a, b lineup.Showing
	for _, x := range p.Showings {
		for _, y := range p.Showings {
			if x.InstrumentID == y.InstrumentID && x.To().Equal(y.From) {
				a, b = x, y
			}
		}
	}
	v.save(placePath(b, "pin"), "pinned", "1")
	from, to := blocksOf(p, a)
	got := v.part(placePath(a, "place"), "span", fmt.Sprintf("%d-%d", from, to+1)).wants(http.StatusUnprocessableEntity)
	if s := got.testid("refused"); !strings.Contains(s, "pinned") {
		t.Errorf("refused with %q", s)
	}
	v.save(placePath(b, "pin"), "pinned", "0")
	got = v.part(placePath(a, "place"), "span", fmt.Sprintf("%d-%d", from, to+1)).wants(http.StatusOK)
	if s := got.testid("says"); !strings.Contains(s, "begins at") && !strings.Contains(s, "gives way") {
		t.Errorf("says %q, not what gave way", s)
	}
}

// TestConflictIsNamed makes two instruments show one target at once, which is
// against the rule for all but the Moon and bright planets.
func TestConflictIsNamed(t *testing.T) {
	v := boarded(t)
	var a, b lineup.Showing
	for _, x := range v.plan().Showings {
		if x.TargetID != "moon" && x.TargetID != "saturn" && x.TargetID != "jupiter" {
			a = x
		}
	}
	for _, x := range v.plan().Showings {
		if x.InstrumentID != a.InstrumentID {
			b = x
		}
	}
	p := v.plan()
	from, to := blocksOf(p, a)
	got := v.part("/nights/1/line-up/showings", "instrument", fmt.Sprint(b.InstrumentID), "target", a.TargetID, "from", fmt.Sprint(from), "to", fmt.Sprint(to)).wants(http.StatusOK)
	if s := got.testid("says"); !strings.Contains(s, "Conflict:") {
		t.Errorf("says %q without naming the conflict", s)
	}
	if s := got.testid("conflicts"); !strings.Contains(s, "instrument at once") {
		t.Errorf("conflicts: %q", s)
	}
}

// TestBoardWithoutScript guards that the selected showing, its view and every
// change are there as links and forms.
func TestBoardWithoutScript(t *testing.T) {
	v := boarded(t)
	x := v.plan().Showings[0]
	p := v.get(fmt.Sprintf("/nights/1/line-up?show=%d", x.ID)).wants(http.StatusOK)
	for _, want := range []string{"place", "pin", "remove", "forbid", "swap"} {
		if len(p.all(having("action", placePath(x, want)))) == 0 {
			t.Errorf("no form to %s", want)
		}
	}
	if len(p.all(having("class", "window"))) == 0 {
		t.Error("the board does not show when the target is possible")
	}
	for _, want := range []string{"Moon", "Sunset", "Gate 20:00", "End 22:30"} {
		if !strings.Contains(text(p.root), want) {
			t.Errorf("the axis does not say %q", want)
		}
	}
	if p.testid("flow") == "" || !strings.Contains(p.testid("without"), "Sparrow") {
		t.Errorf("flow %q, without an instrument %q", p.testid("flow"), p.testid("without"))
	}
	sound(t, "line-up", p)
}

// TestVersions keeps a line-up, changes it, compares and brings it back.
func TestVersions(t *testing.T) {
	v := boarded(t)
	first := v.plan()
	v.post("/nights/1/line-up/versions", "name", "  ").wants(http.StatusUnprocessableEntity)
	v.save("/nights/1/line-up/versions", "name", "As agreed", "version", fmt.Sprint(first.LineUpVersion))
	if p := v.post("/nights/1/line-up/versions", "name", "As agreed").wants(http.StatusUnprocessableEntity); p.fault("name") == "" {
		t.Error("a second one of the same name is not refused at its field")
	}
	v.save(placePath(first.Showings[0], "remove"))
	p := v.get("/nights/1/line-up/versions/1").wants(http.StatusOK)
	if s := p.testid("differs"); !strings.Contains(s, "where nothing was") {
		t.Errorf("differs: %q", s)
	}
	sound(t, "version", p)
	sound(t, "versions", v.get("/nights/1/line-up/versions"))
	v.save("/nights/1/line-up/versions/1/restore", "version", fmt.Sprint(v.plan().LineUpVersion))
	if got := v.plan().Showings; len(got) != len(first.Showings) || got[0] != first.Showings[0] {
		t.Errorf("brought back %+v", got)
	}
	if s := v.get("/nights/1/line-up/versions/1").testid("differs"); s != "" {
		t.Errorf("after it is brought back it still differs: %q", s)
	}
	v.save("/nights/1/line-up/versions/1/forget")
	v.get("/nights/1/line-up/versions/1").wants(http.StatusNotFound)
}

// TestReplanPage shows what would change before it is taken, then takes it.
func TestReplanPage(t *testing.T) {
	v := boarded(t)
	before := v.plan()
	sound(t, "replan", v.get("/nights/1/line-up/replan").wants(http.StatusOK))
	q := "from=21:00&out=2&cloud-from=&cloud-to=&cloud-below=&seeing=&guests="
	p := v.get("/nights/1/line-up/replan?" + q).wants(http.StatusOK)
	if s := p.testid("replanned"); !strings.Contains(s, "What would change from 21:00") || !strings.Contains(s, "Sparrow, 21:00") {
		t.Fatalf("replanned: %q", s)
	}
	if v.plan().LineUpVersion != before.LineUpVersion {
		t.Error("looking at it has changed the line-up")
	}
	v.save("/nights/1/line-up/replan", append(formOf(p), "out", "2")...)
	cut := before.Night.PublicFrom.Add(4 * before.Night.Block)
	for _, x := range v.plan().Showings {
		if x.InstrumentID == 2 && x.To().After(cut) {
			t.Errorf("the instrument that is out still shows %s until %v", x.TargetID, x.To())
		}
	}
	for _, bad := range []string{"from=soon", "from=21:00&cloud-from=90", "from=21:00&cloud-from=x&cloud-to=400", "from=21:00&seeing=-1", "from=21:00&guests=0.5"} {
		r := v.get("/nights/1/line-up/replan?" + bad).wants(http.StatusUnprocessableEntity)
		if r.faults() == "" {
			t.Errorf("%s: refused without a word", bad)
		}
	}
}

// TestLongLinesAreRelieved guards that a line of more than 20 minutes brings a
// proposal, and that the looks for each guest shrink when an instrument drops
// out. Two showings for 900 guests can only be short: an hour at 45 seconds a
// look or more is at most 80 looks at each.
func TestLongLinesAreRelieved(t *testing.T) {
	v := boarded(t)
	if s := v.get("/nights/1/line-up").testid("flow"); !strings.Contains(s, "Looks for each guest") || !strings.Contains(s, "Longest line") {
		t.Errorf("flow: %q", s)
	}
	v.save("/nights", "Date", "2026-09-19", "Site", "1", "From", "20:00", "To", "22:30", "Guests", "900", "Audience", "adults", "Block", "15")
	for _, x := range []struct{ instrument, target string }{{"1", "m13"}, {"2", "m31"}} {
		v.save("/nights/2/line-up/showings", "instrument", x.instrument, "target", x.target, "from", "2", "to", "6")
	}
	both := v.get("/nights/2/line-up")
	if s := both.testid("proposals"); !strings.Contains(s, "line for") || !strings.Contains(s, "helps") && !strings.Contains(s, "helper") {
		t.Errorf("proposals: %q", s)
	}
	perGuest := func(p page) (x float64) {
		fmt.Sscan(strings.TrimPrefix(p.testid("flow"), "Looks for each guest"), &x)
		return x
	}
	v.save("/nights/2/line-up/showings/" + fmt.Sprint(lastShowing(v, 2)) + "/remove")
	if a, b := perGuest(both), perGuest(v.get("/nights/2/line-up")); !(b < a) || a > 2*80.0/900 {
		t.Errorf("%.1f looks for each guest with two instruments, %.1f with one", a, b)
	}
}

// lastShowing is the id of a night's last showing.
func lastShowing(v *visitor, nightID int64) int64 {
	v.t.Helper()
	p, err := v.store.Plan(context.Background(), nightID)
	if err != nil || len(p.Showings) == 0 {
		v.t.Fatal(err, len(p.Showings))
	}
	return p.Showings[len(p.Showings)-1].ID
}

// TestWeakestPoint: praise is no weakness: where nothing is weak the column
// says so, with the factor that comes nearest and its number.
func TestWeakestPoint(t *testing.T) {
	v := planned(t, 0)
	p := v.get("/nights/1/line-up").wants(http.StatusOK)
	all := text(p.root)
	for _, row := range p.all(tag("tr")) {
		for _, praise := range []string{" Guests like it.", "clear of the outline.", " A favourite of guests."} {
			if strings.HasSuffix(text(row), praise) {
				t.Errorf("praise stands as the weakest point: %q", text(row))
			}
		}
	}
	if !strings.Contains(all, "nothing weak (least: ") {
		t.Error("no showing says that nothing is weak")
	}
}
