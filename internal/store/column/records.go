package column

import (
	"encoding/json"

	"duskboard/internal/kit"
)

// The records that are kept as JSON. Their keys are part of the database's
// format: a field may be added, never renamed or given another meaning.

type (
	// Strings is a list of words.
	Strings = List[string]
	// Numbers is a list of ids.
	Numbers = List[int64]
	// Designs is a list of optical designs.
	Designs = List[kit.Design]
	// Corners is a horizon outline: pairs of azimuth and altitude, degrees.
	Corners = List[[2]float64]
	// Skills is what a volunteer can operate.
	Skills = List[Skill]
	// DoubleStar is a double star's data, or NULL.
	DoubleStar = Object[Double]
	// VariableStar is a variable star's data, or NULL.
	VariableStar = Object[Variable]
	// TargetWords is what an operator says about a target.
	TargetWords = Object[Words]
	// LineUp is a line-up as it was, or NULL.
	LineUp = Object[LineUpState]
	// Roster is a roster as it was, or NULL.
	Roster = Object[RosterState]
	// BinContent is what lies in the bin without a row of its own, or NULL.
	BinContent = Object[Binned]
	// ImportDone is what an import did.
	ImportDone = List[Imported]
)

// Binned is a row that left its table: of a satellite (Elements and At) or of
// a kept line-up (all the rest).
type Binned struct {
	At       Instant      `json:"at"`
	Elements string       `json:"elements,omitempty"`
	Night    int64        `json:"night,omitempty"`
	Who      string       `json:"who,omitempty"`
	LineUp   *LineUpState `json:"lineUp,omitempty"`
}

// Imported is one row that an import added, or changed from Before.
type Imported struct {
	Table   string          `json:"table"`
	ID      int64           `json:"id"`
	Version int64           `json:"version"`          // after the import
	Before  json.RawMessage `json:"before,omitempty"` // columns by name; missing for a row that was added
	Detail  string          `json:"detail,omitempty"` // table of the rest of a piece of gear
	Rest    json.RawMessage `json:"rest,omitempty"`   // its columns
}

// Skill is one skill of a volunteer.
type Skill struct {
	Instrument int64  `json:"instrument,omitempty"`
	Mount      string `json:"mount,omitempty"`
	Level      string `json:"level"`
}

// Double is what a double star needs: arcseconds, degrees, magnitudes.
type Double struct {
	Separation    float64 `json:"separation"`
	PositionAngle float64 `json:"positionAngle"`
	MagA          float64 `json:"magA"`
	MagB          float64 `json:"magB"`
	Colours       string  `json:"colours,omitempty"`
	Year          int     `json:"year,omitempty"`
	Count         int     `json:"count,omitempty"`
	Optical       bool    `json:"optical,omitempty"`
}

// Variable is how a star changes: magnitudes, and days.
type Variable struct {
	Max     float64 `json:"max"`
	Min     float64 `json:"min"`
	Period  float64 `json:"period,omitempty"`
	Colours string  `json:"colours,omitempty"`
}

// Words are the words of a target.
type Words struct {
	Line    string   `json:"line,omitempty"`
	Facts   []string `json:"facts,omitempty"`
	LookFor string   `json:"lookFor,omitempty"`
	Expect  string   `json:"expect,omitempty"`
	Find    string   `json:"find,omitempty"`
}

// LineUpState is a line-up as it was after a change.
type LineUpState struct {
	Showings  []Showing `json:"showings"`
	Forbidden []Pair    `json:"forbidden"`
}

// Showing is one showing of a line-up that was.
type Showing struct {
	ID         int64   `json:"id"`
	Instrument int64   `json:"instrument"`
	Target     string  `json:"target"`
	Eyepiece   Ref     `json:"eyepiece"`
	Amplifier  Ref     `json:"amplifier"`
	Diagonal   Ref     `json:"diagonal"`
	Filter     Ref     `json:"filter"`
	From       Instant `json:"from"`
	Seconds    Seconds `json:"seconds"`
	Pinned     bool    `json:"pinned"`
	Backup     string  `json:"backup"`
}

// Pair is a forbidden pair of a line-up that was.
type Pair struct {
	Instrument int64  `json:"instrument"`
	Target     string `json:"target"`
}

// RosterState is a roster as it was after a change.
type RosterState struct {
	Duties []Duty `json:"duties"`
}

// Duty is one duty of a roster that was.
type Duty struct {
	ID         int64   `json:"id"`
	Volunteer  int64   `json:"volunteer"`
	Role       string  `json:"role"`
	Instrument Ref     `json:"instrument"`
	From       Instant `json:"from"`
	Seconds    Seconds `json:"seconds"`
	Pinned     bool    `json:"pinned"`
}
