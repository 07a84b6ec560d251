package web

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/chart"
	"duskboard/internal/kit"
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
	all = all.Fill()
	inst = inst.Fill()
	m := instrumentSheet(all, inst)
	crumbs := []views.Link{{Text: "Kit", Href: "/kit"}, {Text: inst.Name, Href: "/kit/instruments/" + strconv.FormatInt(id, 10)}}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Know your telescope: " + inst.Name, Section: inKit, Crumbs: crumbs}, views.InstrumentSheet(m))
}

func instrumentSheet(all kit.Kit, inst kit.Instrument) views.SheetModel {
	trains := optics.Trains(all, inst)
	m := views.SheetModel{
		Name: inst.Name, Line: first(instrumentLine(inst)) + ".", Path: lightPath(inst), Numbers: sheetNumbers(inst, trains),
		Strengths: strengths(inst, trains), Weak: weakPoints(inst), Eyepieces: eyepieceTable(trains), Heights: heightTable(inst), Home: checkAtHome(inst),
	}
	if len(trains) > 0 {
		m.Image = trains[0].Orientation(0).Sentence
	}
	m.Care = careOf(inst)
	m.Compare = "/kit/compare"
	m.Assumed = assumedNames(inst.Base, kit.InstrumentFields)
	return m
}

func lightPath(inst kit.Instrument) string {
	return string(chart.DrawLightPath(chart.LightPath{
		ID: "path", W: 500, H: 112, Design: inst.Design, Aperture: inst.Aperture, FocalLength: inst.FocalLength, Tube: inst.TubeLength * 1000, Obstruction: inst.Obstruction,
		Title: "How light goes through " + inst.Name, Desc: pathWords(inst),
	}))
}

func pathWords(i kit.Instrument) string {
	switch i.Design {
	case kit.Newtonian:
		return "Light runs down the tube to the hollow main mirror, comes back as a cone and is thrown out sideways by a small flat mirror into the eyepiece near the top."
	case kit.SchmidtCassegrain, kit.MaksutovCassegrain:
		return "Light passes a corrector at the front, meets the main mirror at the back, returns to a small mirror at the front and leaves through a hole in the main mirror."
	case kit.OtherCassegrain:
		return "Light meets the main mirror at the back, returns to a small mirror at the front and leaves through a hole in the main mirror."
	case kit.Binoculars:
		return "Two front lenses gather light; prisms turn the picture upright before the eyepieces."
	}
	return "The front lens gathers light and bends it to a point at the far end, where the eyepiece enlarges it."
}

// sheetNumbers are the sheet's few numbers with their reasons. 7 mm is the
// widest pupil that the comparison with the eye takes.
func sheetNumbers(i kit.Instrument, trains []optics.Train) []views.Row {
	rows := []views.Row{
		{Label: "Light", Value: fmt.Sprintf("%.0f times the eye’s", math.Pow(i.Aperture/7, 2)), Note: millimetres(i.Aperture) + ", " + inches(i.Aperture) + " aperture, against a pupil of 7 mm"},
		{Label: "Finest detail", Value: fmt.Sprintf("%.2g″", optics.Dawes(i.Aperture)), Note: "Dawes’ limit, 116 over the aperture; the air seldom allows under 1″"},
	}
	if i.FocalLength > 0 {
		rows = append(rows, views.Row{Label: "Focal length", Value: millimetres(i.FocalLength), Note: focalRatio(i.FocalLength, i.Aperture)})
	}
	if len(trains) > 0 && i.Design != kit.Binoculars {
		o := trains[0].Static()
		low := optics.LowPowerLimits(o, i, 6, false)
		high := optics.HighPowerLimits(o, 0)
		rows = append(rows,
			views.Row{Label: "Lowest useful power", Value: fmt.Sprintf("%.0f×", low.Lowest), Note: "below it light is lost at a pupil of 6 mm, or the barrel shows no more sky"},
			views.Row{Label: "Highest useful power", Value: fmt.Sprintf("%.0f×", high.Highest), Note: fmt.Sprintf("twice the aperture in mm would be %.0f×; average air allows less", 2*i.Aperture)})
	}
	if i.SetupMinutes > 0 {
		rows = append(rows, views.Row{Label: "Set-up", Value: fmt.Sprintf("%.0f minutes", i.SetupMinutes), Note: fmt.Sprintf("about %.0f to pack down (common practice: two thirds)", math.Ceil(i.SetupMinutes*2/3))})
	}
	if i.Weight > 0 {
		rows = append(rows, views.Row{Label: "Heaviest piece", Value: number(i.Weight, 1) + " kg"})
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

// strengths are computed, each with the number behind it.
func strengths(i kit.Instrument, trains []optics.Train) []string {
	var out []string
	if i.Aperture >= 180 {
		out = append(out, fmt.Sprintf("Much light: %.0f mm show clusters and galaxies that smaller instruments only hint at.", i.Aperture))
	}
	if w := widest(trains); w >= 2 {
		out = append(out, fmt.Sprintf("A wide view: up to %s°, room for the Pleiades (1.8°) with sky around.", number(w, 1)))
	}
	if i.Obstruction == 0 && i.Design != kit.Binoculars {
		out = append(out, "Nothing stands in the light: crisp stars and good contrast on planets.")
	}
	if ratio := i.FocalLength / max(i.Aperture, 1); ratio >= 9 {
		out = append(out, fmt.Sprintf("A long focus, f/%s: simple eyepieces give sharp edges, high power comes easily.", number(ratio, 1)))
	}
	if i.Tracking {
		out = append(out, "It follows the sky: guests need not hurry.")
	}
	if i.GoTo {
		out = append(out, "It finds targets once it is aligned.")
	}
	if h := optics.HeightsOver(i, 20, 70); h.High <= 1.2 {
		out = append(out, fmt.Sprintf("The eyepiece stays at %s m or lower: children and seated guests reach it.", number(h.High, 2)))
	}
	if i.Weight > 0 && i.Weight <= 8 {
		out = append(out, fmt.Sprintf("Light to carry: %s kg at most.", number(i.Weight, 1)))
	}
	if i.Design == kit.Binoculars {
		out = append(out, "Both eyes, upright, nothing to learn.")
	}
	return out[:min(len(out), 5)] // a page has room for five
}

func weakPoints(i kit.Instrument) []string {
	var out []string
	ratio := i.FocalLength / max(i.Aperture, 1)
	if i.Design == kit.Newtonian && ratio < 5.5 {
		out = append(out, fmt.Sprintf("Fast, f/%s: stars near the edge grow tails (sharp to %s mm from the middle) unless a corrector is in.", number(ratio, 1), number(optics.ComaFreeRadius(ratio), 1)))
	}
	if i.Design == kit.Achromat {
		if c := optics.ColourOf(i); c.Sentence != "" {
			out = append(out, c.Sentence)
		}
	}
	if i.FocalLength >= 1500 {
		out = append(out, fmt.Sprintf("A narrow view: %s of focal length cannot show the widest clusters whole.", millimetres(i.FocalLength)))
	}
	if h := optics.HeightsOver(i, 20, 75); h.High > 1.6 {
		out = append(out, fmt.Sprintf("High targets put the eyepiece at %s m: steps, and somebody to hold them.", number(h.High, 2)))
	}
	if !i.Tracking {
		out = append(out, "Nothing follows the sky: it must be nudged between guests.")
	}
	if i.Obstruction >= 0.3 {
		out = append(out, fmt.Sprintf("The secondary covers %.0f %% of the width: a little less contrast on planets.", i.Obstruction*100))
	}
	if i.Weight >= 18 {
		out = append(out, fmt.Sprintf("Heavy: %s kg in one piece; two people lift it.", number(i.Weight, 1)))
	}
	return out
}

// wideTargets are what a field is measured against, degrees: sizes as in the
// catalogue.
var wideTargets = []struct {
	name string
	size float64
}{{"Moon", 0.52}, {"Double Cluster", 1}, {"Pleiades", 1.83}, {"Andromeda Galaxy", 2.97}}

// eyepieceTable is which eyepiece gives what.
func eyepieceTable(trains []optics.Train) views.Table {
	t := views.Table{Caption: "Which eyepiece gives what", Columns: []views.Column{{Label: "In the focuser"}, {Label: "Power", Number: true}, {Label: "True field", Number: true}, {Label: "Exit pupil", Number: true}, {Label: "Fits whole"}}}
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
		tr := sorted[i]
		o := tr.Static()
		var fits []string
		for _, x := range wideTargets {
			if x.size <= o.TrueField*0.95 {
				fits = append(fits, x.name)
			}
		}
		field := number(o.TrueField*60, 0) + "′"
		if o.TrueField >= 2 {
			field = number(o.TrueField, 1) + "°"
		}
		what := "planets, the Moon in parts, small things"
		if len(fits) > 0 {
			what = strings.Join(fits, ", ")
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: first(tr.String())}, {Text: fmt.Sprintf("%.0f×", o.Magnification)}, {Text: field}, {Text: number(o.ExitPupil, 1) + " mm"}, {Text: what}})
	}
	return t
}

// heightTable is the height of the eyepiece over the altitude of the target.
func heightTable(i kit.Instrument) views.Table {
	t := views.Table{Caption: "Height of the eyepiece", Columns: []views.Column{{Label: "Target at"}, {Label: "Eyepiece at", Number: true}, {Label: "An adult"}, {Label: "A child of about seven"}}}
	for alt := 15.0; alt <= 80; alt += 20 {
		h := optics.EyepieceHeight(i, alt)
		t.Rows = append(t.Rows, []views.Cell{{Text: fmt.Sprintf("%.0f°", alt)}, {Text: number(h, 2) + " m"},
			{Text: string(optics.ReachFor(h, 1.55).Stand)}, {Text: string(optics.ReachFor(h, 1.1).Stand)}})
	}
	return t
}

func careOf(i kit.Instrument) []string {
	var out []string
	switch {
	case i.Fan:
		out = append(out, "Put it out an hour before the gate opens, fan on: the mirror must come near the air’s temperature.")
	case i.ClosedTube:
		out = append(out, "A closed tube cools slowly: put it out two hours before high power is wanted.")
	default:
		out = append(out, "Put it out an hour before high power is wanted.")
	}
	switch i.Design {
	case kit.SchmidtCassegrain, kit.MaksutovCassegrain:
		out = append(out, "The front glass faces the cold sky and dews first: shield from the start, heater when the forecast says so. Never wipe it.")
	case kit.Newtonian, kit.OtherCassegrain:
		out = append(out, "The tube guards the main mirror; secondary, finder and eyepieces dew first.")
	default:
		out = append(out, "The lens dews without its shield; cap it between guests on damp nights.")
	}
	if i.NeedsCollimation {
		out = append(out, "Align the mirrors at set-up and look again when it is dark: a bright star a little out of focus must show round, even rings.")
	}
	return out
}

func checkAtHome(i kit.Instrument) []string {
	out := []string{"Caps on, screws and tripod plate complete", "Eyepieces clean and in their case", "Finder in line with the tube, its battery alive"}
	if i.NeedsCollimation {
		out = append(out, "Alignment tool and the key that turns the screws")
	}
	if i.GoTo || i.Tracking || i.MountPower > 0 {
		out = append(out, "Battery charged, cable and fuse; hand controller set to site and date")
	}
	if i.SolarFilter.Fitted {
		out = append(out, "Solar filter held against a lamp: no hole, no scratch; local rules for showing the Sun read")
	}
	return out
}

// showCompare sets instruments side by side, numbers first.
func (s *server) showCompare(w http.ResponseWriter, r *http.Request) error {
	all, err := s.store.Kit(r.Context(), false)
	if err != nil {
		return err
	}
	all = all.Fill()
	want := map[string]bool{}
	for _, id := range r.URL.Query()["i"] {
		want[id] = true
	}
	m := views.CompareModel{Table: views.Table{Caption: "Instruments side by side", Columns: []views.Column{{Label: "Instrument"}, {Label: "Light", Number: true}, {Label: "Detail", Number: true}, {Label: "Widest field", Number: true},
		{Label: "Steadiness"}, {Label: "To carry", Number: true}, {Label: "Set-up", Number: true}, {Label: "Eyepiece at", Number: true}, {Label: "Care"}}}}
	for _, i := range all.Instruments {
		id := strconv.FormatInt(i.ID, 10)
		chosen := len(want) == 0 || want[id]
		m.Choices = append(m.Choices, views.Compared{ID: id, Name: i.Name, On: chosen})
		if chosen {
			m.Table.Rows = append(m.Table.Rows, compareRow(all, i))
		}
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Instruments side by side", Section: inKit, Crumbs: []views.Link{{Text: "Kit", Href: "/kit"}}}, views.Compare(m))
}

func compareRow(all kit.Kit, i kit.Instrument) []views.Cell {
	field := i.FixedField
	if i.Design != kit.Binoculars {
		field = widest(optics.Trains(all, i))
	}
	care := "little"
	switch {
	case i.NeedsCollimation:
		care = "align before use"
	case i.Design == kit.SchmidtCassegrain || i.Design == kit.MaksutovCassegrain:
		care = "dew at the front"
	}
	h := optics.HeightsOver(i, 20, 70)
	return []views.Cell{
		{Text: i.Name, Href: "/kit/instruments/" + strconv.FormatInt(i.ID, 10) + "/sheet", Note: instrumentLine(i)},
		{Text: fmt.Sprintf("%.0f × eye", math.Pow(i.Aperture/7, 2))}, {Text: fmt.Sprintf("%.2g″", optics.Dawes(i.Aperture))}, {Text: number(field, 1) + "°"},
		{Text: motion(i)}, {Text: number(i.Weight, 1) + " kg"}, {Text: fmt.Sprintf("%.0f min", i.SetupMinutes)}, {Text: number(h.Low, 2) + " to " + number(h.High, 2) + " m"}, {Text: care},
	}
}
