package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/web/views"
)

var roleWords = []views.Option{
	{Value: string(crew.Operator), Text: "Operates an instrument"},
	{Value: string(crew.Greeter), Text: "Greets at the gate"},
	{Value: string(crew.QueueHost), Text: "Looks after a queue"},
	{Value: string(crew.ConstellationGuide), Text: "Guides through the constellations"},
	{Value: string(crew.Parking), Text: "Parking"},
	{Value: string(crew.Safety), Text: "Safety"},
	{Value: string(crew.SetUp), Text: "Sets up"},
	{Value: string(crew.PackDown), Text: "Packs down"},
}

var levelWords = []views.Option{
	{Value: "", Text: "No"},
	{Value: string(crew.Learning), Text: "Learning"},
	{Value: string(crew.Alone), Text: "Alone"},
	{Value: string(crew.Teacher), Text: "Can teach it"},
}

// crewForm is a volunteer as typed. Levels are by the name of their field.
type crewForm struct {
	Name, Email, Phone      string
	Share, Minor            bool
	Languages, Drive, Notes string
	Version                 string
	Roles, Brings           []string
	NoLifting, NoLadder     bool
	MustSit, NoNightDriving bool
	Levels                  map[string]string
}

func readCrewForm(r *http.Request, gear kit.Kit) crewForm {
	v := func(name string) string { return strings.TrimSpace(r.PostFormValue(name)) }
	on := func(name string) bool { return v(name) != "" }
	f := crewForm{
		Name: v("Name"), Email: v("Email"), Phone: v("Phone"), Share: on("Share"), Minor: on("Minor"),
		Languages: v("Languages"), Drive: v("Drive"), Notes: strings.ReplaceAll(v("Notes"), "\r\n", "\n"), Version: v("Version"),
		Roles: r.PostForm["Roles"], Brings: r.PostForm["Brings"], NoLifting: on("NoLifting"), NoLadder: on("NoLadder"), MustSit: on("MustSit"), NoNightDriving: on("NoNightDriving"),
		Levels: map[string]string{},
	}
	for _, s := range skills(gear) {
		f.Levels[s.field] = v(s.field)
	}
	return f
}

func crewFormOf(v crew.Volunteer) crewForm {
	f := crewForm{
		Name: v.Name, Email: v.Email, Phone: v.Phone, Share: v.Share, Minor: v.Minor,
		Languages: strings.Join(v.Languages, ", "), Notes: v.Notes, Version: strconv.FormatInt(v.Version, 10),
		NoLifting: v.Limits.NoLifting, NoLadder: v.Limits.NoLadder, MustSit: v.Limits.MustSit, NoNightDriving: v.Limits.NoNightDriving,
		Levels: map[string]string{},
	}
	if v.DriveMinutes > 0 {
		f.Drive = strconv.Itoa(v.DriveMinutes)
	}
	for _, r := range v.Roles {
		f.Roles = append(f.Roles, string(r))
	}
	for _, id := range v.Brings {
		f.Brings = append(f.Brings, strconv.FormatInt(id, 10))
	}
	for _, s := range v.Skills {
		f.Levels[skillField(s)] = string(s.Level)
	}
	return f
}

// skill is one line of "what can they operate": a kind of mount or one instrument.
type skill struct {
	crew.Skill
	field, text string
}

func skillField(s crew.Skill) string {
	if s.InstrumentID != 0 {
		return "skill-instrument-" + strconv.FormatInt(s.InstrumentID, 10)
	}
	return "skill-mount-" + s.Mount
}

// skills are the kinds of mount first, since they spare ticking instruments one
// by one, then the instruments.
func skills(gear kit.Kit) []skill {
	var all []skill
	add := func(s crew.Skill, text string) { all = append(all, skill{s, skillField(s), text}) }
	for _, m := range mountWords {
		add(crew.Skill{Mount: m.Value}, "Any on: "+lowerFirst(m.Text))
	}
	for _, i := range gear.Instruments {
		add(crew.Skill{InstrumentID: i.ID}, i.Name)
	}
	return all
}

// parse puts what was typed over v. Skills on instruments that are retired are
// not on the form and stay.
func (f crewForm) parse(v crew.Volunteer, gear kit.Kit) (crew.Volunteer, fault.Fields) {
	var faults fault.Fields
	add := func(name, format string, args ...any) {
		faults = append(faults, fault.Field{Name: name, Message: first(fmt.Sprintf(format, args...))})
	}
	if err := nameFault(f.Name, "the volunteer"); err != nil {
		add("Name", "%v.", err)
	}
	if f.Email != "" && (!strings.Contains(strings.Trim(f.Email, "@"), "@") || strings.ContainsAny(f.Email, " ,;<>") || len(f.Email) > 200) {
		add("Email", "write one address, as name@club.example.")
	}
	if utf8.RuneCountInString(f.Phone) > 40 || strings.ContainsFunc(f.Phone, func(r rune) bool { return r >= 'a' && r <= 'z' }) {
		add("Phone", "write a number, as +49 30 123456.")
	}
	v.DriveMinutes = 0
	if f.Drive != "" {
		v.DriveMinutes = wholeNumber(f.Drive, 0, 600, func() { add("Drive", "whole minutes, 0 to 600.") })
	}
	if utf8.RuneCountInString(f.Notes) > 4000 {
		add("Notes", "at most 4000 letters.")
	}
	v.Name, v.Email, v.Phone, v.Share, v.Minor, v.Notes = f.Name, f.Email, f.Phone, f.Share, f.Minor, f.Notes
	v.Limits = crew.Limits{NoLifting: f.NoLifting, NoLadder: f.NoLadder, MustSit: f.MustSit, NoNightDriving: f.NoNightDriving}
	v.Languages = nil
	for _, l := range strings.Split(f.Languages, ",") {
		if l = strings.TrimSpace(l); l != "" {
			v.Languages = append(v.Languages, l)
		}
	}
	v.Roles = nil
	for _, r := range crew.Roles {
		if slices.Contains(f.Roles, string(r)) {
			v.Roles = append(v.Roles, r)
		}
	}
	v.Brings = f.bringsOf(v, gear)

	offered := map[string]bool{}
	var known []crew.Skill
	for _, s := range skills(gear) {
		offered[s.field] = true
		level := f.Levels[s.field]
		if level == "" {
			continue
		}
		if wordFor(levelWords, level) == level {
			add(s.field, "choose one from the list.")
			continue
		}
		s.Skill.Level = crew.Level(level)
		known = append(known, s.Skill)
	}
	for _, s := range v.Skills {
		if !offered[skillField(s)] {
			known = append(known, s)
		}
	}
	v.Skills = known
	return v, faults
}

// portable is the gear that somebody may bring as a rule.
func portable(gear kit.Kit) []kit.Base {
	var out []kit.Base
	for _, x := range gear.Instruments {
		out = append(out, x.Base)
	}
	for _, x := range gear.Batteries {
		out = append(out, x.Base)
	}
	for _, x := range gear.Steps {
		out = append(out, x.Base)
	}
	return out
}

// bringsOf is what was ticked; what is not on the form any more stays.
func (f crewForm) bringsOf(v crew.Volunteer, gear kit.Kit) []int64 {
	var out []int64
	offered := map[int64]bool{}
	for _, b := range portable(gear) {
		offered[b.ID] = true
		if slices.Contains(f.Brings, strconv.FormatInt(b.ID, 10)) {
			out = append(out, b.ID)
		}
	}
	for _, id := range v.Brings {
		if !offered[id] {
			out = append(out, id)
		}
	}
	return out
}

var crewLabels = map[string]string{"Name": "Name", "Email": "E-mail", "Phone": "Phone", "Drive": "Usual drive", "Notes": "Notes"}

// view is the form as typed, with its faults.
func (f crewForm) view(faults fault.Fields, gear kit.Kit) views.CrewForm {
	m := views.CrewForm{
		Version: f.Version, Faults: labelled(faults, crewLabels),
		Name:  views.Field{Name: "Name", Label: "Name", Value: f.Name, Error: faults.For("Name"), Hint: "As they wish to be called.", Required: true, Width: "mid"},
		Email: views.Field{Name: "Email", Label: "E-mail", Value: f.Email, Error: faults.For("Email"), Mode: "email", Width: "mid"},
		Phone: views.Field{Name: "Phone", Label: "Phone", Value: f.Phone, Error: faults.For("Phone"), Mode: "tel", Width: "mid"},
		Share: views.Check{Name: "Share", Label: "The rest of the crew may see e-mail and phone", Checked: f.Share, Hint: "Only with their consent. Otherwise nobody but the coordinator sees them."},
		Minor: views.Check{Name: "Minor", Label: "Under age", Checked: f.Minor, Hint: "Never alone at an instrument; your club's own rules for young people come first."},
		Roles: views.Checks{Name: "Roles", Label: "Is glad to do", Hint: "Nothing ticked: anything."},
		Limits: views.Checks{Name: "Limits", Label: "To be considered", Hint: "Nobody has to say why.", Items: []views.Check{
			{Name: "NoLifting", Label: "No lifting", Checked: f.NoLifting}, {Name: "NoLadder", Label: "No ladders", Checked: f.NoLadder},
			{Name: "MustSit", Label: "Needs a seat", Checked: f.MustSit}, {Name: "NoNightDriving", Label: "No driving at night", Checked: f.NoNightDriving},
		}},
		Languages: views.Field{Name: "Languages", Label: "Languages", Value: f.Languages, Hint: "With commas between.", Width: "mid"},
		Drive:     views.Field{Name: "Drive", Label: "Usual drive to the site", Unit: "minutes", Value: f.Drive, Error: faults.For("Drive"), Mode: "numeric", Width: "mid"},
		Notes:     views.Field{Name: "Notes", Label: "Notes", Value: f.Notes, Error: faults.For("Notes"), Rows: 3},
	}
	m.Brings = views.Checks{Name: "Brings", Label: "Brings as a rule", Hint: "Theirs, or the club's that they keep. For one night they can say otherwise on their own page."}
	for _, b := range portable(gear) {
		id := strconv.FormatInt(b.ID, 10)
		m.Brings.Items = append(m.Brings.Items, views.Check{Name: "Brings", Value: id, Label: b.Name, Checked: slices.Contains(f.Brings, id)})
	}
	for _, o := range roleWords {
		m.Roles.Items = append(m.Roles.Items, views.Check{Name: "Roles", Value: o.Value, Label: o.Text, Checked: slices.Contains(f.Roles, o.Value)})
	}
	for _, s := range skills(gear) {
		m.Skills = append(m.Skills, views.Choice{Name: s.field, Label: s.text, Value: f.Levels[s.field], Error: faults.For(s.field), Options: levelWords, Width: "short"})
	}
	return m
}
