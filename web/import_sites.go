package web

import (
	"context"
	"math"
	"strconv"
	"strings"

	"duskboard/internal/exchange"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

var siteColumns = []exchange.ColumnInfo{
	{Name: "name", Meaning: "finds the site that a row changes", Needed: true},
	{Name: "latitude", Meaning: "degrees: 52.5163 N, or south negative", Needed: true},
	{Name: "longitude", Meaning: "degrees: 13.3777 E, or west negative", Needed: true},
	{Name: "elevation", Meaning: "m above the sea; empty is sea level"},
	{Name: "zone", Meaning: "time zone as Europe/Dublin; empty is found from the coordinates"},
	{Name: "horizon", Meaning: "outline, azimuth and altitude in degrees, semicolons between points: N 5; 90 12; SE 25"},
	{Name: "brightness", Meaning: "sky at the zenith, mag per square arcsecond", Needed: true},
	{Name: "ground", Meaning: "ground and paths"},
	{Name: "power", Meaning: "mains at hand: yes or no"},
	{Name: "ladders", Meaning: "ladders for guests allowed: yes or no"},
	{Name: "notes", Meaning: "free text"},
}

const siteTemplate = "\ufeffname,latitude,longitude,elevation,zone,horizon,brightness,ground,power,ladders,notes\r\n" +
	"Example field,52.5163 N,13.3777 E,34,,N 5; 90 12; 180 8,20.6,\"grass, level\",no,no,take this row out\r\n"

// siteTable is the sites as a table.
func (s *server) siteTable() tableImport {
	return tableImport{
		s: s, path: "/sites", over: "Sites", title: "Sites from a table", section: inSites, crumb: views.Link{Text: "Sites", Href: "/sites"},
		one: "site", many: "sites", file: "sites", columns: siteColumns, template: siteTemplate,
		hint: "A row with the name of a site that is there changes it; empty cells leave what it has.",
		plan: func(ctx context.Context, text string) (tablePlan, error) {
			t, err := s.siteRows(ctx)
			if err != nil {
				return tablePlan{}, err
			}
			items, changes, err := t.plan(text)
			return tablePlan{changes, s.saveBatch("sites from a table", night.Batch{Sites: items}, nil)}, err
		},
		export: func(ctx context.Context) ([]byte, error) {
			t, err := s.siteRows(ctx)
			if err != nil {
				return nil, err
			}
			return t.file("elevation", "brightness")
		},
	}
}

func (s *server) siteRows(ctx context.Context) (rowTable[night.Site], error) {
	all, err := s.store.Sites(ctx)
	t := rowTable[night.Site]{
		kind: "Site", columns: siteColumns,
		key:    func(c map[string]string) string { return strings.ToLower(c["name"]) },
		called: func(x night.Site) string { return x.Name },
		cells:  siteCells,
		parse: func(c map[string]string, old night.Site) (night.Site, fault.Fields) {
			f := siteForm{
				Name: c["name"], Lat: c["latitude"], Lon: c["longitude"], Elev: c["elevation"], Zone: c["zone"],
				Horizon: strings.ReplaceAll(c["horizon"], ";", "\n"), Measured: c["brightness"], Ground: c["ground"], Notes: c["notes"],
				Power: isYes(c["power"]), Ladders: isYes(c["ladders"]),
			}
			if old.ID != 0 {
				f.Name = old.Name
			}
			x, faults := f.parse(old, s.zones.guess)
			if before := siteCells(old); old.ID != 0 && before["latitude"] == c["latitude"] && before["longitude"] == c["longitude"] {
				x.Place.Lat, x.Place.Lon = old.Place.Lat, old.Place.Lon // a cell has fewer digits
			}
			return x, renamed(faults, map[string]string{"Name": "name", "Lat": "latitude", "Lon": "longitude", "Elev": "elevation", "Zone": "zone", "Horizon": "horizon", "Measured": "brightness", "Step": "brightness", "Ground": "ground", "Notes": "notes"})
		},
	}
	for _, x := range all {
		if !x.Retired {
			t.have = append(t.have, x)
		}
	}
	return t, err
}

func siteCells(x night.Site) map[string]string {
	f := siteFormOf(x)
	return map[string]string{
		"name": f.Name, "latitude": f.Lat, "longitude": f.Lon, "elevation": f.Elev, "zone": f.Zone,
		"horizon": strings.ReplaceAll(strings.TrimSpace(f.Horizon), "\n", "; "), "brightness": f.Measured, "ground": f.Ground, "power": yesNoCell(f.Power), "ladders": yesNoCell(f.Ladders), "notes": f.Notes,
	}
}

var nightColumns = []exchange.ColumnInfo{
	{Name: "date", Meaning: "of the evening, as 2026-09-19; with the site it finds the night that a row changes", Needed: true},
	{Name: "site", Meaning: "name of a site that is there", Needed: true},
	{Name: "opens", Meaning: "when the gate opens, on the site's clock: 20:30", Needed: true},
	{Name: "ends", Meaning: "when the public hours end; a time before noon is one of the next morning", Needed: true},
	{Name: "guests", Meaning: "expected guests; empty is 100"},
	{Name: "audience", Meaning: "families, school, adults or beginners; empty is families"},
	{Name: "block", Meaning: "time step of the plan: 10, 15, 20 or 30 minutes; empty is 15"},
	{Name: "seeing", Meaning: "expected, arcseconds; empty when unknown"},
	{Name: "name", Meaning: "empty is named after its guests"},
	{Name: "notes", Meaning: "free text"},
}

const nightTemplate = "\ufeffdate,site,opens,ends,guests,audience,block,seeing,name,notes\r\n" +
	"2030-03-09,Example field,20:00,22:30,80,families,15,,Example night,take this row out\r\n"

// nightTable is the nights as a table: when, where, for whom. What is chosen
// for a night is in the night's own file.
func (s *server) nightTable() tableImport {
	return tableImport{
		s: s, path: "/nights/table", over: "Nights", title: "Nights from a table", section: inNights, crumb: views.Link{Text: "Nights", Href: "/nights"},
		one: "night", many: "nights", file: "nights", columns: nightColumns, template: nightTemplate,
		hint: "A row with the date and site of a night that is there changes it; empty cells leave what it has. A new night starts with all the gear, everybody asked and the showpieces that are up.",
		plan: func(ctx context.Context, text string) (tablePlan, error) {
			t, err := s.nightRows(ctx)
			if err != nil {
				return tablePlan{}, err
			}
			items, changes, err := t.plan(text)
			fresh := make([]bool, len(items))
			for i, x := range items {
				fresh[i] = x.ID == 0
			}
			then := func(ctx context.Context) error {
				for i, n := range items { // with their ids by now
					if fresh[i] {
						if err := s.chooseAll(ctx, n); err != nil {
							return err
						}
					}
				}
				return nil
			}
			return tablePlan{changes, s.saveBatch("nights from a table", night.Batch{Nights: items}, then)}, err
		},
		export: func(ctx context.Context) ([]byte, error) {
			t, err := s.nightRows(ctx)
			if err != nil {
				return nil, err
			}
			return t.file("guests", "block", "seeing")
		},
	}
}

func (s *server) nightRows(ctx context.Context) (rowTable[night.Night], error) {
	var t rowTable[night.Night]
	sites, err := s.store.Sites(ctx)
	if err != nil {
		return t, err
	}
	all, err := s.store.Nights(ctx)
	if err != nil {
		return t, err
	}
	t = rowTable[night.Night]{
		kind: "Night", columns: nightColumns,
		key:    func(c map[string]string) string { return c["date"] + "\x00" + strings.ToLower(c["site"]) },
		called: func(x night.Night) string { return x.Date.String() + ", " + x.Name },
		cells:  func(x night.Night) map[string]string { return nightCells(x, sites) },
		parse: func(c map[string]string, old night.Night) (night.Night, fault.Fields) {
			f := nightForm{
				Name: c["name"], Date: c["date"], From: c["opens"], To: c["ends"], FromWhich: firstTime, ToWhich: firstTime,
				Guests: orElse(c["guests"], "100"), Audience: strings.ToLower(orElse(c["audience"], string(night.Families))), Block: orElse(c["block"], "15"),
				Seeing: c["seeing"], Notes: c["notes"],
			}
			before := map[string]string{}
			if old.ID != 0 {
				before = nightCells(old, sites)
			}
			f.Site = siteNamed(sites, c["site"], old.SiteID)
			n, faults := f.parse(old, sites)
			if old.ID != 0 && before["opens"] == c["opens"] && before["ends"] == c["ends"] && before["date"] == c["date"] {
				n.PublicFrom, n.Public = old.PublicFrom, old.Public // which of two equal times it was
			}
			return n, renamed(faults, map[string]string{"Date": "date", "Site": "site", "From": "opens", "To": "ends", "Guests": "guests", "Audience": "audience", "Block": "block", "Seeing": "seeing", "Name": "name", "Notes": "notes"})
		},
	}
	for _, x := range all {
		if !x.Retired {
			t.have = append(t.have, x)
		}
	}
	return t, nil
}

func orElse(s, empty string) string {
	if s == "" {
		return empty
	}
	return s
}

// siteNamed is the number of the site of a name as the form has it; "" when
// there is none, so that the form asks for it.
func siteNamed(sites []night.Site, name string, old int64) string {
	for _, x := range sites {
		if strings.EqualFold(x.Name, name) && (!x.Retired || x.ID == old) {
			return strconv.FormatInt(x.ID, 10)
		}
	}
	return ""
}

func nightCells(x night.Night, sites []night.Site) map[string]string {
	c := map[string]string{"date": x.Date.String()}
	zone, err := zoneOf(sites, x.SiteID)
	if err != nil {
		return c // a site without a zone: it cannot be saved so
	}
	f := nightFormOf(x, zone)
	for _, y := range sites {
		if y.ID == x.SiteID {
			c["site"] = y.Name
		}
	}
	c["opens"], c["ends"], c["guests"], c["audience"] = f.From, f.To, f.Guests, f.Audience
	c["block"], c["seeing"], c["name"], c["notes"] = f.Block, f.Seeing, f.Name, f.Notes
	return c
}

// known prints a number that may be unknown.
func known(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}
