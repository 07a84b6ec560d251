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

// TestAttendanceAndSeasons goes the way of a coordinator after a night: who was
// there, the hours that follow, as a file, by season or from day to day.
func TestAttendanceAndSeasons(t *testing.T) {
	v := crowded(t)
	ctx := context.Background()
	v.save("/nights", "Date", "2026-08-15", "Site", "1", "From", "21:00", "To", "23:00", "Guests", "20", "Audience", "adults", "Block", "15")
	p, err := v.store.Plan(ctx, 2)
	if err != nil {
		t.Fatal(err)
	}
	ds := []crew.Duty{{VolunteerID: 2, Role: crew.Greeter, From: p.Night.PublicFrom, Length: p.Night.Public}, {VolunteerID: 3, Role: crew.Parking, From: p.Night.PublicFrom, Length: p.Night.Public}}
	if _, err := v.store.SaveDuties(ctx, 2, p.RosterVersion, ds, "test"); err != nil {
		t.Fatal(err)
	}
	page := v.get("/nights/2/attendance").wants(http.StatusOK)
	sound(t, "attendance", page)
	if !strings.Contains(text(page.root), "2:00 h on the roster") {
		t.Error("the hours of the roster are not shown")
	}
	seen := page.value("seen")
	bad := v.post("/nights/2/attendance", "seen", seen, "there-2", "1", "hours-2", "soon", "there-4", "1").wants(http.StatusUnprocessableEntity)
	sound(t, "attendance refused", bad)
	if bad.fault("hours-2") == "" || bad.fault("hours-4") == "" || bad.value("hours-2") != "soon" {
		t.Errorf("faults %q", bad.faults())
	}
	// 2 stayed half an hour longer, 3 did not come, 4 helped without a duty.
	v.save("/nights/2/attendance", "seen", seen, "there-2", "1", "hours-2", "2,5", "there-4", "1", "hours-4", "0:45")
	v.post("/nights/2/attendance", "seen", seen, "there-2", "1").wants(http.StatusConflict)

	table := func(query string) [][]string {
		t.Helper()
		rows, err := csv.NewReader(bytes.NewReader([]byte(v.get("/crew/hours.csv?" + query).wants(http.StatusOK).body))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		return rows
	}
	rows := table("year=2026")
	if len(rows) != 3 || rows[1][0] != "2026" || rows[1][1] != "نور الهدى" || rows[1][3] != "2.50" || rows[2][3] != "0.75" {
		t.Errorf("the file holds %q", rows)
	}
	// A season from September: the night in August belongs to the one before.
	rules := v.get("/crew/rules")
	form := formOf(rules)
	for i := 0; i < len(form); i += 2 {
		if form[i] == "SeasonMonth" {
			form[i+1] = "9"
		}
	}
	v.save("/crew/rules", form...)
	if got := table("year=2026"); len(got) != 1 {
		t.Errorf("season 2026/27 holds a night of August: %q", got)
	}
	if got := table("year=2025"); len(got) != 3 || got[1][0] != "2025/26" {
		t.Errorf("season 2025/26: %q", got)
	}
	if got := table("by=duty&from=2026-08-15&to=2026-08-15"); len(got) != 3 || got[1][0] != "2026-08-15" {
		t.Errorf("from day to day: %q", got)
	}
	sound(t, "hours", v.get("/crew/hours?from=2026-08-01&to=2026-08-31").wants(http.StatusOK))
	if p := v.get("/crew/hours?from=2026-08-31&to=2026-08-01").wants(http.StatusUnprocessableEntity); p.fault("to") == "" {
		t.Error("days the wrong way round are not told")
	}
}

// TestWhoBringsWhat guards the order of who brings a thing: whoever brings it as
// a rule, until they say through their own link that they cannot this time.
func TestWhoBringsWhat(t *testing.T) {
	v := crowded(t)
	form := formOf(v.get("/crew/4").wants(http.StatusOK)) // Bram, who does not run the Barrel
	v.save("/crew/4", append(form, "Brings", "1")...)
	who := func() string {
		t.Helper()
		return v.get("/nights/1/departure").wants(http.StatusOK).row("Bram")
	}
	if got := who(); !strings.Contains(got, "The Barrel") {
		t.Fatalf("Bram's row is %q, want him to bring the Barrel", got)
	}
	if p := v.get("/crew/4"); !strings.Contains(strings.Join(formOf(p), " "), "Brings 1") {
		t.Error("the tick is not kept on the form")
	}
	path := v.link(4)
	p := v.get(path).wants(http.StatusOK)
	sound(t, "own page with kit", p)
	if got := p.testid("bring"); !strings.Contains(got, "The Barrel") {
		t.Errorf("own page: %q", got)
	}
	v.save(path+"/nights/1/packing", "item", "gear-1", "brings", "0")
	if got := who(); strings.Contains(got, "The Barrel") {
		t.Errorf("still %q after he said that he cannot", got)
	}
	v.save(path+"/nights/1/packing", "item", "gear-1", "brings", "1")
	if got := v.get(path).testid("bring"); !strings.Contains(got, "The Barrel") {
		t.Errorf("own page after he said that he can: %q", got)
	}
	v.post(path+"/nights/1/packing", "item", "king", "brings", "1").wants(http.StatusNotFound)
	v.post("/c/"+strings.Repeat("A", 22)+"/nights/1/packing", "item", "gear-1").wants(http.StatusNotFound)
}
