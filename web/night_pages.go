package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// showNights lists the nights: those to come first, then the past, newest first.
func (s *server) showNights(w http.ResponseWriter, r *http.Request) error {
	all, err := s.store.Nights(r.Context())
	if err != nil {
		return err
	}
	sites, err := s.store.Sites(r.Context())
	if err != nil {
		return err
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Nights", Section: inNights}, views.NightList(nightListModel(all, sites, s.now())))
}

func nightListModel(all []night.Night, sites []night.Site, now time.Time) views.NightListModel {
	columns := []views.Column{{Label: "Night"}, {Label: "Date"}, {Label: "Public hours"}, {Label: "Site"}, {Label: "For whom"}, {Label: "Guests", Number: true}}
	m := views.NightListModel{
		Upcoming: views.Table{Caption: "Nights to come", Columns: columns},
		Past:     views.Table{Caption: "Past nights", Columns: columns},
		HasSite:  len(liveSites(sites)) > 0,
	}
	byID := map[int64]night.Site{}
	for _, x := range sites {
		byID[x.ID] = x
	}
	for _, n := range all {
		site := byID[n.SiteID]
		switch {
		case n.Retired:
			m.Retired = append(m.Retired, views.RetiredPiece{Name: n.Name, Kind: printDate(n.Date), Href: nightPath(n.ID) + "/edit", Restore: restorePath(nightPath(n.ID), n.Version)})
		case n.PublicTo().Before(now):
			m.Past.Rows = append(m.Past.Rows, nightRow(n, site))
		default:
			m.Upcoming.Rows = append(m.Upcoming.Rows, nightRow(n, site))
		}
	}
	slices.Reverse(m.Past.Rows)
	return m
}

func nightRow(n night.Night, site night.Site) []views.Cell {
	hours := views.Cell{}
	if zone, err := site.Location(); err == nil {
		hours = views.Cell{Text: clock(clockOf(n.PublicFrom, zone)) + " to " + clock(clockOf(n.PublicTo(), zone)), Note: n.PublicFrom.In(zone).Format("MST")}
	}
	return []views.Cell{
		{Text: n.Name, Href: nightPath(n.ID)}, {Text: printDate(n.Date)}, hours, {Text: site.Name},
		{Text: wordFor(audienceWords, n.Audience)}, {Text: strconv.Itoa(n.Guests)},
	}
}

// printDate writes a date as "Sat 9 Oct 2027".
func printDate(d sky.Date) string {
	return time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC).Format("Mon 2 Jan 2006")
}

func (s *server) showNewNight(w http.ResponseWriter, r *http.Request) error {
	sites, err := s.store.Sites(r.Context())
	if err != nil {
		return err
	}
	f := s.proposedNight(liveSites(sites))
	return s.showNightForm(w, r, http.StatusOK, f, f.view(nil, sites), sites, night.Night{})
}

// proposedNight fills a new form: next Saturday, from 40 minutes after sunset,
// for two and a half hours (common practice: the Moon and planets open the
// evening in twilight).
func (s *server) proposedNight(sites []night.Site) nightForm {
	f := nightForm{Guests: "100", Audience: string(night.Families), Block: "15", From: "20:30", To: "23:00"}
	now := s.now()
	zone := time.UTC
	if len(sites) > 0 {
		f.Site = strconv.FormatInt(sites[0].ID, 10)
		if z, err := sites[0].Location(); err == nil {
			zone = z
		}
	}
	today := sky.DateOf(now, zone)
	date := today.AddDays((int(time.Saturday) - int(now.In(zone).Weekday()) + 7) % 7)
	f.Date, f.zone = date.String(), zone
	if len(sites) > 0 {
		if n, err := sky.NewNight(sites[0].Place, date, zone); err == nil {
			if sunset := n.Twilights().Sunset; sunset.State == sky.Happens {
				opens := (clockOf(sunset.Time.Add(40*time.Minute), zone) + 14) / 15 * 15
				f.From, f.To = clock(opens), clock(opens+150)
			}
		}
	}
	return f
}

func (s *server) createNight(w http.ResponseWriter, r *http.Request) error {
	return s.keepNight(w, r, night.Night{})
}

func (s *server) editNight(w http.ResponseWriter, r *http.Request) error {
	n, sites, err := s.storedNight(r)
	if err != nil {
		return err
	}
	zone, err := zoneOf(sites, n.SiteID)
	if err != nil {
		return err
	}
	f := nightFormOf(n, zone)
	return s.showNightForm(w, r, http.StatusOK, f, f.view(nil, sites), sites, n)
}

func (s *server) updateNight(w http.ResponseWriter, r *http.Request) error {
	n, _, err := s.storedNight(r)
	if err != nil {
		return err
	}
	return s.keepNight(w, r, n)
}

// keepNight parses the form over n and saves it, or shows it as typed. A new
// night starts with all the gear, everybody asked and the showpieces that are up.
func (s *server) keepNight(w http.ResponseWriter, r *http.Request, stored night.Night) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	sites, err := s.store.Sites(r.Context())
	if err != nil {
		return err
	}
	f := readNightForm(r)
	n, faults := f.parse(stored, sites)
	if len(faults) > 0 {
		return s.showNightForm(w, r, http.StatusUnprocessableEntity, f, f.view(faults, sites), sites, stored)
	}
	if v, err := strconv.ParseInt(f.Version, 10, 64); err == nil {
		n.Version = v
	}
	switch err := s.store.SaveNight(r.Context(), &n); {
	case fault.KindOf(err) == fault.Conflict && stored.ID != 0:
		return s.showNightConflict(w, r, f, sites, stored.ID)
	case err != nil:
		return err
	}
	if stored.ID != 0 {
		return redirect(w, r, nightPath(n.ID), views.Flash{Text: n.Name + " is saved."})
	}
	if err := s.chooseAll(r.Context(), n); err != nil {
		return err
	}
	return redirect(w, r, nightPath(n.ID)+"/choose", views.Flash{Text: n.Name + " is planned. All the gear and the showpieces that are up are chosen: take away what stays at home."})
}

func (s *server) showNightConflict(w http.ResponseWriter, r *http.Request, f nightForm, sites []night.Site, id int64) error {
	now, err := s.store.Night(r.Context(), id)
	if err != nil {
		return err
	}
	zone, err := zoneOf(sites, now.SiteID)
	if err != nil {
		return err
	}
	saved := nightFormOf(now, zone)
	m := f.view(nil, sites)
	m.Stale, m.Version = true, saved.Version
	for _, d := range []struct{ label, mine, saved string }{
		{"Name", f.Name, saved.Name}, {"Date", f.Date, saved.Date}, {"Gate opens", f.From, saved.From}, {"Public hours end", f.To, saved.To},
		{"Expected guests", f.Guests, saved.Guests}, {"For whom", wordFor(audienceWords, f.Audience), wordFor(audienceWords, saved.Audience)},
		{"Time step", f.Block, saved.Block}, {"Seeing", f.Seeing, saved.Seeing}, {"Notes", f.Notes, saved.Notes},
	} {
		if d.mine != d.saved {
			m.Conflict = append(m.Conflict, difference(d.label, d.saved, d.mine))
		}
	}
	return s.showNightForm(w, r, http.StatusConflict, f, m, sites, now)
}

func (s *server) retireNight(w http.ResponseWriter, r *http.Request) error {
	return s.setNightRetired(w, r, true)
}

func (s *server) restoreNight(w http.ResponseWriter, r *http.Request) error {
	return s.setNightRetired(w, r, false)
}

func (s *server) setNightRetired(w http.ResponseWriter, r *http.Request, retired bool) error {
	n, _, err := s.storedNight(r)
	if err != nil {
		return err
	}
	if n.Version, err = seenVersion(r); err != nil {
		return err
	}
	n.Retired = retired
	if err := s.store.SaveNight(r.Context(), &n); err != nil {
		return err
	}
	f := views.Flash{Text: n.Name + " is back among the nights.", Undo: retirePath(nightPath(n.ID), n.Version)}
	if retired {
		f = views.Flash{Text: n.Name + " is put away.", Undo: restorePath(nightPath(n.ID), n.Version)}
	}
	return redirect(w, r, "/nights", f)
}

// showNightSky answers what the sky does on the date and at the site typed so far.
func (s *server) showNightSky(w http.ResponseWriter, r *http.Request) error {
	sites, err := s.store.Sites(r.Context())
	if err != nil {
		return err
	}
	return s.fragment(w, r, http.StatusOK, views.NightSky(skyOf(readNightForm(r), sites)))
}

// skyOf says when it gets dark and what the Moon does; empty while date or site
// are not known.
func skyOf(f nightForm, sites []night.Site) []views.Row {
	date, err := sky.ParseDate(f.Date)
	if err != nil {
		return nil
	}
	i := slices.IndexFunc(sites, func(x night.Site) bool { return strconv.FormatInt(x.ID, 10) == f.Site })
	if i < 0 {
		return nil
	}
	zone, err := sites[i].Location()
	if err != nil {
		return nil
	}
	n, err := sky.NewNight(sites[i].Place, date, zone)
	if err != nil {
		return nil
	}
	t := n.Twilights()
	// The Moon as the other pages of the night give it: when the gate opens.
	at := n.Middle()
	if gate := resolve(date, f.From, f.FromWhich, zone); gate.fault == "" {
		at = gate.at
	}
	moon := n.Moon(at)
	ev := n.Events(sky.Moon)
	return []views.Row{
		{Label: "Sunset", Value: eventWords(t.Sunset, zone, "the Sun does not set", "the Sun does not rise")},
		{Label: "Bright stars appear", Value: eventWords(t.NauticalDusk, zone, "not that dark that night", "dark all day"), Note: "end of nautical twilight"},
		{Label: "Fully dark", Value: eventWords(t.AstronomicalDusk, zone, "never fully dark that night", "dark all day")},
		{Label: "Moon", Value: fmt.Sprintf("%s, %.0f %% lit", moon.PhaseName, 100*moon.Illuminated), Note: moonWords(ev, zone)},
	}
}

func eventWords(e sky.Event, zone *time.Location, above, below string) string {
	switch e.State {
	case sky.AlwaysAbove:
		return above
	case sky.AlwaysBelow:
		return below
	}
	return e.Time.In(zone).Format("15:04")
}

// moonWords says when the Moon rises and sets within the night.
func moonWords(ev sky.Events, zone *time.Location) string {
	switch ev.State {
	case sky.AlwaysAbove:
		return "up all night"
	case sky.AlwaysBelow:
		return "below the horizon all night"
	}
	words := ""
	if len(ev.Rises) > 0 {
		words = "rises " + ev.Rises[0].In(zone).Format("15:04")
	}
	if len(ev.Sets) > 0 {
		if words != "" {
			words += ", "
		}
		words += "sets " + ev.Sets[0].In(zone).Format("15:04")
	}
	return words
}

func (s *server) storedNight(r *http.Request) (night.Night, []night.Site, error) {
	id, err := idParam(r, "night")
	if err != nil {
		return night.Night{}, nil, err
	}
	n, err := s.store.Night(r.Context(), id)
	if err != nil {
		return night.Night{}, nil, err
	}
	sites, err := s.store.Sites(r.Context())
	return n, sites, err
}

func zoneOf(sites []night.Site, id int64) (*time.Location, error) {
	for _, s := range sites {
		if s.ID == id {
			return s.Location()
		}
	}
	return nil, fmt.Errorf("site %d of a night is missing", id)
}

// showNightForm completes the view with titles and addresses and shows it.
func (s *server) showNightForm(w http.ResponseWriter, r *http.Request, status int, f nightForm, m views.NightForm, sites []night.Site, n night.Night) error {
	m.Title, m.Action, m.Back, m.SaveLabel = "Plan a night", "/nights", "/nights", "Plan this night"
	m.HasSite = len(liveSites(sites)) > 0
	m.Sky = skyOf(f, sites)
	head := views.Head{Section: inNights, Crumbs: []views.Link{{Text: "Nights", Href: "/nights"}}}
	if n.ID != 0 {
		m.Title, m.Action, m.Back, m.SaveLabel = "Date and hours", nightPath(n.ID)+"/edit", nightPath(n.ID), "Save"
		m.Retire = retirePath(nightPath(n.ID), n.Version)
		if n.Retired {
			m.Retire, m.Restore = "", restorePath(nightPath(n.ID), n.Version)
		}
		head.Crumbs = append(head.Crumbs, views.Link{Text: n.Name, Href: nightPath(n.ID)})
	}
	head.Title = m.Title
	return s.show(w, r, status, head, views.NightPage(m))
}
