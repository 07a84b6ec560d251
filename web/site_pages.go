package web

import (
	"fmt"
	"net/http"
	"strconv"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

func (s *server) showSites(w http.ResponseWriter, r *http.Request) error {
	all, err := s.store.Sites(r.Context())
	if err != nil {
		return err
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Sites", Section: inSites}, views.SiteList(siteListModel(all)))
}

func siteListModel(all []night.Site) views.SiteListModel {
	m := views.SiteListModel{Table: views.Table{
		Caption: "Sites",
		Columns: []views.Column{{Label: "Name"}, {Label: "Place"}, {Label: "Time zone"}, {Label: "Sky, mag/arcsec²", Number: true}, {Label: "Horizon"}, {Label: "On the ground"}},
	}}
	for _, x := range all {
		if x.Retired {
			m.Retired = append(m.Retired, views.RetiredPiece{Name: x.Name, Kind: "Site", Href: sitePath(x.ID), Restore: restorePath(sitePath(x.ID), x.Version)})
			continue
		}
		m.Table.Rows = append(m.Table.Rows, []views.Cell{
			{Text: x.Name, Href: sitePath(x.ID), Note: x.Ground},
			{Text: latitude.print(x.Place.Lat, 3) + ", " + longitude.print(x.Place.Lon, 3), Note: number(x.Place.Elev, 0) + " m above the sea"},
			{Text: x.Zone},
			{Text: number(x.Brightness, 1), Note: "step " + darkness[stepOf(x.Brightness)-1].word},
			{Text: drawHorizon(x.Horizon).Words},
			{Text: onTheGround(x)},
		})
	}
	return m
}

// onTheGround says in words what a site offers.
func onTheGround(x night.Site) string {
	power, ladders := "No mains power", "no ladders for guests"
	if x.Power {
		power = "Mains power"
	}
	if x.Ladders {
		ladders = "ladders allowed"
	}
	return power + ", " + ladders
}

func sitePath(id int64) string { return "/sites/" + strconv.FormatInt(id, 10) }

func (s *server) showNewSite(w http.ResponseWriter, r *http.Request) error {
	s.zones.warm() // while the coordinates are typed
	return s.showSiteForm(w, r, http.StatusOK, siteForm{}.view(nil), night.Site{})
}

func (s *server) createSite(w http.ResponseWriter, r *http.Request) error {
	return s.keepSite(w, r, night.Site{})
}

func (s *server) showSite(w http.ResponseWriter, r *http.Request) error {
	x, err := s.storedSite(r)
	if err != nil {
		return err
	}
	return s.showSiteForm(w, r, http.StatusOK, siteFormOf(x).view(nil), x)
}

func (s *server) updateSite(w http.ResponseWriter, r *http.Request) error {
	x, err := s.storedSite(r)
	if err != nil {
		return err
	}
	return s.keepSite(w, r, x)
}

// keepSite parses the form over x and saves it, or shows it as typed.
func (s *server) keepSite(w http.ResponseWriter, r *http.Request, stored night.Site) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	f := readSiteForm(r)
	x, faults := f.parse(stored, s.zones.guess)
	if len(faults) > 0 {
		return s.showSiteForm(w, r, http.StatusUnprocessableEntity, f.view(faults), stored)
	}
	if v, err := strconv.ParseInt(f.Version, 10, 64); err == nil {
		x.Version = v
	}
	switch err := s.store.SaveSite(r.Context(), &x); {
	case fault.KindOf(err) == fault.Conflict && stored.ID != 0:
		now, err := s.store.Site(r.Context(), stored.ID)
		if err != nil {
			return err
		}
		m := f.view(nil)
		m.Stale, m.Conflict = true, siteDifferences(f, siteFormOf(now))
		m.Version = strconv.FormatInt(now.Version, 10)
		return s.showSiteForm(w, r, http.StatusConflict, m, stored)
	case err != nil:
		return err
	}
	text := x.Name + " is saved."
	if f.Zone == "" {
		text += " Its time zone, from the coordinates: " + x.Zone + "."
	}
	return redirect(w, r, "/sites", views.Flash{Text: text})
}

// siteDifferences says where a site saved meanwhile differs from what was typed.
func siteDifferences(mine, saved siteForm) []string {
	var out []string
	for _, d := range []struct{ label, mine, saved string }{
		{"Name", mine.Name, saved.Name}, {"Latitude", mine.Lat, saved.Lat}, {"Longitude", mine.Lon, saved.Lon},
		{"Elevation", mine.Elev, saved.Elev}, {"Time zone", mine.Zone, saved.Zone}, {"Outline", mine.Horizon, saved.Horizon},
		{"Measured brightness", mine.Measured, saved.Measured}, {"Ground", mine.Ground, saved.Ground}, {"Notes", mine.Notes, saved.Notes},
		{"Power", fmt.Sprint(mine.Power), fmt.Sprint(saved.Power)}, {"Ladders", fmt.Sprint(mine.Ladders), fmt.Sprint(saved.Ladders)},
	} {
		if d.mine != d.saved {
			out = append(out, difference(d.label, d.saved, d.mine))
		}
	}
	return out
}

// difference is one line of what two people saved differently.
func difference(label, saved, mine string) string {
	return label + ": saved meanwhile " + quoted(saved) + ", yours " + quoted(mine)
}

func (s *server) retireSite(w http.ResponseWriter, r *http.Request) error {
	return s.setSiteRetired(w, r, true)
}

func (s *server) restoreSite(w http.ResponseWriter, r *http.Request) error {
	return s.setSiteRetired(w, r, false)
}

func (s *server) setSiteRetired(w http.ResponseWriter, r *http.Request, retired bool) error {
	x, err := s.storedSite(r)
	if err != nil {
		return err
	}
	if x.Version, err = seenVersion(r); err != nil {
		return err
	}
	x.Retired = retired
	if err := s.store.SaveSite(r.Context(), &x); err != nil {
		return err
	}
	f := views.Flash{Text: x.Name + " is back among the sites.", Undo: retirePath(sitePath(x.ID), x.Version)}
	if retired {
		f = views.Flash{Text: x.Name + " is retired.", Undo: restorePath(sitePath(x.ID), x.Version)}
	}
	return redirect(w, r, "/sites", f)
}

// showZone answers the field of the zone, filled from the coordinates typed so
// far when it is empty.
func (s *server) showZone(w http.ResponseWriter, r *http.Request) error {
	f := readSiteForm(r)
	lat, errLat := latitude.parse(f.Lat)
	lon, errLon := longitude.parse(f.Lon)
	field := zoneField(f.Zone, "", "")
	if f.Zone == "" && errLat == nil && errLon == nil {
		if name := s.zones.guess(lat, lon); name != "" {
			field = zoneField(name, "", "Found from the coordinates. Change it if it is wrong.")
		}
	}
	return s.fragment(w, r, http.StatusOK, views.ZoneField(field))
}

// showHorizon answers the drawing of the outline typed so far.
func (s *server) showHorizon(w http.ResponseWriter, r *http.Request) error {
	h, err := parseHorizon(readSiteForm(r).Horizon)
	d := drawHorizon(h)
	if err != nil {
		d.Fault = first(err.Error()) + "."
	}
	return s.fragment(w, r, http.StatusOK, views.Horizon(d))
}

func (s *server) storedSite(r *http.Request) (night.Site, error) {
	id, err := idParam(r, "id")
	if err != nil {
		return night.Site{}, err
	}
	return s.store.Site(r.Context(), id)
}

// showSiteForm completes the view with titles and addresses and shows it.
func (s *server) showSiteForm(w http.ResponseWriter, r *http.Request, status int, m views.SiteForm, x night.Site) error {
	m.Title, m.Action = "Add a site", "/sites"
	if x.ID != 0 {
		m.Title, m.Action, m.GroundHref = x.Name, sitePath(x.ID), groundPath(x.ID)
		m.Retire = retirePath(sitePath(x.ID), x.Version)
		if x.Retired {
			m.Retire, m.Restore = "", restorePath(sitePath(x.ID), x.Version)
		}
	}
	head := views.Head{Title: m.Title, Section: inSites, Crumbs: []views.Link{{Text: "Sites", Href: "/sites"}}}
	return s.show(w, r, status, head, views.SitePage(m))
}
