package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/chart"
	"duskboard/internal/crew"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// showRoster is the board of people with what breaks a rule, what is open and
// where line-up and roster do not agree.
func (s *server) showRoster(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	m, err := s.rosterModel(r, x)
	if err != nil {
		return err
	}
	if wantsFragment(r) {
		return s.fragment(w, r, http.StatusOK, views.RosterBody(m))
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Roster · " + x.Night.Name, Section: inNights, Crumbs: nightCrumbs(x.Sheet)}, views.Roster(m))
}

// rosterModel is the page of the roster with what can be undone.
func (s *server) rosterModel(r *http.Request, x roster) (views.RosterModel, error) {
	m := x.model()
	if !s.now().Before(x.Night.PublicFrom) {
		m.Attend = attendancePath(x.Night.ID)
	}
	entries, err := s.store.Rosters(r.Context(), x.Night.ID)
	if err != nil {
		return m, err
	}
	steps, at := rosterSteps(entries)
	m.CanUndo, m.CanRedo = at > 0, at+1 < len(steps)
	for i := len(entries) - 2; i >= 0 && len(m.Earlier) < 8; i-- {
		e := entries[i]
		m.Earlier = append(m.Earlier, views.EarlierRoster{
			ID: strconv.FormatInt(e.ID, 10), What: first(e.What), When: e.At.In(x.Zone).Format("2 Jan 15:04"), Count: plural(len(e.Duties), "duty", "duties"),
		})
	}
	return m, nil
}

func (x roster) model() views.RosterModel {
	base := rosterPath(x.Night.ID)
	m := views.RosterModel{
		CanChange: x.mayChange,
		Over:      overline(x.Sheet), Tabs: nightTabs(x.Night.ID, "roster"), Base: base, Version: x.RosterVersion,
		Asked: len(x.Volunteers) > 0, Any: len(x.Duties) > 0, ChooseHref: nightPath(x.Night.ID) + "/choose",
		AnswersHref: nightPath(x.Night.ID) + "/answers", RulesHref: "/crew/rules",
	}
	if !m.Asked {
		return m
	}
	conflicts := x.scene.Check(x.Duties)
	for _, c := range conflicts {
		word := "Conflict"
		if c.Caution {
			word = "Caution"
		}
		if m.Any {
			m.Conflicts = append(m.Conflicts, views.RosterWords{Word: word, Text: c.Words, Href: x.conflictHref(c)})
		}
	}
	if m.Any {
		for _, u := range x.scene.Unstaffed(x.Duties) {
			m.Unstaffed = append(m.Unstaffed, u.Words)
		}
		m.Gaps = x.gapRows()
		for _, g := range x.scene.Parked() {
			m.Parked = append(m.Parked, g.Words)
		}
	}
	wide := x.board(conflicts)
	m.Wide, m.Narrow = string(chart.DrawRoster(wide)), string(chart.DrawRoster(x.narrowRoster(wide)))
	m.Table = x.dutyTable(conflicts)
	m.Needs = x.needTable()
	m.Facts = x.facts()
	for _, a := range x.Availability {
		if a.Answer == crew.NoAnswer {
			m.Unanswered++
		}
	}
	return m
}

// longName is how many letters of a name a heading or a table has room for.
const longName = 40

// shortName cuts a very long name; the person's own page and the call list have
// it whole.
func shortName(name string) string {
	r := []rune(name)
	if len(r) <= longName {
		return name
	}
	return string(r[:longName-1]) + "…"
}

// unstaffed are the showings that nobody runs by the roster, for the page of
// the line-up; before there is a roster, none.
func unstaffed(sh *night.Sheet) []views.ConflictRow {
	if len(sh.Duties) == 0 {
		return nil
	}
	scene := sh.Scene()
	var out []views.ConflictRow
	for _, u := range scene.Unstaffed(sh.Duties) {
		out = append(out, views.ConflictRow{Words: u.Words, Links: []views.Link{{Text: "Roster", Href: rosterPath(sh.Night.ID)}}})
	}
	return out
}

func (x roster) facts() string {
	coming, without := 0, 0
	for _, v := range x.Volunteers {
		if _, present := x.scene.Present(v); present {
			coming++
			if len(x.dutiesOf(v.ID)) == 0 {
				without++
			}
		}
	}
	words := fmt.Sprintf("%d of %d asked can come", coming, len(x.Volunteers))
	if len(x.Duties) > 0 && without > 0 {
		words += fmt.Sprintf("; %s without a duty", plural(without, "is", "are"))
	}
	return words + "."
}

func (x roster) conflictHref(c crew.Conflict) string {
	for _, d := range x.Duties {
		if d.VolunteerID == c.VolunteerID && d.From.Equal(c.From) {
			return x.ifMay(dutyPath(x.Night.ID, d.ID))
		}
	}
	return ""
}

func (x roster) gapRows() []views.RosterGap {
	var out []views.RosterGap
	for _, g := range x.scene.Gaps(x.Duties) {
		row := views.RosterGap{Post: x.postName(g.Post), Span: span(x.Sheet, g.From, g.To), Words: g.Words}
		who := int64(0)
		if len(g.Free) > 0 {
			who = g.Free[0]
			row.Action = "Put " + x.volunteer(who).Name + " on it"
		} else {
			row.Action = "Add a duty"
		}
		row.Href = fmt.Sprintf("%s/new?post=%s&person=%d&from=%d&to=%d", rosterPath(x.Night.ID), postValue(g.Post), who, g.From.Unix(), g.To.Unix())
		out = append(out, row)
	}
	return sayOnce(out)
}

// sayOnce takes from several gaps that nobody is free, and says it below them
// for all alike.
func sayOnce(gaps []views.RosterGap) []views.RosterGap {
	n := 0
	for _, g := range gaps {
		if strings.HasSuffix(g.Words, crew.NobodyFree) {
			n++
		}
	}
	if n < 2 {
		return gaps
	}
	for i := range gaps {
		gaps[i].Words = strings.TrimSuffix(gaps[i].Words, crew.NobodyFree)
	}
	words := strings.TrimSpace(crew.NobodyFree)
	if n < len(gaps) {
		words = fmt.Sprintf("For %d of these nobody who is there, glad to do it and able is free.", n)
	}
	return append(gaps, views.RosterGap{Words: words})
}

// postValue and parsePost write a post as one value of a form.
func postValue(p crew.Post) string {
	if p.InstrumentID == 0 {
		return string(p.Role)
	}
	return string(p.Role) + "-" + strconv.FormatInt(p.InstrumentID, 10)
}

func (x roster) posts() []crew.Post {
	var out []crew.Post
	for _, i := range x.Kit.Instruments {
		out = append(out, crew.Post{Role: crew.Operator, InstrumentID: i.ID})
	}
	for _, r := range crew.Roles {
		if r != crew.Operator {
			out = append(out, crew.Post{Role: r})
		}
	}
	for _, i := range x.Kit.Instruments {
		out = append(out, crew.Post{Role: crew.Companion, InstrumentID: i.ID})
	}
	return out
}

func (x roster) parsePost(v string) (crew.Post, bool) {
	for _, p := range x.posts() {
		if postValue(p) == v {
			return p, true
		}
	}
	return crew.Post{}, false
}

func (x roster) board(conflicts []crew.Conflict) chart.Roster {
	all := x.scene.Span()
	for _, d := range x.Duties { // a duty set by hand may lie outside
		all.From, all.To = earlier(all.From, d.From), later(all.To, d.To())
	}
	b := chart.Roster{ID: "roster-board", From: all.From, To: all.To, Zone: x.Zone, Bands: bands(x.Sheet, all.From, all.To), PublicFrom: x.Night.PublicFrom, PublicTo: x.Night.PublicTo()}
	if x.mayChange {
		b.Step = x.Night.Block
	}
	for _, v := range x.boardPeople() {
		row := chart.RosterRow{Title: v.Name, Detail: x.answerWords(v), Href: x.ifMay(fmt.Sprintf("%s/people/%d", rosterPath(x.Night.ID), v.ID)), Key: strconv.FormatInt(v.ID, 10)}
		for _, d := range x.dutiesOf(v.ID) {
			row.Bars = append(row.Bars, x.bar(v, d, conflicts))
		}
		there, present := x.scene.Present(v)
		if !present {
			row.Away = []chart.Bar{{From: all.From, To: all.To}}
		} else {
			row.Away = []chart.Bar{{From: all.From, To: there.From}, {From: there.To, To: all.To}}
		}
		b.Rows = append(b.Rows, row)
	}
	return b
}

// narrowRoster is the same for a phone, where the time is more use on a bar than
// the company.
func (x roster) narrowRoster(wide chart.Roster) chart.Roster {
	b := wide
	b.ID, b.Narrow = wide.ID+"-narrow", true
	b.Rows = slices.Clone(wide.Rows)
	for i := range b.Rows {
		b.Rows[i].Bars = slices.Clone(b.Rows[i].Bars)
		for j := range b.Rows[i].Bars {
			bar := &b.Rows[i].Bars[j]
			bar.Detail = span(x.Sheet, bar.From, bar.To)
		}
	}
	return b
}

// boardPeople are those who come, and whoever has a duty all the same; those
// who cannot come stand below the board.
func (x roster) boardPeople() []crew.Volunteer {
	return slices.DeleteFunc(slices.Clone(x.Volunteers), func(v crew.Volunteer) bool {
		return x.answer(v.ID).Answer == crew.No && len(x.dutiesOf(v.ID)) == 0
	})
}

func (x roster) answer(id int64) crew.Availability {
	for _, a := range x.Availability {
		if a.VolunteerID == id {
			return a
		}
	}
	return crew.Availability{VolunteerID: id}
}

// answerWords is what somebody said, in a few words.
func (x roster) answerWords(v crew.Volunteer) string {
	a := x.answer(v.ID)
	words := map[crew.Answer]string{crew.Yes: "comes", crew.Maybe: "perhaps", crew.No: "cannot come", crew.NoAnswer: "no answer yet"}[a.Answer]
	if a.Answer != crew.No {
		switch {
		case !a.From.IsZero() && !a.To.IsZero():
			words += ", " + siteClock(x.Sheet, a.From) + "–" + siteClock(x.Sheet, a.To)
		case !a.From.IsZero():
			words += " from " + siteClock(x.Sheet, a.From)
		case !a.To.IsZero():
			words += " until " + siteClock(x.Sheet, a.To)
		}
	}
	if v.Minor {
		words += ", under age"
	}
	return words
}

func (x roster) bar(v crew.Volunteer, d crew.Duty, conflicts []crew.Conflict) chart.RosterBar {
	b := chart.RosterBar{From: d.From, To: d.To(), Title: x.postName(postOf(d)), Pinned: d.Pinned, Key: strconv.FormatInt(d.ID, 10), Href: x.ifMay(dutyPath(x.Night.ID, d.ID))}
	b.Detail = x.dutyDetail(v, d)
	b.Words = fmt.Sprintf("%s, %s: %s", v.Name, span(x.Sheet, d.From, d.To()), b.Title)
	if b.Detail != "" {
		b.Words += ", " + b.Detail
	}
	if d.Pinned {
		b.Words += ", pinned"
	}
	for _, c := range conflicts {
		if c.VolunteerID == d.VolunteerID && c.From.Equal(d.From) && c.Post == postOf(d) {
			b.Wrong = true
			b.Words += ". " + c.Words
		}
	}
	return b
}

// dutyDetail says what is special about a duty: learning, beside whom, pinned.
func (x roster) dutyDetail(v crew.Volunteer, d crew.Duty) string {
	var words []string
	for _, i := range x.Kit.Instruments {
		if i.ID == d.InstrumentID && d.Role == crew.Operator && crew.LevelAt(v, i) == crew.Learning {
			words = append(words, "learning")
		}
	}
	if names := x.with(d); len(names) > 0 && (d.InstrumentID != 0) {
		words = append(words, "with "+crew.List(names, 2))
	}
	if d.Pinned {
		words = append(words, "pinned")
	}
	return strings.Join(words, " · ")
}

func (x roster) dutyTable(conflicts []crew.Conflict) views.Table {
	t := views.Table{Caption: "Duties by person", Columns: []views.Column{{Label: "Person"}, {Label: "Answer"}, {Label: "Time"}, {Label: "Duty"}, {Label: "With"}}}
	for _, v := range x.Volunteers {
		who := views.Cell{Text: shortName(v.Name), Href: x.ifMay(fmt.Sprintf("%s/people/%d", rosterPath(x.Night.ID), v.ID))}
		ds := x.dutiesOf(v.ID)
		if len(ds) == 0 {
			t.Rows = append(t.Rows, []views.Cell{who, {Text: first(x.answerWords(v))}, {}, {}, {}})
		}
		for _, d := range ds {
			b := x.bar(v, d, conflicts)
			duty := views.Cell{Text: b.Title, Href: b.Href}
			switch {
			case b.Wrong:
				duty.Mark = "breaks a rule"
			case d.Pinned:
				duty.Mark = "pinned"
			}
			t.Rows = append(t.Rows, []views.Cell{who, {Text: first(x.answerWords(v))}, {Text: span(x.Sheet, d.From, d.To())}, duty, {Text: shortName(crew.List(x.with(d), 3))}})
		}
	}
	return t
}

func (x roster) needTable() views.Table {
	t := views.Table{Caption: "What the night needs", Columns: []views.Column{{Label: "Post"}, {Label: "Time"}, {Label: "People", Number: true}, {Label: "Why"}}}
	last := crew.Post{}
	for _, n := range x.scene.Needs() {
		if n.Role == crew.Operator && n.Post == last { // one line for an instrument
			row := t.Rows[len(t.Rows)-1]
			row[1].Text = row[1].Text[:strings.Index(row[1].Text, " to ")] + " to " + siteClock(x.Sheet, n.To)
			continue
		}
		last = n.Post
		why := first(n.Why)
		if n.Role == crew.Operator {
			why = "It shows something; setting up included"
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: x.postName(n.Post)}, {Text: span(x.Sheet, n.From, n.To)}, {Text: strconv.Itoa(n.Count)}, {Text: why}})
	}
	return t
}
