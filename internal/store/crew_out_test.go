package store_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/night"
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

// TestImportVolunteers guards that a list comes in whole or not at all, that
// taking it back puts them into the bin, and that whoever was forgotten since
// stays forgotten.
func TestImportVolunteers(t *testing.T) {
	ctx := context.Background()
	s := crewNight(t)
	defer s.Close()
	list := func(vs ...crew.Volunteer) (int64, error) {
		return s.Import(ctx, "volunteers from a table", night.Batch{Volunteers: vs})
	}
	if _, err := list(crew.Volunteer{Name: "Zoë"}, crew.Volunteer{Name: ""}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a nameless one: %v", err)
	}
	all, err := s.Volunteers(ctx)
	must(t, err)
	if len(all) != 1 {
		t.Errorf("%d on the list after a refused import, want 1", len(all))
	}
	// The id of somebody who is there counts for nothing: nobody is changed.
	vs := []crew.Volunteer{{Name: "Zoë", Email: "zoe@club.example", Share: true}, {Name: "Zoë"}, {ID: all[0].ID, Version: all[0].Version, Name: "Kit"}}
	id, err := list(vs...)
	must(t, err)
	if vs[0].ID == 0 || vs[0].ID == vs[1].ID || vs[2].ID == all[0].ID {
		t.Errorf("ids %d, %d and %d", vs[0].ID, vs[1].ID, vs[2].ID)
	}
	if cs, err := s.Consents(ctx, vs[0].ID); err != nil || len(cs) != 1 {
		t.Errorf("what a shared contact agreed to: %+v, %v", cs, err)
	}
	_, err = s.ForgetVolunteer(ctx, vs[1].ID, sky.Date{Year: 2026, Month: 9, Day: 1})
	must(t, err)
	_, err = s.UndoImport(ctx, id)
	must(t, err)
	bin, err := s.Bin(ctx)
	must(t, err)
	var names []string
	for _, b := range bin {
		if b.Kind == night.BinVolunteer {
			names = append(names, b.Name)
		}
	}
	if slices.Sort(names); !slices.Equal(names, []string{"Kit", "Zoë"}) {
		t.Errorf("in the bin: %q", names)
	}
	if v, err := s.Volunteer(ctx, all[0].ID); err != nil || v.Retired || v.Name != all[0].Name {
		t.Errorf("who was there before: %+v, %v", v, err)
	}
	if _, err := s.UndoImport(ctx, id); fault.KindOf(err) != fault.NotFound {
		t.Errorf("taken back twice: %v", err)
	}
	_, err = s.TakeBack(ctx, night.BinVolunteer, vs[0].ID)
	must(t, err)
	if v, err := s.Volunteer(ctx, vs[0].ID); err != nil || v.Retired || v.Email != "zoe@club.example" {
		t.Errorf("taken out of the bin: %+v, %v", v, err)
	}
}
