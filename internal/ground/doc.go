// Package ground lays out the field: where each instrument stands, which way
// its queue goes, what is in the way, and a proposal for all of it.
//
// What flows in: a [Ground] (outline, gate, paths, trees, buildings, lamps,
// power; metres, x to the east and y to the north), the [Stand] of each
// instrument (how much room it takes, what it shows in which direction, who
// can use it) and the [Place]s so far. What flows out: what is wrong with the
// places, in words ([Check]), places that are as good as a search finds them
// ([Suggest]), a place in words ([Layout.Where]) and where red lamps go
// ([Lamps]).
//
//	Ground + Stands ─► Layout ─┬─► Check ─► faults in words
//	                  Places ──┘
//	                  Suggest ─► places (greedy, then local search)
//
// Check and Suggest measure with the same functions (find.go): what the search
// avoids is what the page complains of. Rules and their sources stand in
// rules.go. The package is pure and knows neither sky nor store.
//
// # Design
//
//   - An obstacle hides what its nearest edge hides; a tree is a cylinder. Both
//     err to the safe side: a target that is called free is free.
//   - The site's horizon outline is of things far away and the same for all
//     places; the line-up heeds it. Here only what stands on the field counts,
//     because it differs from place to place.
//   - A queue is a straight strip. Real ones bend, but a field on which the
//     straight ones do not cross has room for the bent ones.
package ground
