package lineup

import (
	"fmt"
	"strings"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// good is the fit from which nobody asks how to make it better.
const good = 0.35

// better tells what would make a poor or vetoed view possible: dry or cooled
// glass, a step, another eyepiece, another time, another instrument. Two
// answers at most, the nearest at hand first.
func (m *Matrix) better(ii, ti, r, b int) string {
	if m.Cell(ii, ti).Best(b) > good {
		return ""
	}
	f := m.Judge(ii, ti, r, b)
	var out []string
	for _, try := range []func(ii, ti, r, b int, f Fit) string{m.readyGlass, m.aStep, m.anotherEyepiece, m.anotherTime, m.anotherInstrument} {
		if s := try(ii, ti, r, b, f); s != "" {
			out = append(out, s)
		}
		if len(out) == 2 {
			break
		}
	}
	if len(out) == 0 {
		return fmt.Sprintf("Nothing in tonight's kit shows %s well.", m.in.Targets[ti].Name)
	}
	return strings.Join(out, " ")
}

// readyGlass: what keeps dew away and gets warm glass ready.
func (m *Matrix) readyGlass(ii, _, _, b int, f Fit) string {
	st := m.states[ii][b]
	if vetoed(f) {
		return "" // ready glass heals no veto, and its own is about stars to align on
	}
	switch {
	case f.Factors[State].Value >= 0.9 || f.Factors[State].Veto:
		return ""
	case st.dewed || st.dewMaybe:
		return fmt.Sprintf("A dew shield or a heater strip on the %s, run from the start, would keep it dry.", st.surface)
	case st.known && m.in.Kit.Instruments[ii].Fan:
		return "Put out earlier, with its fan running, it would be cool by then."
	case st.known && st.warm > 0:
		return "Put out earlier, or stored cold, it would be cool by then."
	}
	return ""
}

func vetoed(f Fit) bool {
	_, v := f.Vetoed()
	return v
}

// aStep: what lifts an eye to the eyepiece.
func (m *Matrix) aStep(ii, ti, _, b int, f Fit) string {
	r := m.reach(ii, ti, b)
	switch {
	case f.Factors[EyePlace].Veto:
		return fmt.Sprintf("With ladders allowed and a helper at it, %d steps would reach; local rules decide.", r.adult)
	case vetoed(f):
		return "" // something else stands in the way
	case r.adult > 0 && r.adult < ladderSteps:
		return fmt.Sprintf("A stool of %s brings most guests to the eyepiece.", plural(r.adult, "step"))
	}
	return ""
}

// anotherEyepiece tries the generic ones of the trade where the field or the
// magnification stand in the way.
func (m *Matrix) anotherEyepiece(ii, ti, r, b int, f Fit) string {
	inst := m.in.Kit.Instruments[ii]
	if vetoed(f) && !f.Factors[Field].Veto && !f.Factors[Power].Veto && !f.Factors[Visible].Veto {
		return ""
	}
	own := weigh(f.Factors[Field].Value, m.in.Rules.Weights[Field]) * weigh(f.Factors[Power].Value, m.in.Rules.Weights[Power])
	if own > 0.6 || inst.Design == kit.Binoculars {
		return ""
	}
	best, words := max(0.5, 1.5*own), ""
	for n, x := range candidates {
		e := generic(x.focal, x.apparent, x.barrel, int64(-1-n))
		if e.Barrel == kit.Barrel2 && inst.Focuser != kit.Barrel2 {
			continue
		}
		tr := optics.Train{Instrument: inst, Diagonal: m.Trains[ii][r].Diagonal, Eyepiece: &e}
		if d := tr.Diagonal; d != nil && d.Barrel != kit.Barrel2 && e.Barrel == kit.Barrel2 {
			tr.Diagonal = nil // its own 2-inch one, or one to be borrowed
		}
		g := glanceOf(tr)
		v := fieldFactor(m.in.Targets[ti], g.field, false).Value * powerFactor(m.powerWith(ii, ti, b, &g), false).Value
		if v > best {
			best, words = v, fmt.Sprintf("An eyepiece of %s would suit it: %.0f×, field %s.", e.Name, g.Magnification, arcminutes(g.field))
		}
	}
	return words
}

// anotherTime: a block that is clearly better.
func (m *Matrix) anotherTime(ii, ti, _, b int, _ Fit) string {
	other := m.BestBlock(ii, ti)
	now := m.Cell(ii, ti).Best(b)
	if other < 0 || m.Cell(ii, ti).Best(other) <= 1.3*now {
		return ""
	}
	minutes, when := m.Blocks[other].From.Sub(m.Blocks[b].From).Minutes(), "later"
	if minutes < 0 {
		minutes, when = -minutes, "earlier"
	}
	return fmt.Sprintf("%.0f minutes %s, at %s, the fit here is %.2f.", minutes, when, m.Blocks[other].From.In(m.in.Sky.Zone).Format("15:04"), m.Cell(ii, ti).Best(other))
}

// anotherInstrument: the one that shows the target best tonight.
func (m *Matrix) anotherInstrument(ii, ti, _, _ int, _ Fit) string {
	best, inst, block := 0.15, -1, -1
	for jj := range m.in.Kit.Instruments {
		if jj == ii {
			continue
		}
		if o := m.BestBlock(jj, ti); o >= 0 && m.Cell(jj, ti).Best(o) > best {
			best, inst, block = m.Cell(jj, ti).Best(o), jj, o
		}
	}
	if inst < 0 {
		return ""
	}
	tr := m.Trains[inst][m.bestTrain(inst, ti, block)]
	o := tr.Static()
	return fmt.Sprintf("%s shows it at %s: %s, %.0f×, field %s.", m.in.Kit.Instruments[inst].Name, m.Blocks[block].From.In(m.in.Sky.Zone).Format("15:04"), tr, o.Magnification, arcminutes(o.TrueField*60))
}
