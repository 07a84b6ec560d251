package web

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strings"
	"time"

	qrcode "github.com/skip2/go-qrcode"

	"duskboard/internal/catalog"
	"duskboard/internal/chart"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// papersFor loads a night and the choice of paper for one of its papers.
func (s *server) papersFor(w http.ResponseWriter, r *http.Request, page string) (cardWriter, views.CardsModel, cardChoice, error) {
	id, err := idParam(r, "night")
	if err != nil {
		return cardWriter{}, views.CardsModel{}, cardChoice{}, err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return cardWriter{}, views.CardsModel{}, cardChoice{}, err
	}
	papers, err := s.store.Papers(r.Context())
	if err != nil {
		return cardWriter{}, views.CardsModel{}, cardChoice{}, err
	}
	all, err := s.store.NightPapers(r.Context())
	if err != nil {
		return cardWriter{}, views.CardsModel{}, cardChoice{}, err
	}
	languages, err := s.languages(r.Context())
	if err != nil {
		return cardWriter{}, views.CardsModel{}, cardChoice{}, err
	}
	var codes []string
	for _, w := range languages {
		codes = append(codes, w.Code)
	}
	choice := cardChoiceOf(r, sh.Club, papers, all[id], codes)
	m := views.CardsModel{Over: overline(sh), Tabs: nightTabs(id, "cards"), LineUpHref: lineUpPath(id), Lang: choice.Lang,
		Paper: choice.Paper, Layout: choice.Layout, Choices: s.choices(id, page, choice, languages), Papers: paperLinks(id, page), Publish: publishModel(id, all[id].Published)}
	c := cardWriter{sh: sh, w: languages[slices.Index(codes, choice.Lang)], layout: sh.Field()}
	if len(sh.Showings) > 0 {
		c.fits, c.finders = sh.Fits(), handOutFinders(sh.Kit)
	}
	return c, m, choice, nil
}

// showPlacards is what stands at the telescopes for guests to read.
func (s *server) showPlacards(w http.ResponseWriter, r *http.Request) error {
	c, m, _, err := s.papersFor(w, r, "placards")
	if err != nil {
		return err
	}
	m.Placards = c.placards(s.programmeCode(c, r, "p"))
	return s.show(w, r, http.StatusOK, views.Head{Title: "Placards · " + c.sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(c.sh)}, views.Placards(m))
}

// showGuestSheet is the sheet that guests take home.
func (s *server) showGuestSheet(w http.ResponseWriter, r *http.Request) error {
	c, m, _, err := s.papersFor(w, r, "guest-sheet")
	if err != nil {
		return err
	}
	next, err := s.nextNights(r, c)
	if err != nil {
		return err
	}
	m.Guest = c.guestSheet(s.programmeCode(c, r, "g"), next)
	return s.show(w, r, http.StatusOK, views.Head{Title: "Sheet for guests · " + c.sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(c.sh)}, views.GuestPage(m))
}

// showPrint is the whole set on one page: cards, placards, the guests' sheet,
// the field.
func (s *server) showPrint(w http.ResponseWriter, r *http.Request) error {
	c, m, choice, err := s.papersFor(w, r, "print")
	if err != nil {
		return err
	}
	next, err := s.nextNights(r, c)
	if err != nil {
		return err
	}
	m.Cards = c.cards(choice.size())
	m.Placards = c.placards(s.programmeCode(c, r, "p"))
	m.Guest = c.guestSheet(s.programmeCode(c, r, "g"), next)
	m.Plan = c.planSheet(choice)
	return s.show(w, r, http.StatusOK, views.Head{Title: "The whole set · " + c.sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(c.sh)}, views.PrintSet(m))
}

// programmeCode is the square code that leads to the night's public page, for
// papers of the given prefix; the same code is drawn once for each of them.
func (s *server) programmeCode(c cardWriter, r *http.Request, prefix string) func(int) views.Chart {
	address := fmt.Sprintf("%s/n/%d", s.origin(r), c.sh.Night.ID)
	code, err := qrcode.New(address, qrcode.Medium)
	if err != nil {
		return func(int) views.Chart { return views.Chart{} } // a host too long for any code
	}
	modules := code.Bitmap()
	return func(i int) views.Chart {
		svg := chart.DrawCode(fmt.Sprintf("%sq%d", prefix, i), modules, 84, c.w.say("programme"), address)
		return views.Chart{SVG: string(svg), Caption: c.w.say("scan")}
	}
}

// placards are one for each instrument that shows something.
func (c cardWriter) placards(code func(int) views.Chart) []views.Placard {
	var out []views.Placard
	for n, inst := range c.sh.Kit.Instruments {
		p := views.Placard{Name: inst.Name, Line: c.instrument(inst), Place: c.place(inst), Now: c.w.say("now"), Code: code(n)}
		for i, s := range c.sh.Showings {
			if s.InstrumentID != inst.ID {
				continue
			}
			if listed, ok := c.sh.Target(s.TargetID); ok {
				row := c.guestRow(fmt.Sprintf("p%d", i), listed, s.From.Add(s.Length/2), 64)
				row.Span = c.w.say("span", c.clock(s.From), c.clock(s.To()))
				p.Rows = append(p.Rows, row)
			}
		}
		if len(p.Rows) > 0 {
			out = append(out, p)
		}
	}
	return out
}

// guestRow tells a target to guests.
func (c cardWriter) guestRow(id string, listed catalog.Target, at time.Time, size float64) views.GuestRow {
	t := c.w.target(listed)
	row := views.GuestRow{Name: t.Name, Kind: c.w.kind(t.Kind), Line: t.Words.Line}
	if row.Kind == row.Name {
		row.Kind = "" // the Moon is a Moon
	}
	if f := c.facts(t, at); len(f) > 0 {
		row.Fact = f[0]
	}
	row.Drawing = views.Chart{SVG: string(chart.DrawSize(id, chart.SubjectOf(c.sh.Sky, t, at), size, t.Name, c.w.say("scale")))}
	return row
}

// mostGuestRows is how many targets a sheet has room for.
const mostGuestRows = 8

// guestSheet is the sheet to take home: what was shown, best first by the
// joy it gives, then in order of time.
func (c cardWriter) guestSheet(code func(int) views.Chart, next []string) *views.GuestSheet {
	g := &views.GuestSheet{Title: c.sh.Night.Name, Over: c.w.say("tonight"), Date: c.date(), Club: c.sh.Club.Name, Code: code(0),
		SeenWord: c.w.say("guest.seen"), HowTitle: c.w.say("howToLook"), NextTitle: c.w.say("nextDates"), Next: next, Scale: c.w.say("scale"), Rule: c.w.say("rule")}
	for i := 1; i <= 5; i++ {
		g.How = append(g.How, c.w.say(fmt.Sprintf("how.%d", i)))
	}
	if len(next) == 0 {
		g.Next = []string{c.w.say("noNext")}
	}
	for i, t := range c.mostLoved() {
		row := c.guestRow(fmt.Sprintf("g%d", i), t.target, t.at, 52)
		row.At = c.w.say("instrumentWord") + " " + strings.Join(c.withPlaces(t.instruments), ", ")
		g.Rows = append(g.Rows, row)
	}
	g.Moon = c.moonTonight()
	return g
}

// withPlaces puts the place on the field behind the names of instruments.
func (c cardWriter) withPlaces(names []string) []string {
	out := slices.Clone(names)
	for i, name := range names {
		for _, inst := range c.sh.Kit.Instruments {
			if p, ok := c.sh.PlaceOf(inst.ID); ok && inst.Name == name {
				out[i] = name + " (" + c.w.say("field.place", p.Number) + ")"
			}
		}
	}
	return out
}

type shown struct {
	target      catalog.Target
	at          time.Time
	instruments []string
}

// mostLoved are the targets of the line-up, each once, the few that guests
// like most, in order of time.
func (c cardWriter) mostLoved() []shown {
	var all []shown
	for _, s := range c.sh.Showings {
		t, ok := c.sh.Target(s.TargetID)
		if !ok {
			continue
		}
		name := c.sh.Input.InstrumentName(s.InstrumentID)
		i := slices.IndexFunc(all, func(x shown) bool { return x.target.ID == t.ID })
		if i < 0 {
			all = append(all, shown{t, s.From.Add(s.Length / 2), []string{name}})
		} else if !slices.Contains(all[i].instruments, name) {
			all[i].instruments = append(all[i].instruments, name)
		}
	}
	slices.SortStableFunc(all, func(a, b shown) int { return int(1000 * (b.target.Delight - a.target.Delight)) })
	all = all[:min(len(all), mostGuestRows)]
	slices.SortStableFunc(all, func(a, b shown) int { return a.at.Compare(b.at) })
	return all
}

// moonTonight is the Moon as it stands over this place, not as it would look
// from the other half of the Earth.
func (c cardWriter) moonTonight() views.Chart {
	at := c.sh.Night.PublicFrom.Add(c.sh.Night.Public / 2)
	t, _ := c.w.targets.ByID("moon")
	v := chart.MoonOverPlace(c.sh.Sky, t, at, 60)
	lit := int(math.Round(c.sh.Sky.Moon(at).Illuminated * 100))
	words := c.w.say("moon.tonight", lit)
	if c.sh.Sky.At(sky.Moon, at).Alt < 0 {
		words = c.w.say("moon.down")
	}
	return views.Chart{SVG: string(v), Caption: words}
}

// nextNights are the club's next nights after this one, as lines.
func (s *server) nextNights(r *http.Request, c cardWriter) ([]string, error) {
	all, err := s.store.Nights(r.Context())
	if err != nil {
		return nil, err
	}
	var out []string
	for _, n := range all {
		if n.Retired || !n.PublicFrom.After(c.sh.Night.PublicTo()) || len(out) == 4 {
			continue
		}
		out = append(out, c.dayOf(n)+": "+n.Name)
	}
	return out, nil
}

func (c cardWriter) dayOf(n night.Night) string {
	day := time.Date(n.Date.Year, n.Date.Month, n.Date.Day, 12, 0, 0, 0, time.UTC)
	dot := map[string]string{"de": "."}[c.w.Code]
	return fmt.Sprintf("%s %d%s %s %d", c.w.list("weekdays", int(day.Weekday())), day.Day(), dot, c.w.list("months", int(day.Month())-1), day.Year())
}
