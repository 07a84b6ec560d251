package lineup

import (
	"fmt"
	"math"
	"time"
)

// HappeningKind is what may go wrong, or right, on a running night.
type HappeningKind string

// The kinds of happening.
const (
	Cloud           HappeningKind = "cloud"
	InstrumentOut   HappeningKind = "instrument-out"
	OperatorGone    HappeningKind = "operator-gone"
	EyepieceMissing HappeningKind = "eyepiece-missing"
	SeeingWorse     HappeningKind = "seeing"
	MoreGuests      HappeningKind = "guests"
)

// Happening is one thing that changed while the night runs.
type Happening struct {
	Kind     HappeningKind
	From, To time.Time // zero From: at once; zero To: to the end

	InstrumentID int64 // InstrumentOut, OperatorGone
	EyepieceID   int64 // EyepieceMissing: one piece of it
	Sector       Sector
	Seeing       float64 // SeeingWorse: FWHM from now on, arcseconds
	Guests       int     // MoreGuests: expected in all
}

// Sector is a part of the sky: azimuths from north through east, from AzFrom
// clockwise to AzTo (equal: all round), and altitudes, degrees.
type Sector struct {
	AzFrom, AzTo   float64
	AltFrom, AltTo float64 // AltTo 0 is taken as 90
}

// Has reports whether a direction lies in the sector.
func (s Sector) Has(az, alt float64) bool {
	top := s.AltTo
	if top == 0 {
		top = 90
	}
	if alt < s.AltFrom || alt > top {
		return false
	}
	width := turn(s.AzTo - s.AzFrom)
	return width == 0 || turn(az-s.AzFrom) <= width
}

// turn brings an angle into 0 to 360 degrees.
func turn(a float64) float64 {
	a = math.Mod(a, 360)
	if a < 0 {
		a += 360
	}
	return a
}

func (h Happening) during(s Slot) bool {
	return (h.From.IsZero() || h.From.Before(s.To)) && (h.To.IsZero() || s.From.Before(h.To))
}

// after returns the night as the happenings leave it: another seeing, more
// guests, instruments away, gear gone. Cloud is not part of it: see clouded.
func (in *Input) after(from time.Time, hs []Happening) *Input {
	out := *in
	out.Away = map[int64][]Span{}
	for id, spans := range in.Away {
		out.Away[id] = append([]Span(nil), spans...)
	}
	for _, h := range hs {
		span := Span{From: later2(from, h.From), To: h.To}
		if span.To.IsZero() {
			span.To = in.PublicTo
		}
		switch h.Kind {
		case InstrumentOut:
			span.Reason = "out of service"
			out.Away[h.InstrumentID] = append(out.Away[h.InstrumentID], span)
		case OperatorGone:
			span.Reason = "no operator"
			out.Away[h.InstrumentID] = append(out.Away[h.InstrumentID], span)
		case EyepieceMissing:
			out.Kit.Eyepieces = append(out.Kit.Eyepieces[:0:0], out.Kit.Eyepieces...)
			for i, e := range out.Kit.Eyepieces {
				if e.ID != h.EyepieceID {
					continue
				}
				if e.Count > 1 {
					out.Kit.Eyepieces[i].Count--
				} else {
					out.Kit.Eyepieces[i].Retired = true // no train is built with it
				}
			}
		case SeeingWorse:
			out.Seeing = h.Seeing
		case MoreGuests:
			out.Guests = h.Guests
		}
	}
	return &out
}

func later2(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// refits reports whether the happenings change what instruments can show.
func refits(hs []Happening) bool {
	for _, h := range hs {
		if h.Kind == EyepieceMissing || h.Kind == SeeingWorse {
			return true
		}
	}
	return false
}

// clouded reports whether cloud hides a target at some time of a block.
func (m *Matrix) clouded(ti, b int, hs []Happening) bool {
	s := &m.scenes[ti][b]
	for _, h := range hs {
		if h.Kind == Cloud && h.during(m.Blocks[b]) && h.Sector.Has(s.az, s.alt) {
			return true
		}
	}
	return false
}

// Check refuses happenings that cannot be, in a sentence each.
func (h Happening) Check(in *Input) error {
	switch h.Kind {
	case Cloud:
		if h.Sector.AltFrom < 0 || h.Sector.AltTo < 0 || h.Sector.AltTo > 90 || h.Sector.AltTo != 0 && h.Sector.AltTo < h.Sector.AltFrom {
			return fmt.Errorf("cloud from %.0f to %.0f degrees of altitude: between 0 and 90, the lower first", h.Sector.AltFrom, h.Sector.AltTo)
		}
	case InstrumentOut, OperatorGone:
		if in.instrument(h.InstrumentID) < 0 {
			return fmt.Errorf("instrument %d is not part of the night", h.InstrumentID)
		}
	case EyepieceMissing:
		for _, e := range in.Kit.Eyepieces {
			if e.ID == h.EyepieceID {
				return nil
			}
		}
		return fmt.Errorf("eyepiece %d is not part of the night", h.EyepieceID)
	case SeeingWorse:
		if !(h.Seeing >= 0.3 && h.Seeing <= 15) {
			return fmt.Errorf("seeing of %.1f arcseconds: between 0.3 and 15", h.Seeing)
		}
	case MoreGuests:
		if h.Guests < 0 {
			return fmt.Errorf("%d guests", h.Guests)
		}
	default:
		return fmt.Errorf("nothing is known about %q", h.Kind)
	}
	return nil
}
