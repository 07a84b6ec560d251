package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// showAnswers lists what everybody said about a night, those who said nothing
// first.
func (s *server) showAnswers(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	return s.answers(w, r, x, nil)
}

// writeReminders makes a link for everybody who has not answered and shows the
// ready texts once: only hashes are kept, so they cannot be shown again.
func (s *server) writeReminders(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	var letters []views.Letter
	for _, v := range x.Volunteers {
		if x.answer(v.ID).Answer != crew.NoAnswer || v.Retired {
			continue
		}
		link, err := s.newLink(r, v)
		if err != nil {
			return err
		}
		letters = append(letters, x.letter(v, link))
	}
	if len(letters) == 0 {
		return redirect(w, r, nightPath(x.Night.ID)+"/answers", views.Flash{Text: "Everybody has answered."})
	}
	return s.answers(w, r, x, letters)
}

// newLink makes a personal link and keeps its hash.
func (s *server) newLink(r *http.Request, v crew.Volunteer) (string, error) {
	token := account.NewToken()
	if err := s.store.AddLink(r.Context(), v.ID, account.TokenHash(token), s.now()); err != nil {
		return "", err
	}
	return s.origin(r) + linkPath(token), nil
}

// letter is the ready text that asks somebody for an answer.
func (x roster) letter(v crew.Volunteer, link string) views.Letter {
	subject := x.Night.Name + ", " + longDate(x.Sheet) + ": can you help?"
	body := fmt.Sprintf("Hello %s,\n\nwe plan %s on %s at %s, open to guests %s (%s).\n\nCan you help? Please answer here, it takes less than a minute:\n%s\n\nThe link is yours alone and needs no password; you will find your duties there later.\n\nThank you!\n%s",
		v.Name, x.Night.Name, longDate(x.Sheet), x.Site.Name, span(x.Sheet, x.Night.PublicFrom, x.Night.PublicTo()), zoneName(x.Sheet), link, x.Club.Name)
	return views.Letter{Name: v.Name, Link: link, Text: body, Mail: mailto(v.Email, subject, body), Phone: v.Phone}
}

func (s *server) answers(w http.ResponseWriter, r *http.Request, x roster, letters []views.Letter) error {
	links, err := s.store.Links(r.Context())
	if err != nil {
		return err
	}
	m := views.AnswersModel{
		Over: overline(x.Sheet), Tabs: nightTabs(x.Night.ID, "roster"), Back: rosterPath(x.Night.ID), Remind: nightPath(x.Night.ID) + "/answers/remind",
		Choose: nightPath(x.Night.ID) + "/choose#crew", Letters: letters, Asked: len(x.Volunteers) > 0,
		Table: views.Table{Caption: "Answers", Columns: []views.Column{{Label: "Name"}, {Label: "Answer"}, {Label: "Would like"}, {Label: "The way there"}, {Label: "Says"}, {Label: "Link"}}},
	}
	people := slices.Clone(x.Volunteers)
	slices.SortStableFunc(people, func(a, b crew.Volunteer) int {
		return answerOrder(x.answer(a.ID).Answer) - answerOrder(x.answer(b.ID).Answer)
	})
	for _, v := range people {
		a, l := x.answer(v.ID), x.lift(v.ID)
		if a.Answer == crew.NoAnswer {
			m.Waiting = append(m.Waiting, v.Name)
		}
		ride := ""
		switch {
		case l.Needs:
			ride = "Needs a lift"
		case l.Seats > 0:
			ride = plural(l.Seats, "free seat", "free seats")
		}
		if ride != "" && l.Place != "" {
			ride += " from " + l.Place
		}
		wish := ""
		if l.Wish != "" {
			wish = wordFor(roleWords, l.Wish)
		}
		m.Table.Rows = append(m.Table.Rows, []views.Cell{
			{Text: shortName(v.Name), Href: fmt.Sprintf("%s/people/%d", rosterPath(x.Night.ID), v.ID)}, {Text: first(x.answerWords(v))}, {Text: wish}, {Text: ride}, {Text: a.Wishes}, {Text: linkWords(links, v.ID)},
		})
	}
	dropBlank(&m.Table)
	return s.show(w, r, http.StatusOK, views.Head{Title: "Answers · " + x.Night.Name, Section: inNights, Crumbs: append(nightCrumbs(x.Sheet), views.Link{Text: "Roster", Href: m.Back})}, views.Answers(m))
}

// dropBlank takes out the columns in which no row says anything.
func dropBlank(t *views.Table) {
	for i := len(t.Columns) - 1; i > 0; i-- {
		if !slices.ContainsFunc(t.Rows, func(row []views.Cell) bool { return row[i].Text != "" && row[i].Text != noLink }) {
			t.Columns = slices.Delete(t.Columns, i, i+1)
			for j := range t.Rows {
				t.Rows[j] = slices.Delete(t.Rows[j], i, i+1)
			}
		}
	}
}

func answerOrder(a crew.Answer) int {
	return slices.Index([]crew.Answer{crew.NoAnswer, crew.Yes, crew.Maybe, crew.No}, a)
}

// noLink is said of somebody without a personal link.
const noLink = "none"

// linkWords says whether somebody has a personal link and when it was used.
func linkWords(links []crew.Link, volunteer int64) string {
	n, used := 0, crew.Link{}
	for _, l := range links {
		if l.VolunteerID == volunteer {
			n++
			if l.Used.After(used.Used) {
				used = l
			}
		}
	}
	switch {
	case n == 0:
		return noLink
	case used.Used.IsZero():
		return "not opened yet"
	}
	return "last opened " + used.Used.Format("2 Jan 2006")
}

// makeLink shows a new personal link of one volunteer, once.
func (s *server) makeLink(w http.ResponseWriter, r *http.Request) error {
	v, err := s.storedVolunteer(r)
	if err != nil {
		return err
	}
	link, err := s.newLink(r, v)
	if err != nil {
		return err
	}
	return s.showLinks(w, r, v, link)
}

// showLinksOf is the page of one volunteer's links: make, revoke, forget.
func (s *server) showLinksOf(w http.ResponseWriter, r *http.Request) error {
	v, err := s.storedVolunteer(r)
	if err != nil {
		return err
	}
	return s.showLinks(w, r, v, "")
}

func (s *server) showLinks(w http.ResponseWriter, r *http.Request, v crew.Volunteer, link string) error {
	links, err := s.store.Links(r.Context())
	if err != nil {
		return err
	}
	m := views.LinksModel{Name: v.Name, Path: crewPath(v.ID), New: link, Forgotten: v.Forgotten, State: linkWords(links, v.ID)}
	if link != "" {
		body := fmt.Sprintf("Hello %s,\n\nthis is your own page: when you have time, what you do, and when.\n%s\n\nIt needs no password, so keep it to yourself.\n", v.Name, link)
		m.Mail = mailto(v.Email, "Your page for our public nights", body)
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Personal link · " + v.Name, Section: inCrew, Crumbs: []views.Link{{Text: "Crew", Href: "/crew"}, {Text: v.Name, Href: crewPath(v.ID)}}}, views.Links(m))
}

// revokeLinks makes all links of a volunteer useless.
func (s *server) revokeLinks(w http.ResponseWriter, r *http.Request) error {
	v, err := s.storedVolunteer(r)
	if err != nil {
		return err
	}
	if err := s.store.RevokeLinks(r.Context(), v.ID); err != nil {
		return err
	}
	return redirect(w, r, crewPath(v.ID)+"/link", views.Flash{Text: "No link of " + v.Name + " works any more."})
}

// forgetVolunteer takes out everything that names somebody, after their name
// was typed: this cannot be undone.
func (s *server) forgetVolunteer(w http.ResponseWriter, r *http.Request) error {
	v, err := s.storedVolunteer(r)
	if err != nil {
		return err
	}
	if strings.TrimSpace(r.PostFormValue("name")) != v.Name {
		return fault.New(fault.Invalid, "To forget somebody for good, type the name exactly as it stands on the page. Nothing was changed.")
	}
	// A day back: wherever the site lies, tonight's duties are not past yet.
	left, err := s.store.ForgetVolunteer(r.Context(), v.ID, sky.DateOf(s.now(), time.UTC).AddDays(-1))
	if err != nil {
		return err
	}
	words := "Forgotten. Past duties are those of “a volunteer” now."
	if len(left) > 0 {
		words += " The name, e-mail or phone still stands in what others wrote: " + strings.Join(left, ", ") + ". Look there and change it."
	}
	return redirect(w, r, "/crew", views.Flash{Text: words})
}
