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
//     more by hand, more for a faint target; a change of eyepiece adds some.
//   - A showing lasts at least [Rules.LeastShowing].
//   - A target is shown by at most one instrument at once, the Moon and bright
//     planets by two; an eyepiece, Barlow lens or filter is used as often as
//     the club owns it.
//   - A must-show target earns a bonus once. A target shown again on the same
//     instrument earns less.
//   - In every block a target at a seated-height eyepiece earns a bonus, if
//     any instrument can give one.
//   - Pinned showings stay; forbidden pairs, blocks before an instrument is
//     there and blocks without an operator are no options.
//
// Weights and limits stand in one table ([DefaultRules]) with a reason each.
package lineup
