package web

import (
	"context"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"net/http"
	"slices"
	"strconv"
	"time"

	"duskboard/internal/chart"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// PaperStore keeps what the club says about its papers.
type PaperStore interface {
	Papers(ctx context.Context) (night.Papers, error)
	SavePapers(ctx context.Context, p night.Papers) error
	NightPapers(ctx context.Context) (map[int64]night.NightPapers, error) // a night that says nothing is missing
	Publish(ctx context.Context, nightID int64, public bool) error
	SaveNightLanguage(ctx context.Context, nightID int64, code string) error
	CardWords(ctx context.Context, language string) (map[string]night.CardWords, error)
	SaveCardWords(ctx context.Context, language, target string, w night.CardWords) error
	UndoCardWords(ctx context.Context, language, target string) error
	CardLanguages(ctx context.Context) ([]night.CardLanguage, error) // with removed ones
	SaveCardLanguage(ctx context.Context, l night.CardLanguage, at time.Time) error
	UndoCardLanguage(ctx context.Context, code string) error
	RemoveCardLanguage(ctx context.Context, code string, removed bool) error
}

func publicPath(nightID int64) string { return "/n/" + strconv.FormatInt(nightID, 10) }

// errNotPublic answers for a night that is missing and for one that is not
// public alike: the number of a night tells nobody that there is one.
var errNotPublic = fault.New(fault.NotFound, "There is no public programme here, or not yet. Ask the club, or try again a few days before the night.")

// publicFor is how long anybody may keep an answer; a change of the plan shows
// a minute later.
const publicFor = time.Minute

// showProgramme is the guests' page.
func (s *server) showProgramme(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return errNotPublic
	}
	c, next, err := s.publicNight(r, id, true)
	if err != nil {
		return err
	}
	// Private: the page carries the reader's theme.
	w.Header().Set("Cache-Control", fmt.Sprintf("private, max-age=%d", int(publicFor.Seconds())))
	m, err := s.programmeModel(r, c, next, publicPath(id))
	if err != nil {
		return err
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: c.sh.Night.Name, Bare: true}, views.ProgrammePage(m))
}

// previewProgramme is the same page for the club, before it is public.
func (s *server) previewProgramme(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	c, next, err := s.publicNight(r, id, false)
	if err != nil {
		return err
	}
	all, err := s.store.NightPapers(r.Context())
	if err != nil {
		return err
	}
	page, err := s.programmeModel(r, c, next, nightPath(id)+"/programme")
	if err != nil {
		return err
	}
	m := views.PreviewModel{Over: overline(c.sh), Tabs: nightTabs(id, "cards"), Papers: paperLinks(id, "programme"),
		Publish: publishModel(id, all[id].Published), Page: page}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Guests’ page · " + c.sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(c.sh)}, views.ProgrammePreview(m))
}

// showProgrammeJSON is the same for programs: a contract, see [Programme].
func (s *server) showProgrammeJSON(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return errNotPublic
	}
	c, next, err := s.publicNight(r, id, true)
	if err != nil {
		return err
	}
	b, err := json.MarshalIndent(c.programme(next), "", "  ")
	if err != nil {
		return fmt.Errorf("write programme of night %d: %w", id, err)
	}
	sum := fnv.New64a()
	sum.Write(b)
	h := w.Header()
	h.Set("Content-Type", "application/json; charset=utf-8")
	h.Set("Cache-Control", fmt.Sprintf("public, max-age=%d", int(publicFor.Seconds())))
	h.Set("Access-Control-Allow-Origin", "*") // public, and the same for everybody
	h.Set("ETag", fmt.Sprintf(`"%x"`, sum.Sum64()))
	if r.Header.Get("If-None-Match") == h.Get("ETag") {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	_, _ = w.Write(append(b, '\n')) // the visitor has gone: nothing left to answer
	return nil
}

// publicNight loads a night for its guests with the public nights after it. A
// night that is not public is errNotPublic when it must be.
func (s *server) publicNight(r *http.Request, id int64, must bool) (cardWriter, []publicNext, error) {
	all, err := s.store.NightPapers(r.Context())
	if err != nil {
		return cardWriter{}, nil, err
	}
	if must && !all[id].Published {
		return cardWriter{}, nil, errNotPublic
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return cardWriter{}, nil, err
	}
	if must && sh.Night.Retired {
		return cardWriter{}, nil, errNotPublic
	}
	papers, err := s.store.Papers(r.Context())
	if err != nil {
		return cardWriter{}, nil, err
	}
	words, err := s.words(r.Context(), r.URL.Query().Get("lang"), all[id].Language, papers.Language)
	if err != nil {
		return cardWriter{}, nil, err
	}
	c := cardWriter{sh: sh, w: words}
	if len(sh.Showings) > 0 {
		c.fits = sh.Fits()
	}
	next, err := s.publicAfter(r.Context(), sh.Night.PublicTo(), all)
	return c, next, err
}

// mostNext is how many coming nights the guests' page names.
const mostNext = 4

// publicAfter are the public nights after an instant, soonest first.
func (s *server) publicAfter(ctx context.Context, after time.Time, all map[int64]night.NightPapers) ([]publicNext, error) {
	nights, err := s.store.Nights(ctx)
	if err != nil {
		return nil, err
	}
	sites, err := s.store.Sites(ctx)
	if err != nil {
		return nil, err
	}
	zones := map[int64]string{}
	for _, x := range sites {
		zones[x.ID] = x.Zone
	}
	var next []publicNext
	for _, n := range nights {
		if !n.Retired && all[n.ID].Published && n.PublicFrom.After(after) && len(next) < mostNext {
			next = append(next, publicNext{n, zones[n.SiteID]})
		}
	}
	return next, nil
}

// words are the words of the first of the languages wanted that there is,
// English else.
func (s *server) words(ctx context.Context, wanted ...string) (*cardWords, error) {
	all, err := s.languages(ctx)
	if err != nil {
		return nil, err
	}
	for _, code := range wanted {
		for _, w := range all {
			if w.Code == code {
				return w, nil
			}
		}
	}
	return all[0], nil
}

// publishProgramme makes the guests' page public; one press, and undo.
func (s *server) publishProgramme(w http.ResponseWriter, r *http.Request) error {
	return s.setPublic(w, r, true, "The guests’ page is public.", "/programme/withdraw")
}

// withdrawProgramme takes it back.
func (s *server) withdrawProgramme(w http.ResponseWriter, r *http.Request) error {
	return s.setPublic(w, r, false, "The guests’ page is not public any more.", "/programme/publish")
}

func (s *server) setPublic(w http.ResponseWriter, r *http.Request, public bool, text, undo string) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	if err := s.store.Publish(r.Context(), id, public); err != nil {
		return err
	}
	return redirect(w, r, nightPath(id)+"/programme", views.Flash{Text: text, Undo: nightPath(id) + undo})
}

func publishModel(id int64, public bool) views.PublishModel {
	return views.PublishModel{Public: public, Href: publicPath(id), Preview: nightPath(id) + "/programme",
		Publish: nightPath(id) + "/programme/publish", Withdraw: nightPath(id) + "/programme/withdraw"}
}

// programmeModel is the programme as a page.
func (s *server) programmeModel(r *http.Request, c cardWriter, next []publicNext, path string) (views.ProgrammeModel, error) {
	languages, err := s.languages(r.Context())
	if err != nil {
		return views.ProgrammeModel{}, err
	}
	p, w := c.programme(next), c.w
	m := views.ProgrammeModel{
		Lang: w.Code, Club: p.Club, Title: p.Night.Name, Date: c.dayOf(c.sh.Night),
		Hours: w.say("span", c.clock(p.Night.From), c.clock(p.Night.To)) + " (" + zoneName(c.sh) + ")", Status: p.StatusText, Off: p.Status == "off",
		Site: p.Place.Name, Ground: p.Place.Ground, Geo: fmt.Sprintf("geo:%.6f,%.6f", p.Place.Latitude, p.Place.Longitude),
		Coordinates: fmt.Sprintf("%.5f, %.5f", p.Place.Latitude, p.Place.Longitude),
		Bring:       p.Bring, How: p.HowToLook, Cautions: p.Cautions,
	}
	m.Words = views.ProgrammeWords{
		When: w.say("guest.when"), Where: w.say("guest.where"), Map: w.say("guest.map"), Bring: w.say("guest.bring"), Cautions: w.say("guest.cautions"),
		How: w.say("howToLook"), Programme: w.say("programme"), Empty: w.say("guest.empty"), Now: w.say("now"), Next: w.say("nextDates"),
		Access: w.say("guest.access"), See: w.say("guest.see"), Scale: w.say("scale"),
	}
	for _, l := range languages {
		m.Languages = append(m.Languages, views.Link{Text: l.Name, Href: path + "?lang=" + l.Code, Current: l.Code == w.Code})
	}
	for _, n := range next {
		m.Next = append(m.Next, views.Link{Text: c.dayOf(n.Night) + ": " + n.Name, Href: publicPath(n.ID)})
	}
	if len(m.Next) == 0 {
		m.NoNext = w.say("guest.noNext")
	}
	for _, tool := range p.Instruments {
		m.Access = append(m.Access, views.ProgrammeTool{Name: tool.Name, Stand: tool.Place, Kind: tool.Kind, Text: w.say("access." + tool.Wheelchair)})
	}
	m.Rows = c.programmeRows(p, s.now())
	return m, nil
}

// programmeRows are the targets in the order in which they begin, each with
// when and where.
func (c cardWriter) programmeRows(p Programme, now time.Time) []views.ProgrammeRow {
	var rows []views.ProgrammeRow
	at := map[string]int{}
	for _, x := range p.Showings {
		i, seen := at[x.Target.ID]
		if !seen {
			i = len(rows)
			at[x.Target.ID] = i
			listed, _ := c.sh.Target(x.Target.ID)
			mid := x.From.Add(x.To.Sub(x.From) / 2)
			rows = append(rows, views.ProgrammeRow{Name: x.Target.Name, Designation: x.Target.Designation, Kind: x.Target.Kind, Line: x.Target.Line, Expect: x.Target.Expect, Fact: x.Target.Fact,
				Drawing: string(chart.DrawSize(fmt.Sprintf("t%d", i), chart.SubjectOf(c.sh.Sky, c.w.target(listed), mid), 64, x.Target.Name, c.w.say("scale")))})
		}
		j := slices.IndexFunc(p.Instruments, func(t ProgrammeTool) bool { return t.ID == x.Instrument })
		tool := p.Instruments[j]
		rows[i].At = append(rows[i].At, views.ProgrammeAt{Span: c.w.say("span", c.clock(x.From), c.clock(x.To)), Where: tool.Name, Stand: tool.Place, Access: x.Access.Text,
			Now: !now.Before(x.From) && now.Before(x.To)})
	}
	return rows
}

// stand is the number of an instrument's place on the field, or what its owner
// calls the spot while nobody laid the field out.
func (c cardWriter) stand(inst kit.Instrument) string {
	if p, ok := c.sh.PlaceOf(inst.ID); ok {
		return strconv.Itoa(p.Number)
	}
	return inst.Stand
}
