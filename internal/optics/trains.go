package optics

import (
	"duskboard/internal/kit"
)

// Trains returns the sensible trains of an instrument with the kit: all that
// can be put together ([AllTrains]) without those that another one beats for
// every target ([Prune]). Filters are left out; [Train.Filtered] adds those
// that help a target. Nil when nothing fits; [NoTrain] then says why.
func Trains(k kit.Kit, inst kit.Instrument) []Train {
	return Prune(AllTrains(k, inst))
}

// AllTrains returns every train that barrels, designs and back focus allow.
// Retired gear is left out, unfilled gear is filled. Eyepieces come in the
// order of the kit, each first without and then with the amplifiers.
func AllTrains(k kit.Kit, inst kit.Instrument) []Train {
	inst = inst.Fill()
	if inst.Design == kit.Binoculars {
		return []Train{{Instrument: inst}}
	}
	amplifiers := []*kit.Amplifier{nil}
	for _, a := range usable(k.Amplifiers, kit.Amplifier.Fill, func(a kit.Amplifier) bool { return !a.Retired }) {
		if a.Fits(inst.Design) {
			amplifiers = append(amplifiers, a)
		}
	}
	diagonals := diagonalsFor(k, inst)
	var out []Train
	for _, e := range usable(k.Eyepieces, kit.Eyepiece.Fill, func(e kit.Eyepiece) bool { return !e.Retired }) {
		for _, a := range amplifiers {
			if t, ok := best(inst, a, diagonals, e); ok {
				out = append(out, t)
			}
		}
	}
	return out
}

// usable returns pointers to filled copies of what passes keep.
func usable[T any](all []T, fill func(T) T, keep func(T) bool) []*T {
	var out []*T
	for _, one := range all {
		if keep(one) {
			full := fill(one)
			out = append(out, &full)
		}
	}
	return out
}

// diagonalsFor returns the diagonals that may serve: those that stay with the
// instrument, else the loose ones, else nil for the instrument's own, which
// nobody entered. Newtonians and straight-through tubes take none.
func diagonalsFor(k kit.Kit, inst kit.Instrument) []*kit.Diagonal {
	if inst.EyepiecePlace != kit.BehindDiagonal {
		return []*kit.Diagonal{nil}
	}
	fits := func(id int64) []*kit.Diagonal {
		return usable(k.Diagonals, kit.Diagonal.Fill, func(d kit.Diagonal) bool {
			return !d.Retired && d.ForID == id && enters(d.Fill().Barrel, inst.Focuser)
		})
	}
	if own := fits(inst.ID); inst.ID != 0 && len(own) > 0 {
		return own
	}
	if loose := fits(0); len(loose) > 0 {
		return loose
	}
	return []*kit.Diagonal{nil}
}

// Through returns the train with another loose diagonal of the kit in the place
// of its own; false where none belongs or the parts do not go together.
func (t Train) Through(d *kit.Diagonal) (Train, bool) {
	if t.Diagonal == nil || t.Diagonal.ForID != 0 || d.ForID != 0 || d.Retired || t.Diagonal.ID == d.ID {
		return Train{}, false
	}
	full := d.Fill()
	t.Diagonal = &full
	return t, t.assembles()
}

// enters reports whether a barrel goes into an opening: its own size, or 1.25
// inch into 2 inch through the adapter that every 2 inch focuser has. Never
// the other way round.
func enters(barrel, opening kit.Barrel) bool {
	return barrel == opening || barrel == kit.Barrel125 && opening == kit.Barrel2
}

// best puts the parts together with the diagonal that passes the widest
// field; at equal width a plain mirror, which is sharper at high power than a
// roof edge, then the first in the kit.
func best(inst kit.Instrument, a *kit.Amplifier, diagonals []*kit.Diagonal, e *kit.Eyepiece) (Train, bool) {
	var found Train
	var width float64
	for _, d := range diagonals {
		t := Train{Instrument: inst, Amplifier: a, Diagonal: d, Eyepiece: e}
		if !t.assembles() {
			continue
		}
		w := t.numbers().TrueField
		plainer := found.Diagonal != nil && d != nil && found.Diagonal.Kind != kit.Mirror90 && d.Kind == kit.Mirror90
		if found.Eyepiece == nil || w > width*1.0001 || w > width*0.9999 && plainer {
			found, width = t, w
		}
	}
	return found, found.Eyepiece != nil
}

// assembles reports whether each part enters the one before it and the light
// still comes to focus behind them.
func (t Train) assembles() bool {
	opening := t.Instrument.Focuser
	pass := func(b kit.Barrel) bool {
		ok := enters(b, opening)
		opening = b
		return ok
	}
	if t.Diagonal != nil && !pass(t.Diagonal.Barrel) {
		return false
	}
	// The reducer of a Cassegrain screws onto the rear cell in front of
	// everything, so it takes no part in the chain of barrels.
	threaded := t.Amplifier != nil && t.Amplifier.Kind == kit.Reducer && isCassegrain(t.Instrument.Design)
	if t.Amplifier != nil && !threaded && !pass(t.Amplifier.Barrel) {
		return false
	}
	return pass(t.Eyepiece.Barrel) && t.focuses()
}

func isCassegrain(d kit.Design) bool {
	return d == kit.SchmidtCassegrain || d == kit.MaksutovCassegrain || d == kit.OtherCassegrain
}

// focuses reports whether the room behind the focuser holds the diagonal and
// what the amplifier needs. A room that the club did not measure forbids
// nothing: the train stays, with its mark.
func (t Train) focuses() bool {
	need, known := 0.0, !assumes(t.Instrument.Assumed, "BackFocus")
	if t.Diagonal != nil && (t.Amplifier == nil || t.Amplifier.Kind != kit.Barlow) {
		// Through a Barlow lens the diagonal's path no longer counts: the
		// lens pushes the focus outwards.
		need += t.Diagonal.PathUsed
		known = known && !assumes(t.Diagonal.Assumed, "PathUsed")
	}
	if t.Amplifier != nil {
		need += t.Amplifier.BackFocus
		known = known && !assumes(t.Amplifier.Assumed, "BackFocus")
	}
	return !known || need <= t.Instrument.BackFocus
}

// Filtered returns the train once for each filter of the wanted kinds that
// finds a thread in it, without the train as it is. Binoculars take none.
func (t Train) Filtered(k kit.Kit, kinds ...kit.FilterKind) []Train {
	if t.Eyepiece == nil {
		return nil
	}
	var out []Train
	for _, f := range usable(k.Filters, kit.Filter.Fill, func(f kit.Filter) bool { return !f.Retired }) {
		for _, kind := range kinds {
			if f.Kind == kind && t.threads(f.Barrel) {
				with := t
				with.Filter = f
				out = append(out, with)
			}
		}
	}
	return out
}

// threads reports whether a filter of the barrel finds a thread in the train.
// Every part that is pushed in has one at its nose: eyepiece, Barlow lens,
// corrector and diagonal; and the adapter from 1.25 to 2 inch has one for 2
// inch (common practice). So a 1.25 inch filter needs a part of 1.25 inch,
// and what comes before an eyepiece of 2 inch is never that narrow; a 2 inch
// filter goes wherever the focuser is 2 inch, in front of all or of the
// adapter, whatever the eyepiece.
func (t Train) threads(b kit.Barrel) bool {
	if b == kit.Barrel2 {
		return t.Instrument.Focuser == kit.Barrel2
	}
	return b == t.Eyepiece.Barrel
}

// NoTrain says in a sentence why the instrument has no train with the kit;
// "" when it has one.
func NoTrain(k kit.Kit, inst kit.Instrument) string {
	if len(AllTrains(k, inst)) > 0 {
		return ""
	}
	inst = inst.Fill()
	pieces, entering := 0, 0
	for _, e := range k.Eyepieces {
		if e.Retired {
			continue
		}
		pieces++
		if enters(e.Fill().Barrel, inst.Focuser) {
			entering++
		}
	}
	switch {
	case pieces == 0:
		return "No eyepiece comes to this night."
	case entering == 0:
		return "No eyepiece of the night fits its " + inches(inst.Focuser) + " focuser."
	}
	return "No eyepiece comes to focus behind its diagonal."
}

func inches(b kit.Barrel) string {
	if b == kit.Barrel2 {
		return "2 inch"
	}
	return "1.25 inch"
}
