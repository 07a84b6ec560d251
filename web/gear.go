package web

import (
	"context"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/web/views"
)

// gear describes one kind of gear to the pages: how it is typed, checked and
// kept. One description serves the form, its parsing, the refused form and the
// list of differences, so that a field is written down once.
type gear[T any] struct {
	path      string // in the address: /kit/{path}
	one, many string
	title     func(T) string // name given when none was typed
	groups    []group[T]
	assumable []kit.Assumable
	base      func(*T) *kit.Base
	check     func(T) []kit.Fault
	fill      func(T) T
	load      func(ctx context.Context, id int64) (T, error)
	save      func(ctx context.Context, x *T) error
}

// group is a fieldset. Quick groups stand open; the rest is folded as Details.
type group[T any] struct {
	title, hint string
	quick       bool
	entries     []entry[T]
}

// entry is one field: name is that of the Go field, the same in kit.Fault and
// kit.Base.Assumed.
type entry[T any] struct {
	name, label, hint, unit, class string
	mode                           string // inputmode
	kind                           entryKind
	options                        func(refs) []views.Option
	read                           func(x *T, raw string, u refs) error // raw is trimmed and not empty
	clear                          func(x *T)
	write                          func(x T, u refs) string
	also                           func(x T) string // the value said in another way
	applies                        func(T) bool     // nil applies always
	assumable                      bool             // may be left empty: a default stands in
	required                       string           // what to say when it is empty; "" may be empty
}

type entryKind int

const (
	boxEntry entryKind = iota
	choiceEntry
	tickEntry
	areaEntry
	dateEntry
	listEntryKind
)

// refs is what a form needs besides the gear itself.
type refs struct {
	inches      bool // the club types apertures in inches first
	volunteers  []views.Option
	instruments []views.Option
}

// instrument returns the name of an instrument, or none when there is none.
func (u refs) instrument(id int64, none string) string {
	if id == 0 {
		return none
	}
	return wordFor(u.instruments, strconv.FormatInt(id, 10))
}

// entries returns every field in order. Those that others depend on (design,
// aperture) come first in their forms.
func (g gear[T]) entries() []entry[T] {
	var all []entry[T]
	for _, gr := range g.groups {
		all = append(all, gr.entries...)
	}
	return all
}

// parse is the one way from a form to gear. It starts from x, reads every field
// that applies, and returns the gear with its faults, which are of the form
// first and then of the domain; a field left empty is named in Assumed.
func (g gear[T]) parse(form url.Values, x T, u refs) (T, fault.Fields) {
	var faults fault.Fields
	var assumed []string
	for _, e := range g.entries() {
		raw := typed(form, e.name)
		switch {
		case e.applies != nil && !e.applies(x):
			e.clear(&x) // hidden in the form: what it held has no meaning now
		case raw != "":
			if err := e.read(&x, raw, u); err != nil {
				faults = append(faults, fault.Field{Name: e.name, Message: first(err.Error()) + "."})
			}
		case e.required != "":
			e.clear(&x)
			faults = append(faults, fault.Field{Name: e.name, Message: e.required})
		default:
			e.clear(&x)
			if e.assumable {
				assumed = append(assumed, e.name)
			}
		}
	}

	b := g.base(&x)
	b.Assumed = assumed
	if b.Name == "" {
		b.Name = g.title(x)
	}
	for _, f := range g.check(x) {
		name := formName(f.Field)
		if faults.For(name) == "" {
			faults = append(faults, fault.Field{Name: name, Message: first(f.Message) + "."})
		}
	}
	return x, faults
}

// typed returns what was typed into a field; several ticked boxes of one name
// are joined with commas.
func typed(form url.Values, name string) string {
	return strings.TrimSpace(strings.Join(form[name], ","))
}

// formName is the field of the form at which a domain fault is shown.
func formName(field string) string {
	if field == "SolarFilter" {
		return "Fitted"
	}
	return field
}

// values is the inverse of parse: what the boxes hold for stored gear. An
// assumed field is left empty, so that it stays assumed until someone knows.
func (g gear[T]) values(x T, u refs) url.Values {
	assumed := map[string]bool{}
	for _, name := range g.base(&x).Assumed {
		assumed[name] = true
	}
	v := url.Values{}
	for _, e := range g.entries() {
		if !assumed[e.name] && (e.applies == nil || e.applies(x)) {
			w := e.write(x, u)
			if w == "0" && !e.assumable {
				w = "" // 0 means none or not known here
			}
			v.Set(e.name, w)
		}
	}
	return v
}

// form builds the view of values as typed. x is what parse made of them: where
// it is sound, the defaults that would stand in are shown as placeholders.
func (g gear[T]) form(v url.Values, x T, faults fault.Fields, u refs) views.GearForm {
	// Defaults depend on what is known, so none are offered while that is not
	// sound, as in an empty form.
	standIn, known := x, len(faults) == 0 && len(g.check(named(g, x))) == 0
	if known {
		standIn = g.fill(x)
	}
	m := views.GearForm{}
	for _, gr := range g.groups {
		vg := views.FormGroup{Title: gr.title, Hint: gr.hint, Quick: gr.quick}
		for _, e := range gr.entries {
			assumedNow := ""
			if known && e.assumable && (e.applies == nil || e.applies(x)) {
				assumedNow = e.write(standIn, u)
			}
			vg.Items = append(vg.Items, e.item(typed(v, e.name), assumedNow, faults.For(e.name), standIn, u))
		}
		m.Groups = append(m.Groups, vg)
	}
	for _, f := range faults {
		m.Faults = append(m.Faults, views.FieldError{Name: f.Name, Label: g.label(f.Name), Message: f.Message})
	}
	return m
}

// named returns x with a name, which no other default depends on.
func named[T any](g gear[T], x T) T {
	g.base(&x).Name = "x"
	return x
}

func (g gear[T]) label(name string) string {
	for _, e := range g.entries() {
		if e.name == name {
			return e.label
		}
	}
	return name
}

// item is the view of one field. assumed is the default that would stand in.
func (e entry[T]) item(value, assumed, message string, x T, u refs) views.Item {
	switch e.kind {
	case choiceEntry:
		opts := e.options(u)
		if e.assumable {
			usual := "As usual"
			if assumed != "" {
				usual = "As usual: " + lowerFirst(wordFor(opts, assumed))
			}
			opts = append([]views.Option{{Value: "", Text: usual}}, opts...)
		} else if e.required != "" && value == "" {
			opts = append([]views.Option{{Value: "", Text: "Choose"}}, opts...)
		}
		return views.Item{Choice: &views.Choice{Name: e.name, Label: e.label, Hint: e.hint, Value: value, Error: message, Options: opts, Width: e.class}}
	case tickEntry:
		return views.Item{Check: &views.Check{Name: e.name, Label: e.label, Hint: e.hint, Checked: value != "", Error: message}, Class: e.class}
	case listEntryKind:
		c := &views.Checks{Name: e.name, Label: e.label, Hint: e.hint, Error: message}
		chosen := strings.Split(value, ",")
		for _, o := range e.options(u) {
			c.Items = append(c.Items, views.Check{Name: e.name, Value: o.Value, Label: o.Text, Checked: slices.Contains(chosen, o.Value)})
		}
		return views.Item{Checks: c}
	case areaEntry:
		return views.Item{Area: &views.Field{Name: e.name, Label: e.label, Hint: e.hint, Value: value, Error: message, Width: e.class, Rows: 3}}
	}
	f := views.Field{
		Name: e.name, Label: e.label, Hint: e.hint, Unit: e.unit, Value: value, Error: message, Width: e.class,
		Mode: e.mode, Required: e.required != "",
	}
	if e.kind == dateEntry {
		f.Type = "date"
	}
	if assumed != "" {
		f.Placeholder = assumed + ", assumed"
	}
	if e.also != nil {
		f.Convert = "length"
		if message == "" {
			f.Also = e.also(x)
		}
	}
	return views.Item{Input: &f}
}

// differences lists, in words, where what is stored now differs from what was
// typed, for someone whose form is older than the stored row.
func (g gear[T]) differences(mine, stored url.Values, u refs) []string {
	var out []string
	for _, e := range g.entries() {
		t, s := typed(mine, e.name), stored.Get(e.name)
		if t == s {
			continue
		}
		if e.options != nil {
			t, s = wordFor(e.options(u), t), wordFor(e.options(u), s)
		}
		out = append(out, difference(e.label, s, t))
	}
	return out
}

func quoted(s string) string {
	if s == "" {
		return "(empty)"
	}
	return "“" + s + "”"
}

// properNames keep their capital inside a sentence.
var properNames = []string{"German", "Barlow", "Plössl", "Newtonian", "Schmidt", "Maksutov", "Huygens", "Kellner"}

// lowerFirst returns a label as it stands inside a sentence.
func lowerFirst(s string) string {
	for _, p := range properNames {
		if strings.HasPrefix(s, p) {
			return s
		}
	}
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToLower(string(r[0])) + string(r[1:])
}
