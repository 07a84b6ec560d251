package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/privacy"
	"duskboard/web/views"
)

// showPrivacy says in plain words what is kept about people. It is made from
// the table of package privacy.
func (s *server) showPrivacy(w http.ResponseWriter, r *http.Request) error {
	k, err := s.store.Keeping(r.Context())
	if err != nil {
		return err
	}
	m := views.PrivacyModel{Answers: afterMonths(k.Answers), History: afterMonths(k.History), Contacts: afterMonths(k.Contacts), Copies: strconv.Itoa(privacy.DailyCopies)}
	for _, e := range privacy.About() {
		m.Entries = append(m.Entries, views.PrivacyEntry{Title: e.Title, About: first(e.About) + ".", Why: first(e.Why) + ".", Seen: first(e.Seen) + ".", Kept: first(e.Kept) + "."})
	}
	who := person(r)
	// Whoever comes from a personal link has no way to the other pages.
	head := views.Head{Title: "What is kept about people", Bare: s.guard != nil && who.ID == 0}
	if s.guard == nil || who.Role.Covers(account.Coordinator) {
		m.Change = "/club/data#keep-h"
	}
	return s.show(w, r, http.StatusOK, head, views.Privacy(m))
}

func afterMonths(n int) string {
	switch n {
	case 0:
		return "for ever, until somebody is erased"
	case 1:
		return "1 month after the night"
	}
	return fmt.Sprintf("%d months after the night", n)
}

// saveConsent is a volunteer's own word on who sees their contact data.
func (s *server) saveConsent(w http.ResponseWriter, r *http.Request) error {
	v, token, err := s.guest(w, r, false)
	if err != nil {
		return err
	}
	agree := r.PostFormValue("agree")
	if agree != "yes" && agree != "no" || v.Minor {
		return fault.New(fault.Invalid, "Choose one of the two.")
	}
	v.Share = agree == "yes"
	// As the volunteer: it is recorded as their own word.
	if err := s.store.SaveVolunteer(night.By(r.Context(), v.Name), &v); err != nil {
		return err
	}
	words := "Noted: only coordinators see your e-mail and phone."
	if v.Share {
		words = "Noted: the crew of your nights may see your e-mail and phone."
	}
	return redirect(w, r, linkPath(token)+"#data-h", views.Flash{Text: words})
}

// typedText is what was typed into a box, without spaces around.
func typedText(r *http.Request, name string) string { return strings.TrimSpace(r.PostFormValue(name)) }
