package optics

import (
	"fmt"
	"strconv"
	"strings"

	"duskboard/internal/kit"
)

// Train is one optical train. A nil part is absent; a nil Eyepiece belongs to
// binoculars, whose eyepieces are fixed. The parts are filled (kit Fill).
type Train struct {
	Instrument kit.Instrument
	Amplifier  *kit.Amplifier
	Diagonal   *kit.Diagonal
	Eyepiece   *kit.Eyepiece
	Filter     *kit.Filter
}

// Key identifies a train by the ids of its parts, 0 for an absent one. It is
// comparable and serves as the key of a cache.
type Key struct {
	Instrument, Amplifier, Diagonal, Eyepiece, Filter int64
}

// Key returns the train's key.
func (t Train) Key() Key {
	k := Key{Instrument: t.Instrument.ID}
	if t.Amplifier != nil {
		k.Amplifier = t.Amplifier.ID
	}
	if t.Diagonal != nil {
		k.Diagonal = t.Diagonal.ID
	}
	if t.Eyepiece != nil {
		k.Eyepiece = t.Eyepiece.ID
	}
	if t.Filter != nil {
		k.Filter = t.Filter.ID
	}
	return k
}

// String names what is put into the focuser, in the order of the light: "2x
// Barlow, 10 mm" or "fixed eyepieces". The club's own names are used where it
// gave one.
func (t Train) String() string {
	if t.Eyepiece == nil {
		return "fixed eyepieces"
	}
	var parts []string
	if t.Amplifier != nil {
		name := t.Amplifier.Name
		if name == "" {
			name = fmt.Sprintf("%s× %s", number(t.Amplifier.Factor), t.Amplifier.Kind)
		}
		parts = append(parts, name)
	}
	name := t.Eyepiece.Name
	if name == "" {
		name = number(t.Eyepiece.FocalLength) + " mm eyepiece"
	}
	parts = append(parts, name)
	if t.Filter != nil {
		name := t.Filter.Name
		if name == "" {
			name = string(t.Filter.Kind) + " filter"
		}
		parts = append(parts, name)
	}
	return strings.Join(parts, ", ")
}

// behindDiagonal reports whether the light passes a diagonal: one of the kit,
// or the instrument's own where none is listed.
func (t *Train) behindDiagonal() bool {
	return t.Diagonal != nil || t.Instrument.EyepiecePlace == kit.BehindDiagonal && t.Eyepiece != nil
}

// factor is what the amplifier multiplies the focal length by.
func (t *Train) factor() float64 {
	if t.Amplifier != nil && t.Amplifier.Factor > 0 {
		return t.Amplifier.Factor
	}
	return 1
}

// corrected reports whether a coma corrector is in the train.
func (t *Train) corrected() bool {
	return t.Amplifier != nil && t.Amplifier.Kind == kit.Corrector
}

// number prints at most two decimals and no trailing zeros.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
