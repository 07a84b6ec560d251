package night

import (
	"cmp"
	"slices"

	"duskboard/internal/field"
	"duskboard/internal/kit"
)

// coldGuess is how cold batteries are taken to be when nobody knows the
// weather, degrees C.
const coldGuess = 0.0

// InstrumentPower is what one instrument draws through the night, and from
// what.
type InstrumentPower struct {
	Instrument kit.Instrument
	Consumers  []field.Consumer
	Batteries  []kit.Battery // its own and those handed to it
	Supply     field.Power
}

// PowerPlan is the night's power.
type PowerPlan struct {
	Instruments []InstrumentPower // those that draw power, the hungriest first
	Spare       []kit.Battery     // loose ones that nothing needs
	Temp        float64           // of the batteries, degrees C
	Assumed     []string          // what was taken for granted, each a clause
}

// power hands the loose batteries to what draws power and adds it all up.
func (s *Sheet) power() PowerPlan {
	var p PowerPlan
	p.Temp, p.Assumed = s.coldest()
	for _, i := range s.Kit.Instruments {
		x := InstrumentPower{Instrument: i, Consumers: s.consumers(i), Batteries: s.GearOf(i).Batteries}
		x.Supply = s.supply(x, p.Temp)
		if x.Supply.Need > 0 {
			p.Instruments = append(p.Instruments, x)
		}
	}
	slices.SortStableFunc(p.Instruments, func(a, b InstrumentPower) int { return cmp.Compare(b.Supply.Need, a.Supply.Need) })
	loose := units(s.Kit.Batteries, func(b kit.Battery) (int64, int) { return b.ForID, b.Count })
	for k := range p.Instruments {
		x := &p.Instruments[k]
		for x.Supply.Result != field.Enough && len(loose) > 0 {
			n := pickBattery(loose, x.Supply.Need-x.Supply.Usable.Low, p.Temp)
			x.Batteries = append(x.Batteries, loose[n])
			s.lent.batteries[x.Instrument.ID] = append(s.lent.batteries[x.Instrument.ID], loose[n])
			loose = slices.Delete(loose, n, n+1)
			x.Supply = s.supply(*x, p.Temp)
		}
	}
	p.Spare = loose
	return p
}

// pickBattery is the index of the smallest battery that gives lack Wh at t
// degrees C, or of the largest when none does.
func pickBattery(loose []kit.Battery, lack, t float64) int {
	best := 0
	for i, b := range loose {
		have, now := field.Usable(b, t).Low, field.Usable(loose[best], t).Low
		switch {
		case have >= lack && (now < lack || have < now), have < lack && now < lack && have > now:
			best = i
		}
	}
	return best
}

// supply sets an instrument's batteries against what it draws, from put-out to
// the end of the night.
func (s *Sheet) supply(x InstrumentPower, t float64) field.Power {
	return field.Supply(x.Batteries, x.Consumers, s.PlannedPutOut(x.Instrument), s.Night.PublicTo(), t, s.Zone)
}

// consumers is what an instrument draws by its forecast; without weather its
// heaters are counted as if dew came.
func (s *Sheet) consumers(i kit.Instrument) []field.Consumer {
	r, ok := s.Forecasts[i.ID]
	if ok && r.State != field.NoWeather {
		return r.Consumers(i)
	}
	r.From = s.Night.PublicFrom
	r.Cool.Fan = i.Fan && !s.PutOutOf(i.ID).FanOff
	out := r.Consumers(i)
	if i.Heater > 0 {
		out = append(out, field.Consumer{Name: "heater on the front", Watts: i.Heater, Duty: 1})
	}
	for _, d := range s.GearOf(i).DewGear {
		if d.Kind == kit.HeaterStrip && d.Power > 0 {
			out = append(out, field.Consumer{Name: d.Name, Watts: d.Power, Duty: 1})
		}
	}
	return out
}

// coldest is the lowest temperature that batteries in the open meet.
func (s *Sheet) coldest() (float64, []string) {
	low, known := 0.0, false
	for _, r := range s.Forecasts {
		if t, ok := field.Coldest(s.Weather, r); ok && (!known || t < low) {
			low, known = t, true
		}
	}
	if !known {
		return coldGuess, []string{"there is no weather, so batteries are taken to be at 0 degrees and every heater to run"}
	}
	return low, nil
}
