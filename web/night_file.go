package web

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strings"

	"duskboard/internal/ground"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
	"duskboard/web/views"
)

// nightImportPath is the page that takes night files in.
const nightImportPath = "/nights/import"

// ImportNightStore makes a night out of a file, all of it or nothing.
type ImportNightStore interface {
	ImportNight(ctx context.Context, x night.Import) (int64, error)
}

// sendNightFile is a night as a file, with the club's own targets that it
// names. Contact data are no part of it; what people cannot do and wish is,
// so that only organisers get it.
func (s *server) sendNightFile(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	p, err := s.wholePlan(r.Context(), id)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := nightfile.Write(&b, nightfile.Portable(p)); err != nil {
		return fmt.Errorf("write night %d as a file: %w", id, err)
	}
	h := w.Header()
	h.Set("Content-Type", "application/json; charset=utf-8")
	h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", p.Night.Date.String()+".night.json"))
	h.Set("Cache-Control", "no-store")
	_, err = w.Write(b.Bytes())
	return err
}

// wholePlan is a night with the club's own targets, those taken off the list
// but still named too, and its satellites.
func (s *server) wholePlan(ctx context.Context, id int64) (night.Plan, error) {
	p, err := s.store.Plan(ctx, id)
	if err != nil {
		return p, err
	}
	if p.Own, err = s.store.OwnTargets(ctx); err != nil {
		return p, err
	}
	there := map[string]bool{}
	for _, o := range p.Own {
		there[o.ID] = true
	}
	named := append([]string(nil), p.Targets...)
	for _, x := range p.Showings {
		named = append(named, x.TargetID, x.BackupID)
	}
	for _, x := range p.Forbidden {
		named = append(named, x.TargetID)
	}
	for _, t := range named {
		if !strings.HasPrefix(t, "own-") || there[t] {
			continue
		}
		o, err := s.store.OwnTarget(ctx, t)
		if err != nil {
			return p, err
		}
		there[t] = true
		p.Own = append(p.Own, o)
	}
	p.Satellites, err = s.store.Satellites(ctx)
	return p, err
}

// sendNightSchema is the description of the format.
func (s *server) sendNightSchema(w http.ResponseWriter, r *http.Request) error {
	w.Header().Set("Content-Type", "application/schema+json; charset=utf-8")
	_, err := w.Write(nightfile.Schema)
	return err
}

// stock is what the club has, to find again what a file names.
func (s *server) stock(ctx context.Context) (have nightfile.Stock, err error) {
	load := func(f func() error) {
		if err == nil {
			err = f()
		}
	}
	load(func() error { have.Club, err = s.store.Club(ctx); return err })
	load(func() error {
		all, err := s.store.Sites(ctx)
		have.Sites, have.Grounds = liveSites(all), map[int64]ground.Ground{}
		for _, x := range have.Sites {
			if err == nil {
				have.Grounds[x.ID], err = s.store.Ground(ctx, x.ID)
			}
		}
		return err
	})
	load(func() error { have.Kit, err = s.store.Kit(ctx, false); return err })
	load(func() error { have.Volunteers, err = s.store.Volunteers(ctx); return err })
	load(func() error { have.Satellites, err = s.store.Satellites(ctx); return err })
	load(func() error { have.Nights, err = s.store.Nights(ctx); return err })
	load(func() error {
		cat, own, err := s.ownCatalogue(ctx)
		have.Catalogue, have.Own = cat, own
		return err
	})
	return have, err
}

// importRows turns what a file would do into lines.
func importRows(m nightfile.Merge) []views.NightPiece {
	var out []views.NightPiece
	for _, p := range m.Pieces {
		row := views.NightPiece{Kind: p.Kind, Name: p.Name, State: "Is here", Details: p.Differs}
		if p.New {
			row.State = "New"
		}
		out = append(out, row)
	}
	return out
}
