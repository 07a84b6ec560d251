package lineup

import "time"

// Showing is one target in one train at one instrument over a run of blocks.
// Ids of gear are those of the kit; 0 means none.
type Showing struct {
	ID           int64
	InstrumentID int64
	TargetID     string // catalogue id
	EyepieceID   int64  // 0 for fixed binoculars
	AmplifierID  int64
	DiagonalID   int64
	FilterID     int64
	From         time.Time // UTC, on a block boundary
	Length       time.Duration
	Pinned       bool   // stays when the night is proposed again
	BackupID     string // target in another part of the sky, for cloud; "" none
}

// To returns the end of the showing.
func (s Showing) To() time.Time { return s.From.Add(s.Length) }

// Pair is a target that the coordinator does not want at an instrument.
type Pair struct {
	InstrumentID int64
	TargetID     string
}
