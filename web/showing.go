package web

import (
	"fmt"
	"net/http"
	"sort"
	"strconv"

	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// showingForm is what a coordinator sets for one showing by hand. Blocks are
// indices; Train "" lets the program choose the best one.
type showingForm struct {
	Instrument int64
	Target     string
	Train      string
	From, To   int
	Pinned     bool
}

func parseShowing(r *http.Request) showingForm {
	num := func(name string) int {
		n, err := strconv.Atoi(r.FormValue(name))
		if err != nil {
			return -1
		}
		return n
	}
	inst, _ := strconv.ParseInt(r.FormValue("instrument"), 10, 64)
	return showingForm{Instrument: inst, Target: r.FormValue("target"), Train: r.FormValue("train"), From: num("from"), To: num("to"), Pinned: r.FormValue("pinned") == "1"}
}

// check returns the faults of a form against the night.
func (f showingForm) check(sh *night.Sheet, m *lineup.Matrix) fault.Fields {
	var faults fault.Fields
	bad := func(name, msg string) { faults = append(faults, fault.Field{Name: name, Message: msg}) }
	ii := sh.Input.Instrument(f.Instrument)
	if ii < 0 {
		bad("instrument", "Choose an instrument of this night.")
	}
	if sh.Input.TargetIndex(f.Target) < 0 {
		bad("target", "Choose one of the night's targets.")
	}
	n := len(m.Blocks)
	if f.From < 0 || f.From >= n {
		bad("from", "Choose a start within the public hours.")
	} else if f.To <= f.From || f.To > n {
		bad("to", "The end comes after the start, within the public hours.")
	}
	if f.Train != "" && ii >= 0 {
		if r, err := strconv.Atoi(f.Train); err != nil || r < 0 || r >= len(m.Trains[ii]) {
			bad("train", "Choose an eyepiece that fits this instrument.")
		}
	}
	if ii >= 0 && len(m.Trains[ii]) == 0 {
		bad("train", "No eyepiece of the night fits this instrument.")
	}
	return faults
}

// showShowing is one showing: the view, the reasons, and the form to change it.
func (s *server) showShowing(w http.ResponseWriter, r *http.Request) error {
	sh, i, err := s.showingOf(r)
	if err != nil {
		return err
	}
	m := sh.Fits()
	x := sh.Showings[i]
	f := showingForm{Instrument: x.InstrumentID, Target: x.TargetID, Pinned: x.Pinned}
	f.From, f.To = m.BlocksOf(x)
	if ii := sh.Input.Instrument(x.InstrumentID); ii >= 0 {
		if t := m.TrainIndex(ii, x); t >= 0 {
			f.Train = strconv.Itoa(t)
		}
	}
	return s.showingPage(w, r, http.StatusOK, sh, f, x.ID, nil)
}

// newShowing is the form for a stretch in which an instrument is free.
func (s *server) newShowing(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	m := sh.Fits()
	f := showingForm{From: 0, To: min(2, len(m.Blocks)), Pinned: true}
	f.Instrument, _ = strconv.ParseInt(r.FormValue("instrument"), 10, 64)
	if sh.Input.Instrument(f.Instrument) < 0 {
		return fault.New(fault.NotFound, "This instrument is not part of the night.")
	}
	if t, ok := unixParam(r.FormValue("from")); ok {
		if b := m.BlockAt(t); b >= 0 {
			f.From, f.To = b, min(b+2, len(m.Blocks))
		}
	}
	f.Target = r.FormValue("target")
	return s.showingPage(w, r, http.StatusOK, sh, f, 0, nil)
}

// saveShowing adds or changes one showing. What it overlaps at the same
// instrument gives way unless it is pinned; undo brings it back.
func (s *server) saveShowing(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	old, _ := strconv.ParseInt(r.FormValue("showing"), 10, 64)
	m, f := sh.Fits(), parseShowing(r)
	if faults := f.check(sh, m); len(faults) > 0 {
		return s.showingPage(w, r, http.StatusUnprocessableEntity, sh, f, old, faults)
	}
	ii, ti := sh.Input.Instrument(f.Instrument), sh.Input.TargetIndex(f.Target)
	train := m.TrainOffers(ii, ti, f.From, f.To)[0].Train
	if f.Train != "" {
		train, _ = strconv.Atoi(f.Train)
	}
	x := m.Show(ii, ti, train, f.From, f.To)
	x.ID, x.Pinned = old, f.Pinned
	if showingIndex(sh, old) < 0 {
		x.ID = 0
	}
	all, gave, err := give(sh, x, old)
	if err != nil {
		return s.showingPage(w, r, http.StatusUnprocessableEntity, sh, f, old, fault.Fields{{Name: "from", Message: err.Error()}})
	}
	done := fmt.Sprintf("%s is in %s from %s.%s", sh.Targets[ti].Name, sh.Input.InstrumentName(f.Instrument), span(sh, x.From, x.To()), gave)
	return s.revise(w, r, sh, revision{shows: all, forbidden: sh.Forbidden, label: "set " + sh.Targets[ti].Name, done: done, at: indexOf(all, x)})
}

// showingPage renders the form with the reasons for what is set.
func (s *server) showingPage(w http.ResponseWriter, r *http.Request, status int, sh *night.Sheet, f showingForm, id int64, faults fault.Fields) error {
	m := sh.Fits()
	ii := sh.Input.Instrument(f.Instrument)
	v := views.ShowingModel{Over: overline(sh), Action: lineUpPath(sh.Night.ID) + "/showings", Back: lineUpPath(sh.Night.ID), Version: sh.LineUpVersion, ID: id, Instrument: f.Instrument, Title: sh.Input.InstrumentName(f.Instrument)}
	if id != 0 {
		v.Path = showingPath(sh.Night.ID, id)
		v.Back = showHref(sh.Night.ID, id)
	}
	for _, x := range faults {
		v.Faults = append(v.Faults, views.FieldError{Name: x.Name, Label: showingLabels[x.Name], Message: x.Message})
	}
	if ii < 0 {
		return fault.New(fault.NotFound, "This instrument is not part of the night.")
	}
	from, to := max(f.From, 0), min(max(f.To, f.From+1), len(m.Blocks))
	v.Target = targetChoice(sh, m, ii, from, to, f.Target, faults.For("target"))
	v.From = blockChoice(sh, m, "from", "From", false, f.From, faults.For("from"))
	v.To = blockChoice(sh, m, "to", "To", true, f.To, faults.For("to"))
	v.Pinned = f.Pinned
	ti := sh.Input.TargetIndex(f.Target)
	v.Train = trainChoice(m, ii, ti, from, to, f.Train, faults.For("train"))
	if ti >= 0 && from < to && len(m.Trains[ii]) > 0 {
		train := m.TrainOffers(ii, ti, from, to)[0].Train
		if n, err := strconv.Atoi(f.Train); err == nil && n >= 0 && n < len(m.Trains[ii]) {
			train = n
		}
		v.Title = sh.Targets[ti].Name + " in " + v.Title
		v.Reasons = reasonTable(m.WhyWith(ii, ti, train, from))
		v.At = siteClock(sh, m.Blocks[from].From)
		v.Better = m.WhyWith(ii, ti, train, from).Better
		v.Numbers = viewRows(sh, m, m.Show(ii, ti, train, from, to))
	}
	return s.show(w, r, status, views.Head{Title: v.Title, Section: inNights, Crumbs: lineUpCrumbs(sh)}, views.Showing(v))
}

var showingLabels = map[string]string{"target": "Target", "train": "Eyepiece", "from": "From", "to": "To", "instrument": "Instrument"}

func targetChoice(sh *night.Sheet, m *lineup.Matrix, ii, from, to int, value, errWords string) views.Choice {
	c := views.Choice{Name: "target", Label: "Target", Value: value, Error: errWords, Hint: "Best fit first; those without a number cannot be shown at this time."}
	for _, o := range m.TargetOffers(ii, from, to) {
		t := sh.Targets[o.Target]
		text := t.Name
		if o.Fit > 0 {
			text = fmt.Sprintf("%s (fit %.2f)", t.Name, o.Fit)
		}
		c.Options = append(c.Options, views.Option{Value: t.ID, Text: text})
	}
	return c
}

func trainChoice(m *lineup.Matrix, ii, ti, from, to int, value, errWords string) views.Choice {
	c := views.Choice{Name: "train", Label: "Eyepiece", Value: value, Error: errWords, Options: []views.Option{{Value: "", Text: "The best one"}}}
	list := m.TrainOffers(ii, max(ti, 0), from, to)
	if ti < 0 {
		sort.Slice(list, func(i, j int) bool { return list[i].Train < list[j].Train })
	}
	for _, o := range list {
		st := m.Trains[ii][o.Train].Static()
		text := fmt.Sprintf("%s: %.0f×, field %s", m.Trains[ii][o.Train], st.Magnification, fieldWords(st.TrueField))
		if ti >= 0 {
			text += fmt.Sprintf(" (fit %.2f)", o.Fit)
		}
		c.Options = append(c.Options, views.Option{Value: strconv.Itoa(o.Train), Text: text})
	}
	return c
}

// fieldWords prints a true field given in degrees: minutes of arc below 1.5
// degrees, degrees above.
func fieldWords(deg float64) string {
	if deg < 1.5 {
		return fmt.Sprintf("%.0f′", deg*60)
	}
	return fmt.Sprintf("%.1f°", deg)
}

func blockChoice(sh *night.Sheet, m *lineup.Matrix, name, label string, ends bool, value int, errWords string) views.Choice {
	c := views.Choice{Name: name, Label: label, Value: strconv.Itoa(value), Error: errWords, Width: "short"}
	for b, slot := range m.Blocks {
		t, v := slot.From, b
		if ends {
			t, v = slot.To, b+1
		}
		c.Options = append(c.Options, views.Option{Value: strconv.Itoa(v), Text: siteClock(sh, t)})
	}
	return c
}

// reasonTable is the whole reasoning: what, here, wanted, in words.
func reasonTable(why lineup.Reason) views.Table {
	t := views.Table{Caption: "Reasons", Columns: []views.Column{{Label: "What"}, {Label: "Here", Number: true}, {Label: "Wanted", Number: true}, {Label: "Says", Number: true}, {Label: "In words"}}}
	for _, f := range why.Fit.Factors {
		mark, here := "", ""
		if f.Veto {
			mark = "Veto"
		} else if f.Assumed {
			mark = "Assumed"
		}
		if f.Unit != "" && f.Key != lineup.Delight && f.Number != 0 {
			here = numberUnit(f.Number, f.Unit)
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: f.Key.String(), Mark: mark}, {Text: here}, {Text: f.Wanted}, {Text: fmt.Sprintf("%.2f", f.Value)}, {Text: f.Sentence}})
	}
	return t
}

// numberUnit prints a number with its unit as the trade writes it: 46′, 14°,
// 63×, 9.6″, 1.42 m; seconds as minutes from two minutes on.
func numberUnit(v float64, unit string) string {
	switch unit {
	case "′", "°", "×":
		return fmt.Sprintf("%.0f%s", v, unit)
	case "″":
		return fmt.Sprintf("%.1f″", v)
	case "s":
		if v >= 120 {
			return fmt.Sprintf("%.0f min", v/60)
		}
		return fmt.Sprintf("%.0f s", v)
	case "m":
		return fmt.Sprintf("%.2f m", v)
	}
	return fmt.Sprintf("%.1f %s", v, unit)
}

// viewRows is what the view gives, in numbers.
func viewRows(sh *night.Sheet, m *lineup.Matrix, x lineup.Showing) []views.Row {
	v := sh.Input.ViewOf(m, x)
	rows := []views.Row{
		{Label: "Magnification", Value: fmt.Sprintf("%.0f×", v.Optics.Magnification)},
		{Label: "True field", Value: v.Field(), Note: "from the " + v.Optics.FieldFrom},
		{Label: "Exit pupil", Value: fmt.Sprintf("%.1f mm", v.Optics.ExitPupil)},
		{Label: "Altitude", Value: fmt.Sprintf("%.0f° to %.0f°", v.AtStart.AltRefracted, v.AtEnd.AltRefracted)},
		{Label: "Eyepiece over the ground", Value: fmt.Sprintf("%.2f to %.2f m", v.HeightLow, v.HeightTop)},
		{Label: "Guests", Value: fmt.Sprintf("%.0f looks", v.Flow.Looks), Note: fmt.Sprintf("%.0f s each", v.Flow.LookSeconds)},
	}
	for _, a := range v.Optics.Assumed {
		rows = append(rows, views.Row{Label: "Assumed", Value: a})
	}
	return rows
}
