package field

import (
	"fmt"
	"math"
	"time"

	"duskboard/internal/kit"
)

// Band is a value with the edges within which it is expected.
type Band struct{ Low, Likely, High float64 }

// Usable shares of the rated capacity and of age.
const (
	leadDepth = 0.5 // lead-acid discharged deeper soon fails; general practice
	ironDepth = 0.9 // lithium iron phosphate; general practice
	agedShare = 0.8 // of a battery of unknown or high age; an engineering choice
)

// leadMaker is a maker's table of what a lead-acid battery gives over more
// than an hour, by temperature; the kinder edge of the band.
var leadMaker = []point{{-18, 0.45}, {0, 0.84}, {5, 0.88}, {10, 0.90}, {15, 0.94}, {25, 1}}

// ironTable is what lithium iron phosphate gives by temperature; general
// practice, from memory.
var ironTable = []point{{-18, 0.70}, {-10, 0.78}, {0, 0.88}, {5, 0.92}, {10, 0.95}, {15, 0.97}, {25, 1}}

// ironSpread is how far that table may be off either way.
const ironSpread = 0.05

type point struct{ x, y float64 }

// along interpolates a table in a straight line and holds its ends.
func along(table []point, x float64) float64 {
	for i, p := range table {
		if x > p.x {
			continue
		}
		if i == 0 {
			return p.y
		}
		q := table[i-1]
		return q.y + (p.y-q.y)*(x-q.x)/(p.x-q.x)
	}
	return table[len(table)-1].y
}

// LeadFactor is the share of its capacity that a lead-acid battery gives at t
// degrees C by the sizing polynomial of IEEE 485, made for -10 to 50 degrees;
// the harsher edge of the band. Above 25 degrees it is 1.
func LeadFactor(t float64) float64 {
	x := math.Max(t, -20) / 100
	needs := -2.8117*x*x*x + 4.1916*x*x - 2.4941*x + 1.405
	return math.Min(1, 1/needs)
}

// ColdFactor is the share of its capacity that a battery gives at t degrees C.
func ColdFactor(k kit.BatteryKind, t float64) Band {
	if k == kit.LiFePO4 {
		f := along(ironTable, t)
		return Band{f - ironSpread, f, math.Min(1, f+ironSpread)}
	}
	a, b := LeadFactor(t), along(leadMaker, t)
	lo, hi := math.Min(a, b), math.Max(a, b)
	return Band{lo, (lo + hi) / 2, hi}
}

// Usable is the energy in Wh that a charged battery gives at t degrees C
// without harm. An unknown kind counts as lead-acid.
func Usable(b kit.Battery, t float64) Band {
	f := ColdFactor(b.Kind, t)
	k := nominalVolts(b) * b.Capacity
	if b.Kind == kit.LiFePO4 {
		k *= ironDepth
	} else {
		k *= leadDepth
	}
	if b.Aged {
		k *= agedShare
	}
	return Band{k * f.Low, k * f.Likely, k * f.High}
}

func nominalVolts(b kit.Battery) float64 {
	switch {
	case b.Voltage > 0:
		return b.Voltage
	case b.Kind == kit.LiFePO4:
		return 12.8
	default:
		return 12
	}
}

// Consumer draws power over some of the night.
type Consumer struct {
	Name     string
	Watts    float64   // while on
	Duty     float64   // share of the time it is on, 0 to 1
	From, To time.Time // zero means the whole time asked about
}

// at is the mean power at t, W.
func (c Consumer) at(t time.Time) float64 {
	if !c.From.IsZero() && t.Before(c.From) || !c.To.IsZero() && !t.Before(c.To) {
		return 0
	}
	return c.Watts * math.Max(0, math.Min(1, c.Duty))
}

// Sufficiency says whether batteries last.
type Sufficiency int

// Answers of [Supply].
const (
	Enough Sufficiency = iota // even in the harsh case
	Tight                     // within the band
	Short                     // not even in the kind case
	NoLoad                    // nothing draws power
)

// Power is what a set of batteries does for a set of consumers.
type Power struct {
	Need   float64 // Wh from beginning to end
	Usable Band    // Wh
	Result Sufficiency
	// When the energy is used up, by an edge of the band each; past the end of
	// the night it goes on at the mean power. All zero with NoLoad.
	UntilLow, Until, UntilHigh time.Time
	// What more to bring to be safe, as rated capacity at 12 V nominal; 0 when
	// it is enough.
	MoreLead, MoreIron float64 // Ah
	Sentence           string
}

// Supply adds up the consumers from from to to against the batteries at t
// degrees C. Batteries of different voltages are added by energy. An end that
// is not after the beginning gives NoLoad.
func Supply(batteries []kit.Battery, consumers []Consumer, from, to time.Time, t float64, zone *time.Location) Power {
	var p Power
	for _, b := range batteries {
		u := Usable(b, t)
		p.Usable.Low += u.Low
		p.Usable.Likely += u.Likely
		p.Usable.High += u.High
	}
	var used []float64 // Wh after each minute
	minutes := int(to.Sub(from) / time.Minute)
	for i := range max(minutes, 0) {
		for _, c := range consumers {
			p.Need += c.at(from.Add(time.Duration(i)*time.Minute)) / 60
		}
		used = append(used, p.Need)
	}
	if p.Need <= 0 {
		p.Result, p.Sentence = NoLoad, "Nothing draws power."
		return p
	}
	p.UntilLow = until(used, p.Usable.Low, from)
	p.Until = until(used, p.Usable.Likely, from)
	p.UntilHigh = until(used, p.Usable.High, from)
	switch {
	case p.Usable.Low >= p.Need:
		p.Result = Enough
	case p.Usable.High >= p.Need:
		p.Result = Tight
	default:
		p.Result = Short
	}
	if lack := p.Need - p.Usable.Low; lack > 0 {
		p.MoreLead = lack / Usable(kit.Battery{Kind: kit.LeadAcid, Capacity: 1, Voltage: 12}, t).Low
		p.MoreIron = lack / Usable(kit.Battery{Kind: kit.LiFePO4, Capacity: 1, Voltage: 12.8}, t).Low
	}
	p.Sentence = p.sentence(len(batteries), to, zone)
	return p
}

// until is when have Wh are used up.
func until(used []float64, have float64, from time.Time) time.Time {
	prev := 0.0
	for i, u := range used {
		if u > have {
			return from.Add(time.Duration((float64(i) + (have-prev)/(u-prev)) * float64(time.Minute)))
		}
		prev = u
	}
	n := float64(len(used))
	rest := (have - prev) / (prev / n) // minutes at the mean power
	return from.Add(time.Duration((n + math.Min(rest, 7*24*60)) * float64(time.Minute)))
}

func (p Power) sentence(batteries int, to time.Time, zone *time.Location) string {
	if zone == nil {
		zone = time.UTC
	}
	clock := func(t time.Time) string { return t.In(zone).Format("15:04") }
	more := fmt.Sprintf("bring %.0f Ah of lead-acid or %.0f Ah of lithium iron phosphate at 12 V more", math.Ceil(p.MoreLead), math.Ceil(p.MoreIron))
	switch {
	case batteries == 0:
		return fmt.Sprintf("No battery is listed for the %.0f Wh it needs: %s.", p.Need, more)
	case p.Result == Enough:
		return fmt.Sprintf("The battery lasts the night: it needs %.0f Wh and has %.0f.", p.Need, p.Usable.Low)
	case p.Result == Tight:
		return fmt.Sprintf("The battery is only just enough: it ends between %s and %s, the night at %s. To be safe %s.", clock(p.UntilLow), clock(p.UntilHigh), clock(to), more)
	default:
		return fmt.Sprintf("The battery ends between %s and %s, before the night does at %s: %s.", clock(p.UntilLow), clock(p.UntilHigh), clock(to), more)
	}
}

// ChargeCaution is what must be said of a battery at t degrees C, or empty.
func ChargeCaution(b kit.Battery, t float64) string {
	if b.Kind == kit.LiFePO4 && t < 0 {
		return "Do not charge a lithium iron phosphate battery below 0 degrees; its own protection may switch it off in the cold. Keep it in a closed box off the ground."
	}
	return ""
}
