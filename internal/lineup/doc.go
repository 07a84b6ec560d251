// Package lineup decides what each instrument shows when, and says why.
//
// What flows in: an [Input] (the sky of the night, the site, the kit, the
// targets that may be shown, the weather, the audience, pins and forbidden
// pairs). What flows out: fits ([Input.Fits]: for every instrument, target and
// block the three best views with their nine factors, or a veto), a line-up
// ([Propose]: showings with their score and the bound on the best possible
// score), the conflicts of a line-up changed by hand ([Input.Check]) and the
// whole reasoning for one cell ([Input.Why]).
//
//	kit ─► optics: trains ┐
//	sky: scenes ──────────┼─► fits ─► options ─► assign ─► showings
//	vision, field ────────┘     (factors)   (agents, blocks, shared gear)
//
// # The model
//
// An agent is an instrument, an option is a target in one train, a block is a
// time step of the public hours. The value of an option in a block is its fit
// times the guests who get their look in that block ([Flow]): a line-up is
// worth the good looks it gives, not the instruments it occupies.
//
//   - A change of target costs the looks lost while pointing: less with go-to,
//     more by hand, more for a faint target; a change of eyepiece adds some,
//     and every showing a little ([Rules.RunCost]), so that three or four
//     targets make a night.
//   - A showing lasts at least [Rules.LeastShowing], and no longer than those
//     who come need to see it, unless the instrument has little else to show.
//   - A target is shown by at most one instrument at once, the Moon and bright
//     planets by two, of which the second earns less while there is no crowd;
//     an eyepiece, Barlow lens or filter is used as often as the club owns it.
//   - A must-show target earns a bonus once, every other one a small one. A
//     target shown again on the same instrument earns less.
//   - In every block each kind of target that is there to be seen earns a
//     bonus: a planet, a cluster, a nebula, a galaxy, a double, rather than
//     eight doubles. So does a target at a seated-height eyepiece.
//   - Pinned showings stay; forbidden pairs, blocks before an instrument is
//     there and blocks without an operator are no options.
//
// # A running night
//
// [Replan] keeps what has begun, takes what happened (cloud over a part of the
// sky, an instrument or operator gone, gear missing, worse air, more guests)
// and changes only what earns more than [Rules.Keep] for it. [Input.CrowdingOf]
// tells looks and waits, and what would shorten a line. [Advice] plans the
// night again with one more eyepiece each, to say what to buy or borrow.
//
// # Design
//
//   - The least and the longest length of a showing are rules of the search and
//     not bonuses: bonuses that reward each new target strongly enough to move
//     a crew on loosen the bound (a gap of 3 per cent instead of 0.5).
//   - Filters are tried on the three best trains of a target only; trains with
//     every filter would triple the work for the same answer.
//   - A galaxy's mean surface brightness counts beside that of its core:
//     between lamps the core alone passes the threshold, and guests see a smudge.
//
// Weights and limits stand in one table ([DefaultRules]) with a reason each.
package lineup
