package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// cardChoice is how the papers are printed, chosen once and kept.
type cardChoice struct{ Paper, Layout, Lang string }

const cardCookie = "cards"

// cardChoiceOf reads the choice from the address, else from the cookie, else
// takes the club's paper, two to a sheet, in English. What is asked for in the
// address is kept for the next time.
func cardChoiceOf(w http.ResponseWriter, r *http.Request, club night.Club) cardChoice {
	c := cardChoice{Paper: "a4", Layout: "half", Lang: "en"}
	if club.Paper == "letter" {
		c.Paper = "letter"
	}
	read := func(paper, layout, lang string) {
		if paper == "a4" || paper == "letter" {
			c.Paper = paper
		}
		if layout == "half" || layout == "full" {
			c.Layout = layout
		}
		if slices.Contains(catalog.Languages(), lang) {
			c.Lang = lang
		}
	}
	if k, err := r.Cookie(cardCookie); err == nil {
		if f := strings.Split(k.Value, "."); len(f) == 3 {
			read(f[0], f[1], f[2])
		}
	}
	q := r.URL.Query()
	read(q.Get("paper"), q.Get("layout"), q.Get("lang"))
	if q.Has("paper") || q.Has("layout") || q.Has("lang") {
		http.SetCookie(w, &http.Cookie{Name: cardCookie, Value: c.Paper + "." + c.Layout + "." + c.Lang, Path: "/", MaxAge: 365 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteLaxMode})
	}
	return c
}

func (c cardChoice) size() sheetSize { return sheetSizes[c.Paper+"-"+c.Layout] }

// showCards is the printed set of operator cards: one for each instrument that
// shows something.
func (s *server) showCards(w http.ResponseWriter, r *http.Request) error {
	c, m, choice, err := s.papersFor(w, r, "cards")
	if err != nil {
		return err
	}
	m.Cards = c.cards(choice.size())
	return s.show(w, r, http.StatusOK, views.Head{Title: "Cards · " + c.sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(c.sh)}, views.Cards(m))
}

// choices are the rows of links by which paper, layout and language are
// chosen.
func (s *server) choices(path string, now cardChoice) []views.Choices {
	link := func(text string, c cardChoice) views.Link {
		return views.Link{Text: text, Href: path + "?paper=" + c.Paper + "&layout=" + c.Layout + "&lang=" + c.Lang, Current: c == now}
	}
	with := func(change func(*cardChoice)) cardChoice { c := now; change(&c); return c }
	half := map[string]string{"a4": "A5, two to a sheet", "letter": "Half letter, two to a sheet"}[now.Paper]
	rows := []views.Choices{
		{Label: "Paper", Links: []views.Link{link("A4", with(func(c *cardChoice) { c.Paper = "a4" })), link("Letter", with(func(c *cardChoice) { c.Paper = "letter" }))}},
		{Label: "Size", Links: []views.Link{link(half, with(func(c *cardChoice) { c.Layout = "half" })), link("Full page", with(func(c *cardChoice) { c.Layout = "full" }))}},
	}
	lang := views.Choices{Label: "Language"}
	for _, code := range catalog.Languages() {
		lang.Links = append(lang.Links, link(s.cardWords[code].Name, with(func(c *cardChoice) { c.Lang = code })))
	}
	return append(rows, lang)
}

// paperLinks are the papers of a night.
func paperLinks(id int64, current string) []views.Link {
	base := nightPath(id)
	links := []views.Link{
		{Text: "Operator cards", Href: base + "/cards"}, {Text: "Placards", Href: base + "/placards"}, {Text: "Sheet for guests", Href: base + "/guest-sheet"}, {Text: "Field", Href: base + "/field/sheet"},
		{Text: "The whole set", Href: base + "/print"}, {Text: "Guests’ page", Href: base + "/programme"},
	}
	for i, key := range []string{"cards", "placards", "guest-sheet", "field/sheet", "print", "programme"} {
		links[i].Current = key == current
	}
	return links
}

// cards are the cards of every instrument that shows something, laid out.
func (c cardWriter) cards(z sheetSize) []views.Card {
	if len(c.sh.Showings) == 0 {
		return nil
	}
	var out []views.Card
	for _, inst := range c.sh.Kit.Instruments {
		if card, ok := c.card(z, inst); ok {
			out = append(out, card)
		}
	}
	return out
}

// card is the card of one instrument; false when it shows nothing.
func (c cardWriter) card(z sheetSize, inst kit.Instrument) (views.Card, bool) {
	card := views.Card{
		Name: inst.Name, Line: c.instrument(inst) + ".", Date: c.date(), Zone: zoneName(c.sh), Operators: c.operators(inst),
		Place: c.place(inst), Care: c.care(inst), LooksWord: c.w.say("looks"), FaultsWord: c.w.say("faults"), Pages: c.w.say("page", 9, 9),
	}
	var turns []views.Turn
	var which []int
	for i, s := range c.sh.Showings {
		if s.InstrumentID == inst.ID {
			turns = append(turns, c.turn(inst, s))
			which = append(which, i)
		}
	}
	if len(turns) == 0 {
		return card, false
	}
	faces := z.faces(card, turns)
	for n, f := range faces {
		side := views.CardSide{Foot: f.foot}
		if len(faces) > 1 {
			side.Number = c.w.say("page", n+1, len(faces))
		}
		if f.count == 0 {
			side.Glance = turns
		}
		for i := f.first; i < f.first+f.count; i++ {
			turns[i].Charts = c.charts(chartID(inst.ID, i), inst, c.sh.Showings[which[i]], z.W, f.charts)
			side.Turns = append(side.Turns, turns[i])
		}
		card.Sides = append(card.Sides, side)
	}
	return card, true
}

// instrument describes an instrument in a few words.
func (c cardWriter) instrument(i kit.Instrument) string {
	mount := c.w.say("mount." + string(i.Mount))
	if i.Design == kit.Binoculars {
		return c.w.say("binoculars", c.w.number(i.Power, 1), c.w.number(i.Aperture, 0), mount)
	}
	ratio := 0.0
	if i.Aperture > 0 {
		ratio = i.FocalLength / i.Aperture
	}
	return c.w.say("instrument", c.w.number(i.Aperture, 0), c.w.number(ratio, 1), c.w.say("design."+string(i.Design)), mount)
}

// date prints the date of a night as two days: "13/14 March 2027".
func (c cardWriter) date() string {
	d, n := c.sh.Night.Date, c.sh.Night.Date.AddDays(1)
	month := func(m int) string { return c.w.list("months", m-1) }
	dot := map[string]string{"de": "."}[c.w.Code]
	if d.Month == n.Month {
		return fmt.Sprintf("%d%s/%d%s %s %d", d.Day, dot, n.Day, dot, month(int(d.Month)), d.Year)
	}
	return fmt.Sprintf("%d%s %s / %d%s %s %d", d.Day, dot, month(int(d.Month)), n.Day, dot, month(int(n.Month)), n.Year)
}

// operators names who runs the instrument, with hand-over times, from the
// roster; before there is one, nobody.
func (c cardWriter) operators(inst kit.Instrument) string {
	var words []string
	for _, d := range c.sh.Duties {
		if d.Role != crew.Operator || d.InstrumentID != inst.ID {
			continue
		}
		for _, v := range c.sh.Volunteers {
			if v.ID == d.VolunteerID {
				words = append(words, c.w.say("operator", v.Name, c.clock(d.From), c.clock(d.To())))
			}
		}
	}
	if len(words) == 0 {
		return ""
	}
	return strings.Join(words, c.w.say("then")) + "."
}
