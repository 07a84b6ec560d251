package assign

import "slices"

// pastOf sums up what an agent did before the first block to be planned.
func pastOf(p *Problem, index int) past {
	s := past{current: -1, fresh: true}
	if p.From == 0 {
		return s
	}
	row := p.Past[index][:p.From]
	runs := Runs(index, row)
	s.runs = len(runs)
	if len(runs) == 0 {
		return s
	}
	s.fresh = false
	last := runs[len(runs)-1]
	if last.To < p.From {
		s.idle = p.From - last.To
		return s
	}
	s.current, s.age = last.Option, last.To-last.From
	for t := p.From - 1; t >= 0 && row[t] != Idle; t-- {
		s.busy++
	}
	return s
}

// seenTopics counts how often the past began each topic of the agent's
// remaining options.
func seenTopics(p *Problem, src *Agent, a *agent, index int) []int {
	seen := make([]int, a.topics)
	if p.From == 0 {
		return seen
	}
	runs := Runs(index, p.Past[index][:p.From])
	for i, r := range runs {
		if i > 0 && runs[i-1].To == r.From && src.goesOn(runs[i-1].Option, r.Option) {
			continue
		}
		for b, orig := range a.orig {
			if src.sameTopic(int(orig), r.Option) {
				seen[a.topic[b]]++
				break
			}
		}
	}
	return seen
}

// mergeUses sums the uses by capacity, in order of the capacities.
func mergeUses(uses []Use) []Use {
	var out []Use
	for _, u := range uses {
		i := slices.IndexFunc(out, func(v Use) bool { return v.Capacity == u.Capacity })
		if i < 0 {
			out = append(out, u)
		} else {
			out[i].Units += u.Units
		}
	}
	out = slices.DeleteFunc(out, func(u Use) bool { return u.Units == 0 })
	slices.SortFunc(out, func(u, v Use) int { return u.Capacity - v.Capacity })
	return out
}

func toInt32(xs []int) []int32 {
	var out []int32
	for _, x := range xs {
		out = append(out, int32(x))
	}
	return out
}

// distinct sorts and leaves out doubles: a goal listed twice is earned once.
func distinct(xs []int) []int32 {
	out := toInt32(xs)
	slices.Sort(out)
	return slices.Compact(out)
}
