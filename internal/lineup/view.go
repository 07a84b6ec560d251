package lineup

import (
	"fmt"

	"duskboard/internal/catalog"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// View is what one showing gives, ready to be told on a page or a card.
type View struct {
	Train     optics.Train
	Optics    optics.Optics
	Known     bool    // the train could be found in the night's kit
	Fit       float64 // mean over the showing's blocks
	Weakest   Factor  // of the block in which the fit is lowest
	AtStart   sky.Position
	AtEnd     sky.Position
	HeightLow float64 // of the eyepiece during the showing, m
	HeightTop float64
	Drift     float64 // seconds from edge to edge if nobody tracks
	Nudge     int     // looks between two nudges; 0 when the mount tracks
	Flow      Flow
}

// Short is the view in a few words: "30 mm · 40× · 105′".
func (v View) Short() string {
	if !v.Known {
		return "gear missing"
	}
	return fmt.Sprintf("%s · %.0f× · %s", v.Gear(), v.Optics.Magnification, arcminutes(v.Optics.TrueField*60))
}

// Gear names eyepiece and Barlow lens by their numbers: "25 mm + Barlow 2×".
func (v View) Gear() string {
	e := v.Train.Eyepiece
	if e == nil {
		return "fixed eyepieces"
	}
	g := fmt.Sprintf("%.3g mm", e.FocalLength)
	if a := v.Train.Amplifier; a != nil {
		g += fmt.Sprintf(" + %s %.3g×", a.Kind, a.Factor)
	}
	if f := v.Train.Filter; f != nil {
		g += " + filter"
	}
	return g
}

// Field is the true field in words: "105′", "2.2°".
func (v View) Field() string { return arcminutes(v.Optics.TrueField * 60) }

// InstrumentName returns the name of an instrument by its id.
func (in *Input) InstrumentName(id int64) string { return in.instrumentName(id) }

// ViewOf computes what a showing gives.
func (in *Input) ViewOf(m *Matrix, s Showing) View {
	v := View{}
	m = m.Including(s)
	tr, ok := in.TrainOf(s)
	ii, ti := in.instrument(s.InstrumentID), in.target(s.TargetID)
	if !ok || ii < 0 || ti < 0 {
		return v
	}
	v.Train, v.Known = tr, true
	v.Optics = tr.Static()
	obj := catalog.ObjectOf(in.Targets[ti])
	v.AtStart, v.AtEnd = in.Sky.At(obj, s.From), in.Sky.At(obj, s.To())
	h1, h2 := eyepieceHeight(tr.Instrument, v.AtStart.AltRefracted), eyepieceHeight(tr.Instrument, v.AtEnd.AltRefracted)
	v.HeightLow, v.HeightTop = min(h1, h2), max(h1, h2)
	v.Drift = optics.DriftSeconds(v.Optics.TrueField, v.AtStart.Dec)
	if !tr.Instrument.Tracking {
		v.Nudge = int(usableDrift * v.Drift / (lookSeconds(in.Targets[ti]) * in.Crowd.Slow))
	}
	v.Flow = in.FlowOf(m, s)
	r := m.train(ii, s)
	if r < 0 {
		return v
	}
	from, to := m.span(s)
	low := 2.0
	for b := from; b < to; b++ {
		f := m.Judge(ii, ti, r, b)
		v.Fit += f.Value / float64(to-from)
		if f.Value < low {
			low, v.Weakest = f.Value, f.Weakest()
		}
	}
	return v
}
