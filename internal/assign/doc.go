// Package assign plans who does what when: agents over blocks of time, each
// doing one option at a time, with shared capacities, costs of change and
// bonuses. It is what line-ups and rosters have in common and knows nothing
// of either. What flows in is a [Problem] of plain numbers; what flows out is
// a [Plan] with its score, a proven bound on the best possible score, and the
// pins that could not be kept. The package is pure: no clock, no state.
// [Evaluate] scores any plan and names every rule it breaks; [Reoptimise]
// plans the rest of a horizon anew with little change.
//
// # The model
//
// There are blocks t = 0..T-1 and agents i. In every block an agent runs one
// of its options o or is idle. A run is a longest stretch of blocks with one
// option; a topic's run is a stretch with options of one topic. The score is
//
//	  sum of value[i,o,t] over running and idle[i,t] over idle blocks
//	- RunCost[i] + Change[i][class before][class of o] for every run begun
//	  (Resume or First instead of Change after an idle spell, or at first)
//	- Setup[o] for every run that does not directly follow its own topic, and
//	  for every run of an agent that begins Afresh
//	- Repeat[i] for every such start of a topic that i has begun before
//	+ Bonus[g] for every goal g that at least one run earns
//	+ Bonus[c,t] x min(Units[c,t], agents that count for cover c in block t)
//
// and the rules are
//
//   - in no block is more taken of a capacity than there is (an option may
//     also give: a teacher makes room for a learner);
//   - no run is shorter than MinRun or longer than MaxRun, and none follows
//     itself; an agent has at most MaxRuns runs; it is busy for at most
//     MaxBusy blocks on end; an idle spell between two runs lasts at least
//     MinBreak blocks;
//   - no option runs where its value is NaN or -Inf, where the agent is out,
//     or against a forbid; pins are kept.
//
// Duties with wanted numbers are covers (so many units, a high bonus) and, if
// there may not be more, capacities. A showing's target and eyepiece are
// capacities, what must be shown is a goal, a rising price on changes of
// eyepiece is a class. Costs and bonuses may not be negative, values may.
//
// Blocks before Problem.From are facts. Their rules are not checked, a run
// that goes on from them may end at once, and its age, the runs, topics,
// busy blocks and goals before count on.
//
// # The model as a mixed-integer programme
//
// For the reference (assigntest.WriteLP), without a past, agent index left
// out. Binary: x[o,t] runs, s[o,t] starts, e[o,t] ended before t.
// Continuous: I[t] idle after a run, F[t] idle before the first, q[c,d,t]
// flow from class c to class d at t (c may be I or F, d may be I),
// m[o,p,t] option p following o of its own topic (none for an agent that
// begins Afresh), p[k] repeats of topic k,
// g goals in [0,1], c[t] covers in [0,Units].
//
//	x[o,t] = x[o,t-1] + s[o,t] - e[o,t]            s[o,t] + e[o,t] <= 1
//	sum_o x[o,t] + I[t] + F[t] = 1
//	sum_{o in c} e[o,t] = sum_d q[c,d,t] + sum_{o in c} sum_p m[o,p,t]
//	sum_{o in d} s[o,t] = sum_c q[c,d,t] + sum_{o in d} sum_p m[p,o,t]
//	I[t] = I[t-1] + sum_c q[c,I,t] - sum_d q[I,d,t]  sum_d q[I,d,t] <= I[t-1]
//	F[t] = F[t-1] - sum_d q[F,d,t]                   F[-1] = 1
//	sum_{j<MinRun} s[o,t-j] <= x[o,t]                sum_{j<=MaxRun} x[o,t+j] <= MaxRun
//	sum s <= MaxRuns                                 sum_{j<=MaxBusy} I[t+j] + F[t+j] >= 1
//	sum_{0<j<MinBreak} sum_c q[c,I,t-j] + sum_d q[I,d,t] <= 1
//	p[k] >= sum_{o in k} (s[o,t] - sum_p m[p,o,t]) - 1
//	g <= sum s over its members                      c[t] <= sum x over its members
//	sum units x x[.,t] <= capacity[t]
//
// # The bound
//
// Everything that ties agents together, and every bonus or penalty whose
// first time differs from later ones, is priced: a capacity in a block at
// u >= 0; a unit of a cover at v in [0, Bonus]; a run that earns a goal at w
// in [0, Bonus]; a start of a topic at z in [0, Repeat]. For example
// Bonus x min(Units, n) <= v n + (Bonus - v) Units for every such v. At any
// prices the agents' best paths are found one by one, and the sum of their
// values and of u x capacity + (Bonus - v) Units + (Bonus - w) + z is at
// least the score of any plan. Subgradient steps, each
// keeping a share of the one before, make that bound small. It
// equals the optimum of the programme in which every agent's set of paths is
// replaced by its convex hull, so a gap can remain; on generated line-ups it
// is a few tenths of a percent.
//
// # The search
//
// One agent's best path is a dynamic programme over blocks (path.go) in time
// blocks x options x phases. It gives, given all other agents' plans, an
// exact best answer: goals and topics that a path would count twice get a
// bit in the phase (best.go, up to three). The search (search.go) steps the
// prices, now and then builds a plan from the paths they suggest, lets
// single agents answer until none can improve, and at last takes small
// groups of agents out and lets them back in. Between two looks at all
// options, which alone give bounds, only each agent's most promising ones
// are looked at (focus.go, through.go).
//
// Effort is counted in cells and chance comes from one fixed seed, so equal
// problems give equal plans. Decided against: a general solver as a
// dependency (size, and a night must be planned in the time of a page);
// wall-clock limits (two people would see two plans); repeats as a factor
// instead of a cost (it would make the programme non-linear and the bound
// weak).
package assign
