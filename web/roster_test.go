package web_test

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"golang.org/x/net/html"

	"duskboard/internal/crew"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// crowded is a night with a line-up and six people, one of them under age, with
// names in several scripts and two of one name.
func crowded(t *testing.T) *visitor {
	t.Helper()
	v := visit(t)
	fill(v) // Noor, who runs rocker boxes, and a night on 19 September 2026
	ctx := context.Background()
	p, err := v.store.Plan(ctx, 1)
	if err != nil {
		t.Fatal(err)
	}
	people := []crew.Volunteer{
		{Name: "نور الهدى", Email: "n@club.example", Phone: "+44 1", Share: true, Skills: []crew.Skill{{Mount: "rocker-box", Level: crew.Alone}}},
		{Name: "Ада Звёздная", Email: "ada@club.example", Phone: "+44 2"},
		{Name: "Bram", Email: "bram@club.example"}, {Name: "Bram"},
		{Name: "Juno", Minor: true, Phone: "+44 3", Share: true},
		{Name: strings.Repeat("星", 200)},
	}
	c := p.Choice()
	for i := range c.Availability {
		c.Availability[i].Answer = crew.Yes
	}
	for i := range people {
		if err := v.store.SaveVolunteer(ctx, &people[i]); err != nil {
			t.Fatal(err)
		}
		a := crew.Availability{VolunteerID: people[i].ID, Answer: crew.Yes}
		if i == 3 {
			a.Answer = crew.NoAnswer
		}
		c.Availability = append(c.Availability, a)
	}
	if err := v.store.SaveChoice(ctx, 1, p.Night.Version, c); err != nil {
		t.Fatal(err)
	}
	show := []lineup.Showing{{InstrumentID: 1, TargetID: "moon", EyepieceID: 2, From: p.Night.PublicFrom, Length: time.Hour}}
	if _, err := v.store.SaveShowings(ctx, 1, p.LineUpVersion, show, "test"); err != nil {
		t.Fatal(err)
	}
	return v
}

func (v *visitor) plan() night.Plan {
	v.t.Helper()
	p, err := v.store.Plan(context.Background(), 1)
	if err != nil {
		v.t.Fatal(err)
	}
	return p
}

func operators(p night.Plan) (out []crew.Duty) {
	for _, d := range p.Duties {
		if d.Role == crew.Operator {
			out = append(out, d)
		}
	}
	return out
}

// TestRosterFromProposalToCancellation goes the way of a coordinator: propose,
// pin, change with a conflict, undo, drop somebody, let somebody step in.
func TestRosterFromProposalToCancellation(t *testing.T) {
	v := crowded(t)
	sound(t, "roster", v.get("/nights/1/roster").wants(http.StatusOK))
	v.save("/nights/1/roster/propose")
	page := v.get("/nights/1/roster").wants(http.StatusOK)
	sound(t, "roster", page)
	if got := page.testid("flash"); !strings.Contains(got, "of the best possible") {
		t.Errorf("flash %q", got)
	}
	ds := operators(v.plan())
	if len(ds) != 1 {
		t.Fatalf("operators %+v, want one", ds)
	}
	path := fmt.Sprintf("/nights/1/roster/duties/%d", ds[0].ID)
	sound(t, "duty", v.get(path).wants(http.StatusOK))
	v.save(path+"/pin", "pinned", "1")
	v.save("/nights/1/roster/propose")
	if got := operators(v.plan()); len(got) != 1 || !got[0].Pinned || got[0].VolunteerID != ds[0].VolunteerID {
		t.Errorf("the pinned duty became %+v", got)
	}

	// Ада cannot run the Barrel: refused in words, set when asked for again.
	from, to := fmt.Sprint(ds[0].From.Unix()), fmt.Sprint(ds[0].To().Unix())
	form := []string{"person", "3", "post", "operator-1", "from", from, "to", to}
	before := len(v.plan().Duties)
	if p := v.post("/nights/1/roster/check", form...).wants(http.StatusOK); !strings.Contains(text(p.root), "does not run The Barrel") {
		t.Errorf("at once: %q", text(p.root))
	}
	others := slices.DeleteFunc(v.plan().Duties, func(d crew.Duty) bool { return d.VolunteerID == 3 })
	if _, err := v.store.SaveDuties(context.Background(), 1, v.plan().RosterVersion, others, "test"); err != nil {
		t.Fatal(err)
	}
	if p := v.post("/nights/1/roster/duties", form...).wants(http.StatusUnprocessableEntity); !strings.Contains(p.testid("verdict"), "does not run The Barrel") || p.value("post") != "operator-1" {
		t.Errorf("refused with %q", p.testid("verdict"))
	}
	v.save("/nights/1/roster/duties", append(form, "force", "1")...)
	if got := v.get("/nights/1/roster").testid("conflicts"); !strings.Contains(got, "does not run The Barrel") {
		t.Errorf("conflicts %q", got)
	}
	// In two places is refused whatever is ticked.
	v.post("/nights/1/roster/duties", append(slices.Clone(form), "force", "1")...).wants(http.StatusUnprocessableEntity)

	entries, err := v.store.Rosters(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	v.save("/nights/1/roster/restore", "entry", fmt.Sprint(entries[2].ID))
	if got := len(v.plan().Duties); got != before {
		t.Errorf("%d duties after undo, want %d", got, before)
	}

	// Whoever runs the Barrel drops out; the other one can step in.
	person := fmt.Sprintf("/nights/1/roster/people/%d", ds[0].VolunteerID)
	to2 := v.save(person + "/drop")
	gone := v.get(to2).wants(http.StatusOK)
	sound(t, "absence", gone)
	if got := gone.testid("unstaffed"); !strings.Contains(got, "nobody to run it") || !strings.Contains(got, "Moon") {
		t.Errorf("the line-up loses %q", got)
	}
	// The way to a new line-up is the one that changes little, with who has
	// gone and what they ran filled in.
	replan := ""
	for _, n := range gone.all(tag("a")) {
		if text(n) == "Re-plan the line-up" {
			replan = attr(n, "href")
		}
	}
	again := v.get(replan).wants(http.StatusOK)
	for name, id := range map[string]int64{"gone": ds[0].VolunteerID, "out": ds[0].InstrumentID} {
		ticked := false
		for _, n := range again.all(having("name", name)) {
			for _, a := range n.Attr {
				ticked = ticked || a.Key == "checked" && attr(n, "type") == "checkbox" && attr(n, "value") == fmt.Sprint(id)
			}
		}
		if !ticked {
			t.Errorf("%s: %s %d is not ticked", replan, name, id)
		}
	}
	if got := operators(v.plan()); len(got) != 0 {
		t.Errorf("still on the roster: %+v", got)
	}
	if p := v.get("/nights/1/line-up"); !strings.Contains(text(p.root), "has nobody to run it") {
		t.Error("the line-up does not say that nobody runs the Barrel")
	}
	var pairs []string
	if offers := gone.all(having("action", person+"/cover")); len(offers) > 0 {
		for i := range offers[0].Descendants() {
			if i.Data == "input" && i.Type == html.ElementNode {
				pairs = append(pairs, attr(i, "name"), attr(i, "value"))
			}
		}
	}
	if len(pairs) == 0 {
		t.Fatalf("nobody is offered: %s", gone.testid("lost"))
	}
	v.save(person+"/cover", pairs...)
	if got := operators(v.plan()); len(got) != 1 || got[0].VolunteerID == ds[0].VolunteerID {
		t.Errorf("after somebody stepped in: %+v", got)
	}
	v.save("/nights/1/roster/clear")
	if got := v.plan().Duties; len(got) != 0 {
		t.Errorf("cleared, but %+v", got)
	}
}

// TestCallListKeepsContacts guards that a contact is printed only for those
// who allow it, and never for the young.
func TestCallListKeepsContacts(t *testing.T) {
	v := crowded(t)
	p := v.get("/nights/1/roster/call-list").wants(http.StatusOK)
	sound(t, "call list", p)
	for _, c := range []struct {
		what string
		want bool
	}{{"+44 1", true}, {"+44 2", false}, {"ada@club.example", false}, {"+44 3", false}} {
		if got := strings.Contains(p.body, html.EscapeString(c.what)); got != c.want {
			t.Errorf("%s on the list: %v, want %v", c.what, got, c.want)
		}
	}
}

var personal = regexp.MustCompile(`http://[^/]+(/c/[A-Za-z0-9_-]{22})`)

// link makes a personal link as the coordinator does.
func (v *visitor) link(id int) string {
	v.t.Helper()
	m := personal.FindStringSubmatch(v.post(fmt.Sprintf("/crew/%d/link", id)).wants(http.StatusOK).testid("link"))
	if m == nil {
		v.t.Fatal("no link is shown")
	}
	return m[1]
}

// TestPersonalLink goes the way of a volunteer on a phone without a script.
func TestPersonalLink(t *testing.T) {
	v := crowded(t)
	path := v.link(2)
	p := v.get(path).wants(http.StatusOK)
	sound(t, "own page", p)
	if got := p.header.Get("Referrer-Policy"); got != "no-referrer" {
		t.Errorf("referrer policy %q gives the token away", got)
	}
	if strings.Contains(p.body, `href="/nights"`) || !strings.Contains(p.body, "geo:52.51") || strings.Contains(p.body, "//www.") {
		t.Error("the page leads to the planners' pages, or has no place, or asks somebody else")
	}
	before := v.plan()
	at := before.Night.PublicFrom.Add(30 * time.Minute)
	form := []string{"answer", "maybe", "from", fmt.Sprint(at.Unix()), "to", "", "ride", "2", "place", "محطة", "wish", "greeter", "wishes", "بعد الثامنة"}
	v.save(path+"/nights/1", form...)
	now := v.plan()
	i := slices.IndexFunc(now.Availability, func(a crew.Availability) bool { return a.VolunteerID == 2 })
	if a := now.Availability[i]; a.Answer != crew.Maybe || !a.From.Equal(at) || !a.To.IsZero() || a.Wishes != "بعد الثامنة" {
		t.Errorf("kept %+v", a)
	}
	lifts, err := v.store.Lifts(context.Background(), 1)
	if err != nil || len(lifts) != 1 || lifts[0] != (crew.Lift{VolunteerID: 2, Seats: 2, Place: "محطة", Wish: crew.Greeter}) {
		t.Errorf("lifts %+v, %v", lifts, err)
	}
	if now.Night.Version == before.Night.Version {
		t.Error("a coordinator with the answers open would overwrite this one")
	}
	for _, bad := range [][]string{{"answer", "often"}, {"answer", "yes", "from", "17"}, {"answer", "yes", "ride", "99"}, {"answer", "yes", "wish", "king"},
		{"answer", "yes", "from", fmt.Sprint(at.Unix()), "to", fmt.Sprint(at.Unix())}, {"answer", "yes", "wishes", strings.Repeat("x", 201)}} {
		v.post(path+"/nights/1", bad...).wants(http.StatusUnprocessableEntity)
	}
	v.get("/c/" + strings.Repeat("A", 22)).wants(http.StatusNotFound)
	v.save("/crew/2/link/revoke")
	v.get(path).wants(http.StatusNotFound)
	v.post(path+"/nights/1", form...).wants(http.StatusNotFound)
	if strings.Contains(v.log.String(), strings.TrimPrefix(path, "/c/")) {
		t.Error("the token stands in the log")
	}
}

func TestReminders(t *testing.T) {
	v := crowded(t)
	p := v.get("/nights/1/answers").wants(http.StatusOK)
	sound(t, "answers", p)
	letters := v.post("/nights/1/answers/remind").wants(http.StatusOK)
	sound(t, "reminders", letters)
	if got := letters.testid("letters"); !strings.Contains(got, "Hello Bram") || strings.Count(got, "/c/") != 1 || strings.Contains(got, "Noor") {
		t.Errorf("letters %q, want one to the Bram who has not answered", got)
	}
	m := personal.FindStringSubmatch(letters.testid("letters"))
	v.get(m[1]).wants(http.StatusOK)
	// With an address, the mail opens with the whole text.
	one := v.post("/crew/2/link").wants(http.StatusOK)
	for _, n := range one.all(tag("a")) {
		if href := attr(n, "href"); strings.HasPrefix(href, "mailto:") {
			u, err := url.Parse(href)
			if err != nil || u.Opaque != "n@club.example" || !strings.Contains(u.Query().Get("body"), "/c/") {
				t.Errorf("mail %q, %v", href, err)
			}
			return
		}
	}
	t.Error("no mail is offered")
}

// event is a calendar's event, read by rules of RFC 5545 alone: unfold lines
// (3.1), split at the first colon outside quotes, undo the escapes of text
// (3.3.11).
func events(t *testing.T, ics string) []map[string]string {
	t.Helper()
	if strings.Contains(strings.ReplaceAll(ics, "\r\n", ""), "\n") {
		t.Error("a line does not end with CR LF")
	}
	for _, line := range strings.Split(ics, "\r\n") {
		if len(line) > 75 || !utf8.ValidString(line) {
			t.Errorf("line of %d octets, or cut within a letter: %q", len(line), line)
		}
	}
	var out []map[string]string
	for _, line := range strings.Split(strings.ReplaceAll(ics, "\r\n ", ""), "\r\n") {
		name, value, _ := strings.Cut(line, ":")
		name, _, _ = strings.Cut(name, ";")
		switch {
		case line == "BEGIN:VEVENT":
			out = append(out, map[string]string{})
		case len(out) > 0:
			out[len(out)-1][name] = strings.NewReplacer(`\n`, "\n", `\,`, ",", `\;`, ";", `\\`, `\`).Replace(value)
		}
	}
	return out
}

// TestCalendar follows one turn through a change and a cancellation, with a
// parser of its own, and with the icalendar library of Debian where it is.
func TestCalendar(t *testing.T) {
	v := crowded(t)
	v.save("/nights/1/roster/propose")
	who := operators(v.plan())[0].VolunteerID
	path := v.link(int(who))
	night := "/n/1" + strings.Replace(path, "/c/", "/crew/", 1) + ".ics"
	get := func(from string) map[string]string {
		t.Helper()
		p := v.get(from).wants(http.StatusOK)
		if got := p.header.Get("Content-Type"); got != "text/calendar; charset=utf-8" {
			t.Errorf("content type %q", got)
		}
		readByIcalendar(t, p.body)
		es := events(t, p.body)
		if len(es) != 1 {
			t.Fatalf("%d events in %s", len(es), p.body)
		}
		return es[0]
	}
	first := get(night)
	d := v.plan().Duties
	from, to := d[0].From, d[0].To()
	for _, x := range d {
		if x.VolunteerID == who {
			from, to = x.From, x.To()
			break
		}
	}
	for _, x := range d {
		if x.VolunteerID == who && x.To().After(to) {
			to = x.To()
		}
	}
	if first["DTSTART"] != from.UTC().Format("20060102T150405Z") || first["DTEND"] != to.UTC().Format("20060102T150405Z") || first["STATUS"] != "CONFIRMED" {
		t.Errorf("event %v, want %v to %v", first, from, to)
	}
	if !strings.Contains(first["DESCRIPTION"], "The Barrel") {
		t.Errorf("description %q", first["DESCRIPTION"])
	}
	if again := get(path + "/calendar.ics"); again["UID"] != first["UID"] || again["SEQUENCE"] != first["SEQUENCE"] {
		t.Errorf("the subscription has %v, the download %v", again, first)
	}

	// A shorter duty: the same event, with a higher number.
	p := v.plan()
	for i := range p.Duties {
		if p.Duties[i].VolunteerID == who {
			p.Duties[i].Length -= 15 * time.Minute
		}
	}
	if _, err := v.store.SaveDuties(context.Background(), 1, p.RosterVersion, p.Duties, "shorter"); err != nil {
		t.Fatal(err)
	}
	second := get(night)
	if second["UID"] != first["UID"] || !greater(second["SEQUENCE"], first["SEQUENCE"]) || second["DTEND"] == first["DTEND"] {
		t.Errorf("changed: %v after %v", second, first)
	}
	v.save(fmt.Sprintf("/nights/1/roster/people/%d/drop", who))
	third := get(night)
	if third["UID"] != first["UID"] || third["STATUS"] != "CANCELLED" || !greater(third["SEQUENCE"], second["SEQUENCE"]) {
		t.Errorf("dropped out: %v", third)
	}
}

func greater(a, b string) bool { return len(a) > len(b) || len(a) == len(b) && a > b }

// TestCalendarFoldsLongNames puts 200 letters of three octets into a calendar.
func TestCalendarFoldsLongNames(t *testing.T) {
	v := crowded(t)
	ctx := context.Background()
	p := v.plan()
	long := strings.Repeat("星", 200)
	p.Duties = []crew.Duty{
		{VolunteerID: 7, Role: crew.Greeter, From: p.Night.PublicFrom, Length: time.Hour},
		{VolunteerID: 2, Role: crew.Greeter, From: p.Night.PublicFrom, Length: time.Hour},
	}
	if _, err := v.store.SaveDuties(ctx, 1, p.RosterVersion, p.Duties, "test"); err != nil {
		t.Fatal(err)
	}
	body := v.get("/n/1" + strings.Replace(v.link(2), "/c/", "/crew/", 1) + ".ics").wants(http.StatusOK).body
	readByIcalendar(t, body)
	if es := events(t, body); len(es) != 1 || !strings.Contains(es[0]["DESCRIPTION"], "with "+long) {
		t.Errorf("the name does not come back whole: %v", es)
	}
}

// readByIcalendar lets Debian's python3-icalendar read a calendar, where it is
// installed; our own reader above has read it in any case.
func readByIcalendar(t *testing.T, ics string) {
	t.Helper()
	cmd := exec.Command("/usr/bin/python3", "-c", "import sys\ntry:\n import icalendar\nexcept ImportError:\n sys.exit(0)\nc=icalendar.Calendar.from_ical(sys.stdin.buffer.read())\nassert c['version']=='2.0'\nfor e in c.walk('VEVENT'):\n assert e.decoded('dtstart').utcoffset().total_seconds()==0 and e.decoded('dtend')>e.decoded('dtstart') and int(e['sequence'])>=0 and e['uid'], e\n assert not e.errors, e.errors\n")
	cmd.Stdin = strings.NewReader(ics)
	if out, err := cmd.CombinedOutput(); err != nil && !strings.Contains(err.Error(), "no such file") {
		t.Errorf("icalendar: %v\n%s", err, out)
	}
}

// TestSecondDutyIsTold guards that whoever sets a duty on a roster that was
// changed meanwhile is told so once, keeps what they typed, and can set it then.
func TestSecondDutyIsTold(t *testing.T) {
	v := crowded(t)
	v.save("/nights/1/roster/propose")
	d := v.plan().Duties[0]
	path := "/nights/1/roster/duties/" + strconv.FormatInt(d.ID, 10)
	form := formOf(v.get(path).wants(http.StatusOK))
	v.save(path+"/pin", "pinned", "1")
	before := v.plan().Duties
	p := v.post("/nights/1/roster/duties", form...).wants(http.StatusConflict)
	if !strings.Contains(p.faults(), "changed this roster") || p.value("version") == "" {
		t.Errorf("the second is told %q", p.faults())
	}
	if now := v.plan().Duties; len(now) != len(before) || !now[0].Pinned && !before[0].Pinned {
		t.Errorf("the roster was changed: %+v", now)
	}
	again := formOf(p)
	if a, b := strings.Join(again, " "), strings.Join(form, " "); len(again) != len(form) || a == b {
		t.Errorf("the form went from %q to %q; only its version should change", b, a)
	}
	v.save("/nights/1/roster/duties", append(again, "force", "1")...)
}
