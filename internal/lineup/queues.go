package lineup

import (
	"fmt"
	"math"
	"sort"
	"time"
)

// CrowdingOf computes the guests' flow of a line-up: looks, waits, and what
// would help where the line is too long.
func (in *Input) CrowdingOf(m *Matrix, shows []Showing) Crowding {
	looks, hours := 0.0, 0.0
	at := map[int64]bool{}
	flows := make([]Flow, len(shows))
	for i, s := range shows {
		flows[i] = in.FlowOf(m, s)
		looks += flows[i].Looks
		hours += s.Length.Hours()
		at[s.InstrumentID] = true
	}
	c := CrowdFlow(looks, hours, len(at), in.Guests, in.PublicTo.Sub(in.PublicFrom))
	c.Queues = in.queues(m, shows, flows)
	for i, q := range c.Queues {
		if i == 3 {
			break // three are enough to act on
		}
		c.Proposals = append(c.Proposals, in.relief(m, shows, q))
	}
	c.Short = c.Short || len(c.Queues) > 0
	return c
}

// queues finds the showings at which the line grows past LongWait. Guests
// arrive at each in proportion to how much the target is liked, block by
// block: four looks a night each, spread over the public hours.
func (in *Input) queues(m *Matrix, shows []Showing, flows []Flow) []Queue {
	public := in.PublicTo.Sub(in.PublicFrom).Seconds()
	if in.Guests <= 0 || public <= 0 {
		return nil
	}
	rate := float64(in.Guests) * wantedLooks / public // looks wanted a second, all instruments
	waiting := make([]float64, len(shows))            // guests in line
	for _, slot := range m.Blocks {
		pull := 0.0
		for _, s := range shows {
			if runs(s, slot) {
				pull += in.pull(m, s)
			}
		}
		for i, s := range shows {
			if !runs(s, slot) || pull == 0 || flows[i].LookSeconds == 0 {
				continue
			}
			length := slot.To.Sub(slot.From).Seconds()
			come := rate * length * in.pull(m, s) / pull
			waiting[i] = max(0, waiting[i]+come-length/flows[i].LookSeconds)
		}
	}
	var out []Queue
	for i, s := range shows {
		if w := seconds64(waiting[i] * flows[i].LookSeconds); w > LongWait {
			out = append(out, Queue{s, w})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Wait > out[j].Wait })
	return out
}

func runs(s Showing, slot Slot) bool { return s.From.Before(slot.To) && slot.From.Before(s.To()) }

// pull is how strongly a showing draws guests.
func (in *Input) pull(m *Matrix, s Showing) float64 {
	if ti := in.target(s.TargetID); ti >= 0 {
		return 0.3 + m.faces[ti].delight
	}
	return 0
}

// relief proposes a second instrument on the target, or else a target that
// passes guests more quickly at the same instrument.
func (in *Input) relief(m *Matrix, shows []Showing, q Queue) string {
	ti, ii := in.target(q.Showing.TargetID), in.instrument(q.Showing.InstrumentID)
	t := in.Targets[ti]
	from, to := m.span(q.Showing)
	words := fmt.Sprintf("At %s the line for %s grows to %.0f minutes by %s.", in.instrumentName(q.Showing.InstrumentID), t.Name, q.Wait.Minutes(), q.Showing.To().In(in.Sky.Zone).Format("15:04"))
	if jj, fit := in.helper(m, shows, ti, ii, from, to); jj >= 0 {
		return words + fmt.Sprintf(" A second instrument helps: %s shows it too, with a fit of %.2f.", in.Kit.Instruments[jj].Name, fit)
	}
	quick, best := -1, 0.0
	for tj := range in.Targets {
		if v := m.mean(m.Cell(ii, tj), from, to); tj != ti && v > rewarding && lookSeconds(in.Targets[tj]) <= lookSeconds(t)-10 && v > best {
			quick, best = tj, v
		}
	}
	if quick >= 0 {
		return words + fmt.Sprintf(" A quicker target helps: %s takes %.0f seconds a look instead of %.0f.", in.Targets[quick].Name, lookSeconds(in.Targets[quick])*in.Crowd.Slow, lookSeconds(t)*in.Crowd.Slow)
	}
	return words + " Put a helper there who tells what there is to see, and send guests to the other instruments."
}

// helper is the instrument that could show a target as well over some blocks:
// the one whose own showings are liked least.
func (in *Input) helper(m *Matrix, shows []Showing, ti, not, from, to int) (int, float64) {
	if in.shownBy(shows, m, ti, from, to) >= showAtOnce(in.Targets[ti]) {
		return -1, 0
	}
	at, fit, least := -1, 0.0, math.Inf(1)
	for jj, inst := range in.Kit.Instruments {
		v := m.mean(m.Cell(jj, ti), from, to)
		if jj == not || v < rewarding || in.awayIn(inst.ID, m.Blocks[from].From, m.Blocks[to-1].To) {
			continue
		}
		own := 0.0
		for _, s := range shows {
			if s.InstrumentID == inst.ID && s.From.Before(m.Blocks[to-1].To) && m.Blocks[from].From.Before(s.To()) {
				own = max(own, in.pull(m, s))
			}
		}
		if own < least {
			at, fit, least = jj, v, own
		}
	}
	return at, fit
}

// shownBy is the most instruments that show a target at once over some blocks.
func (in *Input) shownBy(shows []Showing, m *Matrix, ti, from, to int) int {
	most := 0
	for _, slot := range m.Blocks[from:to] {
		n := 0
		for _, s := range shows {
			if s.TargetID == in.Targets[ti].ID && runs(s, slot) {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

func (in *Input) awayIn(inst int64, from, to time.Time) bool {
	for _, a := range in.Away[inst] {
		if a.From.Before(to) && a.To.After(from) {
			return true
		}
	}
	return false
}
