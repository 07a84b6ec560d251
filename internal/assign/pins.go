package assign

import "math"

// This file settles the pins before anything is planned: each pin is kept
// block by block as far as the rules allow, in the order given, and what
// cannot be kept is listed with the reason.

// settle returns the pinned option of every agent and block (unpinned where
// there is none), and the pins, or parts of pins, that had to be given up.
func settle(p *Problem) ([][]int, []Violation) {
	pinned := make([][]int, len(p.Agents))
	owner := make([][]int, len(p.Agents)) // the pin behind pinned
	for i := range pinned {
		pinned[i], owner[i] = make([]int, p.Blocks), make([]int, p.Blocks)
		for t := range pinned[i] {
			pinned[i][t] = unpinned
		}
	}
	var broken []Violation
	gives := givers(p)
	for j := range p.Pins {
		broken = append(broken, settlePin(p, j, gives, pinned, owner)...)
	}
	for j, pin := range p.Pins {
		if pin.Agent < 0 || pin.Agent >= len(p.Agents) {
			continue
		}
		broken = append(broken, makeRoom(p, j, gives, pinned, owner)...)
	}
	return pinned, broken
}

// settlePin puts one pin in, where it is possible by itself and goes with
// the pins before it.
func settlePin(p *Problem, j int, gives []bool, pinned, owner [][]int) []Violation {
	pin := p.Pins[j]
	bad := func(kind Kind, from, to int) Violation {
		v := violation(kind, pin.Agent, pin.Option, from, to)
		v.Pin = j
		return v
	}
	if pin.Agent < 0 || pin.Agent >= len(p.Agents) || pin.Option < Idle ||
		pin.Option >= len(p.Agents[pin.Agent].Options) || pin.From < 0 || pin.To > p.Blocks || pin.To <= pin.From {
		return []Violation{bad(NoSuchThing, pin.From, pin.To)}
	}
	var broken []Violation
	for t := max(pin.From, p.From); t < pin.To; t++ {
		v := bad(0, t, t+1)
		v.Kind, v.Capacity = pinFault(p, pin, t, gives, pinned)
		if v.Kind == 0 {
			if pinned[pin.Agent][t] == unpinned {
				pinned[pin.Agent][t], owner[pin.Agent][t] = pin.Option, j
			}
			continue
		}
		if v.Capacity >= 0 {
			v.Limit = p.Capacities[v.Capacity].At(t)
		}
		if n := len(broken); n > 0 && broken[n-1].Kind == v.Kind && broken[n-1].Capacity == v.Capacity && broken[n-1].To == t {
			broken[n-1].To++
		} else {
			broken = append(broken, v)
		}
	}
	return broken
}

// pinFault returns the rule that the pin breaks in block t, and the capacity
// if it is one.
func pinFault(p *Problem, pin Pin, t int, gives []bool, pinned [][]int) (Kind, int) {
	a := &p.Agents[pin.Agent]
	if had := pinned[pin.Agent][t]; had != unpinned && had != pin.Option {
		return PinsClash, -1
	}
	if pin.Option == Idle {
		return 0, -1
	}
	if !a.Options[pin.Option].Allowed(t) {
		return NotPossible, -1
	}
	for _, s := range a.Out {
		if s.Has(t) {
			return Absent, -1
		}
	}
	for _, f := range p.Forbids {
		if f.Agent == pin.Agent && f.Option == pin.Option && f.Has(t) {
			return Forbidden, -1
		}
	}
	for _, u := range mergeUses(a.Options[pin.Option].Uses) {
		if u.Units <= 0 || gives[u.Capacity] {
			continue // whether somebody gives is seen when the plan is made
		}
		used := u.Units
		for i, row := range pinned {
			if i == pin.Agent || row[t] < 0 {
				continue
			}
			used += unitsOf(mergeUses(p.Agents[i].Options[row[t]].Uses), u.Capacity)
		}
		if used > p.Capacities[u.Capacity].At(t) {
			return OverCapacity, u.Capacity
		}
	}
	return 0, -1
}

// makeRoom checks that the agent's run and break rules leave a path that
// keeps pin j together with the pins before it; if not, the pin is given up.
func makeRoom(p *Problem, j int, gives []bool, pinned, owner [][]int) []Violation {
	pin := p.Pins[j]
	row := make([]int, p.Blocks)
	has := Span{p.Blocks, 0}
	for t := range row {
		row[t] = unpinned
		if have := pinned[pin.Agent][t]; have != unpinned && owner[pin.Agent][t] <= j {
			row[t] = have
			if owner[pin.Agent][t] == j {
				has.From, has.To = min(has.From, t), t+1
			}
		}
	}
	if has.To == 0 || hasPath(p, pin.Agent, gives, row) {
		return nil
	}
	for t := range row {
		if owner[pin.Agent][t] == j && pinned[pin.Agent][t] != unpinned {
			pinned[pin.Agent][t] = unpinned
		}
	}
	v := violation(NoRoom, pin.Agent, pin.Option, has.From, has.To)
	v.Pin = j
	return []Violation{v}
}

// hasPath tells whether the agent alone can follow the pinned row.
func hasPath(p *Problem, index int, gives []bool, row []int) bool {
	q := *p
	q.Agents = p.Agents[index : index+1]
	q.Pins, q.Forbids = nil, nil
	for _, f := range p.Forbids {
		if f.Agent == index {
			f.Agent = 0
			q.Forbids = append(q.Forbids, f)
		}
	}
	if p.From > 0 {
		q.Past = p.Past[index : index+1]
	}
	q.Capacities = make([]Capacity, len(p.Capacities))
	for c := range p.Capacities {
		if q.Capacities[c] = p.Capacities[c]; gives[c] {
			q.Capacities[c] = Capacity{Units: math.MaxInt32} // others may give
		}
	}
	in := compile(&q, [][]int{row}, nil, 0)
	_, ok := newResponder(in).respond(newState(in), 0, nil, 0)
	return ok
}

// reportAll adds to broken what later pins wanted of blocks that an earlier
// one of the same option lost, so that every pin not kept is named.
func reportAll(p *Problem, pinned [][]int, broken []Violation) []Violation {
	for j, pin := range p.Pins {
		if pin.Agent < 0 || pin.Agent >= len(p.Agents) || pin.From < 0 || pin.To > p.Blocks {
			continue
		}
		for t := max(pin.From, p.From); t < pin.To; t++ {
			cause := -1
			for b, v := range broken {
				if v.Agent != pin.Agent || v.Option != pin.Option || !v.Has(t) {
					continue
				}
				if cause = b; v.Pin == j {
					break
				}
			}
			if pinned[pin.Agent][t] == pin.Option || cause < 0 || broken[cause].Pin == j {
				continue
			}
			v := broken[cause]
			v.Pin, v.Span = j, Span{t, t + 1}
			if n := len(broken); broken[n-1].Pin == j && broken[n-1].To == t && broken[n-1].Kind == v.Kind {
				broken[n-1].To++
			} else {
				broken = append(broken, v)
			}
		}
	}
	return broken
}
