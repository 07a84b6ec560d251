package field

import (
	"math"
	"time"

	"duskboard/internal/kit"
)

// CoolStep is the glass against the air at one instant, in kelvin; positive is
// warmer than the air.
type CoolStep struct {
	Time      time.Time
	Air       float64 // degrees C
	Delta     float64 // likely
	Low, High float64 // fast and slow edge of the band
	Known     bool    // false where there is no weather; all else is then zero
}

// ReachState says whether a limit is reached.
type ReachState int

// States of a [Reach].
const (
	Reached  ReachState = iota // within the night, or from its beginning
	TooLate                    // it would be, but not before the night ends
	Never                      // the air falls faster than the glass follows
	NotKnown                   // no weather
)

// Reach is when the glass is near enough to the air for a magnification.
type Reach struct {
	Magnification float64
	Limit         float64 // K
	State         ReachState
	Earliest      time.Time // with a fast cooling; zero when not in the night
	Likely        time.Time // zero unless State is Reached
	Latest        time.Time // with a slow cooling; zero when not in the night
	Good          []Span    // when it holds, in the likely case
	Lag           float64   // K by which the glass trails the falling air at last
	PutOutBy      PutOutBy  // to be good when the gate opens
}

// Span is a stretch of time.
type Span struct{ From, To time.Time }

// PutOutBy answers when the instrument must go outdoors.
type PutOutBy struct {
	Possible bool
	Likely   time.Time // in the likely case
	Safe     time.Time // with slow cooling; zero when not possible
	Why      string    // when not possible
}

// coolRun is the difference between glass and air by step in three cases:
// likely, fast, slow.
type coolRun struct {
	first int
	delta [3][]float64
}

// Indices of coolRun.delta.
const (
	coolLikely = iota
	coolFast
	coolSlow
)

// caseFor picks the cool-down that goes with a case of dew: colder glass gets
// wet earlier.
func (coolRun) caseFor(k int) int {
	return [...]int{likely: coolLikely, cold: coolFast, warm: coolSlow}[k]
}

// taus are the factors on the time constant of each case.
func (b body) taus() [3]float64 {
	return [3]float64{coolLikely: 1, coolFast: 1 - b.spread, coolSlow: 1 + b.spread}
}

// runBody cools a body from start degrees C at step i.
func runBody(n night, b body, i int, start float64) coolRun {
	r := coolRun{first: i}
	for k, f := range b.taus() {
		r.delta[k] = make([]float64, len(n.steps))
		coolFrom(n, b, f, i, start, r.delta[k])
	}
	return r
}

// coolFrom fills out from step i on. Over a step the air goes in a straight
// line and the time constant is that of its beginning, which is exact for a
// constant one.
func coolFrom(n night, b body, factor float64, i int, start float64, out []float64) {
	last := -1
	for j := i; j >= 0 && j < len(n.steps); j++ {
		x := &n.steps[j]
		if !x.known {
			continue
		}
		if last < 0 {
			out[j] = start - x.temp
		} else {
			prev := &n.steps[last]
			dt := x.time.Sub(prev.time).Hours()
			tau := factor * b.Tau(out[last])
			lag := (prev.temp - x.temp) / dt * tau
			out[j] = lag + (out[last]-lag)*math.Exp(-dt/tau)
		}
		last = j
	}
}

// steps turns a run into what a chart shows.
func (r coolRun) steps(n night) []CoolStep {
	out := make([]CoolStep, 0, len(n.steps))
	for j := max(r.first, 0); j < len(n.steps); j++ {
		x := &n.steps[j]
		c := CoolStep{Time: x.time}
		if x.known {
			a, f, s := r.delta[coolLikely][j], r.delta[coolFast][j], r.delta[coolSlow][j]
			c = CoolStep{x.time, x.temp, a, math.Min(a, math.Min(f, s)), math.Max(a, math.Max(f, s)), true}
		}
		out = append(out, c)
	}
	return out
}

// reach finds when the run comes within limit.
func (r coolRun) reach(n night, b body, magnification, limit float64) Reach {
	out := Reach{Magnification: magnification, Limit: limit, State: NotKnown}
	first := func(d []float64) time.Time {
		for j := max(r.first, 0); j < len(n.steps); j++ {
			if n.steps[j].known && d[j] <= limit {
				return n.steps[j].time
			}
		}
		return time.Time{}
	}
	last := -1
	for j := max(r.first, 0); j < len(n.steps); j++ {
		if n.steps[j].known {
			last = j
		}
	}
	if last < 0 {
		return out
	}
	out.Earliest, out.Likely, out.Latest = first(r.delta[coolFast]), first(r.delta[coolLikely]), first(r.delta[coolSlow])
	out.Good = r.spans(n, limit)
	out.Lag = math.Max(0, n.fall(max(r.first, 0), last)*b.Tau(limit))
	switch {
	case !out.Likely.IsZero():
		out.State = Reached
	case out.Lag >= limit:
		out.State = Never
	default:
		out.State = TooLate
	}
	return out
}

// spans lists when the likely difference is within limit.
func (r coolRun) spans(n night, limit float64) []Span {
	var out []Span
	open := false
	for j := max(r.first, 0); j < len(n.steps); j++ {
		x := &n.steps[j]
		good := x.known && r.delta[coolLikely][j] <= limit
		switch {
		case good && !open:
			out = append(out, Span{x.time, x.time})
		case good:
			out[len(out)-1].To = x.time
		}
		open = good
	}
	return out
}

// fall is how fast the air falls over the second half of the steps from i to
// j, K an hour: the part that decides whether glass ever catches up.
func (n night) fall(i, j int) float64 {
	m := n.firstKnown((i + j) / 2)
	if m < 0 || m >= j {
		return 0
	}
	dt := n.steps[j].time.Sub(n.steps[m].time).Hours()
	return (n.steps[m].temp - n.steps[j].temp) / dt
}

// putOutBy looks back for the latest step at which the instrument may leave
// its storage to be within limit at the step of the gate. The later it goes
// out the warmer it is, so halving finds it.
func putOutBy(n night, b body, inst kit.Instrument, o Options, gate int, limit float64) PutOutBy {
	lowest := n.firstKnown(0)
	if lowest < 0 || gate >= len(n.steps) || !n.steps[gate].known {
		return PutOutBy{Why: "there is no weather for the time before"}
	}
	sub := night{n.from, n.steps[:gate+1]}
	buf := make([]float64, gate+1)
	good := func(i int, factor float64) bool {
		start, _ := o.storage(inst, n.steps[i].temp)
		coolFrom(sub, b, factor, i, start, buf)
		return buf[gate] <= limit
	}
	latest := func(factor float64) time.Time {
		lo, hi := lowest, gate
		if !good(lo, factor) {
			return time.Time{}
		}
		for lo < hi {
			mid := (lo + hi + 1) / 2
			if n.steps[mid].known && good(mid, factor) {
				lo = mid
			} else {
				hi = mid - 1
			}
		}
		return n.steps[lo].time
	}
	f := b.taus()
	p := PutOutBy{Likely: latest(f[coolLikely]), Safe: latest(f[coolSlow])}
	p.Possible = !p.Likely.IsZero()
	if !p.Possible {
		p.Why = "not even when put out as early as the weather is known"
		if n.steps[lowest].time.Sub(n.from) < Step {
			p.Why = "not even when put out eight hours before"
		}
	}
	return p
}
