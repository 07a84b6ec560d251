package web

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// TargetStore keeps what the club adds to the catalogue.
type TargetStore interface {
	OwnTargets(ctx context.Context) ([]night.OwnTarget, error)
	OwnTarget(ctx context.Context, id string) (night.OwnTarget, error)
	SaveOwnTarget(ctx context.Context, x *night.OwnTarget) error
	RemoveOwnTarget(ctx context.Context, id string, version int64) error
	Satellites(ctx context.Context) ([]night.Satellite, error)
	AddSatellite(ctx context.Context, x *night.Satellite) error
	RemoveSatellite(ctx context.Context, id int64) error
}

// catalogue is the embedded catalogue with the club's own targets.
func (s *server) catalogue(ctx context.Context) (*catalog.Catalog, error) {
	c, _, err := s.ownCatalogue(ctx)
	return c, err
}

func (s *server) ownCatalogue(ctx context.Context) (*catalog.Catalog, []night.OwnTarget, error) {
	own, err := s.store.OwnTargets(ctx)
	if err != nil {
		return nil, nil, err
	}
	return night.OwnCatalogue(catalog.Default(), own), own, nil
}

// showTargets is the catalogue: a search, the club's own targets, and the ways
// to add one.
func (s *server) showTargets(w http.ResponseWriter, r *http.Request) error {
	return s.targetsPage(w, r, http.StatusOK, targetForm{}, nil)
}

// targetForm is what was typed to add targets: one of a place, a line of
// elements, a table, or two-line elements.
type targetForm struct {
	Name, Place, Kind, Magnitude, Size string
	Elements, Table, Satellite         string
}

func parseTargetForm(r *http.Request) targetForm {
	get := func(k string) string { return strings.TrimSpace(r.PostFormValue(k)) }
	return targetForm{
		Name: get("name"), Place: get("place"), Kind: get("kind"), Magnitude: get("magnitude"), Size: get("size"),
		Elements: r.PostFormValue("elements"), Table: r.PostFormValue("table"), Satellite: r.PostFormValue("satellite"),
	}
}

func (s *server) targetsPage(w http.ResponseWriter, r *http.Request, status int, f targetForm, faults fault.Fields) error {
	cat, own, err := s.ownCatalogue(r.Context())
	if err != nil {
		return err
	}
	sats, err := s.store.Satellites(r.Context())
	if err != nil {
		return err
	}
	m := views.TargetsModel{Query: r.FormValue("q"), Faults: faultList(faults, targetLabels)}
	if m.Query != "" {
		found := cat.Search(m.Query)
		if len(found) == 0 {
			m.Nearest = cat.Nearest(m.Query, 5)
		}
		m.More = max(0, len(found)-mostFound)
		m.Found = targetTable(found[:min(len(found), mostFound)])
	}
	for _, o := range own {
		m.Own = append(m.Own, ownRow(o))
	}
	for _, x := range sats {
		m.Satellites = append(m.Satellites, views.OwnRow{Name: x.Name, Detail: "kept since " + x.AddedAt.Format("2 January 2006"), Remove: fmt.Sprintf("/targets/satellites/%d/remove", x.ID)})
	}
	m.Name = views.Field{Name: "name", Label: "Name", Value: f.Name, Error: faults.For("name"), Width: "mid"}
	m.Place = views.Field{Name: "place", Label: "Place, J2000", Value: f.Place, Error: faults.For("place"), Hint: "Right ascension and declination: 00 42 44 +41 16 09, or 10.68 41.27 in degrees", Width: "mid"}
	m.Kind = views.Choice{Name: "kind", Label: "Kind", Value: f.Kind, Width: "mid", Options: ownKinds}
	m.Magnitude = views.Field{Name: "magnitude", Label: "Brightness", Unit: "mag", Value: f.Magnitude, Error: faults.For("magnitude"), Width: "short", Mode: "decimal"}
	m.Size = views.Field{Name: "size", Label: "Size", Unit: "′", Value: f.Size, Error: faults.For("size"), Width: "short", Mode: "decimal"}
	m.Elements = views.Field{Name: "elements", Label: "Comet or minor planet", Value: f.Elements, Error: faults.For("elements"), Rows: 3, Hint: "One line of the published one-line element format, with its spaces as they are"}
	m.Table = views.Field{Name: "table", Label: "A table", Value: f.Table, Error: faults.For("table"), Rows: 5, Hint: "First line: name, ra, dec and, if you like, kind, mag, major, minor, ly. Comma, semicolon or tab."}
	m.Satellite = views.Field{Name: "satellite", Label: "Satellite", Value: f.Satellite, Error: faults.For("satellite"), Rows: 3, Hint: "The published two-line elements, with the name above them"}
	return s.show(w, r, status, views.Head{Title: "Targets", Section: inTargets}, views.Targets(m))
}

var targetLabels = map[string]string{"name": "Name", "place": "Place", "magnitude": "Brightness", "size": "Size", "elements": "Comet or minor planet", "table": "A table", "satellite": "Satellite"}

var ownKinds = []views.Option{
	{Value: string(catalog.KindOpen), Text: "Open cluster"}, {Value: string(catalog.KindGlobular), Text: "Globular cluster"}, {Value: string(catalog.KindNebula), Text: "Nebula"},
	{Value: string(catalog.KindPlanetary), Text: "Planetary nebula"}, {Value: string(catalog.KindGalaxy), Text: "Galaxy"}, {Value: string(catalog.KindStar), Text: "Star"},
	{Value: string(catalog.KindDouble), Text: "Double star"}, {Value: string(catalog.KindAsterism), Text: "Pattern of stars"}, {Value: string(catalog.KindOther), Text: "Something else"},
}

// faultList turns the faults of a form into the summary above it.
func faultList(fs fault.Fields, labels map[string]string) []views.FieldError {
	var out []views.FieldError
	for _, f := range fs {
		out = append(out, views.FieldError{Name: f.Name, Label: labels[f.Name], Message: f.Message})
	}
	return out
}

func ownRow(o night.OwnTarget) views.OwnRow {
	row := views.OwnRow{Name: o.Name, Remove: "/targets/" + url.PathEscape(o.ID) + "/remove", Version: o.Version, Detail: string(o.Kind)}
	if o.Elements == "" {
		row.Detail += fmt.Sprintf(", %.3f° %+.3f°", o.Star.RA, o.Star.Dec)
		return row
	}
	if t, err := night.Moving(o); err != nil {
		row.Detail = err.Error()
	} else {
		row.Detail = string(t.Kind) + ", " + t.Orbit.Designation
	}
	return row
}

func targetTable(ts []catalog.Target) views.Table {
	t := views.Table{Caption: "Targets found", Columns: []views.Column{{Label: "Target"}, {Label: "Kind"}, {Label: "Constellation"}, {Label: "Brightness", Number: true}, {Label: "Size", Number: true}, {Label: "Distance"}}}
	for _, x := range ts {
		mag, size := "", ""
		if !math.IsNaN(x.Magnitude) && !x.Moves {
			mag = fmt.Sprintf("%.1f mag", x.Magnitude)
		}
		if x.Double != nil {
			size = fmt.Sprintf("%.1f″ apart", x.Double.Separation)
		} else if x.MajorAxis > 0 {
			size = fmt.Sprintf("%.3g′ × %.3g′", x.MajorAxis, x.MinorAxis)
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: x.Name, Note: strings.Join(x.Designations, ", ")}, {Text: string(x.Kind)}, {Text: x.Constellation}, {Text: mag}, {Text: size}, {Text: x.Distance}})
	}
	return t
}

// addTarget adds what was typed: a place, a line of elements or a table. All
// of it or nothing.
func (s *server) addTarget(w http.ResponseWriter, r *http.Request) error {
	f := parseTargetForm(r)
	list, faults := f.targets()
	if len(faults) > 0 {
		return s.targetsPage(w, r, http.StatusUnprocessableEntity, f, faults)
	}
	for i := range list {
		if err := s.store.SaveOwnTarget(r.Context(), &list[i]); err != nil {
			return err
		}
	}
	words := fmt.Sprintf("%s is added. Choose it for a night under What to use.", list[0].Name)
	if len(list) > 1 {
		words = fmt.Sprintf("%d targets are added. Choose them for a night under What to use.", len(list))
	}
	return redirect(w, r, "/targets", views.Flash{Text: words})
}

// targets reads the form; the faults stand at their fields.
func (f targetForm) targets() ([]night.OwnTarget, fault.Fields) {
	switch {
	case strings.TrimSpace(f.Elements) != "":
		return f.moving()
	case strings.TrimSpace(f.Table) != "":
		ts, err := catalog.ParseCSV(strings.NewReader(f.Table))
		if err != nil {
			return nil, fault.Fields{{Name: "table", Message: err.Error()}}
		}
		if len(ts) == 0 {
			return nil, fault.Fields{{Name: "table", Message: "no target under the heading"}}
		}
		out := make([]night.OwnTarget, len(ts))
		for i, t := range ts {
			t.ID = ""
			out[i] = night.OwnTarget{Target: t}
		}
		return out, nil
	}
	return f.fixed()
}

func (f targetForm) moving() ([]night.OwnTarget, fault.Fields) {
	orbits, err := sky.ParseMPC(f.Elements)
	if err != nil {
		return nil, fault.Fields{{Name: "elements", Message: err.Error()}}
	}
	lines := nonEmpty(f.Elements)
	if len(orbits) == 0 || len(lines) != len(orbits) {
		return nil, fault.Fields{{Name: "elements", Message: "paste one line for each comet or minor planet, without a heading"}}
	}
	var out []night.OwnTarget
	for i, o := range orbits {
		t := night.OwnTarget{Target: catalog.Target{Name: o.Designation, Kind: catalog.KindMinorPlanet, Magnitude: math.NaN(), Brightness: math.NaN(), PositionAngle: math.NaN(), BV: math.NaN(), Delight: 0.6, Own: true, Source: "pasted elements"}, Elements: lines[i]}
		if o.Comet {
			t.Kind = catalog.KindComet
		}
		out = append(out, t)
	}
	return out, nil
}

func nonEmpty(text string) []string {
	var out []string
	for _, l := range strings.Split(text, "\n") {
		if l = strings.TrimRight(l, "\r "); strings.TrimSpace(l) != "" {
			out = append(out, l)
		}
	}
	return out
}

func (f targetForm) fixed() ([]night.OwnTarget, fault.Fields) {
	var faults fault.Fields
	bad := func(name, msg string) { faults = append(faults, fault.Field{Name: name, Message: msg}) }
	if f.Name == "" {
		bad("name", "Give it a name.")
	} else if len([]rune(f.Name)) > 80 {
		bad("name", "At most 80 characters.")
	}
	ra, dec, err := catalog.ParseCoordinates(f.Place)
	if err != nil {
		bad("place", err.Error())
	}
	t := catalog.Target{Name: f.Name, Kind: catalog.Kind(f.Kind), Star: sky.Star{RA: ra, Dec: dec}, Own: true, Delight: 0.5, Source: "the club's own", Brightness: math.NaN(), PositionAngle: math.NaN(), BV: math.NaN(), Magnitude: math.NaN()}
	if t.Kind == "" {
		t.Kind = catalog.KindOther
	}
	if v, ok := optionalNumber(f.Magnitude, -5, 20); ok {
		t.Magnitude = v
	} else {
		bad("magnitude", "A number from -5 to 20 mag, or empty.")
	}
	if v, ok := optionalNumber(f.Size, 0, 1200); !ok {
		bad("size", "A number from 0 to 1200 arcminutes, or empty.")
	} else if !math.IsNaN(v) {
		t.MajorAxis, t.MinorAxis = v, v
	}
	if err == nil {
		t.Constellation = sky.Constellation(ra, dec)
	}
	return []night.OwnTarget{{Target: t}}, faults
}

// optionalNumber reads a number within a range, NaN when empty.
func optionalNumber(s string, low, high float64) (float64, bool) {
	if s == "" {
		return math.NaN(), true
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	return v, err == nil && v >= low && v <= high
}

// removeTarget takes an own target off the list.
func (s *server) removeTarget(w http.ResponseWriter, r *http.Request) error {
	id := chi.URLParam(r, "target")
	version, _ := strconv.ParseInt(r.PostFormValue("version"), 10, 64)
	if err := s.store.RemoveOwnTarget(r.Context(), id, version); err != nil {
		return err
	}
	return redirect(w, r, "/targets", views.Flash{Text: "Taken off the list. Nights that name it keep it."})
}

// addSatellite keeps pasted two-line elements.
func (s *server) addSatellite(w http.ResponseWriter, r *http.Request) error {
	f := parseTargetForm(r)
	sats, err := sky.ParseTLE(f.Satellite)
	if err == nil && len(sats) != 1 {
		err = errors.New("paste the elements of one satellite: its name and the two lines")
	}
	if err != nil {
		return s.targetsPage(w, r, http.StatusUnprocessableEntity, f, fault.Fields{{Name: "satellite", Message: err.Error()}})
	}
	x := night.Satellite{Name: sats[0].Title(), Elements: strings.Join(nonEmpty(f.Satellite), "\n"), AddedAt: s.now().UTC()}
	if err := s.store.AddSatellite(r.Context(), &x); err != nil {
		return err
	}
	return redirect(w, r, "/targets", views.Flash{Text: x.Name + " is kept; each night's sky page lists its passes."})
}

// removeSatellite forgets a satellite.
func (s *server) removeSatellite(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "satellite")
	if err != nil {
		return err
	}
	if err := s.store.RemoveSatellite(r.Context(), id); err != nil {
		return err
	}
	return redirect(w, r, "/targets", views.Flash{Text: "The satellite is forgotten."})
}
