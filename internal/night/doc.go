// Package night is the aggregate: one public night with everything it needs,
// loaded once and computed once ([Build]), and then read by every screen.
//
// What flows in: a [Plan] as the store loads it (the night, its site, the kit,
// crew, targets and weather chosen for it, the showings and duties so far).
// What flows out: a [Sheet] with the sky of the night, the views, the fits and
// the line-up, ready for view models. Build is pure: the same plan gives the
// same sheet.
package night
