package lineup

import (
	"math"
	"slices"
	"time"

	"duskboard/internal/assign"
	"duskboard/internal/catalog"
)

// mix groups the kinds of target by what a guest takes them for.
type mix int

const (
	mixBright mix = iota // Sun, Moon, planets
	mixDouble
	mixStar // coloured and bright stars
	mixOpen // open clusters, star clouds, asterisms
	mixGlobular
	mixNebula // nebulae of all kinds, comets
	mixGalaxy

	mixCount
)

func mixOf(t catalog.Target) mix {
	switch t.Kind {
	case catalog.KindSun, catalog.KindMoon, catalog.KindPlanet, catalog.KindMinorPlanet:
		return mixBright
	case catalog.KindDouble:
		return mixDouble
	case catalog.KindStar, catalog.KindCarbon, catalog.KindVariable:
		return mixStar
	case catalog.KindOpen, catalog.KindCloud, catalog.KindAsterism:
		return mixOpen
	case catalog.KindGlobular:
		return mixGlobular
	case catalog.KindGalaxy:
		return mixGalaxy
	}
	return mixNebula
}

// covers sets the bonuses that are earned block by block: an eyepiece that can
// be reached seated, each kind of target that is there to be seen, and the
// first instrument on a target that two may show.
//
// The last is a bonus only in form: every option on such a target is lowered
// by it, so that the first instrument earns its full value and the second the
// share [Rules.Second].
func (mo *model) covers() {
	p, r := mo.problem, mo.in.Rules
	hours := mo.in.Block.Hours()
	p.Covers = append(p.Covers, assign.Cover{Name: "seated-height eyepiece", Bonus: r.SeatBonus * hours})
	for range mixCount {
		p.Covers = append(p.Covers, assign.Cover{Name: "kind of target", Bonus: r.MixBonus * hours})
	}
	for ti, t := range mo.in.Targets {
		if showAtOnce(t) < 2 || !mo.m.anywhere(ti) {
			continue
		}
		mo.second[ti] = len(p.Covers)
		p.Covers = append(p.Covers, assign.Cover{Name: t.Name, BonusPerBlock: mo.sharedValue(ti)})
	}
}

// sharedValue is, for each block, what a second instrument on a target does
// not earn: the share of a middling instrument's value.
func (mo *model) sharedValue(ti int) []float64 {
	out := make([]float64, len(mo.m.Blocks))
	for b := range out {
		var values []float64
		for ii := range mo.in.Kit.Instruments {
			best := 0.0
			for _, tr := range mo.m.Cell(ii, ti).Tracks {
				if tr.Fit[b] > 0 {
					best = max(best, float64(tr.Fit[b])*mo.m.looks(ii, ti, tr.Train, b))
				}
			}
			if best > 0 {
				values = append(values, best)
			}
		}
		if len(values) > 0 {
			slices.Sort(values)
			out[b] = (1 - mo.secondShare()) * values[len(values)/2]
		}
	}
	return out
}

// secondShare is [Rules.Second], and more when the guests are too many for one
// queue: from 15 to 30 guests per instrument it rises to the full value.
func (mo *model) secondShare() float64 {
	s := mo.in.Rules.Second
	n := len(mo.in.Kit.Instruments)
	if n == 0 || mo.in.Guests <= 0 {
		return s
	}
	return ramp(float64(mo.in.Guests)/float64(n), 15, 30, s, 1)
}

// Bounds on how long one showing goes on.
const (
	enoughShown   = 40 * time.Minute // three or four targets in two and a half hours
	longestFaint  = 60 * time.Minute // a double or cluster: who wanted to has seen it
	longestBright = 90 * time.Minute // the Moon, a planet: guests come back
)

// longestRun is the number of blocks after which everybody who comes to a
// target has seen it, so that another earns more: the guests who come, times
// the seconds of a look. It does not hold for an instrument that has too little
// else to show.
func (mo *model) longestRun(t catalog.Target) int {
	most := longestFaint
	if mixOf(t) == mixBright {
		most = longestBright
	}
	d := most
	if mo.in.Guests > 0 {
		all := mo.in.Rules.Come * float64(mo.in.Guests) * lookSeconds(t) * mo.in.Crowd.Slow
		d = min(max(time.Duration(all*float64(time.Second)), enoughShown), most)
	}
	n := int(math.Ceil(float64(d) / float64(max(mo.in.Block, time.Minute))))
	return max(n, mo.leastBlocks())
}

// findFew marks the instruments that have too few good targets to fill the
// night without staying long on one.
func (mo *model) findFew() {
	mo.few = make([]bool, len(mo.in.Kit.Instruments))
	for ii := range mo.few {
		blocks := 0
		for ti := range mo.in.Targets {
			open := 0
			for b := range mo.m.Blocks {
				if mo.m.Cell(ii, ti).Best(b) > rewarding {
					open++
				}
			}
			blocks += min(open, mo.leastBlocks())
		}
		mo.few[ii] = blocks < 2*len(mo.m.Blocks)
	}
}
