package departure

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/night"
)

// Kind groups things on a packing list.
type Kind int

// Kinds, in the order in which a list shows them.
const (
	Instrument Kind = iota
	Optics          // eyepieces, Barlow lenses, diagonals, filters, finders
	Dew             // shields and heaters
	Power           // batteries and cables
	Tool            // to align and mend
	Step            // stools, ladders, chairs
	Common          // what the club needs once
	Own             // what everybody brings for themselves
)

// String is the heading of the kind.
func (k Kind) String() string {
	return [...]string{"Instruments", "Eyepieces and what goes with them", "Against dew", "Power", "Tools", "Steps and seats", "For the club", "For yourself"}[k]
}

// Item is one thing to pack.
type Item struct {
	Key        string // stable while the line-up stands: "gear-12", "first-aid"
	Kind       Kind
	Name       string
	Detail     string // what it is for and what belongs to it
	Instrument int64  // that it is for; 0 for none
	By         []int64
	Said       bool   // somebody said so, rather than the plan
	Fetch      string // whom to fetch it from, when its owner stays at home
}

// Person is the check of one volunteer.
type Person struct {
	Volunteer   crew.Volunteer
	Answer      crew.Answer
	Tasks       []string // what they do this night, in words
	Runs        []kit.Instrument
	Brings      []kit.Instrument
	Items       []Item // theirs, by kind
	Home        []Task // to check before packing
	Times       []Moment
	Leave       time.Time
	Arrive      time.Time
	Drive       time.Duration
	DriveKnown  bool
	Warnings    []field.Warning
	Handovers   []string // what passes from hand to hand on the field
	NeedsLift   bool     // does not drive at night
	LeavesEarly time.Time
}

// Task is one thing to check at home.
type Task struct {
	Key, Text string
}

// Moment is one step of the evening.
type Moment struct {
	At   time.Time
	What string
	Why  string
}

// Trouble is what the club has to settle before anybody leaves.
type Trouble struct {
	Stop     bool   // the night lacks something without it
	Item     string // key; empty when it is not about one
	Sentence string
}

// Check is the departure check of a night.
type Check struct {
	Items    []Item // all, by kind
	People   []Person
	Troubles []Trouble
	Warnings []field.Warning // for everybody
	NoLineUp bool            // nothing is planned: everything chosen is packed
	First    time.Time       // when the first leaves home
}

// Person returns the check of a volunteer, false when they do not come.
func (c Check) Person(id int64) (Person, bool) {
	for _, p := range c.People {
		if p.Volunteer.ID == id {
			return p, true
		}
	}
	return Person{}, false
}

// Name returns the name of a volunteer who comes, or "".
func (c Check) Name(id int64) string {
	p, _ := c.Person(id)
	return p.Volunteer.Name
}

// Build makes the departure check of a night.
func Build(sh *night.Sheet) Check {
	b := &builder{sh: sh, load: map[int64]int{}, bringer: map[int64]int64{}, copies: map[int64]int{}}
	b.coming = coming(sh)
	b.uses = usesOf(sh)
	b.check.NoLineUp = len(sh.Showings) == 0

	b.instruments()
	b.optics()
	b.dew()
	b.power()
	b.tools()
	b.steps()
	b.common()
	slices.SortStableFunc(b.check.Items, func(x, y Item) int { return cmp.Compare(x.Kind, y.Kind) })

	b.check.Warnings = b.warnings()
	for _, v := range b.coming {
		b.check.People = append(b.check.People, b.person(v))
	}
	slices.SortStableFunc(b.check.People, func(x, y Person) int { return x.Leave.Compare(y.Leave) })
	if len(b.check.People) > 0 {
		b.check.First = b.check.People[0].Leave
	}
	b.troubles()
	return b.check
}

// builder carries one check while it is made.
type builder struct {
	sh      *night.Sheet
	coming  []crew.Volunteer
	uses    []use
	load    map[int64]int   // instruments that somebody brings, by volunteer
	bringer map[int64]int64 // who brings an instrument; 0 nobody
	copies  map[int64]int   // of a piece of gear handed out so far
	check   Check
}

// coming are the volunteers asked who did not say no.
func coming(sh *night.Sheet) []crew.Volunteer {
	var out []crew.Volunteer
	for _, v := range sh.Volunteers {
		if answer(sh, v.ID).Answer != crew.No {
			out = append(out, v)
		}
	}
	return out
}

func answer(sh *night.Sheet, id int64) crew.Availability {
	for _, a := range sh.Availability {
		if a.VolunteerID == id {
			return a
		}
	}
	return crew.Availability{VolunteerID: id}
}

// key names a piece of gear; the second and later copies carry their number.
func (b *builder) key(id int64) string {
	b.copies[id]++
	if n := b.copies[id]; n > 1 {
		return fmt.Sprintf("gear-%d-%d", id, n)
	}
	return fmt.Sprintf("gear-%d", id)
}

// add puts a thing on the list and decides who brings it: whoever said so,
// else the first of candidates who did not decline.
func (b *builder) add(it Item, candidates ...int64) *Item {
	declined := map[int64]bool{}
	for _, p := range b.sh.Packing {
		switch {
		case p.Item != it.Key || b.volunteer(p.VolunteerID) == nil:
		case p.Brings:
			it.By, it.Said = append(it.By, p.VolunteerID), true
		default:
			declined[p.VolunteerID] = true
		}
	}
	for _, id := range candidates {
		if len(it.By) == 0 && id != 0 && !declined[id] && b.volunteer(id) != nil {
			it.By = []int64{id}
		}
	}
	b.check.Items = append(b.check.Items, it)
	return &b.check.Items[len(b.check.Items)-1]
}

// volunteer returns somebody who comes, or nil.
func (b *builder) volunteer(id int64) *crew.Volunteer {
	for i := range b.coming {
		if b.coming[i].ID == id {
			return &b.coming[i]
		}
	}
	return nil
}

// usual are those who bring a piece of gear as a rule, in the order of names.
func (b *builder) usual(gear int64) []int64 {
	var out []int64
	for _, v := range b.coming {
		if slices.Contains(v.Brings, gear) {
			out = append(out, v.ID)
		}
	}
	return out
}

// owned puts a piece of gear on the list: whoever brings it as a rule, or its
// owner, brings it when they come, else one of candidates, who fetches it.
func (b *builder) owned(it Item, base kit.Base, candidates ...int64) *Item {
	if usual := b.usual(base.ID); len(usual) > 0 && !slices.Contains(usual, base.OwnerID) {
		return b.add(it, append(append(usual, base.OwnerID), candidates...)...)
	}
	if base.OwnerID == 0 {
		return b.add(it, candidates...)
	}
	if b.volunteer(base.OwnerID) != nil {
		return b.add(it, append([]int64{base.OwnerID}, candidates...)...)
	}
	it.Fetch = "its owner, who does not come"
	for _, v := range b.sh.Volunteers {
		if v.ID == base.OwnerID {
			it.Fetch = v.Name + ", who owns it and does not come"
		}
	}
	return b.add(it, candidates...)
}
