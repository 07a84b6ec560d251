// Package store keeps everything a club enters in one SQLite file: it is the
// only package that knows SQL, and it speaks the domain's types.
//
// # What flows in and out
//
// A lookup returns a value or an error of kind fault.NotFound. A save takes a
// pointer: it inserts when ID is 0 and otherwise changes the row, provided that
// the row still has the Version that was read; when somebody saved in between,
// it returns fault.Conflict and changes nothing. After a save ID and Version
// are those of the row. What a constraint refuses comes back as fault.Invalid
// or fault.Conflict; every other error is internal. [Store.Plan] loads a whole
// night in one consistent read.
//
// # Design
//
// One connection writes, with immediate transactions and synchronous=FULL, so
// that an acknowledged write is on the disk; a pool of read-only connections
// reads beside it (write-ahead log). Settings stand in the connection string,
// because a PRAGMA reaches one pooled connection only. What must be atomic is
// one method with one transaction ([Store.write]).
//
// A save of a row is two statements: RaiseX checks and raises the version, PutX
// writes every column, for new and changed rows alike. That keeps one list of
// columns for each table.
//
// The night's line-up is saved whole. Each save appends a snapshot to the
// night's history and a step that undo goes back over; undo and redo are steps
// in the history too, so nothing that was saved is lost.
//
// The schema is in the top-level package migrations, applied by [Open]; the
// queries in queries/ are turned into Go in db/ by sqlc; column/ holds the
// types between a column and a value.
package store

//go:generate go run github.com/sqlc-dev/sqlc/cmd/sqlc@v1.31.1 generate
