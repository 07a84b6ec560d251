package web

import (
	"net/http"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// ruleField is one number on the page of rules.
type ruleField struct {
	name, label, unit, hint string
	get                     func(crew.Rules) int
	set                     func(*crew.Rules, int)
}

func minutesField(name, label, hint string, at func(*crew.Rules) *time.Duration) ruleField {
	return ruleField{name, label, "minutes", hint,
		func(r crew.Rules) int { return int(*at(&r) / time.Minute) },
		func(r *crew.Rules, n int) { *at(r) = time.Duration(n) * time.Minute }}
}

func ratioField(name, label, unit string, at func(*crew.Rules) *int) ruleField {
	return ruleField{name, label, unit, "", func(r crew.Rules) int { return *at(&r) }, func(r *crew.Rules, n int) { *at(r) = n }}
}

var workFields = []ruleField{
	minutesField("Work", "Longest work without a break", "", func(r *crew.Rules) *time.Duration { return &r.Work }),
	minutesField("Break", "Shortest break", "", func(r *crew.Rules) *time.Duration { return &r.Break }),
	minutesField("Least", "Shortest duty", "", func(r *crew.Rules) *time.Duration { return &r.Least }),
	minutesField("Lead", "Set-up before the gate opens", "", func(r *crew.Rules) *time.Duration { return &r.Lead }),
	minutesField("After", "Pack-down after the end", "", func(r *crew.Rules) *time.Duration { return &r.After }),
	minutesField("Train", "To be shown a similar instrument", "Used where a gap could be closed by a short training.", func(r *crew.Rules) *time.Duration { return &r.Train }),
}

var ratioFields = []ruleField{
	ratioField("PerGreeter", "One greeter for", "guests", func(r *crew.Rules) *int { return &r.PerGreeter }),
	ratioField("PerQueueHost", "One host of the queues for", "guests", func(r *crew.Rules) *int { return &r.PerQueueHost }),
	ratioField("PerGuide", "One constellation guide for", "guests", func(r *crew.Rules) *int { return &r.PerGuide }),
	ratioField("PerParking", "One on the car park for", "guests", func(r *crew.Rules) *int { return &r.PerParking }),
	ratioField("PerSafety", "One on safety for", "guests", func(r *crew.Rules) *int { return &r.PerSafety }),
	ratioField("PerSetUp", "One who helps set up for", "instruments", func(r *crew.Rules) *int { return &r.PerSetUp }),
	ratioField("PerPackDown", "One who helps pack down for", "instruments", func(r *crew.Rules) *int { return &r.PerPackDown }),
}

func (s *server) showCrewRules(w http.ResponseWriter, r *http.Request) error {
	rules, err := s.store.CrewRules(r.Context())
	if err != nil {
		return err
	}
	return s.crewRulesPage(w, r, http.StatusOK, rules, nil, nil)
}

// saveCrewRules keeps the rules, or shows them as typed.
func (s *server) saveCrewRules(w http.ResponseWriter, r *http.Request) error {
	stored, err := s.store.CrewRules(r.Context())
	if err != nil {
		return err
	}
	rules, typed := stored, map[string]string{}
	var faults fault.Fields
	for _, f := range append(append([]ruleField(nil), workFields...), ratioFields...) {
		typed[f.name] = strings.TrimSpace(r.PostFormValue(f.name))
		n, err := strconv.Atoi(typed[f.name])
		if err != nil || n > 100000 || n < -100000 {
			faults = append(faults, fault.Field{Name: f.name, Message: "Write a whole number."})
			continue
		}
		f.set(&rules, n)
	}
	if r.PostForm.Has("SeasonMonth") { // 0 when it cannot be read, which the check refuses
		n, _ := strconv.Atoi(r.PostFormValue("SeasonMonth"))
		rules.SeasonMonth = time.Month(n)
	}
	rules.MinorsGuarded, rules.Laser = r.PostFormValue("MinorsGuarded") != "", r.PostFormValue("Laser") != ""
	for _, f := range rules.Check() {
		if faults.For(f.Name) == "" {
			faults = append(faults, f)
		}
	}
	if len(faults) > 0 {
		return s.crewRulesPage(w, r, http.StatusUnprocessableEntity, rules, typed, faults)
	}
	if n, err := strconv.ParseInt(r.PostFormValue("Version"), 10, 64); err == nil {
		rules.Version = n
	}
	if err := s.store.SaveCrewRules(r.Context(), &rules); err != nil {
		return err
	}
	return redirect(w, r, "/crew/rules", views.Flash{Text: "The rules are saved; propose a roster again to follow them."})
}

func (s *server) crewRulesPage(w http.ResponseWriter, r *http.Request, status int, rules crew.Rules, typed map[string]string, faults fault.Fields) error {
	m := views.CrewRulesModel{Version: strconv.FormatInt(rules.Version, 10), Minors: rules.MinorsGuarded, Laser: rules.Laser}
	m.Season = views.Choice{Name: "SeasonMonth", Label: "A season begins with", Value: strconv.Itoa(int(rules.SeasonMonth)), Error: faults.For("SeasonMonth"), Width: "mid"}
	for month := time.January; month <= time.December; month++ {
		m.Season.Options = append(m.Season.Options, views.Option{Value: strconv.Itoa(int(month)), Text: month.String()})
	}
	if m.Season.Error != "" {
		m.Faults = append(m.Faults, views.FieldError{Name: m.Season.Name, Label: m.Season.Label, Message: m.Season.Error})
	}
	fields := func(fs []ruleField) []views.Field {
		var out []views.Field
		for _, f := range fs {
			value, ok := typed[f.name]
			if !ok {
				value = strconv.Itoa(f.get(rules))
			}
			out = append(out, views.Field{Name: f.name, Label: f.label, Unit: f.unit, Hint: f.hint, Value: value, Error: faults.For(f.name), Mode: "numeric", Width: "mid"})
			if e := faults.For(f.name); e != "" {
				m.Faults = append(m.Faults, views.FieldError{Name: f.name, Label: f.label, Message: e})
			}
		}
		return out
	}
	m.Work, m.Ratios = fields(workFields), fields(ratioFields)
	return s.show(w, r, status, views.Head{Title: "How many people a night needs", Section: inCrew, Crumbs: []views.Link{{Text: "Crew", Href: "/crew"}}}, views.CrewRules(m))
}
