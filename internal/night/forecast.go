package night

import (
	"cmp"
	"slices"
	"time"

	"duskboard/internal/field"
	"duskboard/internal/kit"
)

// arriveBefore is how long before the gate opens an instrument stands outside
// at the latest, unless setting it up takes longer (common practice: one hour
// for open tubes).
const arriveBefore = time.Hour

// forecasts computes dew and cool-down for every instrument. Without weather
// there are none, and every page says so.
func (s *Sheet) forecasts() field.Reports {
	if len(s.Weather.Hours) == 0 {
		return nil
	}
	s.looseGear = handOut(s.Kit)
	opts := field.Options{From: s.Night.PublicFrom, To: s.Night.PublicTo(), Zone: s.Zone}
	reports, _ := field.ForecastAll(s.Kit.Instruments, s.gearOf, s.putOut, s.Weather, opts)
	return reports
}

func (s *Sheet) putOut(i kit.Instrument) time.Time {
	lead := max(arriveBefore, time.Duration(i.SetupMinutes)*time.Minute)
	return s.Night.PublicFrom.Add(-lead)
}

// gearOf is the dew gear, finders and batteries that an instrument has tonight:
// those that stay with it, and loose dew gear that fits, given to the largest
// front first, since it dews as soon and shows most.
func (s *Sheet) gearOf(i kit.Instrument) field.Gear {
	return field.Gear{
		Finders:   ofInstrument(s.Kit.Finders, i.ID, func(f kit.Finder) int64 { return f.ForID }),
		DewGear:   append(ofInstrument(s.Kit.DewGear, i.ID, func(d kit.DewGear) int64 { return d.ForID }), s.looseGear[i.ID]...),
		Batteries: ofInstrument(s.Kit.Batteries, i.ID, func(b kit.Battery) int64 { return b.ForID }),
	}
}

// handOut gives loose heaters and shields to the instruments with an exposed
// front that they fit.
func handOut(k kit.Kit) map[int64][]kit.DewGear {
	fronts := slices.Clone(k.Instruments)
	slices.SortStableFunc(fronts, func(a, b kit.Instrument) int { return cmp.Compare(b.Aperture, a.Aperture) })
	out := map[int64][]kit.DewGear{}
	for _, d := range k.DewGear {
		left := max(d.Count, 1)
		for _, i := range fronts {
			if d.ForID != 0 || left == 0 || !exposed(i) || hasKind(out[i.ID], d.Kind) {
				continue
			}
			if i.Aperture >= d.MinDiameter && i.Aperture <= d.MaxDiameter && !(d.Kind == kit.Shield && i.DewShield > 0) {
				out[i.ID] = append(out[i.ID], d)
				left--
			}
		}
	}
	return out
}

// exposed reports whether the first glass stands open to the sky.
func exposed(i kit.Instrument) bool {
	return i.Design != kit.Newtonian && i.Design != kit.OtherCassegrain && i.Design != kit.Custom
}

func hasKind(ds []kit.DewGear, k kit.DewGearKind) bool {
	return slices.ContainsFunc(ds, func(d kit.DewGear) bool { return d.Kind == k })
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
