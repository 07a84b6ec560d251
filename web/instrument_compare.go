package web

import (
	"net/http"
	"net/url"
	"strconv"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
	"duskboard/web/views"
)

// showCompare sets instruments side by side, numbers first.
func (s *server) showCompare(w http.ResponseWriter, r *http.Request) error {
	all, err := s.store.Kit(r.Context(), false)
	if err != nil {
		return err
	}
	words, languages, err := s.kitLanguage(r)
	if err != nil {
		return err
	}
	all = all.Fill()
	want := map[string]bool{}
	for _, id := range r.URL.Query()["i"] {
		want[id] = true
	}
	c := sheetWriter{words}
	m := views.CompareModel{Lang: words.Code, Over: words.say("compare.kit"), Title: words.say("compare.title"), Languages: languages, Table: c.compareTable()}
	for _, i := range all.Instruments {
		id := strconv.FormatInt(i.ID, 10)
		chosen := len(want) == 0 || want[id]
		m.Choices = append(m.Choices, views.Compared{ID: id, Name: i.Name, On: chosen})
		if chosen {
			m.Table.Rows = append(m.Table.Rows, c.compareRow(all, i))
		}
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Instruments side by side", Section: inKit, Crumbs: []views.Link{{Text: "Kit", Href: "/kit"}}}, views.Compare(m))
}

func (c sheetWriter) compareTable() views.Table {
	t := views.Table{Caption: c.w.say("compare.title")}
	for _, x := range []struct {
		key    string
		number bool
	}{{"instrument", false}, {"light", true}, {"detail", true}, {"field", true}, {"steady", false}, {"carry", true}, {"setup", true}, {"height", true}, {"care", false}} {
		t.Columns = append(t.Columns, views.Column{Label: c.w.say("compare." + x.key), Number: x.number})
	}
	return t
}

func (c sheetWriter) compareRow(all kit.Kit, i kit.Instrument) []views.Cell {
	field := i.FixedField
	if i.Design != kit.Binoculars {
		field = widest(optics.Trains(all, i))
	}
	care := "little"
	switch {
	case i.NeedsCollimation:
		care = "align"
	case i.Design == kit.SchmidtCassegrain || i.Design == kit.MaksutovCassegrain:
		care = "dew"
	}
	h := optics.HeightsOver(i, 20, 70)
	return []views.Cell{
		{Text: i.Name, Href: "/kit/instruments/" + strconv.FormatInt(i.ID, 10) + "/sheet?lang=" + url.QueryEscape(c.w.Code), Note: c.w.instrument(i)},
		{Text: c.w.say("compare.light.value", c.whole(light(i.Aperture)))}, {Text: c.arcseconds(optics.Dawes(i.Aperture))}, {Text: c.w.number(field, 1) + "°"},
		{Text: c.motion(i)}, {Text: c.w.number(i.Weight, 1) + " kg"}, {Text: c.w.say("compare.minutes", c.whole(i.SetupMinutes))},
		{Text: c.w.say("compare.range", c.w.number(h.Low, 2), c.w.number(h.High, 2))}, {Text: c.w.say("compare.care." + care)},
	}
}

// motion is how the instrument comes to a target and stays on it.
func (c sheetWriter) motion(i kit.Instrument) string {
	switch {
	case i.GoTo && i.Tracking:
		return c.w.say("compare.motion.both")
	case i.Tracking:
		return c.w.say("compare.motion.self")
	}
	return c.w.say("compare.motion.hand")
}
