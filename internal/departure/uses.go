package departure

import (
	"slices"
	"time"

	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// use is an instrument with the showings it has.
type use struct {
	inst  kit.Instrument
	shows []lineup.Showing
}

// usesOf lists the instruments that show something; before there is a line-up,
// every instrument chosen.
func usesOf(sh *night.Sheet) []use {
	var out []use
	for _, i := range sh.Kit.Instruments {
		u := use{inst: i}
		for _, s := range sh.Showings {
			if s.InstrumentID == i.ID {
				u.shows = append(u.shows, s)
			}
		}
		if len(u.shows) > 0 || len(sh.Showings) == 0 {
			out = append(out, u)
		}
	}
	return out
}

// hold is one copy of a piece of gear on its way through the night.
type hold struct {
	at    []int64     // instruments that use it, in order
	since []time.Time // when each first does
	until time.Time   // when it is free again
}

// copiesOf follows a piece of gear through the showings that use it and
// returns the copies that are needed: as few as never leave two showings with
// one, but not more than there are.
func copiesOf(shows []lineup.Showing, count int, uses func(lineup.Showing) bool) []hold {
	var mine []lineup.Showing
	for _, s := range shows {
		if uses(s) {
			mine = append(mine, s)
		}
	}
	slices.SortStableFunc(mine, func(a, b lineup.Showing) int { return a.From.Compare(b.From) })
	var out []hold
	for _, s := range mine {
		k := freeCopy(out, s, max(count, 1))
		if k < 0 {
			out = append(out, hold{})
			k = len(out) - 1
		}
		h := &out[k]
		if n := len(h.at); n == 0 || h.at[n-1] != s.InstrumentID {
			h.at, h.since = append(h.at, s.InstrumentID), append(h.since, s.From)
		}
		if s.To().After(h.until) {
			h.until = s.To()
		}
	}
	return out
}

// freeCopy is the copy that a showing takes: the one its instrument has last
// used, else a free one, else -1 for one more; when there are no more, the
// first to be free.
func freeCopy(out []hold, s lineup.Showing, count int) int {
	free, soonest := -1, -1
	for k, h := range out {
		if h.at[len(h.at)-1] == s.InstrumentID {
			return k
		}
		if free < 0 && !h.until.After(s.From) {
			free = k
		}
		if soonest < 0 || h.until.Before(out[soonest].until) {
			soonest = k
		}
	}
	switch {
	case free >= 0:
		return free
	case len(out) < count:
		return -1
	}
	return soonest
}
