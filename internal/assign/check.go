package assign

import (
	"errors"
	"fmt"
	"math"
)

// ErrMalformed is what every error of [Problem.Check] wraps.
var ErrMalformed = errors.New("malformed problem")

// Check returns an error when the problem cannot be read: an index out of
// range, a slice of the wrong length, a cost that is negative or not a
// number. Contradicting pins are not an error; a plan lists them as broken.
func (p *Problem) Check() error {
	if p.Blocks < 0 {
		return malformed("blocks: %d", p.Blocks)
	}
	if p.From < 0 || p.From > p.Blocks {
		return malformed("from block %d of %d", p.From, p.Blocks)
	}
	for i, c := range p.Capacities {
		if c.PerBlock != nil && len(c.PerBlock) != p.Blocks {
			return malformed("capacity %d: %d blocks instead of %d", i, len(c.PerBlock), p.Blocks)
		}
		for t := range p.Blocks {
			if c.At(t) < 0 {
				return malformed("capacity %d is negative in block %d", i, t)
			}
		}
	}
	for i, g := range p.Goals {
		if !isCost(g.Bonus) {
			return malformed("goal %d: bonus %v", i, g.Bonus)
		}
	}
	for i, c := range p.Covers {
		if c.BonusPerBlock != nil && len(c.BonusPerBlock) != p.Blocks ||
			c.UnitsPerBlock != nil && len(c.UnitsPerBlock) != p.Blocks {
			return malformed("cover %d: not %d blocks", i, p.Blocks)
		}
		for t := range p.Blocks {
			if !isCost(c.BonusAt(t)) || c.UnitsAt(t) < 0 {
				return malformed("cover %d in block %d: bonus %v, units %d", i, t, c.BonusAt(t), c.UnitsAt(t))
			}
		}
	}
	for i := range p.Agents {
		if err := p.checkAgent(i); err != nil {
			return err
		}
	}
	return p.checkPast()
}

func (p *Problem) checkAgent(i int) error {
	a := &p.Agents[i]
	if a.Idle != nil && len(a.Idle) != p.Blocks {
		return malformed("agent %d: idle has %d blocks instead of %d", i, len(a.Idle), p.Blocks)
	}
	for _, v := range a.Idle {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return malformed("agent %d: idle value %v", i, v)
		}
	}
	if !isCost(a.RunCost) || !isCost(a.Repeat) {
		return malformed("agent %d: run cost %v, repeat %v", i, a.RunCost, a.Repeat)
	}
	classes := a.classes()
	if a.Change != nil && len(a.Change) < classes {
		return malformed("agent %d: change has %d rows for %d classes", i, len(a.Change), classes)
	}
	rows := append([][]float64{a.Resume, a.First}, a.Change...)
	for r, row := range rows {
		if row == nil && r < 2 {
			continue
		}
		if len(row) < classes {
			return malformed("agent %d: change costs for %d of %d classes", i, len(row), classes)
		}
		for _, v := range row {
			if !isCost(v) && !math.IsInf(v, 1) {
				return malformed("agent %d: change cost %v", i, v)
			}
		}
	}
	for j := range a.Options {
		if err := p.checkOption(&a.Options[j]); err != nil {
			return fmt.Errorf("agent %d, option %d: %w", i, j, err)
		}
	}
	return nil
}

func (p *Problem) checkOption(o *Option) error {
	if len(o.Value) != p.Blocks {
		return malformed("%d values for %d blocks", len(o.Value), p.Blocks)
	}
	for _, v := range o.Value {
		if math.IsInf(v, 1) {
			return malformed("value %v", v)
		}
	}
	if !isCost(o.Setup) || o.Class < 0 || o.Topic < 0 {
		return malformed("setup %v, class %d, topic %d", o.Setup, o.Class, o.Topic)
	}
	for _, u := range o.Uses {
		if u.Capacity < 0 || u.Capacity >= len(p.Capacities) {
			return malformed("capacity %d of %d", u.Capacity, len(p.Capacities))
		}
	}
	for _, g := range o.Goals {
		if g < 0 || g >= len(p.Goals) {
			return malformed("goal %d of %d", g, len(p.Goals))
		}
	}
	for _, c := range o.Covers {
		if c < 0 || c >= len(p.Covers) {
			return malformed("cover %d of %d", c, len(p.Covers))
		}
	}
	return nil
}

func (p *Problem) checkPast() error {
	if p.From == 0 {
		return nil
	}
	if len(p.Past) != len(p.Agents) {
		return malformed("past of %d agents instead of %d", len(p.Past), len(p.Agents))
	}
	for i, row := range p.Past {
		if len(row) < p.From {
			return malformed("past of agent %d: %d blocks instead of %d", i, len(row), p.From)
		}
		for _, o := range row[:p.From] {
			if o < Idle || o >= len(p.Agents[i].Options) {
				return malformed("past of agent %d: option %d", i, o)
			}
		}
	}
	return nil
}

// classes is the number of option classes of the agent, at least 1.
func (a *Agent) classes() int {
	n := 1
	for i := range a.Options {
		n = max(n, a.Options[i].Class+1)
	}
	return n
}

func isCost(v float64) bool { return v >= 0 && !math.IsInf(v, 1) }

func malformed(format string, args ...any) error {
	return fmt.Errorf("%w: "+format, append([]any{ErrMalformed}, args...)...)
}
