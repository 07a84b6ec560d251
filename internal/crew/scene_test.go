package crew_test

import (
	"fmt"
	"math/rand/v2"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
)

// gate is when the gate opens in the tests: 20:00 in London, in summer time.
var gate = time.Date(2026, 9, 19, 19, 0, 0, 0, time.UTC)

var london = mustZone("Europe/London")

func mustZone(name string) *time.Location {
	z, err := time.LoadLocation(name)
	if err != nil {
		panic(err)
	}
	return z
}

// after is the instant so many minutes after the gate opens.
func after(minutes int) time.Time { return gate.Add(time.Duration(minutes) * time.Minute) }

func stretch(from, to int) crew.Stretch { return crew.Stretch{From: after(from), To: after(to)} }

// small is a night of two hours with one instrument, without helpers.
func small(people ...crew.Volunteer) crew.Scene {
	s := crew.Scene{
		PublicFrom: gate, PublicTo: after(120), Block: 30 * time.Minute, Zone: london, Rules: crew.DefaultRules(),
		Instruments: []kit.Instrument{{Base: kit.Base{ID: 1, Name: "The Barrel"}, Mount: kit.RockerBox}},
		Shows:       []crew.Show{{InstrumentID: 1, Stretch: stretch(0, 60), What: "the Moon"}, {InstrumentID: 1, Stretch: stretch(60, 120), What: "M 13"}},
		Volunteers:  people,
	}
	s.Rules.PerSetUp, s.Rules.PerPackDown = 0, 0
	for _, v := range people {
		s.Availability = append(s.Availability, crew.Availability{VolunteerID: v.ID, Answer: crew.Yes})
	}
	return s
}

func person(id int64, name string, level crew.Level) crew.Volunteer {
	v := crew.Volunteer{ID: id, Name: name}
	if level != "" {
		v.Skills = []crew.Skill{{InstrumentID: 1, Level: level}}
	}
	return v
}

var mounts = []kit.Mount{kit.RockerBox, kit.AltAzHand, kit.AltAzGoTo, kit.GermanEquatorial, kit.ForkWedge, kit.Parallelogram}

// crowd is a whole night with invented people: skills, wishes, limits,
// windows, minors, learners and a season behind them.
func crowd(seed uint64, people, instruments, blocks, guests int) crew.Scene {
	r := rand.New(rand.NewPCG(seed, 7))
	s := crew.Scene{
		PublicFrom: gate, Block: 15 * time.Minute, PublicTo: after(15 * blocks), Guests: guests, Zone: london, Rules: crew.DefaultRules(),
	}
	for i := range instruments {
		inst := kit.Instrument{Base: kit.Base{ID: int64(i + 1), Name: fmt.Sprintf("Tube %d", i+1)}, Mount: mounts[r.IntN(len(mounts))], SetupMinutes: float64(15 * (1 + r.IntN(3)))}
		if r.IntN(4) == 0 {
			inst.OwnerID = int64(1 + r.IntN(people))
		}
		s.Instruments = append(s.Instruments, inst)
		for b := 0; b < blocks; {
			n := min(2+r.IntN(4), blocks-b)
			if r.IntN(8) > 0 {
				s.Shows = append(s.Shows, crew.Show{InstrumentID: inst.ID, Stretch: stretch(15*b, 15*(b+n)), What: fmt.Sprintf("target %d", b), Ladder: r.IntN(12) == 0})
			}
			b += n
		}
	}
	for i := range people {
		v := crew.Volunteer{ID: int64(i + 1), Name: fmt.Sprintf("Person %d", i+1), Minor: r.IntN(10) == 0}
		v.Limits = crew.Limits{NoLifting: r.IntN(6) == 0, NoLadder: r.IntN(6) == 0, MustSit: r.IntN(12) == 0}
		for _, m := range mounts {
			switch r.IntN(9) {
			case 0:
				v.Skills = append(v.Skills, crew.Skill{Mount: string(m), Level: crew.Learning})
			case 1, 2:
				v.Skills = append(v.Skills, crew.Skill{Mount: string(m), Level: crew.Alone})
			case 3:
				v.Skills = append(v.Skills, crew.Skill{Mount: string(m), Level: crew.Teacher})
			}
		}
		for _, role := range crew.Roles {
			if r.IntN(3) == 0 || role == crew.Operator && len(v.Skills) > 0 {
				v.Roles = append(v.Roles, role)
			}
		}
		a := crew.Availability{VolunteerID: v.ID, Answer: crew.Yes}
		switch r.IntN(8) {
		case 0:
			a.Answer = crew.Maybe
		case 1:
			a.From = after(15 * r.IntN(blocks))
		case 2:
			a.To = after(15 * (1 + r.IntN(blocks)))
		}
		for k := range 3 {
			s.Served = append(s.Served, crew.Served{VolunteerID: v.ID, Role: crew.Roles[r.IntN(len(crew.Roles))], Length: time.Duration(30*(k+1)) * time.Minute})
		}
		s.Volunteers, s.Availability = append(s.Volunteers, v), append(s.Availability, a)
	}
	return s
}
