package night

import "time"

// Keeping is how long the club keeps what is known about people, in months
// after a night; 0 is for ever.
type Keeping struct {
	Version  int64
	Answers  int // who could come when, lifts, who brings what
	History  int // who changed what in a night
	Contacts int // e-mail and phone of somebody who took no part since
}

// Keeper is the name under which the program notes what it cleared itself.
const Keeper = "Duskboard"

// Consent is one time that somebody agreed that the crew may see their contact
// data, or took that back.
type Consent struct {
	At     time.Time // UTC
	Who    string    // who recorded it; empty when nobody was signed in
	Agreed bool
}
