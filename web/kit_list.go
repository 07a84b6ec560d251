package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/kit"
	"duskboard/web/views"
)

// showKit lists all the gear by kind, with what rests on a default marked.
func (s *server) showKit(w http.ResponseWriter, r *http.Request) error {
	all, err := s.store.Kit(r.Context(), true)
	if err != nil {
		return err
	}
	u, err := s.gearRefs(r.Context())
	if err != nil {
		return err
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Kit", Section: inKit}, views.KitList(kitModel(all, u)))
}

// shelf is one kind of gear on the list.
type shelf struct {
	title, path, add string
	why              string // what one would want it for, where there is none
	columns          []views.Column
	rows             [][]views.Cell
}

func kitModel(all kit.Kit, u refs) views.KitModel {
	m := views.KitModel{}
	shelves := []shelf{instrumentShelf(all.Instruments, &m.Retired), eyepieceShelf(all.Eyepieces, &m.Retired)}
	shelves = append(shelves, opticsShelves(all, u, &m.Retired)...)
	shelves = append(shelves, fieldShelves(all, u, &m.Retired)...)
	for _, sh := range shelves {
		add := views.Link{Text: sh.add, Href: "/kit/" + sh.path + "/new"}
		if len(sh.rows) == 0 {
			m.Missing = append(m.Missing, views.MissingKind{Title: sh.title, Why: sh.why, Add: add})
			continue
		}
		m.Shelves = append(m.Shelves, views.Shelf{
			ID: sh.path, Title: sh.title, Count: strconv.Itoa(len(sh.rows)), Add: add,
			Table: views.Table{Caption: sh.title, Columns: sh.columns, Rows: sh.rows},
		})
	}
	m.Empty = len(m.Shelves) == 0
	return m
}

// lister turns live gear into rows and keeps retired gear aside.
type lister struct {
	path    string
	kind    string
	retired *[]views.RetiredPiece
	rows    [][]views.Cell
}

// add appends a row: the name as a link, then the cells, then who owns it.
func (l *lister) add(b kit.Base, note string, cells ...views.Cell) {
	href := "/kit/" + l.path + "/" + strconv.FormatInt(b.ID, 10)
	if b.Retired {
		*l.retired = append(*l.retired, views.RetiredPiece{Name: b.Name, Kind: l.kind, Href: href, Restore: restorePath(href, b.Version)})
		return
	}
	name := views.Cell{Text: b.Name, Href: href, Note: note}
	if b.Count > 1 {
		name.Mark = strconv.Itoa(b.Count) + " pieces"
	}
	l.rows = append(l.rows, append([]views.Cell{name}, cells...))
}

// assumedIn marks a cell whose value rests on a default.
func assumedIn(b kit.Base, field string, c views.Cell) views.Cell {
	for _, name := range b.Assumed {
		if name == field {
			c.Mark = "assumed"
		}
	}
	return c
}

func instrumentShelf(all []kit.Instrument, retired *[]views.RetiredPiece) shelf {
	l := lister{path: "instruments", kind: "Instrument", retired: retired}
	for _, i := range all {
		focal := views.Cell{Text: millimetres(i.FocalLength), Note: focalRatio(i.FocalLength, i.Aperture)}
		if i.Design == kit.Binoculars {
			focal = views.Cell{Text: number(i.Power, 1) + " times", Note: number(i.FixedField, 1) + "° field"}
			focal = assumedIn(i.Base, "Power", focal)
		}
		l.add(i.Base, wordFor(designWords, i.Design),
			views.Cell{Text: millimetres(i.Aperture), Note: inches(i.Aperture)},
			assumedIn(i.Base, "FocalLength", focal),
			assumedIn(i.Base, "Mount", views.Cell{Text: wordFor(mountWords, i.Mount), Note: motion(i)}),
			assumedIn(i.Base, "Focuser", views.Cell{Text: wordFor(focuserWords, i.Focuser)}),
			assumedCell(i.Base),
		)
	}
	return shelf{
		title: "Instruments", path: "instruments", add: "Add an instrument", why: "Telescopes and binoculars, with their mounts.",
		columns: []views.Column{{Label: "Name"}, {Label: "Aperture", Number: true}, {Label: "Focal length", Number: true}, {Label: "Mount"}, {Label: "Takes"}, {Label: "Assumed"}},
		rows:    l.rows,
	}
}

// motion says in words how the mount follows the sky.
func motion(i kit.Instrument) string {
	switch {
	case i.GoTo && i.Tracking:
		return "finds and follows by itself"
	case i.Tracking:
		return "follows by itself"
	}
	return "moved by hand"
}

// assumedCell says which values of an instrument rest on defaults.
func assumedCell(b kit.Base) views.Cell {
	if len(b.Assumed) == 0 {
		return views.Cell{Text: "nothing"}
	}
	return views.Cell{Text: plural(len(b.Assumed), "value", "values"), Note: strings.Join(assumedNames(b, kit.InstrumentFields), ", "), Fold: true}
}

// assumedNames are the values that rest on defaults, in the words and the
// order of the form.
func assumedNames(b kit.Base, fields []kit.Assumable) []string {
	var out []string
	for _, f := range fields {
		if slices.Contains(b.Assumed, f.Field) {
			out = append(out, f.Label)
		}
	}
	return out
}

func eyepieceShelf(all []kit.Eyepiece, retired *[]views.RetiredPiece) shelf {
	l := lister{path: "eyepieces", kind: "Eyepiece", retired: retired}
	for _, e := range all {
		stop := views.Cell{}
		if e.FieldStop > 0 {
			stop.Text = number(e.FieldStop, 1) + " mm"
		}
		l.add(e.Base, wordFor(classWords, e.Class),
			views.Cell{Text: number(e.FocalLength, 1) + " mm"},
			assumedIn(e.Base, "ApparentField", views.Cell{Text: number(e.ApparentField, 0) + "°"}),
			stop,
			assumedIn(e.Base, "EyeRelief", views.Cell{Text: number(e.EyeRelief, 0) + " mm"}),
			assumedIn(e.Base, "Barrel", views.Cell{Text: wordFor(barrelWords, e.Barrel)}),
		)
	}
	return shelf{
		title: "Eyepieces", path: "eyepieces", add: "Add an eyepiece", why: "Without one, a telescope shows nothing.",
		columns: []views.Column{{Label: "Name"}, {Label: "Focal length", Number: true}, {Label: "Apparent field", Number: true}, {Label: "Field stop", Number: true}, {Label: "Eye relief", Number: true}, {Label: "Barrel"}},
		rows:    l.rows,
	}
}

// opticsShelves are the parts of an optical train besides the eyepiece.
func opticsShelves(all kit.Kit, u refs, retired *[]views.RetiredPiece) []shelf {
	amps := lister{path: "amplifiers", kind: "Barlow, reducer or corrector", retired: retired}
	for _, a := range all.Amplifiers {
		only := make([]string, len(a.OnlyFor))
		for i, d := range a.OnlyFor {
			only[i] = wordFor(designWords, d)
		}
		fits := strings.Join(only, ", ")
		if fits == "" {
			fits = "any telescope"
		}
		amps.add(a.Base, wordFor(amplifierWords, a.Kind),
			assumedIn(a.Base, "Factor", views.Cell{Text: number(a.Factor, 2) + " ×"}),
			assumedIn(a.Base, "Barrel", views.Cell{Text: wordFor(barrelWords, a.Barrel)}),
			assumedIn(a.Base, "OnlyFor", views.Cell{Text: fits}))
	}
	diags := lister{path: "diagonals", kind: "Diagonal", retired: retired}
	for _, d := range all.Diagonals {
		diags.add(d.Base, "",
			assumedIn(d.Base, "Kind", views.Cell{Text: wordFor(diagonalWords, d.Kind)}),
			assumedIn(d.Base, "Barrel", views.Cell{Text: wordFor(barrelWords, d.Barrel)}),
			views.Cell{Text: u.instrument(d.ForID, "any")})
	}
	filters := lister{path: "filters", kind: "Filter", retired: retired}
	for _, f := range all.Filters {
		filters.add(f.Base, "",
			views.Cell{Text: wordFor(filterWords, f.Kind)},
			assumedIn(f.Base, "Barrel", views.Cell{Text: wordFor(barrelWords, f.Barrel)}),
			assumedIn(f.Base, "Transmission", views.Cell{Text: number(100*f.Transmission, 0) + " %"}))
	}
	finders := lister{path: "finders", kind: "Finder", retired: retired}
	for _, f := range all.Finders {
		finders.add(f.Base, "",
			assumedIn(f.Base, "Kind", views.Cell{Text: wordFor(finderWords, f.Kind)}),
			assumedIn(f.Base, "Field", views.Cell{Text: number(f.Field, 1) + "°"}),
			views.Cell{Text: u.instrument(f.ForID, "loose")})
	}
	return []shelf{
		{title: "Barlow lenses, reducers, correctors", path: "amplifiers", add: "Add one", why: "One Barlow lens doubles the number of powers.",
			columns: []views.Column{{Label: "Name"}, {Label: "Factor", Number: true}, {Label: "Barrel"}, {Label: "Fits"}}, rows: amps.rows},
		{title: "Diagonals", path: "diagonals", add: "Add a diagonal", why: "They turn the light to where a guest can look in.",
			columns: []views.Column{{Label: "Name"}, {Label: "Kind"}, {Label: "Barrel"}, {Label: "Stays with"}}, rows: diags.rows},
		{title: "Filters", path: "filters", add: "Add a filter", why: "For the Moon, nebulae and colours; never for the Sun.",
			columns: []views.Column{{Label: "Name"}, {Label: "For"}, {Label: "Barrel"}, {Label: "Lets through", Number: true}}, rows: filters.rows},
		{title: "Finders", path: "finders", add: "Add a finder", why: "The view in the finder decides how one finds.",
			columns: []views.Column{{Label: "Name"}, {Label: "Kind"}, {Label: "Field", Number: true}, {Label: "Sits on"}}, rows: finders.rows},
	}
}

// fieldShelves are what keeps a night running.
func fieldShelves(all kit.Kit, u refs, retired *[]views.RetiredPiece) []shelf {
	dew := lister{path: "dew-gear", kind: "Dew gear", retired: retired}
	for _, d := range all.DewGear {
		does := assumedIn(d.Base, "Length", views.Cell{Text: number(d.Length, 0) + " mm long"})
		if d.Kind == kit.HeaterStrip {
			does = assumedIn(d.Base, "Power", views.Cell{Text: number(d.Power, 1) + " W"})
		}
		dew.add(d.Base, wordFor(dewWords, d.Kind), does,
			views.Cell{Text: number(d.MinDiameter, 0) + " to " + number(d.MaxDiameter, 0) + " mm"},
			views.Cell{Text: u.instrument(d.ForID, "any")})
	}
	batteries := lister{path: "batteries", kind: "Battery", retired: retired}
	for _, b := range all.Batteries {
		age := views.Cell{Text: "under three years"}
		if b.Aged {
			age.Text = "over three years"
		}
		batteries.add(b.Base, wordFor(batteryWords, b.Kind),
			views.Cell{Text: number(b.Capacity, 1) + " Ah"},
			assumedIn(b.Base, "Voltage", views.Cell{Text: number(b.Voltage, 1) + " V"}),
			assumedIn(b.Base, "Aged", age),
			views.Cell{Text: u.instrument(b.ForID, "any")})
	}
	steps := lister{path: "steps", kind: "Steps", retired: retired}
	for _, x := range all.Steps {
		steps.add(x.Base, wordFor(stepWords, x.Kind), assumedIn(x.Base, "Height", views.Cell{Text: number(x.Height, 2) + " m"}))
	}
	return []shelf{
		{title: "Dew gear", path: "dew-gear", add: "Add dew gear", why: "Shields and heaters keep the glass dry.",
			columns: []views.Column{{Label: "Name"}, {Label: "Measure", Number: true}, {Label: "Tubes", Number: true}, {Label: "Stays with"}}, rows: dew.rows},
		{title: "Batteries", path: "batteries", add: "Add a battery", why: "They feed mounts and heaters.",
			columns: []views.Column{{Label: "Name"}, {Label: "Capacity", Number: true}, {Label: "Voltage", Number: true}, {Label: "Age"}, {Label: "Feeds"}}, rows: batteries.rows},
		{title: "Steps and chairs", path: "steps", add: "Add steps", why: "For eyepieces higher than a guest's eye.",
			columns: []views.Column{{Label: "Name"}, {Label: "Highest tread or seat", Number: true}}, rows: steps.rows},
	}
}
