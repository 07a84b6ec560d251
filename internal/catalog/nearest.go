package catalog

import "sort"

// Nearest suggests up to n names that are spelled almost like the one given, the
// most alike first, for messages such as "no target 'andromda'; did you mean
// 'Andromeda Galaxy' or 'Almach'?". Nothing when nothing is near.
func (c *Catalog) Nearest(name string, n int) []string {
	want := compact(name)
	if want == "" || n <= 0 {
		return nil
	}
	// A third of the letters may be wrong; more is another word.
	limit := max(1, len(want)/3)

	type near struct {
		name     string
		distance int
		delight  float64
	}
	var found []near
	for i, k := range c.keys() {
		best := limit + 1
		for _, key := range k.exact {
			best = min(best, edits(want, key, best))
		}
		for _, w := range k.words { // "andromda" is near a word of a longer name
			if len(w) > 4 {
				best = min(best, edits(want, w, best))
			}
		}
		if best <= limit {
			found = append(found, near{c.targets[i].Name, best, c.targets[i].Delight})
		}
	}
	sort.SliceStable(found, func(a, b int) bool {
		if found[a].distance != found[b].distance {
			return found[a].distance < found[b].distance
		}
		return found[a].delight > found[b].delight
	})

	var names []string
	seen := make(map[string]bool)
	for _, f := range found {
		if len(names) == n {
			break
		}
		if !seen[f.name] {
			seen[f.name] = true
			names = append(names, f.name)
		}
	}
	return names
}

// edits is the number of letters to insert, drop, change or swap with their
// neighbour to make b of a; at least limit when it is not below limit.
func edits(a, b string, limit int) int {
	if d := len(a) - len(b); d >= limit || -d >= limit {
		return limit
	}
	before, last, this := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		this[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			this[j] = min(last[j]+1, this[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				this[j] = min(this[j], before[j-2]+1)
			}
			least = min(least, this[j])
		}
		if least >= limit {
			return limit
		}
		before, last, this = last, this, before
	}
	return last[len(b)]
}
