package web

import (
	"context"
	"net/http"
	"net/url"
	"strconv"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/fault"
	"duskboard/web/views"
)

// gearPages are the handlers of one kind of gear.
type gearPages[T any] struct {
	s *server
	g gear[T]
}

// mount adds the pages of one kind of gear below /kit.
func (p gearPages[T]) mount(r chi.Router) {
	r.Get("/"+p.g.path+"/new", p.s.page(p.showNew))
	r.Post("/"+p.g.path, p.s.page(p.create))
	r.Post("/"+p.g.path+"/assumed", p.s.page(p.showAssumed))
	r.Get("/"+p.g.path+"/{id}", p.s.page(p.showEdit))
	r.Post("/"+p.g.path+"/{id}", p.s.page(p.update))
	r.Post("/"+p.g.path+"/{id}/retire", p.s.page(p.retire))
	r.Post("/"+p.g.path+"/{id}/restore", p.s.page(p.restore))
}

func (p gearPages[T]) showNew(w http.ResponseWriter, r *http.Request) error {
	u, err := p.s.gearRefs(r.Context())
	if err != nil {
		return err
	}
	var x T
	p.g.base(&x).Count = 1
	return p.render(w, r, http.StatusOK, p.g.form(url.Values{"Count": {"1"}}, x, nil, u), x)
}

func (p gearPages[T]) create(w http.ResponseWriter, r *http.Request) error {
	var x T
	p.g.base(&x).Count = 1
	return p.keep(w, r, x)
}

func (p gearPages[T]) showEdit(w http.ResponseWriter, r *http.Request) error {
	x, err := p.stored(r)
	if err != nil {
		return err
	}
	u, err := p.s.gearRefs(r.Context())
	if err != nil {
		return err
	}
	return p.render(w, r, http.StatusOK, p.g.form(p.g.values(x, u), x, nil, u), x)
}

func (p gearPages[T]) update(w http.ResponseWriter, r *http.Request) error {
	x, err := p.stored(r)
	if err != nil {
		return err
	}
	return p.keep(w, r, x)
}

// showAssumed shows the form as typed with the defaults that would stand in.
func (p gearPages[T]) showAssumed(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	u, err := p.s.gearRefs(r.Context())
	if err != nil {
		return err
	}
	var x T
	p.g.base(&x).Count = 1
	x, faults := p.g.parse(r.PostForm, x, u)
	m := p.g.form(r.PostForm, x, faults, u)
	m.Version = r.PostForm.Get("Version")
	return p.render(w, r, http.StatusOK, m, x)
}

// keep parses the form over x, saves it, and answers with the form as typed
// when that cannot be done.
func (p gearPages[T]) keep(w http.ResponseWriter, r *http.Request, stored T) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	u, err := p.s.gearRefs(r.Context())
	if err != nil {
		return err
	}
	x, faults := p.g.parse(r.PostForm, stored, u)
	if len(faults) > 0 {
		m := p.g.form(r.PostForm, x, faults, u)
		m.Version = r.PostForm.Get("Version")
		return p.render(w, r, http.StatusUnprocessableEntity, m, x)
	}
	x = p.g.fill(x)
	b := p.g.base(&x)
	isNew := b.ID == 0
	if v, err := strconv.ParseInt(r.PostForm.Get("Version"), 10, 64); err == nil {
		b.Version = v // as the visitor saw it, not as it was read a moment ago
	}
	switch err := p.g.save(r.Context(), &x); {
	case fault.KindOf(err) == fault.Conflict && !isNew:
		return p.showConflict(w, r, x, u)
	case err != nil:
		return err
	}

	text := b.Name + " is saved."
	if isNew {
		text = b.Name + " is in the kit."
	}
	if n := len(b.Assumed); n > 0 {
		text += " " + first(plural(n, "value rests", "values rest")) + " on what is usual; open it to type what you know better."
	}
	to := "/kit"
	if r.PostForm.Get("then") == "another" {
		to = "/kit/" + p.g.path + "/new"
	}
	return redirect(w, r, to, views.Flash{Text: text})
}

// showConflict shows what was typed beside what was saved meanwhile. Saving
// again carries the newer version, and so replaces it knowingly.
func (p gearPages[T]) showConflict(w http.ResponseWriter, r *http.Request, x T, u refs) error {
	now, err := p.stored(r)
	if err != nil {
		return err
	}
	m := p.g.form(r.PostForm, x, nil, u)
	m.Stale = true
	m.Conflict = p.g.differences(r.PostForm, p.g.values(now, u), u)
	m.Version = strconv.FormatInt(p.g.base(&now).Version, 10)
	return p.render(w, r, http.StatusConflict, m, x)
}

func (p gearPages[T]) retire(w http.ResponseWriter, r *http.Request) error {
	return p.setRetired(w, r, true)
}

func (p gearPages[T]) restore(w http.ResponseWriter, r *http.Request) error {
	return p.setRetired(w, r, false)
}

// setRetired asks nobody "are you sure": it can be undone from the message.
func (p gearPages[T]) setRetired(w http.ResponseWriter, r *http.Request, retired bool) error {
	x, err := p.stored(r)
	if err != nil {
		return err
	}
	b := p.g.base(&x)
	if b.Version, err = seenVersion(r); err != nil {
		return err
	}
	b.Retired = retired
	if err := p.g.save(r.Context(), &x); err != nil {
		return err
	}
	f := views.Flash{Text: b.Name + " is back in the kit.", Undo: retirePath(p.address(x), b.Version)}
	if retired {
		f = views.Flash{Text: b.Name + " is retired.", Undo: restorePath(p.address(x), b.Version)}
	}
	return redirect(w, r, "/kit", f)
}

func (p gearPages[T]) stored(r *http.Request) (T, error) {
	id, err := idParam(r, "id")
	if err != nil {
		var none T
		return none, err
	}
	return p.g.load(r.Context(), id)
}

func (p gearPages[T]) address(x T) string {
	return "/kit/" + p.g.path + "/" + strconv.FormatInt(p.g.base(&x).ID, 10)
}

// render completes the view with addresses and titles and shows it.
func (p gearPages[T]) render(w http.ResponseWriter, r *http.Request, status int, m views.GearForm, x T) error {
	b := p.g.base(&x)
	m.Back = "/kit"
	m.Preview = "/kit/" + p.g.path + "/assumed"
	if b.ID == 0 {
		m.Title, m.Action = "Add "+article(p.g.one), "/kit/"+p.g.path
		m.SaveLabel, m.Another = "Save", "Save and add another"
	} else {
		m.Title, m.Action, m.SaveLabel = b.Name, p.address(x), "Save"
		if b.Retired {
			m.Restore = restorePath(p.address(x), p.g.base(&x).Version)
		} else {
			m.Retire = retirePath(p.address(x), p.g.base(&x).Version)
		}
		if m.Version == "" {
			m.Version = strconv.FormatInt(b.Version, 10)
		}
	}
	head := views.Head{Title: m.Title, Section: inKit, Crumbs: []views.Link{{Text: "Kit", Href: "/kit"}, {Text: p.g.many, Href: "/kit#" + p.g.path}}}
	return p.s.show(w, r, status, head, views.GearPage(m))
}

// gearRefs loads what the forms of gear offer: owners and instruments.
func (s *server) gearRefs(ctx context.Context) (refs, error) {
	club, err := s.store.Club(ctx)
	if err != nil {
		return refs{}, err
	}
	people, err := s.store.Volunteers(ctx)
	if err != nil {
		return refs{}, err
	}
	all, err := s.store.Kit(ctx, true)
	if err != nil {
		return refs{}, err
	}
	u := refs{inches: club.Inches}
	for _, v := range people {
		u.volunteers = append(u.volunteers, option(v.ID, v.Name, v.Retired))
	}
	for _, i := range all.Instruments {
		u.instruments = append(u.instruments, option(i.ID, i.Name, i.Retired))
	}
	return u, nil
}

// option offers a row by its number. Retired ones stay, so that a form that
// names one can be saved unchanged.
func option(id int64, name string, retired bool) views.Option {
	if retired {
		name += " (retired)"
	}
	return views.Option{Value: strconv.FormatInt(id, 10), Text: name}
}

// article is "an instrument", "a filter"; plural words stand alone.
func article(one string) string {
	switch {
	case one == "steps" || one == "dew gear":
		return one
	case one[0] == 'a' || one[0] == 'e' || one[0] == 'i' || one[0] == 'o':
		return "an " + one
	}
	return "a " + one
}
