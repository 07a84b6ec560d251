// Package departure answers, for each volunteer and for the whole club, what to
// do before leaving home: what to pack, what to check, when to leave, and what
// the night will do to glass, batteries and people.
//
// What flows in: a computed night (night.Sheet): its line-up, kit, crew and
// forecasts, and what people said about packing. What flows out: a [Check] with
// a list of things and who brings each, a page for each [Person], and the
// [Trouble] that is left: a thing that nobody brings, or two people do.
//
// # Design
//
// Packing follows the line-up: only gear that a showing uses is packed, each
// copy once. Who brings a thing is decided in one order everywhere: whoever
// said so for this night, whoever brings it as a rule, its owner, whoever runs
// the instrument it is for by the roster, and else the person with the fewest things who could. Nobody is not hidden: the
// thing stands in the list with no name.
//
// Times are counted back from the opening of the gate: briefing, aligning the
// mount, aligning the optics, setting up, unloading, the drive; and from when
// the glass has to be outdoors. The earlier of the two rules. The minutes are
// common practice where the kit does not say better, and stand as constants.
//
// The package is pure: the same night gives the same check.
package departure
