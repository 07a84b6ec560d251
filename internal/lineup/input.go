package lineup

import (
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/sky"
)

// Input is everything that a line-up rests on. It is made by package night
// and not changed here.
type Input struct {
	Sky        *sky.Night
	Horizon    sky.Horizon
	Brightness float64 // zenith of the site on a moonless night, mag per square arcsecond
	Seeing     float64 // FWHM, arcseconds; 0 unknown, then 2.5 is assumed and said

	PublicFrom time.Time
	PublicTo   time.Time
	Block      time.Duration
	Guests     int
	Crowd      Crowd
	Ladders    bool // allowed by club and site

	Kit       kit.Kit // filled: see kit.Kit.Fill
	Targets   []catalog.Target
	Must      map[string]bool  // ids of targets that must be shown once
	Forecasts field.Reports    // by instrument id; none: no weather, and said
	Away      map[int64][]Span // stretches in which an instrument cannot show, with the reason
	Pinned    []Showing
	Standing  []Showing // the line-up as it stands: its trains are judged too, see [Matrix.Including]
	Forbidden []Pair
	Rules     Rules
}

// Span is a stretch of time with the reason why an instrument is parked.
type Span struct {
	From, To time.Time
	Reason   string
}

// Crowd is what the audience needs.
type Crowd struct {
	Name        string  // "families"
	EyeHeight   float64 // of a typical guest, m
	ChildHeight float64 // of the smallest expected guest, m; 0 when no children come
	PupilAge    float64 // years, for the eye's pupil in the dark
	FieldFactor float64 // contrast threshold against a practised laboratory eye, 2 is usual
	Slow        float64 // seconds per look multiplied by this
	BrightFirst bool    // small children: bright, easy targets early
}

// Blocks returns the time steps of the public hours: whole blocks, and one
// shorter block when the public hours are shorter than one.
func (in *Input) Blocks() []Slot {
	var out []Slot
	if in.Block <= 0 {
		return nil
	}
	for t := in.PublicFrom; !t.Add(in.Block).After(in.PublicTo); t = t.Add(in.Block) {
		out = append(out, Slot{t, t.Add(in.Block)})
	}
	if len(out) == 0 && in.PublicTo.After(in.PublicFrom) {
		out = append(out, Slot{in.PublicFrom, in.PublicTo})
	}
	return out
}

// UsualBrightness stands in for a sky that nobody measured: the edge of a small
// town, mag per square arcsecond (common practice).
const UsualBrightness = 20.0

// healed returns the input with a default for numbers that cannot be, so that
// a night with a hole in its data is judged and not lost. A zenith outside 14
// to 22.5 mag per square arcsecond is brighter than any town or darker than
// the sky between the stars.
func (in *Input) healed() *Input {
	out := *in
	if !(in.Brightness >= 14 && in.Brightness <= 22.5) {
		out.Brightness = UsualBrightness
	}
	if !(in.Seeing > 0 && in.Seeing <= 15) {
		out.Seeing = 0
	}
	if !(in.Crowd.Slow > 0) {
		out.Crowd.Slow = 1
	}
	return &out
}

// Slot is one block of the night.
type Slot struct{ From, To time.Time }

// Middle returns the middle of the block.
func (s Slot) Middle() time.Time { return s.From.Add(s.To.Sub(s.From) / 2) }
