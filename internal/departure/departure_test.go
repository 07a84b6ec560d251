package departure_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/departure"
	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/weather"
)

// gate is 19:00 on 24 October 2026 in Berlin, half an hour after civil dusk.
var gate = time.Date(2026, 10, 24, 17, 0, 0, 0, time.UTC)

const (
	barrel, stove     = 11, 12
	long, short, fine = 21, 22, 23
	ada, ilse, ben    = 1, 2, 3
)

// evening is a night with two instruments: a 254 mm Newtonian of the club on a
// rocker box and Ilse's 203 mm Schmidt-Cassegrain. They take turns with the one
// 25 mm eyepiece and use both 10 mm ones at once.
func evening() night.Plan {
	show := func(inst, eye int64, from, minutes int) lineup.Showing {
		return lineup.Showing{ID: int64(from + 1000*int(inst)), InstrumentID: inst, TargetID: "moon", EyepieceID: eye, From: gate.Add(time.Duration(from) * time.Minute), Length: time.Duration(minutes) * time.Minute}
	}
	return night.Plan{
		Night: night.Night{ID: 1, Name: "x", Date: sky.Date{Year: 2026, Month: 10, Day: 24}, PublicFrom: gate, Public: 3 * time.Hour, Block: 15 * time.Minute, Guests: 50, Audience: night.Adults},
		Site:  night.Site{Name: "Heron Meadow", Place: sky.Place{Lat: 52.5, Lon: 13.4}, Zone: "Europe/Berlin", Brightness: 20},
		Kit: kit.Kit{
			Instruments: []kit.Instrument{
				{Base: kit.Base{ID: barrel, Name: "The Barrel", Count: 1}, Design: kit.Newtonian, Aperture: 254, FocalLength: 1200, Focuser: kit.Barrel2, Mount: kit.RockerBox, SetupMinutes: 10, NeedsCollimation: true, Storage: kit.Shed},
				{Base: kit.Base{ID: stove, Name: "Stovepipe", Count: 1, OwnerID: ilse}, Design: kit.SchmidtCassegrain, Aperture: 203, FocalLength: 2032, Focuser: kit.Barrel125, Mount: kit.AltAzGoTo, GoTo: true, Tracking: true, SetupMinutes: 20, MountPower: 7, Storage: kit.House},
			},
			Eyepieces: []kit.Eyepiece{
				{Base: kit.Base{ID: long, Name: "25 standard", Count: 1}, FocalLength: 25, ApparentField: 50, Barrel: kit.Barrel125},
				{Base: kit.Base{ID: short, Name: "10 standard", Count: 2}, FocalLength: 10, ApparentField: 50, Barrel: kit.Barrel125},
				{Base: kit.Base{ID: fine, Name: "5 unused", Count: 1}, FocalLength: 5, ApparentField: 60, Barrel: kit.Barrel125},
			},
			Batteries: []kit.Battery{{Base: kit.Base{ID: 31, Name: "Grey battery", Count: 2}, Kind: kit.LeadAcid, Capacity: 17, Voltage: 12}},
			Finders:   []kit.Finder{{Base: kit.Base{ID: 41, Name: "Dot finder", Count: 1}, Kind: kit.UnitPower, Power: 1}},
		},
		Targets: []string{"moon"},
		Volunteers: []crew.Volunteer{
			{ID: ada, Name: "Ada", Roles: []crew.Role{crew.Operator}, Skills: []crew.Skill{{Mount: string(kit.RockerBox), Level: crew.Alone}, {Mount: string(kit.AltAzGoTo), Level: crew.Alone}}, DriveMinutes: 20},
			{ID: ilse, Name: "Ilse", Roles: []crew.Role{crew.Operator}, Skills: []crew.Skill{{InstrumentID: stove, Level: crew.Alone}}, DriveMinutes: 40},
			{ID: ben, Name: "Ben", Roles: []crew.Role{crew.Safety}},
		},
		Availability: []crew.Availability{{VolunteerID: ada, Answer: crew.Yes}, {VolunteerID: ilse, Answer: crew.Yes}, {VolunteerID: ben, Answer: crew.Yes}},
		Showings: []lineup.Showing{
			show(barrel, long, 0, 60), show(barrel, short, 60, 60), show(stove, short, 0, 60), show(stove, long, 60, 60), show(stove, short, 120, 60), show(barrel, short, 120, 60),
		},
	}
}

func check(t *testing.T, p night.Plan) departure.Check {
	t.Helper()
	sh, err := night.Build(p, catalog.Default())
	if err != nil {
		t.Fatal(err)
	}
	return departure.Build(sh)
}

func item(c departure.Check, key string) departure.Item {
	for _, it := range c.Items {
		if it.Key == key {
			return it
		}
	}
	return departure.Item{Key: "none"}
}

func said(c departure.Check, words string) bool {
	return slices.ContainsFunc(c.Troubles, func(t departure.Trouble) bool { return strings.Contains(t.Sentence, words) })
}

// TestEachPieceIsPackedOnce guards the heart of the list: what the line-up uses
// and no more, each copy once, with whoever has the instrument it begins at.
func TestEachPieceIsPackedOnce(t *testing.T) {
	c := check(t, evening())
	seen := map[string]bool{}
	for _, it := range c.Items {
		if seen[it.Key] {
			t.Errorf("%s stands on the list twice", it.Key)
		}
		seen[it.Key] = true
		if len(it.By) != 1 {
			t.Errorf("%s (%s) is brought by %v, want one person", it.Key, it.Name, it.By)
		}
	}
	for key, by := range map[string]int64{"gear-11": ada, "gear-12": ilse, "gear-21": ada, "gear-22": ilse, "gear-22-2": ada, "gear-31": ilse, "align-11": ada, "first-aid": ben} {
		if it := item(c, key); len(it.By) != 1 || it.By[0] != by {
			t.Errorf("%s is brought by %v, want %d", key, it.By, by)
		}
	}
	if item(c, "gear-23").Key != "none" || item(c, "gear-22-3").Key != "none" {
		t.Error("an eyepiece that nothing shows, or a third copy, is packed")
	}
	if d := item(c, "gear-21").Detail; !strings.Contains(d, "goes to Stovepipe at 20:00") {
		t.Errorf("the hand-over of the one 25 mm is not told: %q", d)
	}
	if p, _ := c.Person(ada); len(p.Handovers) != 1 {
		t.Errorf("Ada's hand-overs: %q, want the 25 mm", p.Handovers)
	}
	if item(c, "align-12").Key != "none" {
		t.Error("a closed Cassegrain that needs no alignment gets a tool")
	}
}

// TestTimesAreCountedBack checks the sums by hand. The Barrel: briefing 15, set
// up 10, align the optics 10, unload 15 make 50 minutes; but it must stand
// outdoors an hour before the gate, so Ada is there 75 minutes before, and
// drives 20.
func TestTimesAreCountedBack(t *testing.T) {
	c := check(t, evening())
	a, _ := c.Person(ada)
	if want := gate.Add(-75 * time.Minute); !a.Arrive.Equal(want) {
		t.Errorf("Ada arrives at %v, want %v", a.Arrive, want)
	}
	if want := gate.Add(-95 * time.Minute); !a.Leave.Equal(want) {
		t.Errorf("Ada leaves at %v, want %v", a.Leave, want)
	}
	if !slices.IsSortedFunc(a.Times, func(x, y departure.Moment) int { return x.At.Compare(y.At) }) {
		t.Error("the moments do not run forward")
	}
	// The work rules where it takes longer: 15 + 60 + 10 + 15 = 100 minutes.
	p := evening()
	p.Kit.Instruments[0].SetupMinutes = 60
	a, _ = check(t, p).Person(ada)
	if want := gate.Add(-120 * time.Minute); !a.Leave.Equal(want) {
		t.Errorf("with an hour of setting up Ada leaves at %v, want %v", a.Leave, want)
	}
	b, _ := c.Person(ben)
	if b.DriveKnown || b.Drive != 30*time.Minute || !b.Arrive.Equal(gate.Add(-time.Hour)) {
		t.Errorf("Ben's drive %v (known: %v) and arrival %v", b.Drive, b.DriveKnown, b.Arrive)
	}
}

// TestLeavingOnlyGetsEarlier guards that more to do never lets anyone leave
// later.
func TestLeavingOnlyGetsEarlier(t *testing.T) {
	last := map[int64]time.Time{}
	for n := 0; n <= 120; n += 15 {
		p := evening()
		for i := range p.Kit.Instruments {
			p.Kit.Instruments[i].SetupMinutes = float64(n)
		}
		for i := range p.Volunteers {
			p.Volunteers[i].DriveMinutes = 20 + n
		}
		for _, x := range check(t, p).People {
			if old, ok := last[x.Volunteer.ID]; ok && !x.Leave.Before(old) {
				t.Errorf("%d minutes more: %s leaves at %v, before that at %v", n, x.Volunteer.Name, x.Leave, old)
			}
			if !x.Leave.Equal(x.Arrive.Add(-x.Drive)) {
				t.Errorf("%s leaves at %v and arrives at %v with a drive of %v", x.Volunteer.Name, x.Leave, x.Arrive, x.Drive)
			}
			last[x.Volunteer.ID] = x.Leave
		}
	}
}

// TestMountsWaitForStars: no go-to mount is expected aligned before civil dusk
// (common practice), and never again later than its stars allow.
func TestMountsWaitForStars(t *testing.T) {
	p := evening()
	p.Night.PublicFrom = gate.Add(-90 * time.Minute) // 17:30, the Sun is up
	sh, err := night.Build(p, catalog.Default())
	if err != nil {
		t.Fatal(err)
	}
	x, _ := departure.Build(sh).Person(ilse)
	for _, m := range x.Times {
		if strings.HasPrefix(m.What, "Align the mount") {
			if !m.At.Equal(sh.Twilights.CivilDusk.Time) {
				t.Errorf("aligned at %v, civil dusk is at %v", m.At, sh.Twilights.CivilDusk.Time)
			}
			return
		}
	}
	t.Error("the mount is never aligned")
}

// TestOwnersAndAbsence: an owner brings their own; when they cannot come, the
// thing has to be fetched and the list says from whom.
func TestOwnersAndAbsence(t *testing.T) {
	p := evening()
	p.Availability[1].Answer = crew.No
	c := check(t, p)
	if it := item(c, "gear-12"); len(it.By) != 1 || it.By[0] != ada || !strings.Contains(it.Fetch, "Ilse") {
		t.Errorf("Ilse's instrument is brought by %v, fetched from %q", it.By, it.Fetch)
	}
	if !said(c, "Stovepipe must be fetched from Ilse") {
		t.Errorf("nobody is told to fetch it: %+v", c.Troubles)
	}
	if _, ok := c.Person(ilse); ok {
		t.Error("who said no still gets a page")
	}
}

// TestNobodyAndTwice: what nobody brings and what two people bring is shown.
func TestNobodyAndTwice(t *testing.T) {
	p := evening()
	p.Packing = []night.Packing{
		{Item: "gear-11", VolunteerID: ada}, // cannot; nobody else runs it
		{Item: "first-aid", VolunteerID: ada, Brings: true}, {Item: "first-aid", VolunteerID: ben, Brings: true},
		{Item: "signs", VolunteerID: ada, Brings: true},
		{Item: "gone", VolunteerID: ada, Brings: true},
	}
	c := check(t, p)
	if len(item(c, "gear-11").By) != 0 || !said(c, "Nobody brings The Barrel") || !c.Troubles[0].Stop {
		t.Errorf("nobody brings The Barrel, and the list says %+v", c.Troubles)
	}
	if !said(c, "Ada and Ben all bring First-aid kit") {
		t.Errorf("two first-aid kits are not shown: %+v", c.Troubles)
	}
	if it := item(c, "signs"); len(it.By) != 1 || it.By[0] != ada || !it.Said {
		t.Errorf("signs are brought by %v", it.By)
	}
	p = evening()
	p.Volunteers = nil
	if c := check(t, p); len(c.People) != 0 || !said(c, "Nobody of the crew") {
		t.Errorf("a night without crew says %+v", c.Troubles)
	}
}

// TestLateComers arrive when they said and are not asked to bring what must
// stand outdoors before.
func TestLateComers(t *testing.T) {
	p := evening()
	p.Kit.Instruments[1].OwnerID = 0
	p.Availability[1].From = gate.Add(time.Hour)
	c := check(t, p)
	if it := item(c, "gear-12"); it.By[0] != ada {
		t.Errorf("who comes after the gate opens brings Stovepipe: %v", it.By)
	}
	x, _ := c.Person(ilse)
	if !x.Arrive.Equal(gate.Add(time.Hour)) || !x.Leave.Equal(gate.Add(20*time.Minute)) {
		t.Errorf("Ilse arrives at %v and leaves home at %v", x.Arrive, x.Leave)
	}
	p.Kit.Instruments[1].OwnerID = ilse
	if !said(check(t, p), "Ilse comes at 20:00") {
		t.Error("an owner who comes too late for cool-down is not told of")
	}
}

// damp is a clear, calm night whose air is nearly saturated.
func damp() weather.Series {
	s := weather.Series{Source: "typed in"}
	for h := -6; h <= 6; h++ {
		s.Hours = append(s.Hours, weather.Hour{Time: gate.Add(time.Duration(h) * time.Hour), Temp: 6, DewPoint: 5.2, RH: 95, Wind: 0.5})
	}
	return s
}

// TestWarningsReachWhomTheyConcern: a corrector plate dews on a damp, clear
// night (common practice); its bringer is told, whoever brings the Newtonian is
// told of that one only, and everybody of the cold.
func TestWarningsReachWhomTheyConcern(t *testing.T) {
	p := evening()
	p.Weather = damp()
	c := check(t, p)
	has := func(id int64, subject, word string) bool {
		x, _ := c.Person(id)
		return slices.ContainsFunc(x.Warnings, func(w field.Warning) bool {
			return w.Subject == subject && strings.Contains(w.Sentence, word)
		})
	}
	if !has(ilse, "dew", "Stovepipe: On the corrector plate") {
		t.Error("Ilse is not told of dew on the corrector plate")
	}
	if has(ada, "dew", "Stovepipe") || has(ben, "dew", "") {
		t.Error("dew of an instrument is told to who has nothing to do with it")
	}
	if !has(ilse, "Sun", "") || has(ben, "Sun", "") {
		t.Error("the Sun's caution goes to who sets up before sunset, and to nobody else")
	}
	x, _ := c.Person(ben)
	clothes := slices.IndexFunc(x.Items, func(it departure.Item) bool { return it.Key == "own-clothes" })
	if clothes < 0 || !strings.Contains(x.Items[clothes].Detail, "dress for -4 °C") {
		t.Error("nobody is told to dress for ten degrees colder than 6")
	}
	for i := 1; i < len(c.Warnings); i++ {
		if c.Warnings[i].Importance < c.Warnings[i-1].Importance {
			t.Error("the most important warning does not come first")
		}
	}
	dry := check(t, evening())
	if !slices.ContainsFunc(dry.Warnings, func(w field.Warning) bool { return w.Subject == "weather" }) {
		t.Error("a night without weather does not say so")
	}
}

// TestLoadedBatteriesGoWhereTheyAreNeeded: the drive gets a loose battery, the
// hand-pushed instrument none.
func TestLoadedBatteriesGoWhereTheyAreNeeded(t *testing.T) {
	sh, err := night.Build(evening(), catalog.Default())
	if err != nil {
		t.Fatal(err)
	}
	if n := len(sh.GearOf(sh.Kit.Instruments[1]).Batteries); n != 1 {
		t.Errorf("the drive has %d batteries, want one of two", n)
	}
	if n := len(sh.GearOf(sh.Kit.Instruments[0]).Batteries); n != 0 || len(sh.Power.Spare) != 1 {
		t.Errorf("the rocker box has %d batteries and %d are left, want none and one", n, len(sh.Power.Spare))
	}
}

// TestBeforeThereIsALineUp everything chosen is packed, and the check says so.
func TestBeforeThereIsALineUp(t *testing.T) {
	p := evening()
	p.Showings = nil
	c := check(t, p)
	if !c.NoLineUp || item(c, "gear-23").Key == "none" || item(c, "gear-11").Key == "none" {
		t.Errorf("without a line-up: marked %v, items %d", c.NoLineUp, len(c.Items))
	}
}

// TestTheSameNightGivesTheSameCheck guards purity and a stable order.
func TestTheSameNightGivesTheSameCheck(t *testing.T) {
	p := evening()
	p.Weather = damp()
	if d := cmp.Diff(check(t, p), check(t, p)); d != "" {
		t.Errorf("two checks of one night differ:\n%s", d)
	}
}

// TestRosterDecidesWhoBrings: the first operator of the roster brings a club's
// instrument, whoever else could run it.
func TestRosterDecidesWhoBrings(t *testing.T) {
	p := evening()
	p.Volunteers = append(p.Volunteers, crew.Volunteer{ID: 5, Name: "Eva", Roles: []crew.Role{crew.Operator}, Skills: []crew.Skill{{Mount: string(kit.RockerBox), Level: crew.Alone}}, DriveMinutes: 10})
	p.Availability = append(p.Availability, crew.Availability{VolunteerID: 5, Answer: crew.Yes})
	p.Duties = []crew.Duty{
		{ID: 1, VolunteerID: ada, Role: crew.Operator, InstrumentID: barrel, From: gate.Add(time.Hour), Length: time.Hour},
		{ID: 2, VolunteerID: 5, Role: crew.Operator, InstrumentID: barrel, From: gate, Length: time.Hour},
	}
	c := check(t, p)
	if it := item(c, "gear-11"); len(it.By) != 1 || it.By[0] != 5 {
		t.Errorf("The Barrel is brought by %v, want Eva, who runs it first", it.By)
	}
	x, _ := c.Person(ada)
	if len(x.Runs) != 1 || fmt.Sprint(x.Tasks) != "[20:00 to 21:00 The Barrel]" {
		t.Errorf("Ada runs %v and does %v", x.Runs, x.Tasks)
	}
}
