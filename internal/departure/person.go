package departure

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/sky"
)

// person makes the page of one volunteer.
func (b *builder) person(v crew.Volunteer) Person {
	a := answer(b.sh, v.ID)
	p := Person{Volunteer: v, Answer: a.Answer, NeedsLift: v.Limits.NoNightDriving}
	for _, it := range b.check.Items {
		if slices.Contains(it.By, v.ID) {
			p.Items = append(p.Items, it)
		}
	}
	for _, u := range b.uses {
		if slices.ContainsFunc(p.Items, func(it Item) bool { return it.Kind == Instrument && it.Instrument == u.inst.ID }) {
			p.Brings = append(p.Brings, u.inst)
		}
	}
	b.tasks(&p)
	p.Items = append(p.Items, b.own(p)...)
	b.times(&p)
	p.Home = b.home(p)
	p.Warnings = b.warningsOf(p)
	for _, it := range p.Items {
		if n := strings.Index(it.Detail, "goes to "); n >= 0 {
			p.Handovers = append(p.Handovers, it.Name+" "+it.Detail[n:]+".")
		}
	}
	return p
}

// tasks says what somebody does this night: by the roster, else what they bring.
func (b *builder) tasks(p *Person) {
	duties := slices.Clone(b.sh.Duties)
	slices.SortStableFunc(duties, func(x, y crew.Duty) int { return x.From.Compare(y.From) })
	for _, d := range duties {
		if d.VolunteerID != p.Volunteer.ID {
			continue
		}
		what := strings.ReplaceAll(string(d.Role), "-", " ")
		if d.InstrumentID != 0 {
			what = b.name(d.InstrumentID)
			for _, u := range b.uses {
				if u.inst.ID == d.InstrumentID && !slices.ContainsFunc(p.Runs, func(i kit.Instrument) bool { return i.ID == u.inst.ID }) {
					p.Runs = append(p.Runs, u.inst)
				}
			}
		}
		p.Tasks = append(p.Tasks, fmt.Sprintf("%s to %s %s", b.clock(d.From), b.clock(d.To()), what))
	}
}

// own is what everybody brings for themselves.
func (b *builder) own(p Person) []Item {
	it := func(key, name, detail string) Item { return Item{Key: key, Kind: Own, Name: name, Detail: detail} }
	out := []Item{
		it("own-red-lamp", "Red lamp", "dim, with fresh cells"),
		it("own-clothes", "Warm clothes and a spare set", b.dressFor()),
		it("own-phone", "Phone, charged", "open this page once at home: it stays without a network"),
		it("own-drink", "Something hot to drink and something to eat", ""),
	}
	if len(p.Brings)+len(p.Runs) > 0 {
		out = append(out, it("own-card", "Your printed card", "the plan for your instrument, readable by a red lamp"))
	}
	if low, ok := b.coldest(); ok && low <= 0 {
		out = append(out, it("own-heat", "Heat pad and a spare battery kept warm", "hand controllers and displays turn slow in frost"))
	}
	return out
}

// dressColder is how much colder than forecast to dress for, K (common
// practice: one stands still).
const dressColder = 10.0

func (b *builder) dressFor() string {
	low, ok := b.coldest()
	if !ok {
		return "nobody knows the weather yet: dress for winter"
	}
	return fmt.Sprintf("the air falls to %.0f °C; dress for %.0f °C, you stand still", low, low-dressColder)
}

// coldest is the lowest temperature of the public hours, degrees C.
func (b *builder) coldest() (float64, bool) {
	low, ok := 0.0, false
	for _, h := range b.sh.Weather.Sample(b.sh.Night.PublicFrom, b.sh.Night.PublicTo(), 15*time.Minute) {
		if !ok || h.Temp < low {
			low, ok = h.Temp, true
		}
	}
	return low, ok
}

// home are the checks before packing: what a volunteer can see, hear and feel.
func (b *builder) home(p Person) []Task {
	var out []Task
	add := func(key, format string, args ...any) {
		out = append(out, Task{"home-" + key, fmt.Sprintf(format, args...)})
	}
	for _, i := range p.Brings {
		add(fmt.Sprintf("caps-%d", i.ID), "%s: look at the glass by a lamp held aside. Dust is fine, a film of dew or a fingerprint is not; do not wipe, tell the keeper.", i.Name)
		if i.GoTo || i.MountPower > 0 {
			add(fmt.Sprintf("drive-%d", i.ID), "%s: connect the battery, let the drive run for a minute in every direction, see that the display shows date, time and place.", i.Name)
		}
		if i.NeedsCollimation {
			add(fmt.Sprintf("align-%d", i.ID), "%s: align the optics roughly; all screws turn, none is missing.", i.Name)
		}
		if i.Fan {
			add(fmt.Sprintf("fan-%d", i.ID), "%s: the fan runs.", i.Name)
		}
		add(fmt.Sprintf("legs-%d", i.ID), "%s: every clamp and knob is there and holds.", i.Name)
	}
	for _, it := range p.Items {
		switch {
		case it.Kind == Power:
			add("bat-"+it.Key, "%s: charge it overnight, read its meter (a lead-acid battery at rest shows 12.7 V or more), keep it indoors until you leave.", it.Name)
		case it.Kind == Dew && strings.Contains(it.Detail, "strip"):
			add("warm-"+it.Key, "%s: switch it on; it turns warm to the hand within two minutes.", it.Name)
		case strings.HasPrefix(it.Key, "cell-"):
			add("dot-"+it.Key, "The dot finder glows, and is switched off again.")
		case strings.HasPrefix(it.Key, "solar-"):
			add("sun-"+it.Key, "Solar filter: hold it against a bright lamp; with a hole or a loose edge it stays at home.")
		}
	}
	add("page", "Open this page on the phone you take along, so that it is there without a network.")
	return out
}

// warnings are those for everybody.
func (b *builder) warnings() []field.Warning {
	n := b.sh.Night
	ws := field.PeopleWarnings(b.sh.Weather, n.PublicFrom, n.PublicTo(), field.DefaultPeopleLimits())
	if b.sh.Weather.Empty() {
		ws = append(ws, field.Warning{Importance: field.Caution, Subject: "weather",
			Sentence: "There is no weather for this night, so nothing is said about dew, cool-down and cold: expect all of them."})
	}
	return field.SortWarnings(ws)
}

// warningsOf are those of the instruments that somebody brings or runs, of
// their power, of the Sun, and those for everybody.
func (b *builder) warningsOf(p Person) []field.Warning {
	var ws []field.Warning
	mine := slices.Clone(p.Brings)
	for _, i := range p.Runs {
		if !slices.ContainsFunc(mine, func(x kit.Instrument) bool { return x.ID == i.ID }) {
			mine = append(mine, i)
		}
	}
	for n, i := range mine {
		for _, w := range b.sh.Forecasts[i.ID].Warnings {
			if slices.ContainsFunc(mine[:n], func(x kit.Instrument) bool { return b.warned(x, w) }) {
				continue // told once, with the names of all it is for
			}
			names := []string{i.Name}
			for _, x := range mine[n+1:] {
				if b.warned(x, w) {
					names = append(names, x.Name)
				}
			}
			w.Sentence = strings.Join(names, ", ") + ": " + w.Sentence
			ws = append(ws, w)
		}
		for _, x := range b.sh.Power.Instruments {
			if w, ok := field.PowerWarning(i.ID, x.Supply); ok && x.Instrument.ID == i.ID && !b.sh.Site.Power {
				w.Sentence = i.Name + ": " + w.Sentence
				ws = append(ws, w)
			}
		}
	}
	if len(mine) > 0 {
		if w, ok := b.sun(p.Arrive); ok {
			ws = append(ws, w)
		}
	}
	return field.SortWarnings(append(ws, b.check.Warnings...))
}

// warned reports whether an instrument has the same warning, word for word.
func (b *builder) warned(i kit.Instrument, w field.Warning) bool {
	return slices.ContainsFunc(b.sh.Forecasts[i.ID].Warnings, func(x field.Warning) bool { return x.Importance == w.Importance && x.Sentence == w.Sentence })
}

// sun is the caution for a crew that can see the Sun.
func (b *builder) sun(arrive time.Time) (field.Warning, bool) {
	set := b.sh.Twilights.Sunset
	switch set.State {
	case sky.Happens:
		return field.SunWarning(arrive, set.Time, true)
	case sky.AlwaysAbove:
		return field.SunWarning(arrive, time.Time{}, true)
	}
	return field.Warning{}, false
}

func (p *Person) sortTimes() {
	slices.SortStableFunc(p.Times, func(a, b Moment) int { return a.At.Compare(b.At) })
}
