package store

import (
	"database/sql"
	"errors"

	"github.com/mattn/go-sqlite3"

	"duskboard/internal/fault"
)

// translate gives the driver's errors a kind that the domain knows, by their
// code and never by their text. Errors that have a kind already, and those
// that a visitor can do nothing about, are returned as they are.
func translate(err error) error {
	var kinded *fault.Error
	if err == nil || errors.As(err, &kinded) {
		return err
	}
	if errors.Is(err, sql.ErrNoRows) {
		return fault.Wrap(fault.NotFound, err, "This is not there, or not any more.")
	}
	var e sqlite3.Error
	if !errors.As(err, &e) {
		return err
	}
	switch e.ExtendedCode {
	case sqlite3.ErrConstraintUnique, sqlite3.ErrConstraintPrimaryKey, sqlite3.ErrConstraintRowID:
		return fault.Wrap(fault.Conflict, err, "The same is there already.")
	case sqlite3.ErrConstraintForeignKey:
		return fault.Wrap(fault.Invalid, err, "Something that this refers to is not there.")
	case sqlite3.ErrConstraintCheck, sqlite3.ErrConstraintNotNull, errConstraintDatatype:
		return fault.Wrap(fault.Invalid, err, "A value is missing or outside what is possible.")
	}
	if words, ok := plight[e.Code]; ok {
		return &plightError{words, err}
	}
	return err
}

// errConstraintDatatype is SQLITE_CONSTRAINT_DATATYPE, a value of the wrong
// type for a STRICT table; the driver has no name for it.
const errConstraintDatatype = sqlite3.ErrNoExtended(19 | 12<<8)

// plight says in words what is wrong with the machine, for whoever reads the
// log; the visitor sees the fixed sentence of an internal error.
var plight = map[sqlite3.ErrNo]string{
	sqlite3.ErrFull:     "the disk is full; free some space, nothing was changed",
	sqlite3.ErrReadonly: "the database or its folder cannot be written; check its owner and permissions",
	sqlite3.ErrCantOpen: "the database or its folder cannot be opened; check the path and its permissions",
	sqlite3.ErrPerm:     "the database cannot be opened; check its permissions",
	sqlite3.ErrCorrupt:  "the database is damaged; stop the program, keep the file, and restore a backup",
	sqlite3.ErrNotADB:   "this file is not a database; restore a backup",
	sqlite3.ErrIoErr:    "the disk could not be read or written; look after the disk before anything else",
	sqlite3.ErrBusy:     "another program keeps the database locked",
	sqlite3.ErrLocked:   "the database is locked",
}

type plightError struct {
	words string
	err   error
}

func (p *plightError) Error() string { return p.words + " (" + p.err.Error() + ")" }
func (p *plightError) Unwrap() error { return p.err }

// missing is the answer to a lookup by id that finds nothing.
func missing(err error, what string, id any) error {
	if errors.Is(err, sql.ErrNoRows) {
		return fault.New(fault.NotFound, "There is no %s %v here.", what, id)
	}
	return err
}

// changed is the answer to a save whose version is not the present one.
func changed(what string) error {
	return fault.New(fault.Conflict, "Someone else has changed this %s since you opened it; look at the new state and decide.", what)
}

// isBusy reports that another connection holds the lock.
func isBusy(err error) bool {
	var e sqlite3.Error
	return errors.As(err, &e) && (e.Code == sqlite3.ErrBusy || e.Code == sqlite3.ErrLocked)
}

// isDamage reports that a file is not a whole database.
func isDamage(err error) bool {
	var e sqlite3.Error
	return errors.As(err, &e) && (e.Code == sqlite3.ErrCorrupt || e.Code == sqlite3.ErrNotADB)
}
