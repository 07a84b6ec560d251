package store

import (
	"context"
	"database/sql"

	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Sites returns every site, retired ones too, by name.
func (s *Store) Sites(ctx context.Context) (sites []night.Site, err error) {
	err = s.read(ctx, "load sites", func(q *db.Queries) error {
		rows, err := q.ListSites(ctx)
		sites, err = each(rows, err, siteOf)
		return err
	})
	return sites, err
}

// Site returns one site.
func (s *Store) Site(ctx context.Context, id int64) (site night.Site, err error) {
	err = s.read(ctx, "load site", func(q *db.Queries) error {
		r, err := q.GetSite(ctx, id)
		site = siteOf(r)
		return missing(err, "site", id)
	})
	return site, err
}

// SaveSite inserts or changes a site.
func (s *Store) SaveSite(ctx context.Context, x *night.Site) error {
	return s.saveRow(ctx, "site", &x.ID, &x.Version, func(q *db.Queries) row { return siteRow(ctx, q, x) })
}

// siteRow is how a site is saved.
func siteRow(ctx context.Context, q *db.Queries, x *night.Site) row {
	return row{
		what:  "site",
		raise: func(id, v int64) (int64, error) { return q.RaiseSite(ctx, id, v) },
		find:  func(id int64) error { return found(q.GetSite(ctx, id)) },
		put: func(id sql.NullInt64) (int64, error) {
			saved, err := q.PutSite(ctx, db.PutSiteParams{
				ID: id, Name: x.Name, Lat: x.Place.Lat, Lon: x.Place.Lon, Elev: x.Place.Elev,
				Zone: x.Zone, Horizon: corners(x.Horizon), Brightness: x.Brightness,
				Ground: x.Ground, Power: x.Power, Ladders: x.Ladders, Notes: x.Notes, Retired: x.Retired,
			})
			if err != nil {
				return 0, err
			}
			return saved, binned(ctx, q, night.BinSite, saved, x.Name, x.Retired)
		},
	}
}

func siteOf(r db.Site) night.Site {
	return night.Site{
		ID: r.ID, Version: r.Version, Name: r.Name,
		Place: sky.Place{Lat: r.Lat, Lon: r.Lon, Elev: r.Elev},
		Zone:  r.Zone, Horizon: horizon(r.Horizon), Brightness: r.Brightness,
		Ground: r.Ground, Power: r.Power, Ladders: r.Ladders, Notes: r.Notes, Retired: r.Retired,
	}
}

func corners(h sky.Horizon) column.Corners {
	var out column.Corners
	for _, p := range h {
		out = append(out, [2]float64{p.Az, p.Alt})
	}
	return out
}

func horizon(c column.Corners) sky.Horizon {
	var out sky.Horizon
	for _, p := range c {
		out = append(out, sky.HorizonPoint{Az: p[0], Alt: p[1]})
	}
	return out
}
