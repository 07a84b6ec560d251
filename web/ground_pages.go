package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// GroundStore keeps what stands on the ground of a site and the places of a
// night.
type GroundStore interface {
	Ground(ctx context.Context, siteID int64) (ground.Ground, error)
	SaveGround(ctx context.Context, siteID int64, g *ground.Ground) error
	UndoGround(ctx context.Context, siteID, version int64) (ground.Ground, error)
	SavePlaces(ctx context.Context, nightID, version int64, places []ground.Place, label string) (int64, error)
	UndoPlaces(ctx context.Context, nightID int64) (string, error)
	RedoPlaces(ctx context.Context, nightID int64) (string, error)
}

// groundRoutes are the pages on a site's ground, below one site.
func (s *server) groundRoutes(r chi.Router) {
	r.Get("/{id}/ground", s.page(s.showGround))
	r.Post("/{id}/ground", s.page(s.updateGround))
	r.Post("/{id}/ground/undo", s.page(s.undoGround))
	r.Post("/{id}/ground/draw", s.page(s.drawGround))
}

func groundPath(siteID int64) string { return sitePath(siteID) + "/ground" }

func (s *server) showGround(w http.ResponseWriter, r *http.Request) error {
	x, err := s.storedSite(r)
	if err != nil {
		return err
	}
	g, err := s.store.Ground(r.Context(), x.ID)
	if err != nil {
		return err
	}
	return s.showGroundForm(w, r, http.StatusOK, groundFormOf(g).view(nil), x, g)
}

// updateGround saves the description, or shows it as typed.
func (s *server) updateGround(w http.ResponseWriter, r *http.Request) error {
	x, err := s.storedSite(r)
	if err != nil {
		return err
	}
	was, err := s.store.Ground(r.Context(), x.ID)
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	f := readGroundForm(r)
	g, _, faults := f.parse()
	if len(faults) > 0 {
		return s.showGroundForm(w, r, http.StatusUnprocessableEntity, f.view(faults), x, was)
	}
	g.Version = was.Version
	if v, err := strconv.ParseInt(f.Version, 10, 64); err == nil {
		g.Version = v
	}
	err = s.store.SaveGround(r.Context(), x.ID, &g)
	if fault.KindOf(err) == fault.Conflict {
		m := f.view(nil)
		m.Stale, m.Conflict = true, groundDifferences(f, groundFormOf(was))
		m.Version = strconv.FormatInt(was.Version, 10)
		return s.showGroundForm(w, r, http.StatusConflict, m, x, was)
	} else if err != nil {
		return err
	}
	flash := views.Flash{Text: fmt.Sprintf("The ground of %s is saved.", x.Name)}
	if g.CanUndo {
		flash.Undo = groundPath(x.ID) + "/undo"
	}
	return redirect(w, r, groundPath(x.ID), flash)
}

// groundDifferences says where a ground saved meanwhile differs from what was
// typed.
func groundDifferences(mine, saved groundForm) []string {
	var out []string
	if mine.Outline != saved.Outline {
		out = append(out, difference("Corners", saved.Outline, mine.Outline))
	}
	row := func(rows []groundRow, i int) string {
		if i >= len(rows) || rows[i].empty() {
			return ""
		}
		return rows[i].Kind + " " + rows[i].Name + " " + rows[i].At
	}
	for i := range max(len(mine.Rows), len(saved.Rows)) {
		if a, b := row(mine.Rows, i), row(saved.Rows, i); a != b {
			out = append(out, difference(fmt.Sprintf("Row %d", i+1), b, a))
		}
	}
	return out
}

func (s *server) undoGround(w http.ResponseWriter, r *http.Request) error {
	x, err := s.storedSite(r)
	if err != nil {
		return err
	}
	g, err := s.store.Ground(r.Context(), x.ID)
	if err != nil {
		return err
	}
	if _, err := s.store.UndoGround(r.Context(), x.ID, g.Version); err != nil {
		return err
	}
	return redirect(w, r, groundPath(x.ID), views.Flash{Text: "The ground is as it was before the last change.", Undo: groundPath(x.ID) + "/undo"})
}

// drawGround answers the drawing of what is typed so far.
func (s *server) drawGround(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.storedSite(r); err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	return s.fragment(w, r, http.StatusOK, views.GroundDrawing(readGroundForm(r).drawing()))
}

func (s *server) showGroundForm(w http.ResponseWriter, r *http.Request, status int, m views.GroundForm, x night.Site, stored ground.Ground) error {
	m.Title, m.Site, m.Action, m.Back = "The ground", x.Name, groundPath(x.ID), sitePath(x.ID)
	m.CanUndo = stored.CanUndo
	m.New = stored.Version == 0
	for _, f := range stored.Features {
		if f.Kind == ground.Path && f.Wheels {
			name := f.Name
			if name == "" {
				name = "The path"
			}
			m.Wheels = append(m.Wheels, fmt.Sprintf("%s, %s m: %s.", first(name), number(f.Width, 2), ground.PathWords(f.Width)))
		}
	}
	head := views.Head{Title: "The ground of " + x.Name, Section: inSites, Crumbs: []views.Link{{Text: "Sites", Href: "/sites"}, {Text: x.Name, Href: sitePath(x.ID)}}}
	return s.show(w, r, status, head, views.GroundPage(m))
}
