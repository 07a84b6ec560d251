package night

import (
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
	opts := field.Options{From: s.Night.PublicFrom, To: s.Night.PublicTo(), Zone: s.Zone}
	reports, _ := field.ForecastAll(s.Kit.Instruments, s.gearOf, s.putOut, s.Weather, opts)
	return reports
}

func (s *Sheet) putOut(i kit.Instrument) time.Time {
	lead := max(arriveBefore, time.Duration(i.SetupMinutes)*time.Minute)
	return s.Night.PublicFrom.Add(-lead)
}

// gearOf is the dew gear, finders and batteries that belong to an instrument.
// Loose pieces are given out by the departure check, not here.
func (s *Sheet) gearOf(i kit.Instrument) field.Gear {
	return field.Gear{
		Finders:   ofInstrument(s.Kit.Finders, i.ID, func(f kit.Finder) int64 { return f.ForID }),
		DewGear:   ofInstrument(s.Kit.DewGear, i.ID, func(d kit.DewGear) int64 { return d.ForID }),
		Batteries: ofInstrument(s.Kit.Batteries, i.ID, func(b kit.Battery) int64 { return b.ForID }),
	}
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
