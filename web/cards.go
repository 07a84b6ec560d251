package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"duskboard/internal/chart"
	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// cardChoice is how the papers of a night are printed.
type cardChoice struct{ Paper, Layout, Lang string }

// cardLayouts are the sizes of cards.
var cardLayouts = []string{"half", "full", "compact"}

// cardChoiceOf is the choice of the club and of its night, with what the
// address asks for in its place this once. Nonsense changes nothing.
func cardChoiceOf(r *http.Request, club night.Club, p night.Papers, n night.NightPapers, languages []string) cardChoice {
	c := cardChoice{Paper: "a4", Layout: "half", Lang: "en"}
	read := func(paper, layout, lang string) {
		if paper == "a4" || paper == "letter" {
			c.Paper = paper
		}
		if slices.Contains(cardLayouts, layout) {
			c.Layout = layout
		}
		if slices.Contains(languages, lang) {
			c.Lang = lang
		}
	}
	read(club.Paper, p.Layout, p.Language)
	read("", "", n.Language)
	q := r.URL.Query()
	read(q.Get("paper"), q.Get("layout"), q.Get("lang"))
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

// choices are the rows of choices: paper and size are the club's, the language
// is the night's. Who may change them does so by a press; others get links
// that change what they see.
func (s *server) choices(id int64, page string, now cardChoice, languages []*cardWords) views.PaperChoiceRows {
	m := views.PaperChoiceRows{Action: nightPath(id) + "/papers", Page: page}
	row := func(label, name string, current string, options ...[2]string) {
		c := views.Choices{Label: label, Name: name}
		for _, o := range options {
			c.Options = append(c.Options, views.PaperOption{Text: o[1], Value: o[0], Href: nightPath(id) + "/" + page + "?" + name + "=" + o[0], Current: o[0] == current})
		}
		m.Rows = append(m.Rows, c)
	}
	half := map[string]string{"a4": "A5, two to a sheet", "letter": "Half letter, two to a sheet"}[now.Paper]
	row("Paper", "paper", now.Paper, [2]string{"a4", "A4"}, [2]string{"letter", "Letter"})
	row("Size", "layout", now.Layout, [2]string{"half", half}, [2]string{"full", "Full page"}, [2]string{"compact", "Compact: fewest pages"})
	var langs [][2]string
	for _, w := range languages {
		langs = append(langs, [2]string{w.Code, w.Name})
	}
	row("Language", "lang", now.Lang, langs...)
	return m
}

// choosePapers keeps a choice: paper and size for the club, the language for
// the night.
func (s *server) choosePapers(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	ctx := r.Context()
	club, err := s.store.Club(ctx)
	if err != nil {
		return err
	}
	if p := r.PostFormValue("paper"); (p == "a4" || p == "letter") && p != club.Paper {
		club.Paper = p
		if err := s.store.SaveClub(ctx, &club); err != nil {
			return err
		}
	}
	if l := r.PostFormValue("layout"); slices.Contains(cardLayouts, l) {
		p, err := s.store.Papers(ctx)
		if err != nil {
			return err
		}
		p.Layout = l
		if err := s.store.SavePapers(ctx, p); err != nil {
			return err
		}
	}
	if lang := r.PostFormValue("lang"); lang != "" {
		all, err := s.languages(ctx)
		if err != nil {
			return err
		}
		if slices.ContainsFunc(all, func(w *cardWords) bool { return w.Code == lang }) {
			if err := s.store.SaveNightLanguage(ctx, id, lang); err != nil {
				return err
			}
		}
	}
	back := r.PostFormValue("page")
	if !slices.ContainsFunc(paperLinks(id, back), func(l views.Link) bool { return l.Current }) {
		back = "cards"
	}
	return redirect(w, r, nightPath(id)+"/"+back, views.Flash{})
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
	var which []int
	for i, s := range c.sh.Showings {
		if s.InstrumentID == inst.ID {
			which = append(which, i)
		}
	}
	if len(which) == 0 {
		return card, false
	}
	card.Tally = string(chart.DrawBoxes(fmt.Sprintf("b%d", inst.ID), views.TallyBoxes, z.W-tallyLead, c.w.say("looks")))
	turns, faces := c.layOut(z, card, inst, which)
	for n, f := range faces {
		side := views.CardSide{Foot: f.foot}
		if len(faces) > 1 {
			side.Number = c.w.say("page", n+1, len(faces))
		}
		if f.count == 0 {
			side.Glance = turns
		}
		for i := f.first; i < f.first+f.count; i++ {
			turns[i].Charts = c.charts(chartID(inst.ID, i), inst, c.sh.Showings[which[i]], z, f.charts, z.spare(turns[i], f.charts))
			side.Turns = append(side.Turns, turns[i])
		}
		card.Sides = append(card.Sides, side)
	}
	return card, true
}

// layOut writes the showings of a card and lays them on sides: with all words,
// or on a compact card with as many as give the fewest sides.
func (c cardWriter) layOut(z sheetSize, card views.Card, inst kit.Instrument, which []int) ([]views.Turn, []face) {
	levels := []words{everyWord}
	if z.Layout == "compact" {
		levels = []words{oneFact, onlyTask}
	}
	var turns []views.Turn
	var faces []face
	for _, level := range levels {
		var t []views.Turn
		for _, i := range which {
			t = append(t, c.turn(inst, c.sh.Showings[i], level))
		}
		if f := z.faces(card, t); faces == nil || len(f) < len(faces) {
			turns, faces = t, f
		}
	}
	return turns, faces
}

// instrument describes an instrument in a few words.
func (c cardWriter) instrument(i kit.Instrument) string { return c.w.instrument(i) }

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
