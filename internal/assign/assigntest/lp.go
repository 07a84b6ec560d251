package assigntest

import (
	"bufio"
	"fmt"
	"io"
	"math"

	"duskboard/internal/assign"
)

// WriteLP writes the problem as a mixed-integer linear programme in LP
// format, for a solver from outside. It is the model of package assign's
// documentation, put together from the problem alone. Problems with a past
// are refused.
//
// Names of variables: x(i,o,t) agent i in option o at block t; s a start;
// e an end before t; m one option following another of its topic; q a flow
// from one class to another, c to i into idleness, r out of it, f out of
// freshness; y(i,t) idle, I after a run, F before the first; p repeats of a
// topic; g goals; c covers.
func WriteLP(w io.Writer, p assign.Problem) error {
	if p.From > 0 {
		return fmt.Errorf("a past of %d blocks cannot be written", p.From)
	}
	b := &lp{Writer: bufio.NewWriter(w), p: &p, uses: map[[2]int][]string{}, covers: map[[2]int][]string{}, goals: map[int][]string{}}
	fmt.Fprintln(b, "Maximize\n obj:")
	var rules []func()
	for i := range p.Agents {
		rules = append(rules, b.agent(i))
	}
	b.shared()
	fmt.Fprintln(b, "Subject To")
	for _, r := range rules {
		r()
	}
	b.sharedRules()
	b.bounds()
	fmt.Fprintln(b, "End")
	return b.Flush()
}

// lp collects what rules need to know about variables.
type lp struct {
	*bufio.Writer
	p        *assign.Problem
	rows     int
	binaries []string
	limits   []string
	uses     map[[2]int][]string // capacity, block
	covers   map[[2]int][]string // cover, block
	goals    map[int][]string
}

func (b *lp) term(c float64, name string) {
	if c != 0 {
		fmt.Fprintf(b, " %+.12g %s\n", c, name)
	}
}

// row writes one rule: terms with their signs, a relation, a number.
func (b *lp) row(terms []string, relation string, rhs float64) {
	if len(terms) == 0 {
		return
	}
	b.rows++
	fmt.Fprintf(b, " r%d:", b.rows)
	for j, s := range terms {
		fmt.Fprintf(b, " %s", s)
		if j%20 == 19 {
			fmt.Fprintln(b)
		}
	}
	fmt.Fprintf(b, " %s %.12g\n", relation, rhs)
}

// shared writes the bonuses into the objective.
func (b *lp) shared() {
	for g, goal := range b.p.Goals {
		b.term(goal.Bonus, fmt.Sprintf("g_%d", g))
		b.limits = append(b.limits, fmt.Sprintf("g_%d <= 1", g))
	}
	for c, cover := range b.p.Covers {
		for t := range b.p.Blocks {
			name := fmt.Sprintf("c_%d_%d", c, t)
			b.term(cover.BonusAt(t), name)
			b.limits = append(b.limits, fmt.Sprintf("%s <= %d", name, cover.UnitsAt(t)))
		}
	}
}

func (b *lp) sharedRules() {
	for g := range b.p.Goals {
		b.row(append([]string{fmt.Sprintf("+1 g_%d", g)}, b.goals[g]...), "<=", 0)
	}
	for t := range b.p.Blocks {
		for c := range b.p.Covers {
			b.row(append([]string{fmt.Sprintf("+1 c_%d_%d", c, t)}, b.covers[[2]int{c, t}]...), "<=", 0)
		}
		for c := range b.p.Capacities {
			b.row(b.uses[[2]int{c, t}], "<=", float64(b.p.Capacities[c].At(t)))
		}
	}
}

func (b *lp) bounds() {
	fmt.Fprintln(b, "Bounds")
	for _, l := range b.limits {
		fmt.Fprintln(b, " "+l)
	}
	fmt.Fprintln(b, "Binaries")
	for _, v := range b.binaries {
		fmt.Fprintln(b, " "+v)
	}
}

// allowed tells whether option o of agent i may be in block t.
func (b *lp) allowed(i, o, t int) bool {
	a := &b.p.Agents[i]
	if t < 0 || t >= b.p.Blocks || !a.Options[o].Allowed(t) {
		return false
	}
	for _, s := range a.Out {
		if s.Has(t) {
			return false
		}
	}
	for _, f := range b.p.Forbids {
		if f.Agent == i && f.Option == o && f.Has(t) {
			return false
		}
	}
	for _, pin := range b.p.Pins {
		if pin.Agent == i && pin.Has(t) && pin.Option != o {
			return false
		}
	}
	return true
}

func orElse(v, other int) int {
	if v > 0 {
		return v
	}
	return other
}

func finite(v float64) bool { return !math.IsInf(v, 0) && !math.IsNaN(v) }
