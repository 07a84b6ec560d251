package night

import (
	"cmp"
	"slices"

	"duskboard/internal/field"
	"duskboard/internal/kit"
)

// lent is the loose gear that goes to each instrument for the night, by its id.
type lent struct {
	finders   map[int64][]kit.Finder
	dewGear   map[int64][]kit.DewGear
	batteries map[int64][]kit.Battery
}

// GearOf is the dew gear, finders and batteries that an instrument has tonight:
// those that stay with it, and what loose ones were handed to it.
func (s *Sheet) GearOf(i kit.Instrument) field.Gear {
	return field.Gear{
		Finders:   append(ofInstrument(s.Kit.Finders, i.ID, func(f kit.Finder) int64 { return f.ForID }), s.lent.finders[i.ID]...),
		DewGear:   append(ofInstrument(s.Kit.DewGear, i.ID, func(d kit.DewGear) int64 { return d.ForID }), s.lent.dewGear[i.ID]...),
		Batteries: append(ofInstrument(s.Kit.Batteries, i.ID, func(b kit.Battery) int64 { return b.ForID }), s.lent.batteries[i.ID]...),
	}
}

// handOut gives loose finders and dew gear to the instruments, the largest
// first: it dews as soon as any, and shows most. Batteries follow when it is
// known what draws power.
func handOut(k kit.Kit) lent {
	big := slices.Clone(k.Instruments)
	slices.SortStableFunc(big, func(a, b kit.Instrument) int { return cmp.Compare(b.Aperture, a.Aperture) })
	l := lent{finders: handFinders(k, big), batteries: map[int64][]kit.Battery{}}
	l.dewGear = handDewGear(k, big, l.finders)
	return l
}

// handFinders gives every telescope without a finder of its own one, the
// widest finders to the widest telescopes. Binoculars need none.
func handFinders(k kit.Kit, big []kit.Instrument) map[int64][]kit.Finder {
	loose := units(k.Finders, func(f kit.Finder) (int64, int) { return f.ForID, f.Count })
	slices.SortStableFunc(loose, func(a, b kit.Finder) int { return cmp.Compare(b.Aperture, a.Aperture) })
	out := map[int64][]kit.Finder{}
	for _, i := range big {
		own := slices.ContainsFunc(k.Finders, func(f kit.Finder) bool { return f.ForID == i.ID })
		if own || i.Design == kit.Binoculars || len(loose) == 0 {
			continue
		}
		out[i.ID], loose = append(out[i.ID], loose[0]), loose[1:]
	}
	return out
}

// handDewGear gives heaters and shields to exposed fronts that they fit, then
// the heaters left over to the lenses of finders.
func handDewGear(k kit.Kit, big []kit.Instrument, lentFinders map[int64][]kit.Finder) map[int64][]kit.DewGear {
	out := map[int64][]kit.DewGear{}
	for _, d := range units(k.DewGear, func(d kit.DewGear) (int64, int) { return d.ForID, d.Count }) {
		for _, i := range big {
			own := ofInstrument(k.DewGear, i.ID, func(d kit.DewGear) int64 { return d.ForID })
			if wantsOnFront(i, d, append(own, out[i.ID]...)) || wantsOnFinder(k, i, d, lentFinders[i.ID], out[i.ID]) {
				out[i.ID] = append(out[i.ID], d)
				break
			}
		}
	}
	return out
}

// wantsOnFront reports whether a piece helps the front of an instrument that
// has nothing of its kind there.
func wantsOnFront(i kit.Instrument, d kit.DewGear, has []kit.DewGear) bool {
	switch {
	case !exposed(i) || !spans(d, i.Aperture):
		return false
	case d.Kind == kit.Shield && i.DewShield > 0, d.Kind == kit.HeaterStrip && i.Heater > 0:
		return false
	}
	return !slices.ContainsFunc(has, func(x kit.DewGear) bool { return x.Kind == d.Kind && spans(x, i.Aperture) })
}

// wantsOnFinder reports whether a strip fits the lens of an instrument's finder
// that has none yet.
func wantsOnFinder(k kit.Kit, i kit.Instrument, d kit.DewGear, borrowed []kit.Finder, has []kit.DewGear) bool {
	if d.Kind != kit.HeaterStrip {
		return false
	}
	for _, f := range append(ofInstrument(k.Finders, i.ID, func(f kit.Finder) int64 { return f.ForID }), borrowed...) {
		taken := slices.ContainsFunc(has, func(x kit.DewGear) bool { return x.Kind == kit.HeaterStrip && spans(x, f.Aperture) })
		if f.Kind != kit.UnitPower && spans(d, f.Aperture) && !taken {
			return true
		}
	}
	return false
}

// spans reports whether dew gear goes round glass of a diameter in mm; the
// cell around it is up to a quarter wider.
func spans(d kit.DewGear, diameter float64) bool {
	return d.MaxDiameter >= diameter && d.MinDiameter <= 1.25*diameter
}

// exposed reports whether the first glass stands open to the sky.
func exposed(i kit.Instrument) bool {
	return i.Design != kit.Newtonian && i.Design != kit.OtherCassegrain && i.Design != kit.Custom
}

// units lists loose gear piece by piece: what the club has three of stands
// there three times. about says whom a piece stays with and how many there are.
func units[T any](all []T, about func(T) (forID int64, count int)) []T {
	var out []T
	for _, x := range all {
		forID, n := about(x)
		for range max(n, 1) {
			if forID == 0 {
				out = append(out, x)
			}
		}
	}
	return out
}

func ofInstrument[T any](all []T, id int64, forID func(T) int64) []T {
	var out []T
	for _, x := range all {
		if forID(x) == id {
			out = append(out, x)
		}
	}
	return out
}
