package night

import (
	"time"

	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/sky"
)

const (
	// arriveBefore is how long before the gate opens an instrument stands
	// outside at the latest, unless setting it up takes longer (common practice:
	// one hour for open tubes).
	arriveBefore = time.Hour
	// longestLead is the earliest that a club is asked to put an instrument out
	// before the gate opens (common practice: crews arrive up to two hours
	// before). What needs longer stands outdoors at home first.
	longestLead = 2 * time.Hour
)

// forecasts computes dew and cool-down for every instrument. Without weather
// there are none, and every page says so. An instrument whose numbers make no
// sense has none either; its form says what is wrong.
func (s *Sheet) forecasts() field.Reports {
	if len(s.Weather.Hours) == 0 {
		return nil
	}
	out := field.Reports{}
	for _, i := range s.Kit.Instruments {
		opts := s.fieldOptions(i)
		opts.PutOut = s.usualPutOut(i)
		r, err := field.Forecast(i, s.GearOf(i), s.Weather, opts)
		if err != nil {
			continue
		}
		if at := s.plannedPutOut(i, r); !at.Equal(opts.PutOut) {
			opts.PutOut = at
			if again, err := field.Forecast(i, s.GearOf(i), s.Weather, opts); err == nil {
				r = again
			}
		}
		out[i.ID] = r
	}
	return out
}

// fieldOptions is what the night decides about an instrument.
func (s *Sheet) fieldOptions(i kit.Instrument) field.Options {
	o := field.Options{From: s.Night.PublicFrom, To: s.Night.PublicTo(), Zone: s.Zone}
	if set := s.Twilights.Sunset; set.State == sky.Happens {
		o.Uncap = set.Time
	}
	p := s.PutOutOf(i.ID)
	o.StorageTemp, o.FanOff = p.StorageTemp, p.FanOff
	return o
}

// PutOutOf is what was said about handling an instrument this night.
func (s *Sheet) PutOutOf(instrument int64) PutOut {
	for _, p := range s.PutOuts {
		if p.InstrumentID == instrument {
			return p
		}
	}
	return PutOut{InstrumentID: instrument}
}

func (s *Sheet) usualPutOut(i kit.Instrument) time.Time {
	lead := max(arriveBefore, time.Duration(i.SetupMinutes)*time.Minute)
	return s.Night.PublicFrom.Add(-lead)
}

// plannedPutOut is when an instrument goes outdoors: when somebody said so,
// then; else as early as it needs to be ready for high power, within what a
// crew is asked for.
func (s *Sheet) plannedPutOut(i kit.Instrument, r field.Report) time.Time {
	if p := s.PutOutOf(i.ID); !p.At.IsZero() && p.At.Before(s.Night.PublicTo()) {
		return p.At
	}
	usual, earliest := s.usualPutOut(i), s.Night.PublicFrom.Add(-longestLead)
	switch by := r.Cool.HighPower.PutOutBy; {
	case !by.Possible && r.State == field.NoWeather:
		return usual
	case !by.Possible, by.Likely.Before(earliest):
		return minTime(usual, earliest)
	default:
		return minTime(usual, by.Likely)
	}
}

func minTime(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

// PlannedPutOut is when an instrument goes outdoors this night.
func (s *Sheet) PlannedPutOut(i kit.Instrument) time.Time {
	if r, ok := s.Forecasts[i.ID]; ok {
		return r.PutOut
	}
	if p := s.PutOutOf(i.ID); !p.At.IsZero() {
		return p.At
	}
	return s.usualPutOut(i)
}
