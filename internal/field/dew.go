package field

import (
	"math"
	"time"
)

// Level is how sure dew is.
type Level int

// Levels of dew. The formulas behind it differ by about a kelvin among
// themselves, which is why there is a level between.
const (
	NoDew    Level = iota // stays dry in every case
	Possible              // in the cold case, or within 1.5 K
	Likely                // in the likely case
)

// String is "none", "possible" or "likely".
func (l Level) String() string { return [...]string{"none", "possible", "likely"}[l] }

// possibleMargin is how near to the dew point counts as possible, K.
const possibleMargin = 1.5

// Deposit is what forms on the glass.
type Deposit string

// Deposits. Just below freezing the first of it is often still liquid.
const (
	Dew   Deposit = "dew"
	Frost Deposit = "frost"
)

// DewStep is a surface at one instant. Temperatures are degrees C.
type DewStep struct {
	Time       time.Time
	Air        float64
	Point      float64 // where moisture settles: the dew point, or the frost point below freezing
	Surface    float64 // likely
	Low, High  float64 // of the surface
	Margin     float64 // Surface minus Point, K; negative is wet
	MarginLow  float64 // in the cold, moist case
	MarginHigh float64 // in the warm, dry case
	Level      Level
	Deposit    Deposit
	Known      bool // false where there is no weather; all else is then zero
}

// Onset is when a surface becomes wet.
type Onset struct {
	Level    Level
	Earliest time.Time // in the cold case; zero when even that stays dry
	Likely   time.Time // zero unless the level is Likely
	Latest   time.Time // in the warm case; zero when that stays dry
	Deposit  Deposit   // at the first of these times
}

// run is the temperature of a surface through the night, in kelvin above the
// air, by case.
type run struct {
	first int // index of the step of put-out
	above [nCases][]float64
}

// runSurface steps a surface through the night from index i, at which it has
// start degrees C. glass, when not nil, is the temperature of a mirror from
// the cool-down by step and case, to which the plate only adds its own loss.
// watts is what a strip draws.
func runSurface(n night, s Surface, i int, start, watts float64, glass *coolRun) run {
	p := s.Plate
	if s.Diameter > 0 {
		p.Heat = watts * StripEfficiency / area(s.Diameter)
	}
	r := run{first: i}
	for k := range nCases {
		above := make([]float64, len(n.steps))
		var temp, goal float64
		last := -1
		for j := i; j >= 0 && j < len(n.steps); j++ {
			x := &n.steps[j]
			if !x.known {
				continue
			}
			e := x.exposure(k, s.Wind)
			rest := p.Rest(e).Surface
			switch {
			case glass != nil:
				above[j] = glass.delta[glass.caseFor(k)][j] + rest
			case last < 0:
				temp, goal = start, x.temp+rest
				above[j] = temp - x.temp
			default:
				// Over the step the goal goes in a straight line.
				dt := x.time.Sub(n.steps[last].time).Seconds()
				now := x.temp + rest
				tau := p.pace(e, temp, now)
				lag := (now - goal) / dt * tau
				temp = now - lag + (temp-goal+lag)*math.Exp(-dt/tau)
				goal = now
				above[j] = temp - x.temp
			}
			last = j
		}
		r.above[k] = above
	}
	return r
}

// steps turns a run into what a chart shows.
func (r run) steps(n night) []DewStep {
	out := make([]DewStep, 0, len(n.steps))
	for j := max(r.first, 0); j < len(n.steps); j++ {
		x := &n.steps[j]
		d := DewStep{Time: x.time, Deposit: Dew}
		if x.known {
			a, b, c := r.above[likely][j], r.above[cold][j], r.above[warm][j]
			d.Known, d.Air, d.Point = true, x.temp, x.deposit[likely]
			d.Surface = x.temp + a
			d.Low, d.High = x.temp+math.Min(a, math.Min(b, c)), x.temp+math.Max(a, math.Max(b, c))
			d.Margin, d.MarginLow, d.MarginHigh = r.margin(n, likely, j), r.margin(n, cold, j), r.margin(n, warm, j)
			d.Level = level(d.Margin, d.MarginLow)
			if d.Point < 0 {
				d.Deposit = Frost
			}
		}
		out = append(out, d)
	}
	return out
}

// margin is how far the surface lies above the point at which it gets wet.
func (r run) margin(n night, k, j int) float64 {
	x := &n.steps[j]
	return x.temp + r.above[k][j] - x.deposit[k]
}

// level judges one instant.
func level(margin, low float64) Level {
	switch {
	case margin <= 0:
		return Likely
	case margin <= possibleMargin || low <= 0:
		return Possible
	default:
		return NoDew
	}
}

// onset finds the first wet step of each case.
func (r run) onset(n night) Onset {
	o := Onset{Deposit: Dew}
	var first [nCases]time.Time
	seen := false
	for j := max(r.first, 0); j < len(n.steps); j++ {
		x := &n.steps[j]
		if !x.known {
			continue
		}
		for k := range nCases {
			if r.margin(n, k, j) <= 0 && first[k].IsZero() {
				first[k] = x.time
				if !seen && x.deposit[k] < 0 {
					o.Deposit = Frost
				}
				seen = true
			}
		}
		o.Level = max(o.Level, level(r.margin(n, likely, j), r.margin(n, cold, j)))
	}
	o.Earliest, o.Likely, o.Latest = first[cold], first[likely], first[warm]
	// Cases can cross when a front comes through; a band still runs one way.
	if !o.Likely.IsZero() && (o.Earliest.IsZero() || o.Likely.Before(o.Earliest)) {
		o.Earliest = o.Likely
	}
	if !o.Latest.IsZero() && o.Latest.Before(o.Likely) {
		o.Latest = o.Likely
	}
	return o
}

// need is the greatest strip power in W over the steps from i on that holds a
// surface at margin above its wet point, in case k.
func (s Surface) need(n night, i, k int, margin float64) float64 {
	most := 0.0
	for j := max(i, 0); j < len(n.steps); j++ {
		x := &n.steps[j]
		if !x.known {
			continue
		}
		e := x.exposure(k, s.Wind)
		rest := x.temp + s.Plate.Rest(e).Surface
		most = math.Max(most, GlassHeat(s.Diameter, s.Plate.Stiffness(e), rest, x.deposit[k], margin))
	}
	return StripPower(most)
}
