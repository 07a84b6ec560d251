package web

import (
	"time"

	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/sky"
)

// care is what the operator must mind all night: the Sun, dew, heater,
// battery, cool-down, alignment, and not to walk away.
func (c cardWriter) care(inst kit.Instrument) []string {
	var out []string
	sh := c.sh
	if until, up := c.sunUntil(); up || c.showsSun(inst) {
		out = append(out, c.w.say("care.sun", c.clock(until)))
	}
	if inst.NeedsCollimation {
		out = append(out, c.w.say("care.align"))
	}
	if r, ok := sh.Forecasts[inst.ID]; ok && r.State != field.NoWeather {
		out = append(out, c.dew(r)...)
		out = append(out, c.cool(r)...)
		out = append(out, c.battery(inst, r)...)
	} else {
		out = append(out, c.w.say("care.noWeather"))
	}
	if inst.Fan {
		out = append(out, c.w.say("care.fan"))
	}
	return append(out, c.w.say("care.bumped"), c.w.say("care.leave"))
}

// sunUntil is when the Sun sets, or the end of the public hours where it does
// not; false when it is down before the gate opens.
func (c cardWriter) sunUntil() (time.Time, bool) {
	n := c.sh.Night
	switch set := c.sh.Twilights.Sunset; {
	case set.State == sky.AlwaysAbove:
		return n.PublicTo(), true
	case set.State == sky.Happens:
		return set.Time, n.PublicFrom.Before(set.Time)
	}
	return n.PublicFrom, false
}

func (c cardWriter) showsSun(inst kit.Instrument) bool {
	for _, s := range c.sh.Showings {
		if s.InstrumentID == inst.ID && s.TargetID == "sun" {
			return true
		}
	}
	return false
}

// dew tells the surface that gets wet first, and what keeps it dry.
func (c cardWriter) dew(r field.Report) []string {
	worst := -1
	for i, s := range r.Surfaces {
		if s.Onset.Level == field.NoDew {
			continue
		}
		if worst < 0 || sooner(s.Onset, r.Surfaces[worst].Onset) {
			worst = i
		}
	}
	if worst < 0 {
		return []string{c.w.say("care.dewNone")}
	}
	s := r.Surfaces[worst]
	what := c.w.say("surface." + string(s.Surface.Kind))
	line := ""
	if s.Onset.Level == field.Likely {
		line = c.w.say("care.dewLikely", what, c.clock(s.Onset.Likely), c.w.say("care.dewBand", c.clock(s.Onset.Earliest)))
	} else {
		line = c.w.say("care.dewPossible", what, c.clock(s.Onset.Earliest))
	}
	if do := c.w.say("care.do." + string(s.Advice.Action)); do != "" {
		line += " " + do
	}
	return []string{line}
}

// sooner orders likely dew before possible, then by the hour.
func sooner(a, b field.Onset) bool {
	if a.Level != b.Level {
		return a.Level > b.Level
	}
	return a.Earliest.Before(b.Earliest)
}

// cool tells from when the glass is near enough to the air for high power,
// where that is not before the gate opens anyway.
func (c cardWriter) cool(r field.Report) []string {
	h := r.Cool.HighPower
	switch {
	case h.State == field.Reached && h.Likely.After(c.sh.Night.PublicFrom):
		return []string{c.w.say("care.coolGood", int(h.Magnification), c.clock(h.Likely))}
	case h.State == field.Never || h.State == field.TooLate:
		return []string{c.w.say("care.coolLate", int(h.Magnification))}
	}
	return nil
}

// battery tells how long the batteries that stay with the instrument last.
func (c cardWriter) battery(inst kit.Instrument, r field.Report) []string {
	consumers := r.Consumers(inst)
	if len(consumers) == 0 {
		return nil
	}
	var own []kit.Battery
	for _, b := range c.sh.Kit.Batteries {
		if b.ForID == inst.ID {
			own = append(own, b)
		}
	}
	if len(own) == 0 {
		return []string{c.w.say("care.batteryMissing")}
	}
	cold, known := field.Coldest(c.sh.Weather, r)
	if !known {
		cold = 0
	}
	p := field.Supply(own, consumers, r.PutOut, c.sh.Night.PublicTo(), cold, c.sh.Zone)
	switch p.Result {
	case field.NoLoad:
		return nil
	case field.Enough:
		return []string{c.w.say("care.batteryEnough")}
	}
	round := func(t time.Time) string { return c.clock(t.Round(5 * time.Minute)) }
	return []string{c.w.say("care.battery", round(p.Until), round(p.UntilLow), round(p.UntilHigh))}
}
