package night

import (
	"time"

	"duskboard/internal/field"
)

// Word is what a coordinator decides about a night.
type Word string

// Words of a decision.
const (
	WordGo       Word = "go"
	WordDoubtful Word = "doubtful"
	WordOff      Word = "off"
)

// WordOf is the word that a judgement suggests, and "" when there is nothing
// to judge by.
func WordOf(v field.Verdict) Word {
	return map[field.Verdict]Word{field.Go: WordGo, field.Doubtful: WordDoubtful, field.Off: WordOff}[v]
}

// Decision is what a coordinator decided about a night, and when. Every one is
// kept; the newest counts.
type Decision struct {
	At    time.Time // UTC
	Who   string
	Word  Word
	Words string // why, and what the crew should know
}

// GoRules is by what and when the club decides.
type GoRules struct {
	Version    int64
	Decide     int // minutes after midnight on the site's clock, on the night's date
	Post       int // by when the decision is where everybody looks
	Thresholds field.Thresholds
}

// DefaultGoRules are common practice: a call at noon, posted by one o'clock.
func DefaultGoRules() GoRules {
	return GoRules{Version: 1, Decide: 12 * 60, Post: 13 * 60, Thresholds: field.DefaultThresholds()}
}

// PutOut is how one instrument is handled on one night, where that differs
// from the usual.
type PutOut struct {
	InstrumentID int64
	At           time.Time // zero: as planned
	StorageTemp  *float64  // degrees C; nil: typical for the place
	FanOff       bool      // the fan it has stays off
}

// Usual reports that nothing differs.
func (p PutOut) Usual() bool { return p.At.IsZero() && p.StorageTemp == nil && !p.FanOff }

// Packing is what somebody said about an item: that they bring it, or cannot.
type Packing struct {
	Item        string // a key of package departure
	VolunteerID int64
	Brings      bool
}

// Decided is the decision that counts, and false when there is none yet.
func (p Plan) Decided() (Decision, bool) {
	if len(p.Decisions) == 0 {
		return Decision{}, false
	}
	return p.Decisions[len(p.Decisions)-1], true
}
