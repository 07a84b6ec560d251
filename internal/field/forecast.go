package field

import (
	"strings"
	"time"

	"duskboard/internal/kit"
	"duskboard/internal/weather"
)

// forecast carries one instrument's computation.
type forecast struct {
	inst  kit.Instrument
	gear  Gear
	opts  Options
	night night
	first int     // index of the step at which the instrument goes out, or the first after it with weather
	start float64 // temperature of the glass then, degrees C
	body  body
	cool  coolRun
}

// Forecast computes what an instrument's glass does through a night: dew on
// each surface and how far it lags behind the air. Without any weather the
// report says so in State and holds no numbers; that is not an error. Errors
// are for times and instruments that make no sense.
func Forecast(inst kit.Instrument, gear Gear, series weather.Series, opts Options) (Report, error) {
	return (&grids{series: series}).forecast(inst, gear, opts)
}

// grids shares the prepared weather between instruments, a fifth of the work.
type grids struct {
	series weather.Series
	nights map[int64]night // by the instant at which they begin
}

// night is the weather on the grid of the options, which must not differ
// between calls but in PutOut.
func (g *grids) night(o Options) night {
	from := gridStart(o)
	n, ok := g.nights[from.UnixNano()]
	if !ok {
		n = newNight(g.series, o, from, o.To)
		if g.nights == nil {
			g.nights = map[int64]night{}
		}
		g.nights[from.UnixNano()] = n
	}
	return n
}

func (g *grids) forecast(inst kit.Instrument, gear Gear, opts Options) (Report, error) {
	opts, assumed, err := opts.withDefaults()
	if err != nil {
		return Report{}, err
	}
	if !(inst.Aperture > 0) {
		return Report{}, ErrAperture
	}
	r := Report{Instrument: inst.ID, Name: inst.Name, From: opts.From, To: opts.To, PutOut: opts.PutOut, Zone: opts.Zone, Assumed: assumed, lens: hasLens(inst)}
	f := &forecast{inst: inst, gear: gear, opts: opts}
	f.night = g.night(opts)
	f.first = f.night.firstKnown(f.night.index(opts.PutOut))
	if f.first < 0 {
		r.State = NoWeather
		r.Warnings = []Warning{noWeather(inst)}
		return r, nil
	}
	if f.night.steps[f.first].time.After(opts.PutOut) {
		r.assume("the weather begins only at " + opts.clock(f.night.steps[f.first].time) + "; cooling is counted from then")
	}
	start, why := opts.storage(inst, f.night.steps[f.first].temp)
	f.start = start
	r.Storage = start
	r.assume(why)

	if err := f.cooling(&r); err != nil {
		return Report{}, err
	}
	f.dewing(&r)
	f.gaps(&r)
	r.Warnings = f.warn(r)
	return r, nil
}

// gridStart is the first step: early enough to look back for the put-out, and
// a whole number of steps before it.
func gridStart(o Options) time.Time {
	early := o.From.Add(-earliestPutOut)
	if n := o.PutOut.Sub(early) / Step; n > 0 {
		return o.PutOut.Add(-n * Step)
	}
	return o.PutOut
}

func (o Options) clock(t time.Time) string { return t.In(o.Zone).Format("15:04") }

// cooling fills the report's cool-down.
func (f *forecast) cooling(r *Report) error {
	fan := f.inst.Fan && !f.opts.FanOff
	b := bodyOf(f.inst, fan)
	switch {
	case len(f.gear.Readings) >= 2:
		n := len(f.gear.Readings)
		tau, err := MeasuredTau(f.gear.Readings[n-2], f.gear.Readings[n-1])
		if err != nil {
			return err
		}
		b = b.measured(tau, f.gear.ReadingsFan)
	case f.inst.TimeConstant > 0:
		b = b.measured(f.inst.TimeConstant, f.inst.TimeConstantFan)
	default:
		if f.inst.Thickness <= 0 || assumes(f.inst, "thickness") {
			r.assume("a typical thickness of the glass")
		}
	}
	f.body = b
	f.cool = runBody(f.night, b, f.first, f.start)

	gate := f.night.index(f.opts.From)
	tau := b.Tau(reference)
	c := CoolReport{
		What: b.What, Fan: fan, Measured: b.Measured, Tau: tau, TauLow: tau * (1 - b.spread), TauHigh: tau * (1 + b.spread),
		Steps: f.cool.steps(f.night),
	}
	reach := func(magnification float64) Reach {
		limit := Tolerance(magnification)
		if r.lens {
			limit = limit * lensTolerance
			limit = min(limit, maxTolerance)
		}
		x := f.cool.reach(f.night, b, magnification, limit)
		x.PutOutBy = putOutBy(f.night, b, f.inst, f.opts, gate, limit)
		return x
	}
	lo, hi := f.powers()
	c.LowPower, c.HighPower = reach(lo), reach(hi)
	c.Helps = f.helps(c)
	r.Cool = c
	return nil
}

// assumes reports whether a field of the instrument rests on a default.
func assumes(inst kit.Instrument, field string) bool {
	for _, a := range inst.Assumed {
		if strings.EqualFold(a, field) {
			return true
		}
	}
	return false
}

// powers are the magnifications to be ready for: those asked for, the higher
// one up to what the aperture bears (twice its millimetres), or the only one
// of binoculars.
func (f *forecast) powers() (lo, hi float64) {
	if f.inst.Power > 0 {
		return f.inst.Power, f.inst.Power
	}
	hi = min(f.opts.HighPower, 2*f.inst.Aperture)
	return min(f.opts.LowPower, hi), hi
}

// helps lists what shortens the wait, where it is too long.
func (f *forecast) helps(c CoolReport) []string {
	if c.HighPower.State == Reached && !c.HighPower.Likely.After(f.opts.From) {
		return nil
	}
	var out []string
	switch {
	case f.inst.Fan && f.opts.FanOff:
		out = append(out, "switch its fan on")
	case !f.inst.Fan && f.body.Mirror:
		out = append(out, "put a fan behind the mirror")
	case !f.inst.Fan && hasCorrector(f.inst):
		out = append(out, "move the air inside the tube, by vents with a fan")
	}
	if f.start > f.night.steps[f.first].temp+shedAboveAir+1 {
		out = append(out, "keep it in an unheated place before the night")
	}
	if by := c.HighPower.PutOutBy; by.Possible && by.Likely.Before(f.opts.PutOut) {
		out = append(out, "put it out by "+f.opts.clock(by.Likely)+", in the shade, capped and never pointed near the Sun")
	}
	if c.HighPower.State != Reached {
		out = append(out, "show large, faint things at low power with it and leave planets and double stars to others")
	}
	return out
}

// dewing fills the report's surfaces.
func (f *forecast) dewing(r *Report) {
	for _, s := range surfaces(f.inst, f.gear) {
		r.Surfaces = append(r.Surfaces, f.surface(s))
	}
}

func (f *forecast) surface(s Surface) SurfaceReport {
	var glass *coolRun
	if s.Kind == Primary {
		glass = &f.cool
	}
	through := func(s Surface, watts float64) run { return runSurface(f.night, s, f.first, f.start, watts, glass) }

	stands, heat := s, s.Heater
	bareSurface, shieldSurface := s, s
	if s.Kind != Secondary { // its view holds the tube already
		bareSurface.Plate.Shield = 0
	}
	if s.Plate.Shield < 1 { // a full one of its own is all that can be had
		shieldSurface.Plate.Shield = defaultShield
	}
	if f.opts.NoShield && s.Kind != Secondary {
		stands.Plate.Shield = 0
	}
	if f.opts.HeaterOff {
		heat = 0
	}

	now := through(stands, heat)
	out := SurfaceReport{Surface: s, Steps: now.steps(f.night), Onset: now.onset(f.night)}
	unheated := out.Onset
	if heat > 0 {
		unheated = through(stands, 0).onset(f.night)
	}
	out.Bare = unheated
	if bareSurface.Plate.Shield != stands.Plate.Shield {
		out.Bare = through(bareSurface, 0).onset(f.night)
	}
	out.Shielded = out.Bare
	if s.Shieldable {
		out.Shielded = through(shieldSurface, 0).onset(f.night)
	}
	out.Advice = f.advise(s, out, unheated.Level)
	return out
}

// gaps says where weather was missing or stood in for.
func (f *forecast) gaps(r *Report) {
	m := f.night.missing()
	if m&weather.Cloud != 0 {
		r.assume("no cloud was given; dew is computed for a clear sky, up to overcast for the latest time")
	}
	if m&weather.Wind != 0 {
		r.assume("no wind was given; dew is computed for a light one, from calm to moderate")
	}
	for j := f.first; j < len(f.night.steps); j++ {
		x := &f.night.steps[j]
		if x.guessed {
			r.Estimated = true
		}
		if !x.known {
			r.State = PartWeather
		}
	}
	if r.State == PartWeather {
		r.assume("part of the night has no weather and no forecast")
	}
}
