package field

import (
	"sort"
	"time"

	"duskboard/internal/kit"
	"duskboard/internal/weather"
)

// State says how much weather a report rests on.
type State int

// States of a report.
const (
	FullWeather State = iota
	PartWeather       // some of the night has none
	NoWeather         // none of it has; the report holds no numbers
)

// Report is the forecast of one instrument for one night.
type Report struct {
	Instrument int64 // its ID
	Name       string
	From, To   time.Time // gate open to closed
	PutOut     time.Time
	Zone       *time.Location
	State      State
	Estimated  bool    // some of the weather was made from its neighbours
	Storage    float64 // temperature of the glass when put out, degrees C
	Surfaces   []SurfaceReport
	Cool       CoolReport
	Warnings   []Warning // most important first
	Assumed    []string  // what was taken for granted, each a clause

	lens bool
}

// SurfaceReport is the dew of one surface. Steps and Onset are for the gear
// that goes with it tonight.
type SurfaceReport struct {
	Surface  Surface
	Steps    []DewStep // every [Step] from put-out to the end
	Onset    Onset
	Bare     Onset // without shield and heater
	Shielded Onset // with a shield, its own or one of 1.5 widths, and no heater
	Advice   Advice
}

// CoolReport is the cool-down of the slowest part.
type CoolReport struct {
	What                 string  // "primary mirror" or "objective"
	Fan                  bool    // a fan runs
	Measured             bool    // the time constant is the club's own
	Tau, TauLow, TauHigh float64 // hours, at 5 K from the air
	Steps                []CoolStep
	LowPower, HighPower  Reach
	Helps                []string // what shortens the wait; nil when there is none to shorten
}

func (r *Report) assume(why string) {
	if why != "" {
		r.Assumed = append(r.Assumed, why)
	}
}

// CoolState is the glass against the air at t, and false without weather or
// outside the time from put-out to the end.
func (r Report) CoolState(t time.Time) (CoolStep, bool) {
	i, f, ok := place(t, len(r.Cool.Steps), func(i int) time.Time { return r.Cool.Steps[i].Time })
	if !ok {
		return CoolStep{}, false
	}
	a := r.Cool.Steps[i]
	if f == 0 {
		return a, a.Known
	}
	b := r.Cool.Steps[i+1]
	if !a.Known || !b.Known {
		return CoolStep{}, false
	}
	lin := func(x, y float64) float64 { return x + (y-x)*f }
	return CoolStep{t, lin(a.Air, b.Air), lin(a.Delta, b.Delta), lin(a.Low, b.Low), lin(a.High, b.High), true}, true
}

// DewState is a surface at t: the step at or before it. It is false when the
// instrument has no such surface, and without weather or outside the time from
// put-out to the end.
func (r Report) DewState(k Kind, t time.Time) (DewStep, bool) {
	for _, s := range r.Surfaces {
		if s.Surface.Kind != k {
			continue
		}
		i, _, ok := place(t, len(s.Steps), func(i int) time.Time { return s.Steps[i].Time })
		if !ok {
			return DewStep{}, false
		}
		return s.Steps[i], s.Steps[i].Known
	}
	return DewStep{}, false
}

// WorstDew is the surface nearest to getting wet at t, as the gear stands, and
// false without weather.
func (r Report) WorstDew(t time.Time) (Surface, DewStep, bool) {
	var worst DewStep
	var which Surface
	found := false
	for _, s := range r.Surfaces {
		i, _, ok := place(t, len(s.Steps), func(i int) time.Time { return s.Steps[i].Time })
		if !ok || !s.Steps[i].Known {
			continue
		}
		if !found || s.Steps[i].Margin < worst.Margin {
			worst, which, found = s.Steps[i], s.Surface, true
		}
	}
	return which, worst, found
}

// place finds the step at or before t and how far t lies towards the next.
func place(t time.Time, n int, at func(int) time.Time) (i int, f float64, ok bool) {
	if n == 0 || t.Before(at(0)) || t.After(at(n-1).Add(Step-1)) {
		return 0, 0, false
	}
	i = min(int(t.Sub(at(0))/Step), n-1)
	if i == n-1 {
		return i, 0, true
	}
	return i, float64(t.Sub(at(i))) / float64(Step), true
}

// Seeing is the blur in arcseconds that a sky of the given seeing and the
// instrument's own warm glass make together at t; false without weather.
func (r Report) Seeing(sky float64, t time.Time) (float64, bool) {
	c, ok := r.CoolState(t)
	if !ok {
		return sky, false
	}
	d := c.Delta
	if r.lens {
		d /= lensTolerance
	}
	return CombineSeeing(sky, MirrorSeeing(d)), true
}

// Reports is a night's forecast of several instruments by their ID.
type Reports map[int64]Report

// ForecastAll forecasts every instrument. gear returns what goes with one, and
// putOut when it goes out; both may be nil.
func ForecastAll(insts []kit.Instrument, gear func(kit.Instrument) Gear, putOut func(kit.Instrument) time.Time, series weather.Series, opts Options) (Reports, error) {
	out := make(Reports, len(insts))
	shared := grids{series: series}
	for _, inst := range insts {
		var g Gear
		if gear != nil {
			g = gear(inst)
		}
		o := opts
		if putOut != nil {
			o.PutOut = putOut(inst)
		}
		r, err := shared.forecast(inst, g, o)
		if err != nil {
			return nil, &InstrumentError{inst.ID, inst.Name, err}
		}
		out[inst.ID] = r
	}
	return out, nil
}

// InstrumentError is an error of one instrument of several.
type InstrumentError struct {
	ID   int64
	Name string
	Err  error
}

// Error names the instrument.
func (e *InstrumentError) Error() string { return e.Name + ": " + e.Err.Error() }

// Unwrap gives the error underneath.
func (e *InstrumentError) Unwrap() error { return e.Err }

// CoolState is [Report.CoolState] of an instrument, false for an unknown one.
func (rs Reports) CoolState(id int64, t time.Time) (CoolStep, bool) { return rs[id].CoolState(t) }

// DewState is [Report.DewState] of an instrument, false for an unknown one.
func (rs Reports) DewState(id int64, k Kind, t time.Time) (DewStep, bool) {
	return rs[id].DewState(k, t)
}

// Warnings is every instrument's, most important first.
func (rs Reports) Warnings() []Warning {
	ids := make([]int64, 0, len(rs))
	for id := range rs {
		ids = append(ids, id)
	}
	sort.Slice(ids, func(i, j int) bool { return ids[i] < ids[j] })
	var ws []Warning
	for _, id := range ids {
		ws = append(ws, rs[id].Warnings...)
	}
	return SortWarnings(ws)
}
