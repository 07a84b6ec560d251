package weather

import (
	"context"
	"time"
)

// Query asks for the weather of one place.
type Query struct {
	Latitude  float64 // degrees, north positive
	Longitude float64 // degrees, east positive
	Elevation float64 // m above the sea; negative asks for the service's own terrain height
	From, To  time.Time
}

// Provider is a forecast service. Package feed has those that speak to real
// ones.
type Provider interface {
	// Name is what a person calls the service.
	Name() string
	// Fetch returns the weather that covers the query with at least one hour
	// to either side, as far as the service has it. An error is a
	// [*FetchError] fit to show, or that of ctx.
	Fetch(ctx context.Context, q Query) (Series, error)
}

// Trouble says why a fetch gave nothing, so that a page can say what to do.
type Trouble int

// Kinds of trouble.
const (
	Unreachable Trouble = iota // no answer, or none in time: try again, or type it in
	Busy                       // the service asks us to come back later
	Refused                    // the service does not accept the question
	Unreadable                 // the answer is cut, malformed or in unknown units
	NotCovered                 // the answer does not reach the night
)

// FetchError is a fetch that gave no weather.
type FetchError struct {
	Provider string
	Kind     Trouble
	Reason   string // a sentence fit for the visitor
	Err      error  // what lay underneath, for the log; may be nil
}

// Error is the provider and the reason.
func (e *FetchError) Error() string {
	if e.Err != nil {
		return e.Provider + ": " + e.Reason + " (" + e.Err.Error() + ")"
	}
	return e.Provider + ": " + e.Reason
}

// Unwrap gives the error underneath.
func (e *FetchError) Unwrap() error { return e.Err }
