package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// dutyForm is a duty as typed.
type dutyForm struct {
	ID                     int64
	Person, Post, From, To string
	Pinned, Force          bool
}

func number64(v string) (int64, bool) {
	n, err := strconv.ParseInt(v, 10, 64)
	return n, err == nil && n > 0
}

// newDuty is the empty form, filled from the address.
func (s *server) newDuty(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	f := dutyForm{Person: r.FormValue("person"), Post: r.FormValue("post"), From: r.FormValue("from"), To: r.FormValue("to")}
	if f.From == "" {
		f.From, f.To = strconv.FormatInt(x.Night.PublicFrom.Unix(), 10), strconv.FormatInt(x.Night.PublicTo().Unix(), 10)
	}
	return s.showDutyForm(w, r, http.StatusOK, x, f, nil, nil)
}

// showDuty is the form of a duty that is there, with who could take it over.
func (s *server) showDuty(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	i, err := x.dutyIndex(r)
	if err != nil {
		return err
	}
	d := x.Duties[i]
	f := dutyForm{
		ID: d.ID, Person: strconv.FormatInt(d.VolunteerID, 10), Post: postValue(postOf(d)), Pinned: d.Pinned,
		From: strconv.FormatInt(d.From.Unix(), 10), To: strconv.FormatInt(d.To().Unix(), 10),
	}
	return s.showDutyForm(w, r, http.StatusOK, x, f, nil, nil)
}

func readDutyForm(r *http.Request) dutyForm {
	id, _ := number64(r.PostFormValue("duty"))
	return dutyForm{
		ID: id, Person: r.PostFormValue("person"), Post: r.PostFormValue("post"), From: r.PostFormValue("from"), To: r.PostFormValue("to"),
		Pinned: r.PostFormValue("pinned") == "1", Force: r.PostFormValue("force") == "1",
	}
}

// parse turns what was typed into a duty and the other duties of the night.
func (f dutyForm) parse(x roster) (d crew.Duty, rest []crew.Duty, faults fault.Fields) {
	add := func(name, words string) { faults = append(faults, fault.Field{Name: name, Message: words}) }
	who, _ := number64(f.Person)
	if !slices.ContainsFunc(x.Volunteers, func(v crew.Volunteer) bool { return v.ID == who }) {
		add("person", "Choose somebody from the list.")
	}
	p, ok := x.parsePost(f.Post)
	if !ok {
		add("post", "Choose a duty from the list.")
	}
	from, okFrom := unixParam(f.From)
	to, okTo := unixParam(f.To)
	switch {
	case !okFrom || !x.inNight(from):
		add("from", "Choose a time from the list.")
	case !okTo || !x.inNight(to):
		add("to", "Choose a time from the list.")
	case !to.After(from):
		add("to", "The end must be after the beginning.")
	}
	d = crew.Duty{ID: f.ID, VolunteerID: who, Role: p.Role, InstrumentID: p.InstrumentID, From: from, Length: to.Sub(from), Pinned: f.Pinned}
	for _, e := range x.Duties {
		if e.ID != f.ID {
			rest = append(rest, e)
		}
	}
	return d, rest, faults
}

// inNight keeps times within the span from noon to noon.
func (x roster) inNight(t time.Time) bool { return !t.Before(x.Sky.From) && !t.After(x.Sky.To) }

// breaks lists what a duty would break, and whether it cannot be at all: in
// two places at once.
func (x roster) breaks(d crew.Duty, rest []crew.Duty) (words []string, never bool) {
	return newWords(x.scene.Check(rest), x.scene.Check(append(slices.Clone(rest), d))), slices.ContainsFunc(rest, func(e crew.Duty) bool {
		return e.VolunteerID == d.VolunteerID && e.From.Before(d.To()) && d.From.Before(e.To())
	})
}

// saveDuty adds or changes a duty. One that breaks a rule is shown again with
// the reasons, to be set all the same or not.
func (s *server) saveDuty(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	f := readDutyForm(r)
	d, rest, faults := f.parse(x)
	if len(faults) > 0 {
		return s.showDutyForm(w, r, http.StatusUnprocessableEntity, x, f, faults, nil)
	}
	if freshRoster(r, x) != nil { // what was typed stays, and the form is of the present roster
		faults := fault.Fields{{Name: "person", Message: "Somebody has changed this roster since you opened it. Nothing was done; look at it once more, then set it again."}}
		return s.showDutyForm(w, r, http.StatusConflict, x, f, faults, nil)
	}
	if words, never := x.breaks(d, rest); never || len(words) > 0 && !f.Force {
		return s.showDutyForm(w, r, http.StatusUnprocessableEntity, x, f, nil, words)
	}
	label := "set a duty of " + x.volunteer(d.VolunteerID).Name
	if _, err := s.store.SaveDuties(r.Context(), x.Night.ID, x.RosterVersion, append(rest, d), label); err != nil {
		return err
	}
	return redirect(w, r, rosterPath(x.Night.ID), views.Flash{Text: first(label) + ": done.", Undo: rosterPath(x.Night.ID) + "/undo"})
}

// checkDuty answers at once, while somebody chooses, what a duty would break.
func (s *server) checkDuty(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	d, rest, faults := readDutyForm(r).parse(x)
	m := views.DutyVerdict{}
	if len(faults) == 0 {
		m.Breaks, m.Never = x.breaks(d, rest)
		m.Fine = len(m.Breaks) == 0
	}
	return s.fragment(w, r, http.StatusOK, views.Verdict(m))
}

func (s *server) showDutyForm(w http.ResponseWriter, r *http.Request, status int, x roster, f dutyForm, faults fault.Fields, breaks []string) error {
	base := rosterPath(x.Night.ID)
	m := views.DutyModel{
		Over: overline(x.Sheet), Title: "Add a duty", Action: base + "/duties", Check: base + "/check", Back: base, ID: f.ID, Version: x.RosterVersion, Pinned: f.Pinned,
		Person: views.Choice{Name: "person", Label: "Who", Value: f.Person, Error: faults.For("person")},
		Post:   views.Choice{Name: "post", Label: "Duty", Value: f.Post, Error: faults.For("post")},
		From:   views.Choice{Name: "from", Label: "From", Value: f.From, Error: faults.For("from"), Options: x.times(f.From), Width: "mid"},
		To:     views.Choice{Name: "to", Label: "Until", Value: f.To, Error: faults.For("to"), Options: x.times(f.To), Width: "mid"},
		Faults: rosterFaults(faults),
	}
	for _, v := range x.Volunteers {
		m.Person.Options = append(m.Person.Options, views.Option{Value: strconv.FormatInt(v.ID, 10), Text: v.Name + " (" + x.answerWords(v) + ")"})
	}
	for _, p := range x.posts() {
		m.Post.Options = append(m.Post.Options, views.Option{Value: postValue(p), Text: x.postName(p)})
	}
	if d, rest, wrong := f.parse(x); len(wrong) == 0 {
		m.Verdict.Breaks, m.Verdict.Never = x.breaks(d, rest)
		m.Verdict.Refused = len(breaks) > 0
		m.Verdict.Fine = len(m.Verdict.Breaks) == 0
		if f.ID != 0 && len(faults) == 0 {
			if i := slices.IndexFunc(x.Duties, func(e crew.Duty) bool { return e.ID == f.ID }); i >= 0 {
				x.describe(&m, x.Duties[i])
			}
		}
	}
	return s.show(w, r, status, views.Head{Title: m.Title, Section: inNights, Crumbs: append(nightCrumbs(x.Sheet), views.Link{Text: "Roster", Href: base})}, views.Duty(m))
}

// describe adds what there is to know of a duty that is on the roster.
func (x roster) describe(m *views.DutyModel, d crew.Duty) {
	v := x.volunteer(d.VolunteerID)
	m.Title = shortName(v.Name) + ": " + x.scene.PostName(postOf(d))
	m.Path = dutyPath(x.Night.ID, d.ID)
	for _, o := range x.scene.Offers(x.Duties, d, x.gone(d)) {
		action := "Let " + x.volunteer(o.VolunteerID).Name + " take it"
		if o.Trade != nil && !o.Opens {
			action = "Exchange"
		}
		m.Offers = append(m.Offers, views.RosterOffer{Person: strconv.FormatInt(o.VolunteerID, 10), Words: o.Words, Action: action})
	}
	m.With = strings.Join(x.with(d), ", ")
}

// times are the beginnings of the blocks of the night; one set by hand stays.
func (x roster) times(now string) []views.Option {
	all := x.scene.Span()
	all.From, all.To = all.From.Add(-time.Hour), all.To.Add(time.Hour)
	var out []views.Option
	have := false
	for t := all.From; !t.After(all.To) && x.Night.Block > 0; t = t.Add(x.Night.Block) {
		v := strconv.FormatInt(t.Unix(), 10)
		have = have || v == now
		out = append(out, views.Option{Value: v, Text: x.clockTwice(t)})
	}
	if t, ok := unixParam(now); ok && !have && x.inNight(t) {
		out = append(out, views.Option{Value: now, Text: x.clockTwice(t)})
		slices.SortFunc(out, func(a, b views.Option) int { return strings.Compare(a.Value, b.Value) })
	}
	return out
}

// clockTwice prints a time of the night; on a night on which the clocks are set
// back it adds the zone, so that the two hours of one name can be told apart.
func (x roster) clockTwice(t time.Time) string {
	if zoneName(x.Sheet) != t.In(x.Zone).Format("MST") {
		return t.In(x.Zone).Format("15:04 MST")
	}
	return siteClock(x.Sheet, t)
}

var dutyLabels = map[string]string{"person": "Who", "post": "Duty", "from": "From", "to": "Until"}

func rosterFaults(faults fault.Fields) []views.FieldError {
	var out []views.FieldError
	for _, f := range faults {
		out = append(out, views.FieldError{Name: f.Name, Label: dutyLabels[f.Name], Message: f.Message})
	}
	return out
}
