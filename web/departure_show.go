package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/departure"
	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// showDeparture is the departure check of the whole club.
func (s *server) showDeparture(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	c := departure.Build(sh)
	m := views.DepartureModel{
		Over: overline(sh), Title: "Departure check", Tabs: nightTabs(id, "departure"), Word: s.wordOf(sh), NoLineUp: c.NoLineUp,
		LineUpHref: lineUpPath(id), ChooseHref: nightPath(id) + "/choose", Path: departurePath(id),
		Cautions: cautions(c.Warnings), Troubles: troubles(c.Troubles), People: peopleTable(sh, c),
		Groups: clubGroups(sh, c, r.FormValue("item")),
	}
	if len(c.People) > 0 {
		m.Lead = fmt.Sprintf("The first leaves home at %s: %s. The gate opens at %s.", siteClock(sh, c.First), c.People[0].Volunteer.Name, siteClock(sh, sh.Night.PublicFrom))
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Departure check · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.Departure(m))
}

func departurePath(id int64) string { return nightPath(id) + "/departure" }

// showPerson is the departure check of one volunteer, for a phone.
func (s *server) showPerson(w http.ResponseWriter, r *http.Request) error {
	sh, p, c, err := s.personOf(r)
	if err != nil {
		return err
	}
	path := departurePath(sh.Night.ID) + "/" + strconv.FormatInt(p.Volunteer.ID, 10)
	m := views.PersonModel{
		Over: overline(sh), Title: p.Volunteer.Name, Leave: siteClock(sh, p.Leave), LeaveWhy: leaveWords(sh, p), Word: s.wordOf(sh),
		Contact: sh.Club.Contact, Ticks: fmt.Sprintf("night-%d-%d", sh.Night.ID, p.Volunteer.ID), Tasks: p.Tasks,
		Handovers: p.Handovers, Path: path, Club: departurePath(sh.Night.ID), Dark: field.DarkAdaptation,
	}
	for _, x := range cautions(p.Warnings) {
		if x.Kind == "note" {
			m.More = append(m.More, x)
		} else {
			m.Cautions = append(m.Cautions, x)
		}
	}
	for _, t := range p.Times {
		m.Times = append(m.Times, views.TimeStep{Clock: siteClock(sh, t.At), What: t.What, Why: t.Why, Main: t.At.Equal(p.Leave) || t.At.Equal(sh.Night.PublicFrom)})
	}
	for _, it := range p.Items {
		m.Count++
		x := views.PackItem{Key: it.Key, Name: it.Name, Detail: it.Detail}
		if it.Kind != departure.Own {
			x.Post = path
		}
		if it.Fetch != "" {
			x.Note = "fetch it"
			x.Detail = strings.TrimPrefix(x.Detail+"; from "+it.Fetch, "; ")
		}
		if len(it.By) > 1 {
			x.Note = "others bring it too"
		}
		m.Groups = packInto(m.Groups, it.Kind.String(), x)
	}
	for _, t := range p.Home {
		m.Home = append(m.Home, views.PackItem{Key: t.Key, Name: t.Text})
	}
	for _, it := range c.Items {
		if len(it.By) == 0 {
			m.Free = append(m.Free, views.PackItem{Key: it.Key, Name: it.Name, Detail: it.Detail})
		}
	}
	m.Troubles = troubles(troublesOf(c, p))
	return s.show(w, r, http.StatusOK, views.Head{Title: p.Volunteer.Name + " · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.Person(m))
}

// personOf finds the night and the volunteer of the address.
func (s *server) personOf(r *http.Request) (*night.Sheet, departure.Person, departure.Check, error) {
	var p departure.Person
	id, err := idParam(r, "night")
	if err != nil {
		return nil, p, departure.Check{}, err
	}
	who, err := idParam(r, "volunteer")
	if err != nil {
		return nil, p, departure.Check{}, err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return nil, p, departure.Check{}, err
	}
	c := departure.Build(sh)
	p, ok := c.Person(who)
	if !ok {
		return nil, p, c, fault.New(fault.NotFound, "Nobody of that number is asked for this night, or they said that they cannot come.")
	}
	return sh, p, c, nil
}

// troublesOf are those that name somebody or are about their things.
func troublesOf(c departure.Check, p departure.Person) []departure.Trouble {
	var out []departure.Trouble
	for _, t := range c.Troubles {
		mine := slices.ContainsFunc(p.Items, func(it departure.Item) bool { return it.Key == t.Item && t.Item != "" })
		if mine || strings.HasPrefix(t.Sentence, p.Volunteer.Name+" ") {
			out = append(out, t)
		}
	}
	return out
}

func leaveWords(sh *night.Sheet, p departure.Person) string {
	words := fmt.Sprintf("%.0f minutes to %s, there at %s", p.Drive.Minutes(), sh.Site.Name, siteClock(sh, p.Arrive))
	if !p.DriveKnown {
		words += "; the drive is assumed, nobody noted it"
	}
	return words + "."
}

func packInto(groups []views.PackGroup, title string, x views.PackItem) []views.PackGroup {
	if n := len(groups); n == 0 || groups[n-1].Title != title {
		groups = append(groups, views.PackGroup{Title: title})
	}
	groups[len(groups)-1].Items = append(groups[len(groups)-1].Items, x)
	return groups
}

// cautions turns warnings into what a page shows; word and frame say how much
// each matters.
func cautions(ws []field.Warning) []views.Caution {
	var out []views.Caution
	for _, w := range ws {
		out = append(out, views.Caution{
			Kind:    map[field.Importance]string{field.Danger: "stop", field.Spoils: "warn", field.Caution: "warn", field.Note: "note"}[w.Importance],
			Subject: first(w.Subject), Text: w.Sentence,
		})
	}
	return out
}

func troubles(ts []departure.Trouble) []views.Caution {
	var out []views.Caution
	for _, t := range ts {
		c := views.Caution{Kind: "note", Subject: "Look at this", Text: t.Sentence}
		if t.Stop {
			c.Kind, c.Subject = "warn", "Missing"
		}
		out = append(out, c)
	}
	return out
}

func peopleTable(sh *night.Sheet, c departure.Check) views.Table {
	t := views.Table{Caption: "Who leaves when", Columns: []views.Column{
		{Label: "Who"}, {Label: "Leaves by", Number: true}, {Label: "On the field", Number: true}, {Label: "Brings"}, {Label: "Does"},
	}}
	for _, p := range c.People {
		who := views.Cell{Text: p.Volunteer.Name, Href: fmt.Sprintf("%s/%d", departurePath(sh.Night.ID), p.Volunteer.ID)}
		switch p.Answer {
		case crew.Maybe:
			who.Mark = "perhaps"
		case crew.NoAnswer:
			who.Mark = "no answer yet"
		}
		n := 0
		for _, it := range p.Items {
			if it.Kind != departure.Own {
				n++
			}
		}
		brings := views.Cell{Text: "only their own"}
		var insts []string
		for _, i := range p.Brings {
			insts = append(insts, i.Name)
		}
		if n > 0 {
			brings = views.Cell{Text: strings.Join(insts, ", "), Note: plural(n, "thing", "things") + " in all"}
			if len(insts) == 0 {
				brings = views.Cell{Text: plural(n, "thing", "things")}
			}
		}
		t.Rows = append(t.Rows, []views.Cell{who, {Text: siteClock(sh, p.Leave)}, {Text: siteClock(sh, p.Arrive)}, brings, {Text: strings.Join(p.Tasks, "; ")}})
	}
	return t
}

// clubGroups lists everything by kind; the item named change shows its form.
func clubGroups(sh *night.Sheet, c departure.Check, change string) []views.ClubGroup {
	var out []views.ClubGroup
	for _, it := range c.Items {
		if n := len(out); n == 0 || out[n-1].Title != it.Kind.String() {
			out = append(out, views.ClubGroup{Title: it.Kind.String()})
		}
		x := views.ClubItem{Key: it.Key, Name: it.Name, Detail: it.Detail, By: byWords(c, it)}
		switch {
		case len(it.By) == 0:
			x.State = "nobody brings it"
		case len(it.By) > 1:
			x.State = "packed twice"
		case it.Fetch != "":
			x.State = "to be fetched"
		}
		if it.Key == change && len(c.People) > 0 {
			x.Change = whoBrings(c, it)
		} else if len(c.People) > 0 {
			x.ChangeHref = departurePath(sh.Night.ID) + "?item=" + it.Key + "#" + it.Key
		}
		g := &out[len(out)-1]
		g.Items = append(g.Items, x)
	}
	return out
}

func byWords(c departure.Check, it departure.Item) string {
	var names []string
	for _, id := range it.By {
		names = append(names, c.Name(id))
	}
	if len(names) == 0 {
		return "nobody"
	}
	return strings.Join(names, " and ")
}

// whoBrings is the list from which the bringer of a thing is chosen.
func whoBrings(c departure.Check, it departure.Item) *views.Choice {
	x := views.Choice{Name: "volunteer", Label: "Who brings it", Options: []views.Option{{Value: "", Text: "As planned"}}}
	people := slices.Clone(c.People)
	slices.SortFunc(people, func(a, b departure.Person) int { return strings.Compare(a.Volunteer.Name, b.Volunteer.Name) })
	for _, p := range people {
		x.Options = append(x.Options, views.Option{Value: strconv.FormatInt(p.Volunteer.ID, 10), Text: p.Volunteer.Name})
	}
	if it.Said && len(it.By) == 1 {
		x.Value = strconv.FormatInt(it.By[0], 10)
	}
	return &x
}

// setPacking says who brings a thing: one person, or nobody in particular.
func (s *server) setPacking(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	c := departure.Build(sh)
	it, err := itemOf(c, r.PostFormValue("item"))
	if err != nil {
		return err
	}
	for _, said := range sh.Packing { // what was said before gives way
		if said.Item == it.Key {
			if err := s.store.ForgetPacking(r.Context(), id, it.Key, said.VolunteerID); err != nil {
				return err
			}
		}
	}
	words := it.Name + " goes as planned."
	if v := r.PostFormValue("volunteer"); v != "" {
		who, _ := strconv.ParseInt(v, 10, 64) // 0 is nobody's number
		if c.Name(who) == "" {
			return fault.New(fault.Invalid, "Choose somebody who comes to this night.")
		}
		if err := s.store.SavePacking(r.Context(), id, night.Packing{Item: it.Key, VolunteerID: who, Brings: true}); err != nil {
			return err
		}
		words = c.Name(who) + " brings " + it.Name + "."
	}
	return redirect(w, r, departurePath(id)+"#"+it.Key, views.Flash{Text: words})
}

// sayPacking is a volunteer's own word: that they bring a thing, or cannot.
func (s *server) sayPacking(w http.ResponseWriter, r *http.Request) error {
	sh, p, c, err := s.personOf(r)
	if err != nil {
		return err
	}
	it, err := itemOf(c, r.PostFormValue("item"))
	if err != nil {
		return err
	}
	said := night.Packing{Item: it.Key, VolunteerID: p.Volunteer.ID, Brings: r.PostFormValue("brings") == "1"}
	if err := s.store.SavePacking(r.Context(), sh.Night.ID, said); err != nil {
		return err
	}
	words := "You bring " + it.Name + "."
	if !said.Brings {
		words = it.Name + " is off your list; whoever is next in line has it on theirs."
	}
	return redirect(w, r, fmt.Sprintf("%s/%d", departurePath(sh.Night.ID), p.Volunteer.ID), views.Flash{Text: words})
}

func itemOf(c departure.Check, key string) (departure.Item, error) {
	for _, it := range c.Items {
		if it.Key == key {
			return it, nil
		}
	}
	return departure.Item{}, fault.New(fault.NotFound, "This is no longer on the list; the line-up has changed.")
}

// wordOf is the state of a night: what was decided, else what its weather says.
func (s *server) wordOf(sh *night.Sheet) views.Word {
	href := nightPath(sh.Night.ID) + "/decision"
	if d, ok := sh.Decided(); ok {
		w := views.Word{Kind: wordKind(d.Word), Text: wordText[d.Word], Href: href, Action: "The reasons"}
		w.Why = fmt.Sprintf("decided by %s, %s.", d.Who, dayClock(sh, d.At))
		if d.Words != "" {
			w.Why += " “" + d.Words + "”"
		}
		return w
	}
	w := views.Word{Kind: "soft", Text: "Not decided", Href: href, Action: "Decide"}
	w.Why = fmt.Sprintf("The club decides at %s and posts by %s.", clock(sh.GoRules.Decide), clock(sh.GoRules.Post))
	if j := judge(sh); j.Verdict != field.Unknown {
		w.Why = "By the weather: " + j.Verdict.String() + ". " + w.Why
	}
	return w
}

var wordText = map[night.Word]string{night.WordGo: "Go", night.WordDoubtful: "Doubtful", night.WordOff: "Off"}

func wordKind(w night.Word) string {
	return map[night.Word]string{night.WordGo: "firm", night.WordOff: "double"}[w]
}

// dayClock prints an instant with its day, when that is not the night's own.
func dayClock(sh *night.Sheet, t time.Time) string {
	l := t.In(sh.Zone)
	d := sh.Night.Date
	if y, m, day := l.Date(); y == d.Year && m == d.Month && day == d.Day {
		return l.Format("15:04")
	}
	return l.Format("Mon 2 Jan 15:04")
}
