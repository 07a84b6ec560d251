// Package migrations carries the database's schema as numbered SQL files for
// goose. They are applied in order when the store opens, each in a transaction
// of its own, and are never edited once they have landed: a change is a new
// file with the next number. The comment on top of each says why it is there
// and what happens to the rows that exist.
//
// Conventions of the schema, kept by every file:
//
//   - tables are STRICT; ids are INTEGER PRIMARY KEY, never typed by a person;
//   - an instant is UTC text "2006-01-02T15:04:05.000Z" in a column ending in
//     _at, a date is "2006-01-02", a duration is whole seconds in a column
//     ending in _seconds, a truth value is 0 or 1;
//   - lengths and angles are in the unit that the domain type states;
//   - a list inside one value is JSON text, checked to be valid;
//   - constraints hold what must never be wrong (links, ranges, formats); the
//     words of the trade (kinds, classes, roles) are checked by the domain, so
//     that a new word needs no new table.
package migrations

import "embed"

// FS holds the SQL files.
//
//go:embed *.sql
var FS embed.FS
