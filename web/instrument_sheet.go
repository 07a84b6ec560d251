package web

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/chart"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/optics"
	"duskboard/web/views"
)

// showInstrumentSheet is "know your telescope": one page for training
// operators and for beginners' talks, from the instrument's own numbers.
func (s *server) showInstrumentSheet(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "id")
	if err != nil {
		return err
	}
	inst, err := s.store.Instrument(r.Context(), id)
	if err != nil {
		return err
	}
	all, err := s.store.Kit(r.Context(), false)
	if err != nil {
		return err
	}
	words, languages, err := s.kitLanguage(r)
	if err != nil {
		return err
	}
	all = all.Fill()
	inst = inst.Fill()
	m := sheetWriter{words}.sheet(all, inst)
	m.Languages, m.Compare = languages, "/kit/compare?lang="+url.QueryEscape(words.Code)
	crumbs := []views.Link{{Text: "Kit", Href: "/kit"}, {Text: inst.Name, Href: "/kit/instruments/" + strconv.FormatInt(id, 10)}}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Know your telescope: " + inst.Name, Section: inKit, Crumbs: crumbs}, views.InstrumentSheet(m))
}

// kitLanguage is the language of a sheet about the kit, the one of the address
// before the club's, and the links to all of them. A sheet belongs to no night:
// the choice is not kept.
func (s *server) kitLanguage(r *http.Request) (*cardWords, []views.PaperOption, error) {
	papers, err := s.store.Papers(r.Context())
	if err != nil {
		return nil, nil, err
	}
	all, err := s.languages(r.Context())
	if err != nil {
		return nil, nil, err
	}
	var codes []string
	for _, w := range all {
		codes = append(codes, w.Code)
	}
	now := cardChoiceOf(r, night.Club{}, papers, night.NightPapers{}, codes).Lang
	var links []views.PaperOption
	for _, w := range all {
		q := r.URL.Query()
		q.Set("lang", w.Code)
		links = append(links, views.PaperOption{Text: w.Name, Value: w.Code, Href: r.URL.Path + "?" + q.Encode(), Current: w.Code == now})
	}
	return all[slices.Index(codes, now)], links, nil
}

// sheetWriter writes the sheets about the kit in one language.
type sheetWriter struct{ w *cardWords }

func (c sheetWriter) sheet(all kit.Kit, inst kit.Instrument) views.SheetModel {
	trains := optics.Trains(all, inst)
	m := views.SheetModel{
		Lang: c.w.Code, Over: c.w.say("sheet.title"), Name: inst.Name, Line: first(c.w.instrument(inst)) + ".", Path: c.lightPath(inst), Numbers: c.numbers(inst, trains),
		Strengths: c.points("sheet.strengths", c.strengths(inst, trains)...), Weak: c.points("sheet.weak", c.weakPoints(inst)...),
		Eyepieces: c.eyepieceTable(trains), Heights: c.heightTable(inst), HeightsTitle: c.w.say("sheet.heights"),
		Care: c.points("sheet.careTitle", c.care(inst)...), Home: c.points("sheet.homeTitle", c.checkAtHome(inst)...),
	}
	if len(trains) > 0 {
		m.Image = c.points("sheet.picture", c.w.image(&trains[0]))
	}
	var assumed []string
	for _, f := range kit.InstrumentFields {
		if slices.Contains(inst.Assumed, f.Field) {
			assumed = append(assumed, c.w.say("assumed."+f.Field))
		}
	}
	if len(assumed) > 0 {
		m.Assumed = c.w.say("sheet.assumed", strings.Join(assumed, ", "))
	}
	return m
}

func (c sheetWriter) points(title string, items ...string) views.Points {
	return views.Points{Title: c.w.say(title), Items: items}
}

func (c sheetWriter) lightPath(inst kit.Instrument) string {
	words := map[string]string{}
	for _, part := range []string{"light", "main mirror", "secondary", "front lens", "corrector", "eyepiece", "prisms"} {
		words[part] = c.w.say("sheet.part." + part)
	}
	return string(chart.DrawLightPath(chart.LightPath{
		ID: "path", W: 500, H: 112, Design: inst.Design, Aperture: inst.Aperture, FocalLength: inst.FocalLength, Tube: inst.TubeLength * 1000, Obstruction: inst.Obstruction,
		Words: words, Title: c.w.say("sheet.path.title", inst.Name), Desc: c.pathWords(inst),
	}))
}

func (c sheetWriter) pathWords(i kit.Instrument) string {
	switch i.Design {
	case kit.Newtonian:
		return c.w.say("sheet.path.newtonian")
	case kit.SchmidtCassegrain, kit.MaksutovCassegrain:
		return c.w.say("sheet.path.corrector")
	case kit.OtherCassegrain:
		return c.w.say("sheet.path.cassegrain")
	case kit.Binoculars:
		return c.w.say("sheet.path.binoculars")
	}
	return c.w.say("sheet.path.lens")
}

// millimetres prints a length as the forms do, with the language's own sign.
func (c sheetWriter) millimetres(mm float64) string {
	return c.w.number(mm, lengthDecimals(mm)) + " mm"
}

// whole prints a number without decimals.
func (c sheetWriter) whole(x float64) string { return c.w.number(x, 0) }

// arcseconds prints an angle to two figures.
func (c sheetWriter) arcseconds(x float64) string {
	return strings.Replace(fmt.Sprintf("%.2g″", x), ".", c.w.Decimal, 1)
}

// light is how much more an aperture in mm gathers than the widest pupil that
// the comparison with the eye takes, 7 mm.
func light(aperture float64) float64 { return math.Pow(aperture/7, 2) }

// numbers are the sheet's few numbers with their reasons.
func (c sheetWriter) numbers(i kit.Instrument, trains []optics.Train) []views.Row {
	row := func(key, value, note string) views.Row {
		return views.Row{Label: c.w.say(key), Value: value, Note: note}
	}
	rows := []views.Row{
		row("sheet.light", c.w.say("sheet.light.value", c.whole(light(i.Aperture))), c.w.say("sheet.light.note", c.millimetres(i.Aperture), c.w.say("sheet.inches", c.w.number(i.Aperture/25.4, 1)))),
		row("sheet.detail", c.arcseconds(optics.Dawes(i.Aperture)), c.w.say("sheet.detail.note")),
	}
	if i.FocalLength > 0 {
		rows = append(rows, row("sheet.focal", c.millimetres(i.FocalLength), "f/"+c.w.number(i.FocalLength/max(i.Aperture, 1), 1)))
	}
	if len(trains) > 0 && i.Design != kit.Binoculars {
		o := trains[0].Static()
		low := optics.LowPowerLimits(o, i, 6, false)
		high := optics.HighPowerLimits(o, 0)
		rows = append(rows,
			row("sheet.lowest", c.whole(low.Lowest)+"×", c.w.say("sheet.lowest.note")),
			row("sheet.highest", c.whole(high.Highest)+"×", c.w.say("sheet.highest.note", c.whole(2*i.Aperture))))
	}
	if i.SetupMinutes > 0 {
		rows = append(rows, row("sheet.setup", c.w.say("sheet.setup.value", c.whole(i.SetupMinutes)), c.w.say("sheet.setup.note", c.whole(math.Ceil(i.SetupMinutes*2/3)))))
	}
	if i.Weight > 0 {
		rows = append(rows, row("sheet.heaviest", c.w.number(i.Weight, 1)+" kg", ""))
	}
	return rows
}

func widest(trains []optics.Train) float64 {
	w := 0.0
	for _, t := range trains {
		w = max(w, t.Static().TrueField)
	}
	return w
}

// wideTargets are what a field is measured against, degrees: sizes as in the
// catalogue, which has their names in each language.
var wideTargets = []struct {
	id   string
	size float64
}{{"moon", 0.52}, {"ngc869", 1}, {"m45", 1.83}, {"m31", 2.97}}

// eyepieceTable is which eyepiece gives what.
func (c sheetWriter) eyepieceTable(trains []optics.Train) views.Table {
	col := func(key string, number bool) views.Column {
		return views.Column{Label: c.w.say("sheet.col." + key), Number: number}
	}
	t := views.Table{Caption: c.w.say("sheet.eyepieces"), Columns: []views.Column{col("focuser", false), col("power", true), col("field", true), col("pupil", true), col("fits", false)}}
	sorted := slices.Clone(trains)
	slices.SortStableFunc(sorted, func(a, b optics.Train) int {
		return int(100 * (a.Static().Magnification - b.Static().Magnification))
	})
	// A page has room for seven: the ends, and even steps between.
	const most = 7
	for n := range min(len(sorted), most) {
		i := n
		if len(sorted) > most {
			i = n * (len(sorted) - 1) / (most - 1)
		}
		o := sorted[i].Static()
		var fits []string
		for _, x := range wideTargets {
			if listed, ok := c.w.targets.ByID(x.id); ok && x.size <= o.TrueField*0.95 {
				fits = append(fits, c.w.target(listed).Name)
			}
		}
		what := c.w.say("sheet.fits.none")
		if len(fits) > 0 {
			what = strings.Join(fits, ", ")
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: first(c.train(sorted[i]))}, {Text: c.whole(o.Magnification) + "×"}, {Text: c.w.field(o.TrueField)}, {Text: c.w.number(o.ExitPupil, 1) + " mm"}, {Text: what}})
	}
	return t
}

// train names what goes into the focuser, by the names that the club gave.
func (c sheetWriter) train(t optics.Train) string {
	if t.Eyepiece == nil {
		return c.w.say("gear.fixed")
	}
	var parts []string
	if a := t.Amplifier; a != nil && a.Name != "" {
		parts = append(parts, a.Name)
	} else if a != nil {
		parts = append(parts, c.w.say("gear.train.amplifier", c.w.number(a.Factor, 2), c.w.say("amplifier."+string(a.Kind))))
	}
	if e := t.Eyepiece; e.Name != "" {
		parts = append(parts, e.Name)
	} else {
		parts = append(parts, c.w.say("gear.train.eyepiece", c.w.number(e.FocalLength, 2)))
	}
	return strings.Join(parts, ", ")
}

// heightTable is the height of the eyepiece over the altitude of the target.
func (c sheetWriter) heightTable(i kit.Instrument) views.Table {
	col := func(key string, number bool) views.Column {
		return views.Column{Label: c.w.say("sheet.col." + key), Number: number}
	}
	t := views.Table{Caption: c.w.say("sheet.heights"), Columns: []views.Column{col("target", false), col("eyepiece", true), col("adult", false), col("child", false)}}
	reach := func(h, eye float64) views.Cell {
		return views.Cell{Text: c.w.say("reach." + string(optics.ReachFor(h, eye).Stand))}
	}
	child, _ := optics.ChildEye(7) // as the column says
	for alt := 15.0; alt <= 80; alt += 20 {
		h := optics.EyepieceHeight(i, alt)
		t.Rows = append(t.Rows, []views.Cell{{Text: c.whole(alt) + "°"}, {Text: c.w.number(h, 2) + " m"}, reach(h, optics.AdultEye), reach(h, child)})
	}
	return t
}
