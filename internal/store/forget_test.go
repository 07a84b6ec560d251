package store_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/night"
	"duskboard/internal/store"
)

// traces are all that points to one person.
var traces = []string{"Quillfeather", "quill@example.org", "+44 20 5550 777", "needs a lift from Oddington", "gluten", "Oddington"}

// busyVolunteer makes a volunteer who stands everywhere that a name can stand.
func busyVolunteer(t *testing.T, s *store.Store) (night.Night, crew.Volunteer) {
	t.Helper()
	ctx := night.By(context.Background(), "Zoë Quillfeather")
	n := aNight(t, s)
	scope := anInstrument(t, s, "Long Tom")
	v := crew.Volunteer{Name: "Zoë Quillfeather", Email: "quill@example.org", Phone: "+44 20 5550 777", Share: true, Notes: "no gluten", Languages: []string{"en"}}
	must(t, s.SaveVolunteer(ctx, &v))
	scope.OwnerID = v.ID
	must(t, s.SaveInstrument(ctx, &scope))
	plan, err := s.Plan(ctx, n.ID)
	must(t, err)
	must(t, s.SaveChoice(ctx, n.ID, plan.Night.Version, night.Choice{Availability: []crew.Availability{{VolunteerID: v.ID}}}))
	must(t, s.SaveAnswer(ctx, n.ID, crew.Availability{VolunteerID: v.ID, Answer: crew.Yes, Wishes: "needs a lift from Oddington"}, crew.Lift{VolunteerID: v.ID, Needs: true, Place: "Oddington"}))
	duties := []crew.Duty{{VolunteerID: v.ID, Role: crew.Greeter, From: n.PublicFrom, Length: time.Hour}}
	_, err = s.SaveDuties(ctx, n.ID, 1, duties, "set a duty of Zoë Quillfeather")
	must(t, err)
	must(t, s.AddDecision(ctx, n.ID, night.Decision{At: evening, Who: v.Name, Word: night.WordGo}))
	_, err = s.KeepLineUp(ctx, n.ID, 1, "first")
	must(t, err)
	second, err := s.KeepLineUp(ctx, n.ID, 1, "second")
	must(t, err)
	must(t, s.ForgetKept(ctx, n.ID, second))
	must(t, s.SavePacking(ctx, n.ID, night.Packing{Item: "first-aid", VolunteerID: v.ID, Brings: true}))
	must(t, s.AddLink(ctx, v.ID, strings.Repeat("b", 64), evening))
	_, err = s.Import(ctx, "a table", night.Batch{Sites: []night.Site{{Name: "Other", Zone: "UTC", Brightness: 20}}})
	must(t, err)
	return n, v
}

// TestNothingOfAForgottenPersonIsInTheFile reads the database and its log byte
// by byte: after somebody was forgotten, neither holds a trace, empty pages and
// undo steps included.
func TestNothingOfAForgottenPersonIsInTheFile(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "club.db")
	s := openAt(t, path)
	n, v := busyVolunteer(t, s)
	if left := found(t, path); len(left) < 4 {
		t.Fatalf("the test finds only %v before", left)
	}
	left, err := s.ForgetVolunteer(ctx, v.ID, n.Date.AddDays(1))
	must(t, err)
	if len(left) != 0 {
		t.Errorf("told to stand still in %v", left)
	}
	if left := found(t, path); len(left) != 0 {
		t.Errorf("the file still holds %v", left)
	}
	must(t, s.Close())
	if left := found(t, path); len(left) != 0 {
		t.Errorf("the closed file still holds %v", left)
	}
}

// found returns the traces that stand in the database or a file beside it.
func found(t *testing.T, path string) (out []string) {
	t.Helper()
	files, err := filepath.Glob(path + "*")
	must(t, err)
	for _, f := range files {
		b, err := os.ReadFile(f)
		must(t, err)
		for _, x := range traces {
			if bytes.Contains(b, []byte(x)) {
				out = append(out, filepath.Base(f)+": "+x)
			}
		}
	}
	return out
}

// TestForgettingTellsWhereOthersWroteTheName guards that free text is left to a
// person, and named; and that part of a longer word is no name.
func TestForgettingTellsWhereOthersWroteTheName(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	n := aNight(t, s)
	v := crew.Volunteer{Name: "Al", Phone: "5550 777"}
	must(t, s.SaveVolunteer(ctx, &v))
	_, err := s.SaveDuties(ctx, n.ID, 1, nil, "Al steps in for Alma; Al's alignment")
	must(t, err)
	n.Notes = "Al has the key (5550 777). Always."
	must(t, s.SaveNight(ctx, &n))
	left, err := s.ForgetVolunteer(ctx, v.ID, n.Date)
	must(t, err)
	if !slices.Equal(left, []string{"notes of nights"}) {
		t.Errorf("still named in %v", left)
	}
	es, err := s.History(ctx, n.ID)
	must(t, err)
	if !slices.ContainsFunc(es, func(e night.Entry) bool { return e.What == "a volunteer steps in for Alma; a volunteer's alignment" }) {
		t.Errorf("the history says %+v", es)
	}
}

// TestTidyClearsWhatIsOver guards the times that the club set: what is over is
// cleared with a line in the history, what is not stays, and 0 keeps for ever.
func TestTidyClearsWhatIsOver(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "club.db")
	s := openAt(t, path)
	n, v := busyVolunteer(t, s)
	k, err := s.Keeping(ctx)
	must(t, err)
	if k != (night.Keeping{Version: 1, Answers: 12, History: 36}) {
		t.Errorf("a new club keeps %+v", k)
	}
	old := k
	k.Answers, k.History, k.Contacts = 0, 0, 0
	must(t, s.SaveKeeping(ctx, &k))
	if err := s.SaveKeeping(ctx, &old); err == nil {
		t.Error("an older page was saved")
	}
	years := evening.AddDate(20, 0, 0)
	did, err := s.Tidy(ctx, years)
	must(t, err)
	if did.Answers+did.History+did.Contacts != 0 {
		t.Errorf("cleared although kept for ever: %+v", did)
	}
	k.Answers, k.History, k.Contacts = 6, 24, 24
	must(t, s.SaveKeeping(ctx, &k))
	did, err = s.Tidy(ctx, evening.AddDate(0, 6, -2))
	must(t, err)
	if did.Answers+did.History+did.Contacts != 0 {
		t.Errorf("cleared too early: %+v", did)
	}
	did, err = s.Tidy(ctx, evening.AddDate(0, 6, 2))
	must(t, err)
	if did.Answers != 1 || did.History+did.Contacts != 0 {
		t.Errorf("after six months: %+v", did)
	}
	plan, err := s.Plan(ctx, n.ID)
	must(t, err)
	if len(plan.Volunteers) != 1 || len(plan.Duties) != 1 || len(plan.Packing) != 0 || len(plan.Availability) != 1 || plan.Availability[0].Wishes != "" {
		t.Errorf("left of the night: %+v", plan.Availability)
	}
	did, err = s.Tidy(ctx, evening.AddDate(2, 0, 2))
	must(t, err)
	if did.Answers != 0 || did.History != 1 || did.Contacts != 1 {
		t.Errorf("after two years: %+v", did)
	}
	v, err = s.Volunteer(ctx, v.ID)
	must(t, err)
	if v.Email+v.Phone != "" || v.Share || v.Name == "" {
		t.Errorf("contact data: %+v", v)
	}
	es, err := s.History(ctx, n.ID)
	must(t, err)
	for _, e := range es {
		if e.Who != "" && e.Who != night.Keeper {
			t.Errorf("the history still names %q", e.Who)
		}
	}
	if es[0].What != "clear the history, 24 months after the night" {
		t.Errorf("the newest line is %q", es[0].What)
	}
	if did, err = s.Tidy(ctx, evening.AddDate(2, 0, 2)); err != nil || did.Answers+did.History+did.Contacts+len(did.Deleted) != 0 {
		t.Errorf("a second time: %+v, %v", did, err)
	}
	if _, err := s.Undo(ctx, n.ID); err == nil {
		t.Error("there was nothing to undo")
	}
	cs, err := s.Consents(ctx, v.ID)
	must(t, err)
	if len(cs) == 0 || !cs[0].Agreed {
		t.Errorf("consents %+v", cs)
	}
}
