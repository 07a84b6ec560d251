package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// showCrewNight is one person on one night: duties, the one action for when they
// drop out, and, once they have, who could step in and whom to tell.
func (s *server) showCrewNight(w http.ResponseWriter, r *http.Request) error {
	x, v, err := s.crewNightOf(r)
	if err != nil {
		return err
	}
	base := rosterPath(x.Night.ID)
	m := views.CrewNightModel{
		Over: overline(x.Sheet), Title: shortName(v.Name), Path: fmt.Sprintf("%s/people/%d", base, v.ID), Back: base, Answer: first(x.answerWords(v)),
		Wishes: x.answer(v.ID).Wishes, Gone: x.answer(v.ID).Answer == crew.No, Add: fmt.Sprintf("%s/new?person=%d", base, v.ID),
		Propose: base + "/propose", LineUp: replanWithout(x, v.ID, nil), EditHref: crewPath(v.ID),
	}
	ds := x.dutiesOf(v.ID)
	for _, d := range ds {
		m.Duties = append(m.Duties, views.Row{Label: span(x.Sheet, d.From, d.To()), Value: x.postName(postOf(d)), Note: x.dutyDetail(v, d)})
		m.Hrefs = append(m.Hrefs, dutyPath(x.Night.ID, d.ID))
	}
	if m.Gone {
		if err := s.describeAbsence(r, x, v, &m); err != nil {
			return err
		}
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: v.Name + " · " + x.Night.Name, Section: inNights, Crumbs: append(nightCrumbs(x.Sheet), views.Link{Text: "Roster", Href: base})}, views.CrewNight(m))
}

// replanWithout is the page that plans the rest again, changing little, with
// somebody ticked as gone, and as out what they ran and nobody runs now.
func replanWithout(x roster, id int64, lost []crew.Duty) string {
	q := url.Values{"gone": {strconv.FormatInt(id, 10)}}
	for _, u := range x.scene.Unstaffed(x.Duties) {
		inst := strconv.FormatInt(u.InstrumentID, 10)
		theirs := slices.ContainsFunc(lost, func(d crew.Duty) bool { return d.Role == crew.Operator && d.InstrumentID == u.InstrumentID })
		if theirs && !slices.Contains(q["out"], inst) {
			q.Add("out", inst)
		}
	}
	return lineUpPath(x.Night.ID) + "/replan?" + q.Encode()
}

// describeAbsence finds, from the history, what somebody had before they
// dropped out, and says what follows.
func (s *server) describeAbsence(r *http.Request, x roster, v crew.Volunteer, m *views.CrewNightModel) error {
	entries, err := s.store.Rosters(r.Context(), x.Night.ID)
	if err != nil {
		return err
	}
	had := func(d crew.Duty) bool { return d.VolunteerID == v.ID }
	i := len(entries) - 1
	for i >= 0 && !slices.ContainsFunc(entries[i].Duties, had) {
		i--
	}
	if i < 0 {
		return nil
	}
	a := x.scene.Drop(entries[i].Duties, v.ID)
	m.LineUp = replanWithout(x, v.ID, a.Lost)
	for _, d := range a.Lost {
		lost := views.LostDuty{Words: x.postName(postOf(d)) + ", " + span(x.Sheet, d.From, d.To())}
		if x.taken(d) {
			lost.Taken = "somebody has it now"
		} else {
			for _, o := range x.scene.Offers(append(slices.Clone(x.Duties), d), d, true) {
				lost.Offers = append(lost.Offers, views.RosterOffer{Person: strconv.FormatInt(o.VolunteerID, 10), Words: o.Words, Action: "Put " + x.volunteer(o.VolunteerID).Name + " on it", Post: postValue(postOf(d)), From: d.From.Unix(), To: d.To().Unix()})
			}
		}
		m.Lost = append(m.Lost, lost)
	}
	for _, u := range x.scene.Unstaffed(x.Duties) {
		m.Unstaffed = append(m.Unstaffed, u.Words)
	}
	for _, t := range a.Tell {
		who := x.volunteer(t.VolunteerID)
		m.Tell = append(m.Tell, views.TellRow{Name: who.Name, Why: t.Why, Contact: contactOf(who), Mail: mailto(who.Email, x.Night.Name+": a change", fmt.Sprintf("%s cannot come on %s. You are told because it touches you: %s.", v.Name, longDate(x.Sheet), t.Why))})
	}
	return nil
}

// taken reports whether the post of a duty is filled over its whole length.
func (x roster) taken(d crew.Duty) bool {
	for _, g := range x.scene.Gaps(x.Duties) {
		if g.Post == postOf(d) && g.From.Before(d.To()) && d.From.Before(g.To) {
			return false
		}
	}
	return true
}

// dropPerson takes somebody out of a night in one action: the answer becomes
// no, the duties go, and the page says what follows.
func (s *server) dropPerson(w http.ResponseWriter, r *http.Request) error {
	x, v, err := s.crewNightOf(r)
	if err != nil {
		return err
	}
	a := x.answer(v.ID)
	a.VolunteerID, a.Answer = v.ID, crew.No
	left := x.scene.Drop(x.Duties, v.ID).Left
	if _, err := s.store.DropOut(r.Context(), x.Night.ID, x.RosterVersion, a, x.lift(v.ID), left, v.Name+" drops out"); err != nil {
		return err
	}
	return redirect(w, r, fmt.Sprintf("%s/people/%d", rosterPath(x.Night.ID), v.ID), views.Flash{Text: v.Name + " is off the roster. Below: who can step in, and whom to tell."})
}

// coverDuty puts somebody on a duty that was lost, as offered on the page of
// whoever dropped out.
func (s *server) coverDuty(w http.ResponseWriter, r *http.Request) error {
	x, v, err := s.crewNightOf(r)
	if err != nil {
		return err
	}
	p, ok := x.parsePost(r.PostFormValue("post"))
	from, okFrom := unixParam(r.PostFormValue("from"))
	to, okTo := unixParam(r.PostFormValue("to"))
	who, _ := number64(r.PostFormValue("person"))
	if !ok || !okFrom || !okTo || !to.After(from) {
		return fault.New(fault.Invalid, "This duty cannot be read; go back and choose it again.")
	}
	d := crew.Duty{VolunteerID: v.ID, Role: p.Role, InstrumentID: p.InstrumentID, From: from, Length: to.Sub(from)}
	all := append(slices.Clone(x.Duties), d)
	for _, o := range x.scene.Offers(all, d, true) {
		if o.VolunteerID != who {
			continue
		}
		if _, err := s.store.SaveDuties(r.Context(), x.Night.ID, x.RosterVersion, crew.Take(all, d, o), x.volunteer(who).Name+" steps in for "+v.Name); err != nil {
			return err
		}
		return redirect(w, r, fmt.Sprintf("%s/people/%d", rosterPath(x.Night.ID), v.ID), views.Flash{Text: x.volunteer(who).Name + " steps in: " + x.postName(p) + ", " + span(x.Sheet, from, to) + "."})
	}
	return fault.New(fault.Conflict, "This is not possible any more; somebody has changed the roster meanwhile.")
}

func (s *server) crewNightOf(r *http.Request) (roster, crew.Volunteer, error) {
	x, err := s.rosterOf(r)
	if err != nil {
		return x, crew.Volunteer{}, err
	}
	id, err := idParam(r, "person")
	if err != nil {
		return x, crew.Volunteer{}, err
	}
	i := slices.IndexFunc(x.Volunteers, func(v crew.Volunteer) bool { return v.ID == id })
	if i < 0 {
		return x, crew.Volunteer{}, fault.New(fault.NotFound, "Nobody with this number is asked for this night.")
	}
	return x, x.Volunteers[i], nil
}

func (x roster) lift(id int64) crew.Lift {
	for _, l := range x.scene.Lifts {
		if l.VolunteerID == id {
			return l
		}
	}
	return crew.Lift{VolunteerID: id}
}

// contactOf is how the coordinator reaches somebody.
func contactOf(v crew.Volunteer) string {
	var parts []string
	for _, p := range []string{v.Phone, v.Email} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, ", ")
}

// mailto is a link that opens a ready message; "" without an address.
func mailto(address, subject, body string) string {
	if address == "" {
		return ""
	}
	escape := func(s string) string { return strings.ReplaceAll(url.QueryEscape(s), "+", "%20") }
	return "mailto:" + url.PathEscape(address) + "?subject=" + escape(subject) + "&body=" + escape(body)
}
