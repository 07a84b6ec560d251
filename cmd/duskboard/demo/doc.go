// Package demo makes an invented club, Marsh Lane Skywatchers, with its kit,
// crew, two sites and the next suitable night, so that a newcomer sees the
// whole job at once. Everything in it is invented; no instrument, person or
// place exists.
//
// [Fill] writes the club into an empty store. The night's date follows the
// day on which the program starts, so that the demo never looks stale.
package demo
