package web

import (
	"fmt"
	"slices"
	"strconv"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// replanForm is the page's model while it is put together.
type replanForm struct{ views.ReplanModel }

// replanModel is the form of what happened, with what was typed.
func (s *server) replanModel(sh *night.Sheet, h happening) replanForm {
	var f replanForm
	m := &f.ReplanModel
	base := lineUpPath(sh.Night.ID)
	m.Over, m.Action, m.Back, m.Version = overline(sh), base+"/replan", base, sh.LineUpVersion
	m.From = views.Field{Name: "from", Label: "From", Value: h.From, Width: "short", Placeholder: "now", Hint: "What runs before that stays. Empty is now."}
	if h.From == "" {
		// Taken later it must still be the same moment, and a night to come
		// begins when its gate opens.
		now := s.now()
		if now.Before(sh.Night.PublicFrom) || now.After(sh.Night.PublicTo()) {
			now = sh.Night.PublicFrom
		}
		m.From.Value = siteClock(sh, now)
	}
	at := s.now()
	if l := resolve(sh.Night.Date, m.From.Value, firstTime, sh.Zone); l.fault == "" {
		at = l.at
	}
	m.Sky = cloudModel(sh, h.Sky, at)
	degrees := func(name, label, value, hint string) views.Field {
		return views.Field{Name: name, Label: label, Value: value, Unit: "°", Mode: "decimal", Width: "short", Hint: hint}
	}
	m.Cloud = []views.Field{
		degrees("cloud-from", "Cloud from azimuth", h.CloudFrom, "North 0, east 90, south 180, west 270."),
		degrees("cloud-to", "to azimuth", h.CloudTo, "Going through east; both empty is all round."),
		degrees("cloud-below", "below an altitude of", h.CloudBelow, "Empty is up to the zenith."),
	}
	m.Out = views.Checks{Name: "outs", Label: "Instruments that are out"}
	for _, i := range sh.Kit.Instruments {
		m.Out.Items = append(m.Out.Items, tickOf("out", strconv.FormatInt(i.ID, 10), i.Name, h.Out))
	}
	m.Gone = views.Checks{Name: "gone-list", Label: "People who have gone"}
	for _, v := range sh.Volunteers {
		m.Gone.Items = append(m.Gone.Items, tickOf("gone", strconv.FormatInt(v.ID, 10), v.Name, h.Gone))
	}
	m.Missing = views.Checks{Name: "missing-list", Label: "Eyepieces that are missing"}
	for _, e := range sh.Kit.Eyepieces {
		m.Missing.Items = append(m.Missing.Items, tickOf("missing", strconv.FormatInt(e.ID, 10), e.Name, h.Missing))
	}
	missing := func(name string, ticked []string, id int64, label string) {
		m.Gear.Items = append(m.Gear.Items, tickOf(name, strconv.FormatInt(id, 10), label, ticked))
	}
	m.Gear = views.Checks{Name: "gear-list", Label: "Barlow lenses, reducers, correctors, diagonals and filters that are missing"}
	for _, x := range sh.Kit.Amplifiers {
		missing("no-amplifier", h.Amplifiers, x.ID, x.Name)
	}
	for _, x := range sh.Kit.Diagonals {
		missing("no-diagonal", h.Diagonals, x.ID, x.Name)
	}
	for _, x := range sh.Kit.Filters {
		missing("no-filter", h.Filters, x.ID, x.Name)
	}
	seeing := "unknown, 2.5″ assumed"
	if sh.Night.Seeing > 0 {
		seeing = fmt.Sprintf("%.1f″", sh.Night.Seeing)
	}
	m.Seeing = views.Field{Name: "seeing", Label: "Seeing is now", Value: h.Seeing, Unit: "″", Mode: "decimal", Width: "short", Hint: "Planned: " + seeing + "."}
	m.Guests = views.Field{Name: "guests", Label: "Guests are now", Value: h.Guests, Mode: "numeric", Width: "short", Hint: fmt.Sprintf("Planned: %d; twice as many: %d.", sh.Night.Guests, 2*sh.Night.Guests)}
	m.Kept = keptFields(h, m.From.Value)
	return f
}

// keptFields repeats what was said, so that it can be sent once more to be
// taken.
func keptFields(h happening, from string) []views.Option {
	out := []views.Option{{Value: from, Text: "from"}, {Value: h.CloudFrom, Text: "cloud-from"}, {Value: h.CloudTo, Text: "cloud-to"}, {Value: h.CloudBelow, Text: "cloud-below"},
		{Value: h.Seeing, Text: "seeing"}, {Value: h.Guests, Text: "guests"}}
	again := func(name string, values []string) {
		for _, v := range values {
			out = append(out, views.Option{Value: v, Text: name})
		}
	}
	again("out", h.Out)
	again("gone", h.Gone)
	again("missing", h.Missing)
	again("sky", h.Sky)
	again("no-amplifier", h.Amplifiers)
	again("no-diagonal", h.Diagonals)
	again("no-filter", h.Filters)
	return out
}

func tickOf(name, value, label string, ticked []string) views.Check {
	return views.Check{Name: name, Value: value, Label: label, Checked: slices.Contains(ticked, value)}
}

func (f *replanForm) keepFaults(faults fault.Fields) {
	m := &f.ReplanModel
	for _, x := range faults {
		label := x.Name
		for _, p := range append([]*views.Field{&m.From, &m.Seeing, &m.Guests}, &m.Cloud[0], &m.Cloud[1], &m.Cloud[2]) {
			if p.Name == x.Name {
				p.Error, label = x.Message, p.Label
			}
		}
		m.Faults = append(m.Faults, views.FieldError{Name: x.Name, Label: label, Message: x.Message})
	}
}
