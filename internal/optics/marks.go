package optics

import (
	"slices"

	"duskboard/internal/kit"
)

// Quantity names a number of Optics, for asking which defaults it rests on.
type Quantity string

// The quantities that can rest on a default.
const (
	QMagnification Quantity = "magnification"
	QTrueField     Quantity = "true field"
	QExitPupil     Quantity = "exit pupil"
	QObstruction   Quantity = "obstruction"
	QLitField      Quantity = "lit field"
	QEdge          Quantity = "edge"
	QEyeRelief     Quantity = "eye relief"
	QOrientation   Quantity = "orientation"
	QHeight        Quantity = "eyepiece height"
)

// part is a place in the train; its value is the word a visitor reads.
type part string

const (
	ofTelescope part = "telescope"
	ofEyepiece  part = "eyepiece"
	ofAmplifier part = "Barlow or reducer"
	ofDiagonal  part = "diagonal"
)

// rests says which fields stand behind a quantity.
var rests = map[Quantity]map[part][]string{
	QMagnification: {ofTelescope: {"FocalLength", "Power"}, ofEyepiece: {"FocalLength"}, ofAmplifier: {"Factor"}},
	QExitPupil:     {ofTelescope: {"Aperture", "FocalLength", "Power"}, ofEyepiece: {"FocalLength"}, ofAmplifier: {"Factor"}},
	QTrueField:     {ofTelescope: {"FocalLength", "FixedField"}, ofEyepiece: {"ApparentField", "FieldStop"}, ofAmplifier: {"Factor"}, ofDiagonal: {"MaxStop"}},
	QLitField:      {ofTelescope: {"FocalLength", "FixedField", "MaxFieldStop"}, ofEyepiece: {"ApparentField", "FieldStop"}, ofAmplifier: {"Factor"}, ofDiagonal: {"MaxStop"}},
	QObstruction:   {ofTelescope: {"Obstruction"}},
	QEdge:          {ofTelescope: {"FocalLength"}, ofEyepiece: {"ApparentField", "Class"}, ofAmplifier: {"Factor"}},
	QEyeRelief:     {ofEyepiece: {"EyeRelief"}},
	QOrientation:   {ofTelescope: {"EyepiecePlace"}, ofDiagonal: {"Kind", "Presence"}},
	QHeight:        {ofTelescope: {"EyepiecePlace", "EyeOffset", "Mount", "PivotHeight", "PivotToEye"}},
}

// trainFields are the fields that matter to a train at all; weight and
// storage of a telescope do not.
var trainFields = map[part][]string{
	ofTelescope: {"Aperture", "EyepiecePlace", "FixedField", "FocalLength", "Focuser", "MaxFieldStop", "Obstruction", "Power"},
	ofEyepiece:  {"ApparentField", "Barrel", "Class", "EyeRelief", "FieldStop", "FocalLength"},
	ofAmplifier: {"BackFocus", "Barrel", "Factor", "OnlyFor"},
	ofDiagonal:  {"Barrel", "Kind", "MaxStop", "PathUsed", "Presence"},
}

// marks holds the assumed fields of each part of one train.
type marks struct {
	assumed  map[part][]string
	stopRead bool // the field stop is known: the apparent field sets no number of the true field
}

func (t Train) marks(from string) marks {
	m := marks{stopRead: from == FromFieldStop}
	add := func(p part, assumed []string) {
		if len(assumed) > 0 {
			if m.assumed == nil {
				m.assumed = make(map[part][]string, 4)
			}
			m.assumed[p] = assumed
		}
	}
	add(ofTelescope, t.Instrument.Assumed)
	if t.Eyepiece != nil {
		add(ofEyepiece, t.Eyepiece.Assumed)
	}
	if t.Amplifier != nil {
		add(ofAmplifier, t.Amplifier.Assumed)
	}
	switch {
	case t.Diagonal != nil:
		add(ofDiagonal, t.Diagonal.Assumed)
	case t.behindDiagonal():
		// Nobody entered the diagonal that such a tube comes with.
		add(ofDiagonal, []string{"Presence"})
	}
	return m
}

// pick returns the labelled assumed fields among those wanted, sorted.
func (m marks) pick(wanted map[part][]string) []string {
	var out []string
	for p, assumed := range m.assumed {
		for _, f := range assumed {
			if slices.Contains(wanted[p], f) {
				out = append(out, string(p)+": "+label(p, f))
			}
		}
	}
	slices.Sort(out)
	return out
}

func (m marks) all() []string {
	if len(m.assumed) == 0 {
		return nil
	}
	return m.pick(trainFields)
}

// Rests returns the assumed fields that the quantity rests on, as "telescope:
// focal length"; nil when it is all the club's own numbers.
func (o Optics) Rests(q Quantity) []string {
	out := o.marks.pick(rests[q])
	if o.marks.stopRead && (q == QTrueField || q == QLitField) {
		apparent := string(ofEyepiece) + ": " + label(ofEyepiece, "ApparentField")
		out = slices.DeleteFunc(out, func(s string) bool { return s == apparent })
	}
	return out
}

// label is what forms call the field.
func label(p part, field string) string {
	// Fields that a form insists on, so that the kit lists no label for them.
	switch field {
	case "Presence":
		return "a plain mirror"
	case "Aperture":
		return "aperture"
	case "FocalLength":
		return "focal length"
	case "FieldStop":
		return "field stop"
	}
	fields := map[part][]kit.Assumable{ofTelescope: kit.InstrumentFields, ofEyepiece: kit.EyepieceFields, ofAmplifier: kit.AmplifierFields, ofDiagonal: kit.DiagonalFields}[p]
	for _, f := range fields {
		if f.Field == field {
			return f.Label
		}
	}
	return field
}
