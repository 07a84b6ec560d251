package web

import (
	"fmt"
	"strconv"
	"strings"

	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// pickedModel is one showing of the board: what can be done to it, its view
// and its reasons. It is nil when there is no such showing.
func pickedModel(sh *night.Sheet, id int64) *views.PickedModel {
	i := showingIndex(sh, id)
	if i < 0 {
		return nil
	}
	m, x := sh.Fits(), sh.Showings[i]
	v := sh.Input.ViewOf(m, x)
	from, to := m.BlocksOf(x)
	p := &views.PickedModel{
		ID: id, Base: lineUpPath(sh.Night.ID), Path: showingPath(sh.Night.ID, id), Version: sh.LineUpVersion, Pinned: x.Pinned,
		Title: targetName(sh, x.TargetID), Instrument: sh.Input.InstrumentName(x.InstrumentID), When: span(sh, x.From, x.To()),
		View: fmt.Sprintf("%s, fit %.2f", v.Short(), v.Fit), Steps: stepsOf(sh, m, x, from, to), Numbers: viewRows(sh, m, x),
	}
	p.Weak = weakWords(v.Weakest)
	if t, ok := sh.Target(x.BackupID); ok {
		p.Numbers = append(p.Numbers, views.Row{Label: "If cloud covers it", Value: t.Name})
	}
	p.Swap = views.Choice{Name: "with", Label: "Swap with"}
	for _, y := range sh.Showings {
		if y.ID != id {
			p.Swap.Options = append(p.Swap.Options, views.Option{Value: strconv.FormatInt(y.ID, 10),
				Text: fmt.Sprintf("%s, %s, %s", targetName(sh, y.TargetID), sh.Input.InstrumentName(y.InstrumentID), span(sh, y.From, y.To()))})
		}
	}
	ii, ti := sh.Input.Instrument(x.InstrumentID), sh.Input.TargetIndex(x.TargetID)
	if ti >= 0 {
		p.Move = movesOf(sh, m, x, ti, from, to)
	}
	if ii < 0 || ti < 0 || from >= to {
		return p
	}
	var open []string
	for _, w := range windowsOf(sh, m, ii, ti) {
		open = append(open, span(sh, w.From, w.To))
	}
	p.Window = "not tonight"
	if len(open) > 0 {
		p.Window = strings.Join(open, " and ")
	}
	if r := m.TrainIndex(ii, x); r >= 0 {
		why := m.WhyWith(ii, ti, r, from)
		p.Reasons, p.Better, p.At = reasonTable(why), why.Better, siteClock(sh, m.Blocks[from].From)
	}
	return p
}

// stepsOf are the changes of one block, each with the blocks it leads to;
// those that cannot be stand without.
func stepsOf(sh *night.Sheet, m *lineup.Matrix, x lineup.Showing, from, to int) []views.StepButton {
	step := func(text string, a, b int) views.StepButton {
		s := views.StepButton{Text: text}
		if a >= 0 && a < b && b <= len(m.Blocks) {
			s.Span = fmt.Sprintf("%d-%d", a, b)
			s.Words = fmt.Sprintf("%s: %s", text, span(sh, m.Blocks[a].From, m.Blocks[b-1].To))
		}
		return s
	}
	return []views.StepButton{step("Earlier", from-1, to-1), step("Later", from+1, to+1), step("Shorter", from, to-1), step("Longer", from, to+1)}
}

// movesOf are the other instruments at the same time, best fit first where the
// target is possible.
func movesOf(sh *night.Sheet, m *lineup.Matrix, x lineup.Showing, ti, from, to int) views.Choice {
	c := views.Choice{Name: "instrument", Label: "Move to"}
	for ii, inst := range sh.Kit.Instruments {
		if inst.ID == x.InstrumentID {
			continue
		}
		fit, n := 0.0, 0
		for b := from; b < to; b++ {
			fit, n = fit+m.Cell(ii, ti).Best(b), n+1
		}
		text := inst.Name + " (not possible then)"
		if fit > 0 {
			text = fmt.Sprintf("%s (fit %.2f)", inst.Name, fit/float64(n))
		}
		c.Options = append(c.Options, views.Option{Value: strconv.FormatInt(inst.ID, 10), Text: text})
	}
	return c
}
