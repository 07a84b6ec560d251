package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// whole is everything that may be chosen for a night: the plan, all the gear,
// all volunteers, and the sky of the night.
type whole struct {
	night.Plan
	kit        kit.Kit
	volunteers []crew.Volunteer
	zone       *time.Location
	sky        *sky.Night
	cat        *catalog.Catalog // with the club's own targets
}

func (s *server) loadWhole(ctx context.Context, id int64) (whole, error) {
	p, err := s.store.Plan(ctx, id)
	if err != nil {
		return whole{}, err
	}
	x := whole{Plan: p}
	if x.cat, err = s.catalogue(ctx); err != nil {
		return whole{}, err
	}
	if x.kit, err = s.store.Kit(ctx, false); err != nil {
		return whole{}, err
	}
	all, err := s.store.Volunteers(ctx)
	if err != nil {
		return whole{}, err
	}
	asked := map[int64]bool{}
	for _, a := range p.Availability {
		asked[a.VolunteerID] = true
	}
	for _, v := range all {
		if !v.Retired || asked[v.ID] {
			x.volunteers = append(x.volunteers, v)
		}
	}
	if x.zone, err = p.Site.Location(); err != nil {
		return whole{}, fault.Wrap(fault.Invalid, err, "The time zone %q of %s is not known. Choose another on the page of the site.", p.Site.Zone, p.Site.Name)
	}
	if x.sky, err = sky.NewNight(p.Site.Place, p.Night.Date, x.zone); err != nil {
		return whole{}, fault.Wrap(fault.Invalid, err, "The sky of this night cannot be computed: %v.", err)
	}
	return x, nil
}

// chooseAll saves the first choice of a new night: all the gear, everybody
// asked, and the showpieces that are up during the public hours.
func (s *server) chooseAll(ctx context.Context, n night.Night) error {
	x, err := s.loadWhole(ctx, n.ID)
	if err != nil {
		return err
	}
	c := night.Plan{Kit: x.kit}.Choice()
	for _, t := range x.cat.All() {
		if t.Showpiece && suggestible(t) && x.heights(t).best >= x.lowest() {
			c.Targets = append(c.Targets, t.ID)
		}
	}
	for _, v := range x.volunteers {
		c.Availability = append(c.Availability, crew.Availability{VolunteerID: v.ID})
	}
	return s.store.SaveChoice(ctx, n.ID, n.Version, c)
}

// suggestible leaves out the Sun: it is shown only when somebody asks for it,
// through an instrument with a filter fitted for it.
func suggestible(t catalog.Target) bool { return t.Kind != catalog.KindSun }

// lowest is the altitude in degrees below which the club shows nothing.
func (x whole) lowest() float64 { return max(x.Club.MinAltitude, 10) }

// heights are altitudes of a target during the public hours, in degrees.
type heights struct {
	opens, closes, best float64
	at                  time.Time // of best
}

func (x whole) heights(t catalog.Target) heights {
	const steps = 12
	times := make([]time.Time, steps+1)
	for i := range times {
		times[i] = x.Night.PublicFrom.Add(x.Night.Public * time.Duration(i) / steps)
	}
	track := x.sky.Track(catalog.ObjectOf(t), times)
	h := heights{opens: track[0].AltRefracted, closes: track[steps].AltRefracted, best: -90}
	for i, p := range track {
		// What stands behind the trees does not count as up.
		if alt := p.AltRefracted; alt > h.best && (alt > x.Site.Horizon.AltAt(p.Az) || h.best == -90) {
			h.best, h.at = alt, times[i]
			if alt <= x.Site.Horizon.AltAt(p.Az) {
				h.best = min(alt, 0)
			}
		}
	}
	return h
}

func (x whole) targetRow(t catalog.Target, show, must bool) views.TargetRow {
	h := x.heights(t)
	row := views.TargetRow{
		ID: t.ID, Name: t.Name, Also: otherNames(t), Kind: string(t.Kind),
		Opens: number(h.opens, 0) + "°", Closes: number(h.closes, 0) + "°",
		Best: number(h.best, 0) + "° at " + h.at.In(x.zone).Format("15:04"), Show: show, Must: must,
	}
	switch {
	case h.best <= 0:
		row.State, row.Best = "not up", ""
	case h.best < x.lowest():
		row.State = "low"
	}
	return row
}

// otherNames are the designations of a target that are not its name already.
func otherNames(t catalog.Target) string {
	return strings.Join(slices.DeleteFunc(slices.Clone(t.Designations), func(d string) bool { return d == t.Name }), ", ")
}

func (s *server) showChoose(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	x, err := s.loadWhole(r.Context(), id)
	if err != nil {
		return err
	}
	m := x.chooseModel(x.Plan.Choice(), r.URL.Query().Get("q"))
	return s.showChooseForm(w, r, http.StatusOK, x, m)
}

// findTargets answers what a search finds, to be ticked.
func (s *server) findTargets(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	x, err := s.loadWhole(r.Context(), id)
	if err != nil {
		return err
	}
	m := views.ChooseModel{Query: strings.TrimSpace(r.URL.Query().Get("q"))}
	m.Found = x.found(m.Query, x.Plan.Choice())
	return s.fragment(w, r, http.StatusOK, views.FoundTargets(m))
}

// mostFound is how many targets a search shows; a longer list is no help.
const mostFound = 20

// found are targets that match a query and are not chosen yet.
func (x whole) found(query string, c night.Choice) []views.TargetRow {
	var rows []views.TargetRow
	for _, t := range x.cat.Search(query) {
		if len(rows) == mostFound {
			break
		}
		if !slices.Contains(c.Targets, t.ID) {
			rows = append(rows, x.targetRow(t, false, false))
		}
	}
	return rows
}

// saveChoose saves what is ticked. A search or an "add all" is a save as well,
// so that nothing ticked is lost; the page comes back with the result.
func (s *server) saveChoose(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	x, err := s.loadWhole(r.Context(), id)
	if err != nil {
		return err
	}
	c, faults := x.parseChoice(r.PostForm)
	query := strings.TrimSpace(r.PostForm.Get("q"))
	if len(faults) > 0 {
		m := x.chooseModel(c, query)
		m.Faults = labelled(faults, nil)
		x.keepTyped(&m, r.PostForm, faults)
		return s.showChooseForm(w, r, http.StatusUnprocessableEntity, x, m)
	}
	version, _ := strconv.ParseInt(r.PostForm.Get("Version"), 10, 64) // 0 is stale, as it should be
	switch err := s.store.SaveChoice(r.Context(), id, version, c); {
	case fault.KindOf(err) == fault.Conflict:
		m := x.chooseModel(c, query)
		m.Stale = true
		return s.showChooseForm(w, r, http.StatusConflict, x, m)
	case err != nil:
		return err
	}
	switch r.PostForm.Get("then") {
	case "find":
		return redirect(w, r, nightPath(id)+"/choose?q="+url.QueryEscape(query)+"#targets", views.Flash{})
	case "all-up", "none":
		return redirect(w, r, nightPath(id)+"/choose#targets", views.Flash{})
	}
	return redirect(w, r, nightPath(id), views.Flash{Text: fmt.Sprintf("Chosen: %s, %s, %s asked.",
		plural(len(c.Instruments), "instrument", "instruments"), plural(len(c.Targets), "target", "targets"), plural(len(c.Availability), "volunteer", "volunteers"))})
}

// parseChoice reads what is ticked. Gear that has been retired since it was
// chosen is not on the form and stays chosen.
func (x whole) parseChoice(form url.Values) (night.Choice, fault.Fields) {
	var c night.Choice
	old := x.Plan.Choice()
	c.Instruments = ticked(form["instruments"], x.kit.Instruments, old.Instruments)
	c.Eyepieces = ticked(form["eyepieces"], x.kit.Eyepieces, old.Eyepieces)
	c.Amplifiers = ticked(form["amplifiers"], x.kit.Amplifiers, old.Amplifiers)
	c.Diagonals = ticked(form["diagonals"], x.kit.Diagonals, old.Diagonals)
	c.Filters = ticked(form["filters"], x.kit.Filters, old.Filters)
	c.Finders = ticked(form["finders"], x.kit.Finders, old.Finders)
	c.DewGear = ticked(form["dew-gear"], x.kit.DewGear, old.DewGear)
	c.Batteries = ticked(form["batteries"], x.kit.Batteries, old.Batteries)
	c.Steps = ticked(form["steps"], x.kit.Steps, old.Steps)

	cat := x.cat
	add := func(id string) {
		if !slices.Contains(c.Targets, id) {
			c.Targets = append(c.Targets, id)
		}
	}
	if form.Get("then") != "none" {
		for _, id := range append(form["targets"], form["must"]...) {
			if _, ok := cat.ByID(id); ok || slices.Contains(old.Targets, id) {
				add(id)
			}
		}
		for _, id := range form["must"] {
			if slices.Contains(c.Targets, id) && !slices.Contains(c.MustShow, id) {
				c.MustShow = append(c.MustShow, id)
			}
		}
	}
	if form.Get("then") == "all-up" {
		for _, t := range cat.All() {
			if suggestible(t) && x.heights(t).best >= x.lowest() {
				add(t.ID)
			}
		}
	}
	var faults fault.Fields
	c.Availability, faults = x.parseAnswers(form)
	return c, faults
}

// ticked keeps the numbers of pieces that exist, in the order of the kit, and
// those chosen before that are no longer offered.
func ticked[T hasBase](sent []string, offered []T, old []int64) []int64 {
	var ids []int64
	on := map[int64]bool{}
	for _, p := range offered {
		id := baseOf(p).ID
		on[id] = true
		if slices.Contains(sent, strconv.FormatInt(id, 10)) {
			ids = append(ids, id)
		}
	}
	for _, id := range old {
		if !on[id] {
			ids = append(ids, id)
		}
	}
	return ids
}

// showChooseForm completes the view with titles and addresses and shows it.
func (s *server) showChooseForm(w http.ResponseWriter, r *http.Request, status int, x whole, m views.ChooseModel) error {
	m.Over, m.Title = printDate(x.Night.Date)+" · "+x.Site.Name, "What to use"
	m.Tabs = nightTabs(x.Night.ID, "choose")
	m.Action, m.Find = nightPath(x.Night.ID)+"/choose", nightPath(x.Night.ID)+"/targets"
	m.Version = strconv.FormatInt(x.Night.Version, 10)
	head := views.Head{Title: "What to use · " + x.Night.Name, Section: inNights,
		Crumbs: []views.Link{{Text: "Nights", Href: "/nights"}, {Text: x.Night.Name, Href: nightPath(x.Night.ID)}}}
	return s.show(w, r, status, head, views.Choose(m))
}
