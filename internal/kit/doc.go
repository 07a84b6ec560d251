// Package kit holds the club's gear: instruments, eyepieces, Barlow lenses,
// reducers, correctors, diagonals, filters, finders, dew gear, batteries and
// steps, with the rules that make an entry sensible and the defaults that
// stand in for what a club does not know.
//
// What flows in: values typed into a form, read from a CSV file or from the
// store. What flows out: the same values, checked ([Instrument.Check]) and
// filled ([Instrument.Fill]), with the name of every field that rests on a
// default kept in Assumed, so that each number computed from it can say so.
//
// The package computes no optics: magnifications and fields belong to
// internal/optics.
package kit
