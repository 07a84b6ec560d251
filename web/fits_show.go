package web

import (
	"fmt"
	"net/http"
	"strconv"

	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// showFits is the matrix of a night: targets down, instruments across, in each
// cell the best eyepiece, when, how well, and what is weakest.
func (s *server) showFits(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	m := views.FitsModel{Over: overline(sh), Tabs: nightTabs(id, "fits"), ChooseHref: nightPath(id) + "/choose"}
	if len(sh.Kit.Instruments) > 0 && len(sh.Targets) > 0 {
		fits := sh.Fits()
		m.Table = fitsTable(sh, fits)
		m.BuyHref = buyPath(id)
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "What fits what · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.Fits(m))
}

func fitsTable(sh *night.Sheet, m *lineup.Matrix) views.Table {
	t := views.Table{Caption: "Fits of the night", Columns: []views.Column{{Label: "Target"}}}
	for _, inst := range sh.Kit.Instruments {
		t.Columns = append(t.Columns, views.Column{Label: inst.Name})
	}
	for ti, target := range sh.Targets {
		row := []views.Cell{{Text: target.Name, Note: firstDesignation(target)}}
		for ii := range sh.Kit.Instruments {
			row = append(row, fitCell(sh, m, ii, ti))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func fitCell(sh *night.Sheet, m *lineup.Matrix, ii, ti int) views.Cell {
	best := m.BestBlock(ii, ti)
	c := views.Cell{Href: fmt.Sprintf("%s/why?instrument=%d&target=%s", nightPath(sh.Night.ID), sh.Kit.Instruments[ii].ID, sh.Targets[ti].ID)}
	if best < 0 {
		c.Text = "no"
		c.Note = m.WhyShort(ii, ti)
		return c
	}
	tr := m.Trains[ii][m.Cell(ii, ti).Tracks[0].Train]
	c.Text = fmt.Sprintf("%.2f", m.Cell(ii, ti).Best(best))
	c.Note = fmt.Sprintf("%s, %s", tr, windowWords(sh, m, ii, ti))
	return c
}

// windowWords is the stretch of the night in which a cell is possible.
func windowWords(sh *night.Sheet, m *lineup.Matrix, ii, ti int) string {
	from, to := -1, -1
	for b := range m.Blocks {
		if m.Cell(ii, ti).Best(b) > 0 {
			if from < 0 {
				from = b
			}
			to = b
		}
	}
	if from < 0 {
		return ""
	}
	return span(sh, m.Blocks[from].From, m.Blocks[to].To)
}

// showWhy is the whole reasoning for one target at one instrument.
func (s *server) showWhy(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	inst, _ := strconv.ParseInt(r.FormValue("instrument"), 10, 64)
	ii, ti := sh.Input.Instrument(inst), sh.Input.TargetIndex(r.FormValue("target"))
	if ii < 0 || ti < 0 {
		return fault.New(fault.NotFound, "This instrument or target is not part of the night.")
	}
	m := sh.Fits()
	if len(m.Blocks) == 0 {
		return fault.New(fault.Invalid, "The night has no public hours; set them first.")
	}
	b := m.BestBlock(ii, ti)
	if n, err := strconv.Atoi(r.FormValue("block")); err == nil && n >= 0 && n < len(m.Blocks) {
		b = n
	}
	if b < 0 {
		b = m.HighestBlock(ti)
	}
	why := m.Why(ii, ti, b)
	v := views.WhyModel{Over: overline(sh), Title: fmt.Sprintf("%s in %s?", sh.Targets[ti].Name, sh.Kit.Instruments[ii].Name), Better: why.Better, At: siteClock(sh, m.Blocks[b].From)}
	if why.HasView {
		v.Reasons = reasonTable(why)
		st := why.Train.Static()
		v.Summary = fmt.Sprintf("With %s: %.0f×, field %s, fit %.2f.", why.Train, st.Magnification, fieldWords(st.TrueField), why.Fit.Value)
		if f, ok := why.Fit.Vetoed(); ok {
			v.Summary = "Not possible: " + f.Sentence
		}
	}
	for n, slot := range m.Blocks {
		v.Blocks = append(v.Blocks, views.Link{Text: siteClock(sh, slot.From), Current: n == b,
			Href: fmt.Sprintf("%s/why?instrument=%d&target=%s&block=%d", nightPath(id), inst, sh.Targets[ti].ID, n)})
	}
	v.Add = fmt.Sprintf("%s/new?instrument=%d&target=%s&from=%d", lineUpPath(id), inst, sh.Targets[ti].ID, m.Blocks[b].From.Unix())
	crumbs := append(nightCrumbs(sh), views.Link{Text: "What fits what", Href: nightPath(id) + "/fits"})
	return s.show(w, r, http.StatusOK, views.Head{Title: v.Title, Section: inNights, Crumbs: crumbs}, views.Why(v))
}
