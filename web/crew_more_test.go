package web_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"duskboard/internal/crew"
)

func TestHoursAndForgetting(t *testing.T) {
	v := crowded(t)
	ctx := context.Background()
	// The night of the tests lies ahead; one in August is past.
	v.save("/nights", "Date", "2026-08-15", "Site", "1", "From", "21:00", "To", "23:00", "Guests", "20", "Audience", "adults", "Block", "15")
	p, err := v.store.Plan(ctx, 2)
	if err != nil {
		t.Fatal(err)
	}
	bad := crew.Volunteer{Name: "=cmd|' /C calc'!A0"}
	if err := v.store.SaveVolunteer(ctx, &bad); err != nil {
		t.Fatal(err)
	}
	ds := []crew.Duty{{VolunteerID: 3, Role: crew.Parking, From: p.Night.PublicFrom, Length: p.Night.Public}, {VolunteerID: bad.ID, Role: crew.Greeter, From: p.Night.PublicFrom, Length: p.Night.Public}}
	if _, err := v.store.SaveDuties(ctx, 2, p.RosterVersion, ds, "test"); err != nil {
		t.Fatal(err)
	}
	page := v.get("/crew/hours?year=2026").wants(http.StatusOK)
	sound(t, "hours", page)
	if got := page.row("Ада"); !strings.HasPrefix(got, "Ада Звёздная 1 2") {
		t.Errorf("hours %q, want one night of 2", got)
	}
	file := v.get("/crew/hours.csv?year=2026").wants(http.StatusOK)
	rows, err := csv.NewReader(bytes.NewReader([]byte(file.body))).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("%q, %v", rows, err)
	}
	for _, r := range rows {
		if strings.HasPrefix(r[1], "=") {
			t.Errorf("%q is a formula", r[1])
		}
	}
	path := v.link(3)
	v.post("/crew/3/forget", "name", "somebody").wants(http.StatusUnprocessableEntity)
	v.get(path).wants(http.StatusOK)
	v.save("/crew/3/forget", "name", "Ада Звёздная")
	v.get(path).wants(http.StatusNotFound)
	if got := v.get("/crew/hours?year=2026").row("a volunteer"); !strings.HasPrefix(got, "a volunteer 1 2") {
		t.Errorf("after forgetting %q", got)
	}
	for _, where := range []string{"/crew", "/nights/1/answers", "/nights/1/roster", "/crew/hours"} {
		if p := v.get(where).wants(http.StatusOK); strings.Contains(p.body, "Ада") || strings.Contains(p.body, "ada@club.example") {
			t.Errorf("%s still names who was forgotten", where)
		}
	}
}

func TestImportCrew(t *testing.T) {
	v := crowded(t)
	ctx := context.Background()
	count := func() int {
		t.Helper()
		all, err := v.store.Volunteers(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return len(all)
	}
	sound(t, "import", v.get("/crew/import").wants(http.StatusOK))
	before := count()
	bad := "name,email\nZoë,zoe@club.example\n,nobody@club.example\n"
	p := v.post("/crew/import", "text", bad, "keep", "1").wants(http.StatusUnprocessableEntity)
	sound(t, "refused import", p)
	if got := p.testid("preview"); !strings.Contains(got, "the name is missing") || count() != before {
		t.Errorf("preview %q, %d on the list, want %d", got, count(), before)
	}
	good := "name,email\nZoë,zoe@club.example\nBram,bram@club.example\nBram,another@club.example\n"
	p = v.post("/crew/import", "text", good).wants(http.StatusOK)
	sound(t, "preview", p)
	if got := p.testid("preview"); !strings.Contains(got, "Left out the same person as Bram on the list") || !strings.Contains(got, "same name as Bram") || count() != before {
		t.Errorf("preview %q", got)
	}
	v.save("/crew/import", "text", good, "keep", "1")
	if got := count(); got != before+2 {
		t.Errorf("%d on the list, want %d", got, before+2)
	}
	// As every table that came in, it can be taken back: now, or for 30 days.
	undo := undoOf(v.get("/crew"))
	if p := v.get("/club/data"); !strings.Contains(p.body, undo) || !strings.Contains(p.body, "Volunteers from a table") {
		t.Errorf("the list of what came in does not offer %s", undo)
	}
	v.save(undo)
	all, err := v.store.Volunteers(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range all {
		if came := x.Name == "Zoë" || x.Email == "another@club.example"; came != x.Retired {
			t.Errorf("after taking it back %s (%s) is retired: %t", x.Name, x.Email, x.Retired)
		}
	}
	if bin := v.get("/bin").wants(http.StatusOK); !strings.Contains(bin.body, "Zoë") {
		t.Error("what came in is not in the bin")
	}
	v.post(undo).wants(http.StatusNotFound)
	v.post("/crew/import", "text", "shoe size\n9\n").wants(http.StatusUnprocessableEntity)
}

func TestCrewRules(t *testing.T) {
	v := crowded(t)
	form := v.get("/crew/rules").wants(http.StatusOK)
	sound(t, "rules", form)
	pairs := formOf(form)
	v.save("/crew/rules", pairs...)
	r, err := v.store.CrewRules(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	want := crew.DefaultRules()
	want.Version = r.Version
	if r != want {
		t.Errorf("saved unchanged: %+v, want the defaults %+v", r, want)
	}
	p := v.post("/crew/rules", append(pairs, "Work", "x")...)
	if p.status != http.StatusConflict { // the form is of the version before
		t.Errorf("an old form: status %d", p.status)
	}
	p = v.post("/crew/rules", "Version", "2", "Work", "5", "PerGreeter", "many").wants(http.StatusUnprocessableEntity)
	if p.fault("Work") == "" || p.fault("PerGreeter") == "" || p.value("PerGreeter") != "many" {
		t.Errorf("faults %q", p.faults())
	}
}
