package field

import (
	"math"

	"duskboard/internal/kit"
	"duskboard/internal/weather"
)

const (
	// fanWatts is a computer fan behind a mirror; common practice.
	fanWatts = 2.0
	// dutyFloor is the least duty of a heater that runs at all: controllers
	// keep glass warm before it gets wet.
	dutyFloor = 0.3
)

// Consumers lists what an instrument draws tonight: its drive, the heaters
// that its forecast calls for, its fan. Lamps and laptops are for the caller
// to add. A heater that dew does not call for is not counted.
func (r Report) Consumers(inst kit.Instrument) []Consumer {
	var out []Consumer
	if inst.MountPower > 0 {
		out = append(out, Consumer{Name: "drive", Watts: inst.MountPower, Duty: 1, From: r.From})
	}
	if r.Cool.Fan {
		out = append(out, Consumer{Name: "fan", Watts: fanWatts, Duty: 1})
	}
	for _, s := range r.Surfaces {
		if s.Surface.Heater <= 0 || s.Bare.Level == NoDew {
			continue
		}
		duty := 1.0 // when the advice is another gear, the strip runs as insurance
		if s.Advice.Watts > 0 {
			duty = math.Max(dutyFloor, math.Min(1, s.Advice.Watts/s.Surface.Heater))
		} else if s.Advice.Action == FitShield && s.Advice.Have {
			duty = dutyFloor
		}
		out = append(out, Consumer{Name: "heater on the " + s.Surface.Name, Watts: s.Surface.Heater, Duty: duty})
	}
	return out
}

// Power weighs the batteries that go with the instrument against what it draws
// tonight and more, in the coldest air of the night, from put-out to the end.
// It is false without weather, for the cold decides what a battery gives.
func (r Report) Power(inst kit.Instrument, gear Gear, s weather.Series, more []Consumer) (Power, bool) {
	t, ok := Coldest(s, r)
	if !ok {
		return Power{}, false
	}
	return Supply(gear.Batteries, append(r.Consumers(inst), more...), r.PutOut, r.To, t, r.Zone), true
}

// PowerWarning turns what [Supply] found for an instrument into a warning,
// and is false when there is nothing to warn of.
func PowerWarning(id int64, p Power) (Warning, bool) {
	w := Warning{Subject: "power", Instrument: id, Sentence: p.Sentence}
	switch p.Result {
	case Short:
		w.Importance, w.At = Spoils, p.UntilLow
	case Tight:
		w.Importance, w.At = Caution, p.UntilLow
	default:
		return Warning{}, false
	}
	return w, true
}

// Coldest is the lowest air temperature in degrees C of the series from the
// hours that it knows between the report's beginning and end, for batteries
// that stand in the open; false without weather.
func Coldest(s weather.Series, r Report) (float64, bool) {
	low, ok := math.Inf(1), false
	for _, h := range s.Sample(r.PutOut, r.To, Step*6) {
		low, ok = math.Min(low, h.Temp), true
	}
	return low, ok
}
