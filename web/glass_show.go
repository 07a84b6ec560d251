package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

func glassPath(id int64) string { return nightPath(id) + "/glass" }

func (s *server) showGlass(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	return s.glassPage(w, r, http.StatusOK, sh, glassForms{})
}

// glassForms are the forms of one instrument as typed, when they were refused.
type glassForms struct {
	instrument    int64
	typed         map[string]string
	faults        fault.Fields
	measureFaults fault.Fields
}

func (s *server) glassPage(w http.ResponseWriter, r *http.Request, status int, sh *night.Sheet, f glassForms) error {
	m := views.GlassModel{
		Over: overline(sh), Title: "Dew, cool-down and power", Tabs: nightTabs(sh.Night.ID, "glass"), NoWeather: sh.Weather.Empty(),
		WeatherHref: weatherPath(sh.Night.ID), Stale: sh.Weather.AgeWarning(s.now()), Attribution: sh.Weather.Attribution,
	}
	m.Overview = glassOverview(sh)
	for _, i := range sh.Kit.Instruments {
		m.Instruments = append(m.Instruments, glassOf(sh, i, f))
	}
	m.Shared = shareCautions(m.Instruments)
	m.Power = powerPart(sh, r.FormValue("extra"))
	return s.show(w, r, status, views.Head{Title: "Dew and cool-down · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.Glass(m))
}

// shareCautions takes out of the instruments what is told word for word of
// several, and returns it once, with the names of those it is for.
func shareCautions(parts []views.GlassPart) []views.Caution {
	var order []views.Caution
	names := map[views.Caution][]string{}
	for _, g := range parts {
		for _, c := range g.Cautions {
			if len(names[c]) == 0 {
				order = append(order, c)
			}
			names[c] = append(names[c], g.Name)
		}
	}
	for i := range parts {
		parts[i].Cautions = slices.DeleteFunc(parts[i].Cautions, func(c views.Caution) bool { return len(names[c]) > 1 })
	}
	order = slices.DeleteFunc(order, func(c views.Caution) bool { return len(names[c]) < 2 })
	for i, c := range order {
		order[i].Text = strings.Join(names[c], ", ") + ": " + c.Text
	}
	return order
}

// glassOverview is one line for each instrument: when out, when ready, what
// dews first and what it takes.
func glassOverview(sh *night.Sheet) views.Table {
	t := views.Table{Caption: "Each instrument tonight", Columns: []views.Column{
		{Label: "Instrument"}, {Label: "Outdoors by", Number: true}, {Label: "Ready for low power"}, {Label: "Ready for high power"}, {Label: "First to get wet"}, {Label: "What it takes"},
	}}
	for _, i := range sh.Kit.Instruments {
		r, ok := sh.Forecasts[i.ID]
		if !ok || r.State == field.NoWeather {
			continue
		}
		row := []views.Cell{{Text: i.Name, Href: fmt.Sprintf("#glass-%d", i.ID)}, {Text: siteClock(sh, r.PutOut)}, {Text: readyWords(sh, r.Cool.LowPower)}, {Text: readyWords(sh, r.Cool.HighPower)}, {Text: "nothing"}, {Text: "nothing"}}
		if x, ok := firstWet(r); ok {
			row[4] = views.Cell{Text: x.Surface.Name, Note: x.Onset.Sentence(sh.Zone)}
			if x.Onset.Level == field.NoDew {
				row[4] = views.Cell{Text: "nothing, with its gear", Note: "bare: " + lowerFirst(x.Bare.Sentence(sh.Zone))}
			}
			row[5] = views.Cell{Text: actionWords(x.Advice), Mark: haveMark(x.Advice)}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// firstWet is the surface that dews first as the gear stands, else the one
// that would without gear.
func firstWet(r field.Report) (field.SurfaceReport, bool) {
	best := -1
	earlier := func(a, b field.Onset) bool {
		switch {
		case a.Level != b.Level:
			return a.Level > b.Level
		case a.Earliest.IsZero() || b.Earliest.IsZero():
			return !a.Earliest.IsZero() && b.Earliest.IsZero()
		}
		return a.Earliest.Before(b.Earliest)
	}
	for n, s := range r.Surfaces {
		if best < 0 || earlier(s.Onset, r.Surfaces[best].Onset) || s.Onset == r.Surfaces[best].Onset && earlier(s.Bare, r.Surfaces[best].Bare) {
			best = n
		}
	}
	if best < 0 || r.Surfaces[best].Onset.Level == field.NoDew && r.Surfaces[best].Bare.Level == field.NoDew {
		return field.SurfaceReport{}, false
	}
	return r.Surfaces[best], true
}

func actionWords(a field.Advice) string {
	switch a.Action {
	case field.FitShield:
		return "a shield"
	case field.RunHeater:
		return "a heater of " + field.WattRange(a.Watts, a.WattsHigh)
	case field.CoverWait:
		return "cover it, wait"
	case field.KeepWarm:
		return "keep it in a pocket"
	case field.AskWeather:
		return "the weather"
	}
	return "nothing"
}

func haveMark(a field.Advice) string {
	switch {
	case a.Action == field.DoNothing || a.Action == field.CoverWait || a.Action == field.KeepWarm:
		return ""
	case a.Have:
		return "at hand"
	}
	return "missing"
}

// readyWords says when glass is near enough to the air, as a band.
func readyWords(sh *night.Sheet, x field.Reach) string {
	switch x.State {
	case field.NotKnown:
		return "not known"
	case field.Never:
		return fmt.Sprintf("never: stays %.1f K behind", x.Lag)
	case field.TooLate:
		return "not before the end"
	}
	from := sh.Night.PublicFrom
	switch {
	case !x.Latest.IsZero() && !x.Latest.After(from):
		return "from the opening"
	case x.Latest.IsZero():
		return "from about " + siteClock(sh, x.Likely) + ", perhaps not before the end"
	case x.Earliest.Equal(x.Latest):
		return "from " + siteClock(sh, x.Likely)
	}
	return "between " + siteClock(sh, x.Earliest) + " and " + siteClock(sh, x.Latest)
}

func glassOf(sh *night.Sheet, i kit.Instrument, f glassForms) views.GlassPart {
	r, known := sh.Forecasts[i.ID]
	known = known && r.State != field.NoWeather
	g := views.GlassPart{ID: fmt.Sprintf("glass-%d", i.ID), Name: i.Name, Line: glassLine(sh, i, r, known)}
	glassFormsOf(sh, i, f, &g)
	if !known {
		return g
	}
	g.Out = "Put it out by " + siteClock(sh, r.PutOut) + "."
	g.OutWhy = outWhy(sh, r)
	for _, x := range []struct {
		name string
		r    field.Reach
	}{{"Low power", r.Cool.LowPower}, {"High power", r.Cool.HighPower}} {
		g.Ready = append(g.Ready, views.Row{Label: fmt.Sprintf("%s, %.0f×", x.name, x.r.Magnification), Value: readyWords(sh, x.r), Note: fmt.Sprintf("when it is within %.1f K of the air", x.r.Limit)})
		if x.r.Magnification == r.Cool.HighPower.Magnification {
			break // binoculars have one power
		}
	}
	for _, h := range r.Cool.Helps {
		g.Helps = append(g.Helps, first(h)+".")
	}
	g.Cautions = cautions(r.Warnings)
	g.Surfaces = surfaceTable(sh, r)
	g.Charts = []string{string(surfacesChart(sh, r)), string(coolChart(sh, r))}
	g.Numbers = glassTable(sh, r)
	for _, a := range r.Assumed {
		if !strings.HasPrefix(a, "put out one hour") {
			g.Assumed = append(g.Assumed, a)
		}
	}
	return g
}

func glassLine(sh *night.Sheet, i kit.Instrument, r field.Report, known bool) string {
	words := instrumentLine(i)
	gear := sh.GearOf(i)
	var has []string
	if i.DewShield > 0 {
		has = append(has, "its dew shield")
	}
	if i.Heater > 0 {
		has = append(has, fmt.Sprintf("its heater of %.1f W", i.Heater))
	}
	for _, d := range gear.DewGear {
		has = append(has, d.Name)
	}
	for _, x := range gear.Finders {
		has = append(has, x.Name)
	}
	if len(has) > 0 {
		words += ". Goes with " + strings.Join(has, ", ")
	}
	if known {
		words += fmt.Sprintf(". The %s cools with a time constant of %.1f to %.1f hours, %s", r.Cool.What, r.Cool.TauLow, r.Cool.TauHigh, map[bool]string{true: "as measured", false: "estimated"}[r.Cool.Measured])
		words += map[bool]string{true: ", its fan on", false: ""}[r.Cool.Fan]
	}
	return words + "."
}

// outWhy says why then, and what would have to be done for more.
func outWhy(sh *night.Sheet, r field.Report) string {
	by := r.Cool.HighPower.PutOutBy
	words := fmt.Sprintf("It comes from %.0f °C.", r.Storage)
	switch {
	case !by.Possible:
		return words + " It will not be ready for high power when the gate opens, " + by.Why + "."
	case by.Likely.Before(r.PutOut.Add(-10 * time.Minute)):
		words += fmt.Sprintf(" To be ready for high power at the opening it has to stand outdoors from %s", siteClock(sh, by.Likely))
	default:
		words += " Then it is ready for high power when the gate opens"
	}
	if !by.Safe.IsZero() && by.Safe.Before(by.Likely) {
		words += ", to be on the safe side from " + siteClock(sh, by.Safe)
	}
	return words + "."
}

// surfaceTable lists each surface: when it gets wet, with gear and without, and
// what it takes.
func surfaceTable(sh *night.Sheet, r field.Report) views.Table {
	t := views.Table{Caption: "Surfaces of " + r.Name, Columns: []views.Column{
		{Label: "Surface"}, {Label: "As it stands"}, {Label: "Least margin", Number: true}, {Label: "Without gear"}, {Label: "What it takes"},
	}}
	for _, s := range r.Surfaces {
		least, at, known := 0.0, time.Time{}, false
		for _, st := range s.Steps {
			if st.Known && !st.Time.Before(r.From) && (!known || st.Margin < least) {
				least, at, known = st.Margin, st.Time, true
			}
		}
		margin := views.Cell{Text: "not known"}
		if known {
			margin = views.Cell{Text: strings.Replace(fmt.Sprintf("%+.1f K", least), "-", "−", 1), Note: "at " + siteClock(sh, at)}
		}
		t.Rows = append(t.Rows, []views.Cell{
			{Text: first(s.Surface.Name)}, {Text: s.Onset.Sentence(sh.Zone), Mark: onsetMark(s.Onset)}, margin, {Text: s.Bare.Sentence(sh.Zone)},
			{Text: s.Advice.Sentence, Mark: haveMark(s.Advice)},
		})
	}
	return t
}

func onsetMark(o field.Onset) string {
	if o.Level == field.NoDew {
		return "dry"
	}
	return string(o.Deposit) + " " + o.Level.String()
}

// powerPart is the night's power with what every battery lasts.
func powerPart(sh *night.Sheet, extra string) views.PowerPart {
	p := sh.Power
	out := views.PowerPart{Action: glassPath(sh.Night.ID), Assumed: p.Assumed, Table: views.Table{Caption: "Power", Columns: []views.Column{
		{Label: "Instrument"}, {Label: "Draws"}, {Label: "From"}, {Label: "Needs", Number: true}, {Label: "Can give", Number: true}, {Label: "Enough?"},
	}}}
	if sh.Site.Power {
		out.Mains = "There is mains power at the site. Bring batteries all the same: cables across a walkway are a trap, and mains on wet grass belongs behind a residual-current device."
	}
	for _, x := range p.Instruments {
		out.Table.Rows = append(out.Table.Rows, []views.Cell{
			{Text: x.Instrument.Name}, {Text: drawWords(x.Consumers)}, {Text: batteryList(x.Batteries)}, {Text: fmt.Sprintf("%.0f Wh", x.Supply.Need)},
			{Text: fmt.Sprintf("%.0f to %.0f Wh", x.Supply.Usable.Low, x.Supply.Usable.High)},
			{Text: map[field.Sufficiency]string{field.Enough: "yes", field.Tight: "only just", field.Short: "no"}[x.Supply.Result], Note: x.Supply.Sentence},
		})
	}
	said := map[string]bool{}
	for _, b := range sh.Kit.Batteries {
		if c := field.ChargeCaution(b, p.Temp); c != "" && !said[c] {
			said[c] = true
			out.Cautions = append(out.Cautions, c)
		}
	}
	out.Spare = "No battery is left over."
	if len(p.Spare) > 0 {
		out.Spare = "Left over: " + batteryList(p.Spare) + "."
	}
	out.Extra = views.Field{Name: "extra", Label: "Lamps, laptop and the rest, from what is left over", Unit: "W", Value: extra, Width: "short", Mode: "decimal", Hint: "together, all through the public hours"}
	if extra != "" {
		w, err := kit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(extra, "W")))
		if err != nil || w < 0 || w > 5000 {
			out.Extra.Error = "Write a number of watts from 0 to 5000."
			return out
		}
		c := []field.Consumer{{Name: "lamps and laptop", Watts: w, Duty: 1}}
		out.ExtraWords = field.Supply(p.Spare, c, sh.Night.PublicFrom, sh.Night.PublicTo(), p.Temp, sh.Zone).Sentence
	}
	return out
}

func drawWords(cs []field.Consumer) string {
	var out []string
	for _, c := range cs {
		w := fmt.Sprintf("%s %.1f W", c.Name, c.Watts)
		if c.Duty < 1 {
			w += fmt.Sprintf(" at %.0f %%", c.Duty*100)
		}
		out = append(out, w)
	}
	return strings.Join(out, ", ")
}

func batteryList(bs []kit.Battery) string {
	if len(bs) == 0 {
		return "no battery"
	}
	var out []string
	for _, b := range bs {
		out = append(out, fmt.Sprintf("%s (%.0f Ah, %.0f V)", b.Name, b.Capacity, b.Voltage))
	}
	return strings.Join(out, ", ")
}
