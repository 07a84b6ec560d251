package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/account"
	"duskboard/internal/crew"
	"duskboard/internal/departure"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

func linkPath(token string) string { return "/c/" + token }

// guest is whoever opens a personal link: the volunteer, known by the token
// alone. Nothing on these pages may leak the token to anybody else.
func (s *server) guest(w http.ResponseWriter, r *http.Request, touch bool) (crew.Volunteer, string, error) {
	h := w.Header()
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("X-Robots-Tag", "noindex, nofollow")
	h.Set("Cache-Control", "no-store")
	token := chi.URLParam(r, "token")
	if len(token) < 20 || len(token) > 64 {
		return crew.Volunteer{}, "", fault.New(fault.NotFound, "This personal link is not complete. Copy the whole of it.")
	}
	v, err := s.store.LinkOwner(r.Context(), account.TokenHash(token), s.now(), touch)
	return v, token, err
}

// showLink is a volunteer's own page: what is asked, what they do, how to get
// there.
func (s *server) showLink(w http.ResponseWriter, r *http.Request) error {
	v, token, err := s.guest(w, r, true)
	if err != nil {
		return err
	}
	return s.showOwnPage(w, r, http.StatusOK, v, token, 0, answerForm{}, nil)
}

// mostNights bounds what the page shows.
const mostNights = 6

// nightsOf returns the coming nights for which somebody is asked, soonest first.
func (s *server) nightsOf(r *http.Request, v crew.Volunteer) ([]roster, error) {
	all, err := s.store.Nights(r.Context())
	if err != nil {
		return nil, err
	}
	var out []roster
	for _, n := range all {
		if n.Retired || n.PublicTo().Add(6*time.Hour).Before(s.now()) || len(out) == mostNights {
			continue
		}
		p, err := s.store.Plan(r.Context(), n.ID)
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(p.Volunteers, func(x crew.Volunteer) bool { return x.ID == v.ID }) {
			continue
		}
		x, err := s.roster(r.Context(), n.ID)
		if err != nil {
			return nil, err
		}
		out = append(out, x)
	}
	return out, nil
}

func (s *server) showOwnPage(w http.ResponseWriter, r *http.Request, status int, v crew.Volunteer, token string, typedAt int64, f answerForm, faults fault.Fields) error {
	nights, err := s.nightsOf(r, v)
	if err != nil {
		return err
	}
	m := views.OwnPage{Name: v.Name, Calendar: linkPath(token) + "/calendar.ics", Faults: len(faults) > 0}
	m.Data = views.OwnData{
		File: linkPath(token) + "/data.json", Consent: linkPath(token) + "/consent",
		Shared: v.Share, Minor: v.Minor, HasContact: v.Email+v.Phone != "",
	}
	for _, x := range nights {
		form := x.answerForm(v.ID)
		var wrong fault.Fields
		if x.Night.ID == typedAt {
			form, wrong = f, faults
		}
		m.Nights = append(m.Nights, x.ownNight(v, token, form, wrong))
	}
	return s.show(w, r, status, views.Head{Title: "Your nights", Bare: true}, views.Own(m))
}

// answerForm is an answer as typed.
type answerForm struct {
	Answer, From, To, Ride, Seats, Place, Wish, Wishes string
}

func (x roster) answerForm(volunteer int64) answerForm {
	a, l := x.answer(volunteer), x.lift(volunteer)
	f := answerForm{Answer: string(a.Answer), Wish: string(l.Wish), Wishes: a.Wishes, Place: l.Place}
	if !a.From.IsZero() {
		f.From = strconv.FormatInt(a.From.Unix(), 10)
	}
	if !a.To.IsZero() {
		f.To = strconv.FormatInt(a.To.Unix(), 10)
	}
	switch {
	case l.Needs:
		f.Ride = "needs"
	case l.Seats > 0:
		f.Ride = strconv.Itoa(l.Seats)
	}
	return f
}

func readAnswerForm(r *http.Request) answerForm {
	v := func(name string) string { return strings.TrimSpace(r.PostFormValue(name)) }
	return answerForm{Answer: v("answer"), From: v("from"), To: v("to"), Ride: v("ride"), Place: v("place"), Wish: v("wish"), Wishes: v("wishes")}
}

// parse turns what was typed into an answer. Times are from a list, so that a
// thumb is enough; what lies outside the night is refused.
func (f answerForm) parse(x roster, volunteer int64) (crew.Availability, crew.Lift, fault.Fields) {
	a, l := x.answer(volunteer), crew.Lift{VolunteerID: volunteer}
	a.VolunteerID = volunteer
	var faults fault.Fields
	add := func(name, words string) { faults = append(faults, fault.Field{Name: name, Message: words}) }
	switch a.Answer = crew.Answer(f.Answer); a.Answer {
	case crew.Yes, crew.No, crew.Maybe:
	default:
		add("answer", "Choose one of the three.")
	}
	bound := func(name, typed string) time.Time {
		if typed == "" {
			return time.Time{}
		}
		t, ok := unixParam(typed)
		if !ok || !x.inNight(t) {
			add(name, "Choose a time from the list.")
		}
		return t
	}
	a.From, a.To = bound("from", f.From), bound("to", f.To)
	if !a.From.IsZero() && !a.To.IsZero() && !a.To.After(a.From) {
		add("to", "The end must be after the beginning.")
	}
	switch n, err := strconv.Atoi(f.Ride); {
	case f.Ride == "needs":
		l.Needs = true
	case f.Ride == "":
	case err != nil || n < 0 || n > mostSeats:
		add("ride", "Choose one from the list.")
	default:
		l.Seats = n
	}
	if f.Wish != "" && !slices.Contains(crew.Roles, crew.Role(f.Wish)) {
		add("wish", "Choose one from the list.")
	}
	for name, text := range map[string]string{"place": f.Place, "wishes": f.Wishes} {
		if utf8.RuneCountInString(text) > 200 {
			add(name, "At most 200 letters.")
		}
	}
	l.Place, l.Wish, a.Wishes = f.Place, crew.Role(f.Wish), f.Wishes
	return a, l, faults
}

// mostSeats is how many free seats somebody can offer.
const mostSeats = 8

// answerLink keeps a volunteer's own answer.
func (s *server) answerLink(w http.ResponseWriter, r *http.Request) error {
	v, token, err := s.guest(w, r, false)
	if err != nil {
		return err
	}
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	if x.volunteer(v.ID).ID == 0 || !slices.ContainsFunc(x.Volunteers, func(y crew.Volunteer) bool { return y.ID == v.ID }) {
		return fault.New(fault.NotFound, "Nobody has asked you about this night.")
	}
	f := readAnswerForm(r)
	a, l, faults := f.parse(x, v.ID)
	if len(faults) > 0 {
		return s.showOwnPage(w, r, http.StatusUnprocessableEntity, v, token, x.Night.ID, f, faults)
	}
	ctx := night.By(r.Context(), v.Name)
	if err := s.store.SaveAnswer(ctx, x.Night.ID, a, l); err != nil {
		return err
	}
	words := "Thank you: your answer for " + longDate(x.Sheet) + " is noted."
	if a.Answer == crew.No && len(x.dutiesOf(v.ID)) > 0 {
		words = "Noted. You were on the roster: please also call the contact below, so that somebody can step in."
	}
	return redirect(w, r, linkPath(token)+fmt.Sprintf("#night-%d", x.Night.ID), views.Flash{Text: words})
}

// ownNight is one night on a volunteer's page.
func (x roster) ownNight(v crew.Volunteer, token string, f answerForm, faults fault.Fields) views.OwnNight {
	id := strconv.FormatInt(x.Night.ID, 10)
	field := func(name string) string { return name + "-" + id }
	m := views.OwnNight{
		ID: id, Title: x.Night.Name, When: longDate(x.Sheet), Hours: "open to guests " + span(x.Sheet, x.Night.PublicFrom, x.Night.PublicTo()) + ", times in " + zoneName(x.Sheet),
		Site: x.Site.Name, Ground: x.Site.Ground, Contact: x.Club.Contact, Action: fmt.Sprintf("%s/nights/%s", linkPath(token), id), Answered: f.Answer != "",
		Answer: f.Answer, AnswerName: field("answer"), AnswerError: faults.For("answer"),
		From:   views.Choice{Name: "from", Label: "From", Value: f.From, Error: faults.For("from"), Options: append([]views.Option{{Text: "the start"}}, x.times(f.From)...)},
		To:     views.Choice{Name: "to", Label: "Until", Value: f.To, Error: faults.For("to"), Options: append([]views.Option{{Text: "the end"}}, x.times(f.To)...)},
		Ride:   views.Choice{Name: "ride", Label: "The way there", Value: f.Ride, Error: faults.For("ride"), Options: rideOptions()},
		Place:  views.Field{Name: "place", Label: "From where", Value: f.Place, Error: faults.For("place"), Hint: "Only if you offer or need a lift: the crew sees it."},
		Wish:   views.Choice{Name: "wish", Label: "What would you like to do?", Value: f.Wish, Error: faults.For("wish"), Options: wishOptions()},
		Wishes: views.Field{Name: "wishes", Label: "Anything else", Value: f.Wishes, Error: faults.For("wishes")},
	}
	m.Coordinates = fmt.Sprintf("%.5f, %.5f", x.Site.Place.Lat, x.Site.Place.Lon)
	m.Geo = fmt.Sprintf("geo:%.6f,%.6f", x.Site.Place.Lat, x.Site.Place.Lon)
	for _, d := range x.dutiesOf(v.ID) {
		m.Duties = append(m.Duties, x.ownDuty(v, d))
	}
	if len(m.Duties) > 0 {
		m.Calendar = fmt.Sprintf("/n/%s/crew/%s.ics", id, token)
	}
	if slices.ContainsFunc(m.Duties, func(d views.OwnDuty) bool { return d.HasCard }) {
		m.Cards = m.Action + "/cards"
	}
	x.leaving(v, &m)
	x.packing(v, &m)
	for _, l := range x.scene.Lifts {
		o := x.volunteer(l.VolunteerID)
		if l.VolunteerID == v.ID || x.answer(l.VolunteerID).Answer == crew.No || l.Seats == 0 && !l.Needs {
			continue
		}
		words := plural(l.Seats, "free seat", "free seats")
		if l.Needs {
			words = "needs a lift"
		}
		if l.Place != "" {
			words += " from " + l.Place
		}
		row := views.Row{Label: o.Name, Value: words}
		if o.Share && !o.Minor {
			row.Note = contactOf(o)
		}
		m.Lifts = append(m.Lifts, row)
	}
	return m
}

func rideOptions() []views.Option {
	out := []views.Option{{Value: "", Text: "I find my own way"}, {Value: "needs", Text: "I need a lift"}}
	for n := 1; n <= 4; n++ {
		out = append(out, views.Option{Value: strconv.Itoa(n), Text: "I can take " + plural(n, "person", "people") + " along"})
	}
	return out
}

func wishOptions() []views.Option {
	out := []views.Option{{Value: "", Text: "Whatever is needed"}}
	return append(out, roleWords...)
}

// ownDuty is a duty with its showings, as its owner wants to read it.
func (x roster) ownDuty(v crew.Volunteer, d crew.Duty) views.OwnDuty {
	m := views.OwnDuty{Span: span(x.Sheet, d.From, d.To()), Title: x.postName(postOf(d))}
	for _, i := range x.Kit.Instruments {
		if i.ID != d.InstrumentID {
			continue
		}
		m.Note = instrumentLine(i)
		if i.Stand != "" {
			m.Note += "; stands at " + i.Stand
		}
		if d.Role == crew.Operator && crew.LevelAt(v, i) == crew.Learning {
			m.Note += "; you are learning"
		}
	}
	if names := x.with(d); len(names) > 0 {
		m.With = "With " + crew.List(names, 4) + "."
	}
	if d.Role == crew.ConstellationGuide {
		m.Caution = "A laser pointer only where the law and the club allow it: never near people, aircraft or vehicles; circle a star instead of pointing at it."
		if !x.scene.Rules.Laser {
			m.Caution = "No laser pointer: the club has not allowed one."
		}
	}
	if d.Role != crew.Operator {
		return m
	}
	for _, sh := range x.Showings {
		if sh.InstrumentID == d.InstrumentID && sh.From.Before(d.To()) && d.From.Before(sh.To()) {
			name := sh.TargetID
			if t, ok := x.Target(sh.TargetID); ok {
				name = t.Name
			}
			m.Shows = append(m.Shows, views.Row{Label: span(x.Sheet, sh.From, sh.To()), Value: name})
		}
	}
	if len(m.Shows) > 0 {
		m.HasCard = true
	}
	return m
}

// leaving adds what to do before leaving home, from the departure check.
func (x roster) leaving(v crew.Volunteer, m *views.OwnNight) {
	if len(m.Duties) == 0 {
		return
	}
	p, ok := departure.Build(x.Sheet).Person(v.ID)
	if !ok {
		return
	}
	if p.DriveKnown {
		m.Leave = "Leave home at " + siteClock(x.Sheet, p.Leave) + " to be there at " + siteClock(x.Sheet, p.Arrive) + "."
	} else if !p.Arrive.IsZero() {
		m.Leave = "Be there at " + siteClock(x.Sheet, p.Arrive) + "."
	}
}

// showOwnCards are the cards of the instruments that somebody runs, as on
// paper.
func (s *server) showOwnCards(w http.ResponseWriter, r *http.Request) error {
	v, token, err := s.guest(w, r, false)
	if err != nil {
		return err
	}
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	c, m, choice, err := s.papersFor(w, r, "cards")
	if err != nil {
		return err
	}
	for _, i := range x.Kit.Instruments {
		mine := slices.ContainsFunc(x.dutiesOf(v.ID), func(d crew.Duty) bool { return d.InstrumentID == i.ID })
		if !mine || len(x.Showings) == 0 {
			continue
		}
		if card, ok := c.card(choice.size(), i); ok {
			m.Cards = append(m.Cards, card)
		}
	}
	if len(m.Cards) == 0 {
		return fault.New(fault.NotFound, "You run no instrument on this night, so there is no card.")
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Your cards", Bare: true}, views.OwnCards(linkPath(token), m))
}
