package night

import (
	"time"

	"duskboard/internal/lineup"
)

// Kept is a line-up that was given a name and kept beside the one in force.
type Kept struct {
	ID        int64
	Name      string
	Who       string    // who kept it; empty when nobody was signed in
	At        time.Time // UTC
	Showings  []lineup.Showing
	Forbidden []lineup.Pair
}
