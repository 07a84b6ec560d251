package web

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// notAsked and asked are the answers of the form besides those of crew.
const (
	notAsked = "not-asked"
	asked    = "asked"
)

var answerWords = []views.Option{
	{Value: notAsked, Text: "Not asked"},
	{Value: asked, Text: "Asked, no answer yet"},
	{Value: string(crew.Yes), Text: "Comes"},
	{Value: string(crew.Maybe), Text: "Perhaps"},
	{Value: string(crew.No), Text: "Cannot come"},
}

// parseAnswers reads who is asked and what they said.
func (x whole) parseAnswers(form url.Values) ([]crew.Availability, fault.Fields) {
	var all []crew.Availability
	var faults fault.Fields
	for _, v := range x.volunteers {
		id := strconv.FormatInt(v.ID, 10)
		answer := form.Get("answer-" + id)
		if answer == "" || answer == notAsked {
			continue
		}
		a := x.answerOf(v.ID) // keeps what is not on this form: drive, wishes
		a.VolunteerID = v.ID
		switch answer {
		case string(crew.Yes), string(crew.No), string(crew.Maybe):
			a.Answer = crew.Answer(answer)
		default:
			a.Answer = crew.NoAnswer
		}
		var why string
		if a.From, why = x.bound(form.Get("from-"+id), false); why != "" {
			faults = append(faults, fault.Field{Name: "from-" + id, Message: v.Name + ": " + why})
		}
		if a.To, why = x.bound(form.Get("to-"+id), true); why != "" {
			faults = append(faults, fault.Field{Name: "to-" + id, Message: v.Name + ": " + why})
		} else if !a.From.IsZero() && !a.To.IsZero() && !a.To.After(a.From) {
			faults = append(faults, fault.Field{Name: "to-" + id, Message: v.Name + ": must be after the beginning."})
		}
		all = append(all, a)
	}
	return all, faults
}

// bound turns a clock time of the night into an instant; empty is no bound. A
// time that occurs twice is taken generously: the first as a beginning, the
// second as an end, since nobody is there less than they said.
func (x whole) bound(typed string, end bool) (time.Time, string) {
	if strings.TrimSpace(typed) == "" {
		return time.Time{}, ""
	}
	answer := firstTime
	if end {
		answer = secondTime
	}
	l := resolve(x.Night.Date, typed, answer, x.zone)
	return l.at, l.fault
}

func (x whole) answerOf(id int64) crew.Availability {
	for _, a := range x.Availability {
		if a.VolunteerID == id {
			return a
		}
	}
	return crew.Availability{}
}

// chooseModel shows a choice: every piece of gear, the targets chosen, what a
// search finds, and every volunteer.
func (x whole) chooseModel(c night.Choice, query string) views.ChooseModel {
	m := views.ChooseModel{Query: strings.TrimSpace(query)}
	m.Kinds = []views.GearKind{
		kindOf("Instruments", "instruments", x.kit.Instruments, c.Instruments, func(i kit.Instrument) string {
			return strings.TrimSpace(millimetres(i.Aperture) + " " + focalRatio(i.FocalLength, i.Aperture))
		}),
		kindOf("Eyepieces", "eyepieces", x.kit.Eyepieces, c.Eyepieces, func(e kit.Eyepiece) string {
			return number(e.FocalLength, 1) + " mm, " + wordFor(barrelWords, e.Barrel)
		}),
		kindOf("Barlow lenses, reducers, correctors", "amplifiers", x.kit.Amplifiers, c.Amplifiers, func(a kit.Amplifier) string { return number(a.Factor, 2) + " ×" }),
		kindOf("Diagonals", "diagonals", x.kit.Diagonals, c.Diagonals, func(d kit.Diagonal) string { return wordFor(diagonalWords, d.Kind) }),
		kindOf("Filters", "filters", x.kit.Filters, c.Filters, func(f kit.Filter) string { return wordFor(filterWords, f.Kind) }),
		kindOf("Finders", "finders", x.kit.Finders, c.Finders, func(f kit.Finder) string { return wordFor(finderWords, f.Kind) }),
		kindOf("Dew gear", "dew-gear", x.kit.DewGear, c.DewGear, func(d kit.DewGear) string { return wordFor(dewWords, d.Kind) }),
		kindOf("Batteries", "batteries", x.kit.Batteries, c.Batteries, func(b kit.Battery) string { return number(b.Capacity, 1) + " Ah" }),
		kindOf("Steps and chairs", "steps", x.kit.Steps, c.Steps, func(s kit.Steps) string { return number(s.Height, 2) + " m" }),
	}
	m.Kinds = slices.DeleteFunc(m.Kinds, func(k views.GearKind) bool { return len(k.Items) == 0 })

	cat := x.cat
	for _, id := range c.Targets {
		t, ok := cat.ByID(id)
		if !ok {
			m.Targets = append(m.Targets, views.TargetRow{ID: id, Name: id, State: "no longer in the catalogue", Show: true})
			continue
		}
		m.Targets = append(m.Targets, x.targetRow(t, true, slices.Contains(c.MustShow, id)))
	}
	if m.Query != "" {
		m.Found = x.found(m.Query, c)
	}

	given := map[int64]crew.Availability{}
	for _, a := range c.Availability {
		given[a.VolunteerID] = a
	}
	for _, v := range x.volunteers {
		a, isAsked := given[v.ID]
		m.Crew = append(m.Crew, x.crewRow(v, a, isAsked))
	}
	return m
}

func (x whole) crewRow(v crew.Volunteer, a crew.Availability, isAsked bool) views.CrewRow {
	id := strconv.FormatInt(v.ID, 10)
	answer := notAsked
	if isAsked {
		answer = asked
		if a.Answer != crew.NoAnswer {
			answer = string(a.Answer)
		}
	}
	row := views.CrewRow{ID: id, Name: v.Name,
		Answer: views.Choice{Name: "answer-" + id, Label: "Answer of " + v.Name, Value: answer, Options: answerWords},
		From:   views.Field{Name: "from-" + id, Label: "From", Placeholder: "all night"},
		To:     views.Field{Name: "to-" + id, Label: "Until", Placeholder: "all night"},
	}
	if !a.From.IsZero() {
		row.From.Value = clock(clockOf(a.From, x.zone))
	}
	if !a.To.IsZero() {
		row.To.Value = clock(clockOf(a.To, x.zone))
	}
	if n := len(v.Skills); n > 0 {
		row.Note = fmt.Sprintf("can operate %s", plural(n, "kind or instrument", "kinds or instruments"))
	}
	return row
}

// keepTyped puts back the times as typed, with what is wrong with them.
func (x whole) keepTyped(m *views.ChooseModel, form url.Values, faults fault.Fields) {
	for i := range m.Crew {
		c := &m.Crew[i]
		c.From.Value, c.From.Error = form.Get(c.From.Name), faults.For(c.From.Name)
		c.To.Value, c.To.Error = form.Get(c.To.Name), faults.For(c.To.Name)
	}
}

// hasBase is every kind of gear.
type hasBase interface {
	kit.Instrument | kit.Eyepiece | kit.Amplifier | kit.Diagonal | kit.Filter | kit.Finder | kit.DewGear | kit.Battery | kit.Steps
}

// baseOf returns what every piece of gear has. Go has no fields in constraints,
// so the kinds are listed once, here.
func baseOf[T hasBase](x T) kit.Base {
	switch g := any(x).(type) {
	case kit.Instrument:
		return g.Base
	case kit.Eyepiece:
		return g.Base
	case kit.Amplifier:
		return g.Base
	case kit.Diagonal:
		return g.Base
	case kit.Filter:
		return g.Base
	case kit.Finder:
		return g.Base
	case kit.DewGear:
		return g.Base
	case kit.Battery:
		return g.Base
	case kit.Steps:
		return g.Base
	}
	return kit.Base{}
}

func kindOf[T hasBase](title, name string, all []T, chosen []int64, note func(T) string) views.GearKind {
	k := views.GearKind{Title: title}
	for _, x := range all {
		b := baseOf(x)
		label := b.Name
		if b.Count > 1 {
			label += " × " + strconv.Itoa(b.Count)
		}
		k.Items = append(k.Items, views.Check{Name: name, Value: strconv.FormatInt(b.ID, 10), Label: label, Hint: note(x), Checked: slices.Contains(chosen, b.ID)})
	}
	return k
}
