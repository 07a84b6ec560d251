// Package field forecasts what the night does to instruments and people: dew
// and frost on glass, how far mirrors and lenses lag behind the air, heaters
// and batteries, cold, heat, wind and lightning, and whether to go at all.
//
// What flows in: an instrument and its gear (internal/kit), the night's
// weather (internal/weather), the times of the night. What flows out:
// [Forecast] gives a [Report] per instrument with time series every five
// minutes, onset as a band from earliest to latest, advice and warnings as
// sentences; [Supply] the power; [Judge] the go or no-go of the hours.
//
// # Design
//
// A surface's temperature comes from the balance of what it radiates to the
// sky, what wind and tube give back and what a heater adds ([Plate.Rest]),
// followed with the surface's own time constant. Every result is computed
// three times: the likely case, a cold sky over moister and calmer air, a warm
// sky over drier and windier air. The spread of published sky formulas alone
// is a kelvin of glass temperature, so a single onset time would be a lie.
//
// Cool-down is a lumped body with a time constant that is good to 40 per
// cent; a club's own measurement replaces it. Air that falls by r kelvin an
// hour leaves a body of time constant tau behind by r times tau for good,
// which is why "never tonight" is an answer.
//
// Not modelled: cold hollows (an offset can be given), wet grass, the heat of
// cars and people, the heat that condensing water gives back.
//
// Cautions on safety are just that. The law, the owner of the ground, the
// insurer and people licensed for a task decide.
//
// The package is pure: no clock, no state, no connection.
package field
