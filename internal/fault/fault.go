// Package fault gives errors a kind, so that the domain can say what went
// wrong and web can turn it into an HTTP status in one place.
//
// An error without a kind is internal: the visitor sees one fixed sentence and
// the log the rest.
package fault

import (
	"errors"
	"fmt"
)

// Kind is the class of an error that a visitor can do something about.
type Kind int

// Kinds of error. Internal is the kind of every error that has none.
const (
	Internal Kind = iota
	Invalid
	NotFound
	Conflict
	Forbidden
)

// Error is an error with a kind and a message fit for a visitor.
type Error struct {
	Kind    Kind
	Message string
	Err     error // what lies beneath; may be nil
}

// Error returns the visitor's message and, behind a colon, the cause.
func (e *Error) Error() string {
	if e.Err != nil {
		return e.Message + ": " + e.Err.Error()
	}
	return e.Message
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// New returns an error of the kind with a formatted message.
func New(k Kind, format string, args ...any) *Error {
	return &Error{Kind: k, Message: fmt.Sprintf(format, args...)}
}

// Wrap returns an error of the kind that keeps its cause.
func Wrap(k Kind, err error, format string, args ...any) *Error {
	return &Error{Kind: k, Message: fmt.Sprintf(format, args...), Err: err}
}

// KindOf returns the kind of the first *Error in the chain, or Internal.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}

// Field is a fault of one field of a form or of a file.
type Field struct {
	Name    string // name of the field as the form knows it
	Message string // a short sentence with the allowed range and its unit
}

// Fields are the faults of a form. As an error they are Invalid.
type Fields []Field

// Error returns the first message and how many more there are.
func (f Fields) Error() string {
	switch len(f) {
	case 0:
		return "no fault"
	case 1:
		return f[0].Name + ": " + f[0].Message
	}
	return fmt.Sprintf("%s: %s (and %d more)", f[0].Name, f[0].Message, len(f)-1)
}

// For returns the message for a field, or "".
func (f Fields) For(name string) string {
	for _, x := range f {
		if x.Name == name {
			return x.Message
		}
	}
	return ""
}

// OrNil returns nil when there is no fault, else an Invalid error that holds
// the faults.
func (f Fields) OrNil() error {
	if len(f) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Message: "some fields need another look", Err: f}
}
