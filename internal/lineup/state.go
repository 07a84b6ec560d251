package lineup

import (
	"duskboard/internal/field"
	"duskboard/internal/kit"
)

// glassState is what the forecast says of an instrument in one block.
type glassState struct {
	known    bool
	warm     float64 // mirror or lens minus air, K
	dewed    bool
	dewMaybe bool
	surface  string
	blur     func(sky float64) float64 // seeing with the warm glass added
}

// seeing adds the blur of warm glass to that of the air, FWHM in arcseconds.
func (g glassState) seeing(air float64) float64 {
	if g.blur == nil {
		return air
	}
	return g.blur(air)
}

// frontSurfaces are those whose dew ends a showing. Finders and eyepieces are
// wiped or warmed in a pocket between two guests; the departure check packs
// for them.
var frontSurfaces = []field.Kind{field.CorrectorPlate, field.Objective, field.Secondary, field.Primary}

// statesOf looks up an instrument's forecast in every block.
func (m *Matrix) statesOf(inst kit.Instrument) []glassState {
	out := make([]glassState, len(m.Blocks))
	rep, ok := m.in.Forecasts[inst.ID]
	if !ok || rep.State == field.NoWeather {
		return out
	}
	for b, slot := range m.Blocks {
		t := slot.Middle()
		c, ok := rep.CoolState(t)
		if !ok {
			continue
		}
		out[b] = glassState{known: true, warm: c.Delta}
		total, _ := rep.Seeing(m.seeing(), t)
		air := m.seeing()
		out[b].blur = func(float64) float64 { return max(total, air) }
		for _, k := range frontSurfaces {
			d, ok := rep.DewState(k, t)
			if !ok || d.Level == field.NoDew || out[b].dewed {
				continue
			}
			out[b].surface = string(k)
			out[b].dewed, out[b].dewMaybe = d.Level == field.Likely, d.Level == field.Possible
		}
	}
	return out
}
