// Package feed fetches hourly weather from open forecast services:
// [OpenMeteo] and [MetNorway], each a [weather.Provider] over one [Client]
// that knows time-outs, repeats, caching and how large an answer may be.
//
// It stands apart from package weather because it opens connections; nothing
// that computes imports it. Addresses are fixed here or given by whoever runs
// the program, never by a visitor. The clock and the waiting are passed in.
//
// Both services are asked for instants in UTC, since a reply in local time
// carries one offset for the whole range and mislabels the hours after a
// clock change.
package feed
