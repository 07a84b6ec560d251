// Package column holds the types that stand between a column of the database
// and a value of the domain: one type for instants, one for durations, one for
// dates, one for a reference that may be missing, one for lists kept as JSON.
//
// Each type is its own scanner and valuer, so that the code generated from the
// queries reads and writes it without further thought and every table keeps
// the same format.
package column
