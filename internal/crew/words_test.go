package crew_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
)

func propose(t *testing.T, s crew.Scene, now ...crew.Duty) crew.Proposal {
	t.Helper()
	p, err := crew.Propose(context.Background(), s, now)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func duty(id, who int64, p crew.Post, from, to int) crew.Duty {
	return crew.Duty{ID: id, VolunteerID: who, Role: p.Role, InstrumentID: p.InstrumentID, From: after(from), Length: time.Duration(to-from) * time.Minute}
}

var barrel = crew.Post{Role: crew.Operator, InstrumentID: 1}

// says fails unless some line holds all the words.
func says(t *testing.T, lines []string, words ...string) {
	t.Helper()
	for _, l := range lines {
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(l, w) }) {
			return
		}
	}
	t.Errorf("no line says %q in:\n%s", words, strings.Join(lines, "\n"))
}

func gapLines(gs []crew.Gap) (out []string) {
	for _, g := range gs {
		out = append(out, g.Words)
	}
	return out
}

func conflictLines(cs []crew.Conflict) (out []string) {
	for _, c := range cs {
		out = append(out, c.Words)
	}
	return out
}

func TestNobodyAndOne(t *testing.T) {
	none := propose(t, small())
	if len(none.Duties) != 0 || none.Short() != 0 {
		t.Errorf("without volunteers: %+v", none)
	}
	says(t, gapLines(none.Gaps), "No one who is there can run The Barrel from 19:30 to 22:00")

	one := propose(t, small(person(1, "Noor", crew.Alone)))
	if len(one.Duties) != 1 || len(one.Gaps) != 0 {
		t.Fatalf("one volunteer has %+v, gaps %v", one.Duties, gapLines(one.Gaps))
	}
	if d := one.Duties[0]; !d.From.Equal(after(-30)) || !d.To().Equal(after(120)) || d.Role != crew.Operator {
		t.Errorf("duty %+v, want the Barrel from its set-up to the end", d)
	}
	if words := one.Gaps; len(words) != 0 {
		t.Error(words)
	}
}

// TestGapsNameWhoCould is the sentence that the issue asks for: an operator
// leaves, and somebody with a like mount could after a training.
func TestGapsNameWhoCould(t *testing.T) {
	s := small(person(1, "Noor", crew.Alone), person(2, "Bram", ""), person(3, "Ilse", ""), person(4, "Otto", ""), person(5, "Lotte", crew.Alone))
	s.Instruments = append(s.Instruments, kit.Instrument{Base: kit.Base{ID: 2, Name: "Sparrow"}, Mount: kit.AltAzHand})
	s.Volunteers[1].Skills = []crew.Skill{{InstrumentID: 2, Level: crew.Alone}}    // moves alike
	s.Volunteers[2].Skills = []crew.Skill{{InstrumentID: 1, Level: crew.Learning}} // learns it
	s.Volunteers[3].Skills = []crew.Skill{{Mount: string(kit.GermanEquatorial), Level: crew.Teacher}}
	s.Availability[0].To = after(60)
	s.Availability[4].Answer = crew.NoAnswer
	p := propose(t, s)
	says(t, gapLines(p.Gaps), "No one who is there can run The Barrel from 21:00 to 22:00", "Bram and Ilse could with 20 minutes' training", "Lotte could, but has not answered yet")
	if u := s.Unstaffed(p.Duties); len(u) != 1 || !strings.Contains(u[0].Words, "from 21:00 to 22:00, when it would show M 13") {
		t.Errorf("showings without an operator: %+v", u)
	}
	s.Shows = s.Shows[:1] // the line-up leaves the last hour out
	says(t, gapLines(s.Parked()), "No one can run The Barrel after 21:00", "2 people could with 20 minutes' training: Bram and Ilse")
}

func TestConflictsInWords(t *testing.T) {
	minor := person(6, "Juno", crew.Alone)
	minor.Minor = true
	bent := person(7, "Wren", "")
	bent.Limits.NoLifting = true
	s := small(person(1, "Noor", crew.Alone), person(2, "Bram", crew.Learning), person(3, "Ines", crew.Alone), person(4, "Otto", crew.Alone), person(5, "Lotte", ""), minor, bent)
	s.Availability[2].To = after(60)
	s.Availability[3].Answer = crew.No
	s.Availability[4].Answer = crew.NoAnswer
	greet := crew.Post{Role: crew.Greeter}
	for _, c := range []struct {
		name  string
		ds    []crew.Duty
		words []string
	}{
		{"in two places", []crew.Duty{duty(1, 1, barrel, 0, 60), duty(2, 1, greet, 30, 90)}, []string{"Noor is in two places from 20:30 to 21:00: The Barrel and greeting"}},
		{"leaves early", []crew.Duty{duty(1, 3, barrel, 0, 120)}, []string{"Ines leaves at 21:00, before The Barrel ends at 22:00"}},
		{"cannot come", []crew.Duty{duty(1, 4, barrel, 0, 120)}, []string{"Otto cannot come"}},
		{"has not answered", []crew.Duty{duty(1, 5, greet, 0, 60)}, []string{"Lotte has not answered yet"}},
		{"learns alone", []crew.Duty{duty(1, 2, barrel, 0, 60)}, []string{"Bram is still learning The Barrel", "from 20:00 to 21:00"}},
		{"cannot", []crew.Duty{duty(1, 7, barrel, 0, 60)}, []string{"Wren does not run The Barrel"}},
		{"does not lift", []crew.Duty{duty(1, 7, crew.Post{Role: crew.SetUp}, -60, 0)}, []string{"Wren does not lift"}},
		{"a minor alone", []crew.Duty{duty(1, 6, barrel, 0, 60)}, []string{"Juno is under age and alone", "your own rules for young people"}},
		{"no break", []crew.Duty{duty(1, 1, greet, -60, 60), duty(2, 1, barrel, 70, 150)}, []string{"Noor works 3 h 30 min without a break"}},
		{"outside the night", []crew.Duty{duty(1, 1, greet, 150, 240)}, []string{"outside the night's work"}},
		{"nobody known", []crew.Duty{duty(1, 99, greet, 0, 60)}, []string{"Somebody who is not asked"}},
	} {
		t.Run(c.name, func(t *testing.T) { says(t, conflictLines(s.Check(c.ds)), c.words...) })
	}
	fine := []crew.Duty{duty(1, 6, barrel, 0, 60), duty(2, 1, crew.Post{Role: crew.Companion, InstrumentID: 1}, 0, 60)}
	if got := conflictLines(s.Check(fine)); len(got) != 0 {
		t.Errorf("a minor in company: %q", got)
	}
	s.Rules.MinorsGuarded = false
	if got := conflictLines(s.Check(fine[:1])); len(got) != 0 {
		t.Errorf("the rule for minors is off: %q", got)
	}
}

// TestProposalsHonourTheRules are the demands one by one.
func TestProposalsHonourTheRules(t *testing.T) {
	t.Run("the owner runs their own", func(t *testing.T) {
		s := small(person(1, "Noor", crew.Alone), person(2, "Ilse", crew.Alone))
		s.Instruments[0].OwnerID = 2
		if d := propose(t, s).Duties; len(d) != 1 || d[0].VolunteerID != 2 {
			t.Errorf("%+v", d)
		}
	})
	t.Run("a learner beside a teacher only", func(t *testing.T) {
		s := small(person(1, "Noor", crew.Teacher), person(2, "Ilse", crew.Learning))
		if d := propose(t, s).Duties; len(d) != 2 {
			t.Errorf("with a teacher: %+v", d)
		}
		s.Volunteers[0].Skills[0].Level = crew.Alone
		if d := propose(t, s).Duties; len(d) != 1 || d[0].VolunteerID != 1 {
			t.Errorf("without a teacher: %+v", d)
		}
	})
	t.Run("no ladder", func(t *testing.T) {
		s := small(person(1, "Noor", crew.Alone))
		s.Volunteers[0].Limits.NoLadder = true
		s.Shows[0].Ladder = true
		if d := propose(t, s).Duties; len(d) != 0 {
			t.Errorf("%+v", d)
		}
	})
	t.Run("breaks", func(t *testing.T) {
		s := small(person(1, "Noor", crew.Alone), person(2, "Ilse", crew.Alone))
		s.Rules.Work, s.Rules.Break = 90*time.Minute, 30*time.Minute
		p := propose(t, s)
		if c := s.Check(p.Duties); len(c) != 0 || len(p.Gaps) != 0 {
			t.Errorf("duties %+v, conflicts %v, gaps %v", p.Duties, conflictLines(c), gapLines(p.Gaps))
		}
	})
	t.Run("a pin stays whatever it breaks", func(t *testing.T) {
		s := small(person(1, "Noor", ""), person(2, "Ilse", crew.Alone))
		s.Availability[0].Answer = crew.No
		pin := duty(7, 1, crew.Post{Role: crew.Greeter}, 0, 30)
		pin.Pinned = true
		p := propose(t, s, pin)
		if !slices.Contains(p.Duties, pin) || len(p.Lost) != 0 || len(p.Duties) != 2 {
			t.Errorf("%+v, lost %+v", p.Duties, p.Lost)
		}
	})
	t.Run("who always parks cars is spared", func(t *testing.T) {
		s := small(person(1, "Noor", ""), person(2, "Ilse", ""))
		s.Shows, s.Guests = nil, 100
		s.Rules = crew.Rules{PerParking: 120, Work: 3 * time.Hour, Break: 15 * time.Minute, Least: 30 * time.Minute, Lead: time.Hour, After: 45 * time.Minute}
		for _, always := range []int64{1, 2} {
			s.Served = []crew.Served{{VolunteerID: always, Role: crew.Parking, Length: 6 * time.Hour}}
			for _, d := range propose(t, s).Duties {
				if d.VolunteerID == always {
					t.Errorf("number %d, who parked for six hours, parks again", always)
				}
			}
		}
	})
	t.Run("across midnight and a clock change", func(t *testing.T) {
		// Berlin sets its clocks back at 01:00 UTC on 25 October 2026 (directive 2000/84/EC).
		s := small(person(1, "Noor", crew.Alone))
		s.Zone = mustZone("Europe/Berlin")
		s.PublicFrom = time.Date(2026, 10, 24, 23, 0, 0, 0, time.UTC)
		s.PublicTo = s.PublicFrom.Add(3 * time.Hour)
		s.Rules.Work = 4 * time.Hour
		s.Shows = []crew.Show{{InstrumentID: 1, Stretch: crew.Stretch{From: s.PublicFrom, To: s.PublicTo}, What: "M 42"}}
		p := propose(t, s)
		if len(p.Duties) != 1 || p.Duties[0].Length != 3*time.Hour+30*time.Minute {
			t.Fatalf("%+v", p.Duties)
		}
		s.Availability[0].Answer = crew.No
		says(t, gapLines(propose(t, s).Gaps), "from 00:30 to 03:00")
	})
	t.Run("there only outside the night", func(t *testing.T) {
		s := small(person(1, "Noor", crew.Alone))
		s.Availability[0].From = after(600)
		if d := propose(t, s).Duties; len(d) != 0 {
			t.Errorf("%+v", d)
		}
	})
}

func TestSomebodyDropsOut(t *testing.T) {
	s := small(person(1, "Noor", crew.Alone), person(2, "Ilse", crew.Alone), person(3, "Otto", crew.Alone), person(4, "Wren", ""))
	s.Lifts = []crew.Lift{{VolunteerID: 1, Seats: 2}, {VolunteerID: 4, Needs: true}}
	ds := []crew.Duty{duty(1, 1, barrel, -30, 60), duty(2, 2, barrel, 60, 120), duty(3, 3, crew.Post{Role: crew.PackDown}, -60, 120)}
	a := s.Drop(ds, 1)
	if len(a.Lost) != 1 || len(a.Left) != 2 || len(a.Unstaffed) != 1 || !strings.Contains(a.Unstaffed[0].Words, "the Moon") {
		t.Fatalf("%+v", a)
	}
	var told []string
	for _, x := range a.Tell {
		told = append(told, x.Why)
	}
	says(t, told, "was to take over The Barrel at 21:00")
	says(t, told, "needs a lift")
	offers := s.Offers(ds, ds[0], true)
	if len(offers) != 2 || offers[0].VolunteerID != 2 || offers[0].Trade != nil || !offers[1].Opens {
		t.Fatalf("offers %+v, want Ilse, who is free, then Otto, who would leave the pack-down", offers)
	}
	if after := crew.Take(ds, ds[0], offers[0]); len(s.Unstaffed(after)) != 0 || len(after) != 3 {
		t.Errorf("Ilse takes it: %+v", after)
	}
	// While Noor is still there, Otto and she can exchange.
	ds[1].VolunteerID, s.Volunteers[1].Retired = 3, true
	if got := s.Offers([]crew.Duty{duty(1, 1, barrel, -30, 60), duty(2, 3, crew.Post{Role: crew.Greeter}, -30, 60)}, duty(1, 1, barrel, -30, 60), false); len(got) != 1 || got[0].Trade == nil || got[0].Opens {
		t.Errorf("exchange: %+v", got)
	}
}
