package store_test

import (
	"context"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/sky"
	"duskboard/internal/store"
)

// crewNight opens the database of version 9, with its volunteer 3 (Ada), night
// 8, one duty, one lift and one link.
func crewNight(t *testing.T) *store.Store {
	t.Helper()
	return openAt(t, oldDatabase(t, 9))
}

func TestRulesLinksAndLiftsOfVersionNine(t *testing.T) {
	ctx := context.Background()
	s := crewNight(t)
	defer s.Close()
	r, err := s.CrewRules(ctx)
	must(t, err)
	if r.Work != 2*time.Hour || r.PerGuide != 0 || r.PerGreeter != 100 || !r.MinorsGuarded || r.Version != 3 {
		t.Errorf("rules %+v are not those of the database", r)
	}
	old := r
	r.PerGreeter = 50
	must(t, s.SaveCrewRules(ctx, &r))
	if err := s.SaveCrewRules(ctx, &old); fault.KindOf(err) != fault.Conflict {
		t.Errorf("rules of an older version are saved: %v", err)
	}
	lifts, err := s.Lifts(ctx, 8)
	must(t, err)
	if len(lifts) != 1 || lifts[0] != (crew.Lift{VolunteerID: 3, Seats: 2, Place: "the station", Wish: crew.Greeter}) {
		t.Errorf("lifts %+v", lifts)
	}
	// SHA-256 of "test", a value that any tool computes.
	v, err := s.LinkOwner(ctx, "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08", time.Now(), true)
	must(t, err)
	if v.Name != "Ada" {
		t.Errorf("the link is %s's", v.Name)
	}
	links, err := s.Links(ctx)
	must(t, err)
	if len(links) != 1 || links[0].Used.IsZero() {
		t.Errorf("links %+v, want one that was used", links)
	}
	must(t, s.RevokeLinks(ctx, 3))
	if _, err := s.LinkOwner(ctx, "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08", time.Now(), false); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a revoked link: %v", err)
	}
}

// TestAnswersRaiseTheNight guards that a coordinator's older page of answers
// cannot be saved over one that came meanwhile.
func TestAnswersRaiseTheNight(t *testing.T) {
	ctx := context.Background()
	s := crewNight(t)
	defer s.Close()
	before, err := s.Plan(ctx, 8)
	must(t, err)
	must(t, s.SaveAnswer(ctx, 8, crew.Availability{VolunteerID: 3, Answer: crew.Maybe}, crew.Lift{VolunteerID: 3, Needs: true}))
	if err := s.SaveChoice(ctx, 8, before.Night.Version, before.Choice()); fault.KindOf(err) != fault.Conflict {
		t.Errorf("the older choice: %v", err)
	}
	if err := s.SaveAnswer(ctx, 8, crew.Availability{VolunteerID: 99, Answer: crew.Yes}, crew.Lift{VolunteerID: 99}); fault.KindOf(err) != fault.NotFound {
		t.Errorf("an answer that nobody asked for: %v", err)
	}
	// Both or neither: an old roster's version keeps the answer as it was.
	if _, err := s.DropOut(ctx, 8, before.RosterVersion+5, crew.Availability{VolunteerID: 3, Answer: crew.No}, crew.Lift{VolunteerID: 3}, nil, "drop"); fault.KindOf(err) != fault.Conflict {
		t.Errorf("dropping out of an older roster: %v", err)
	}
	p, err := s.Plan(ctx, 8)
	must(t, err)
	if p.Availability[0].Answer != crew.Maybe || len(p.Duties) != 1 {
		t.Errorf("%+v, %+v", p.Availability, p.Duties)
	}
}

func TestForgetting(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct {
		name   string
		today  sky.Date
		duties int
	}{{"the night is past", sky.Date{Year: 2026, Month: 11, Day: 1}, 1}, {"the night lies ahead", sky.Date{Year: 2026, Month: 10, Day: 1}, 0}} {
		t.Run(c.name, func(t *testing.T) {
			s := crewNight(t)
			defer s.Close()
			_, err := s.ForgetVolunteer(ctx, 3, c.today)
			must(t, err)
			v, err := s.Volunteer(ctx, 3)
			must(t, err)
			if v.Name != "a volunteer" || !v.Forgotten || !v.Retired || len(v.Skills)+len(v.Roles) != 0 {
				t.Errorf("left: %+v", v)
			}
			served, err := s.Served(ctx, sky.Date{Year: 2026, Month: 1, Day: 1}, sky.Date{Year: 2026, Month: 12, Day: 31})
			must(t, err)
			if len(served) != c.duties {
				t.Errorf("duties left %+v, want %d", served, c.duties)
			}
			for _, d := range served {
				if d.Name != "a volunteer" || d.Length != time.Hour {
					t.Errorf("served %+v", d)
				}
			}
			if lifts, err := s.Lifts(ctx, 8); err != nil || len(lifts) != 0 {
				t.Errorf("lifts %+v, %v", lifts, err)
			}
			if err := s.AddLink(ctx, 3, "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", time.Now()); fault.KindOf(err) != fault.Invalid {
				t.Errorf("a link for who was forgotten: %v", err)
			}
		})
	}
}

func TestImportVolunteersIsAllOrNothing(t *testing.T) {
	ctx := context.Background()
	s := crewNight(t)
	defer s.Close()
	if err := s.ImportVolunteers(ctx, []crew.Volunteer{{Name: "Zoë"}, {Name: ""}}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a nameless one: %v", err)
	}
	all, err := s.Volunteers(ctx)
	must(t, err)
	if len(all) != 1 {
		t.Errorf("%d on the list after a refused import, want 1", len(all))
	}
	vs := []crew.Volunteer{{Name: "Zoë"}, {Name: "Zoë"}}
	must(t, s.ImportVolunteers(ctx, vs))
	if vs[0].ID == 0 || vs[0].ID == vs[1].ID {
		t.Errorf("ids %d and %d", vs[0].ID, vs[1].ID)
	}
}
