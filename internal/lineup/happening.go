package lineup

import (
	"fmt"
	"math"
	"time"

	"duskboard/internal/kit"
)

// HappeningKind is what may go wrong, or right, on a running night.
type HappeningKind string

// The kinds of happening.
const (
	Cloud           HappeningKind = "cloud"
	InstrumentOut   HappeningKind = "instrument-out"
	OperatorGone    HappeningKind = "operator-gone"
	EyepieceMissing HappeningKind = "eyepiece-missing"
	AmplifierGone   HappeningKind = "amplifier-missing" // a Barlow lens, reducer or corrector
	DiagonalMissing HappeningKind = "diagonal-missing"
	FilterMissing   HappeningKind = "filter-missing"
	SeeingWorse     HappeningKind = "seeing"
	MoreGuests      HappeningKind = "guests"
)

// Happening is one thing that changed while the night runs.
type Happening struct {
	Kind     HappeningKind
	From, To time.Time // zero From: at once; zero To: to the end

	InstrumentID int64 // InstrumentOut, OperatorGone
	EyepieceID   int64 // EyepieceMissing: one piece of it
	GearID       int64 // AmplifierGone, DiagonalMissing, FilterMissing: one piece of it
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
			out.Kit.Eyepieces = without(out.Kit.Eyepieces, h.EyepieceID, func(x *kit.Eyepiece) *kit.Base { return &x.Base })
		case AmplifierGone:
			out.Kit.Amplifiers = without(out.Kit.Amplifiers, h.GearID, func(x *kit.Amplifier) *kit.Base { return &x.Base })
		case DiagonalMissing:
			bare := out.bare()
			out.Kit.Diagonals = without(out.Kit.Diagonals, h.GearID, func(x *kit.Diagonal) *kit.Base { return &x.Base })
			span.Reason = "its diagonal is missing"
			for id := range out.bare() {
				if !bare[id] {
					out.Away[id] = append(out.Away[id], span)
				}
			}
		case FilterMissing:
			out.Kit.Filters = without(out.Kit.Filters, h.GearID, func(x *kit.Filter) *kit.Base { return &x.Base })
		case SeeingWorse:
			out.Seeing = h.Seeing
		case MoreGuests:
			out.Guests = h.Guests
		}
	}
	return &out
}

// bare are the instruments that look through a diagonal and find none among the
// night's: neither one that stays with them nor, in the order of the kit, one
// of the loose ones. A night on which nobody entered diagonals has them all
// along; only losing one makes a difference.
func (in *Input) bare() map[int64]bool {
	own, loose := map[int64]bool{}, 0
	for _, d := range in.Kit.Diagonals {
		switch {
		case d.Retired:
		case d.ForID != 0:
			own[d.ForID] = true
		default:
			loose += max(d.Count, 1)
		}
	}
	out := map[int64]bool{}
	for _, i := range in.Kit.Instruments {
		if i.EyepiecePlace != kit.BehindDiagonal || own[i.ID] {
			continue
		}
		if loose--; loose < 0 {
			out[i.ID] = true
		}
	}
	return out
}

// without is a list with one piece fewer of an id; the last one counts as put
// away, so that no train is built with it.
func without[T any](all []T, id int64, base func(*T) *kit.Base) []T {
	out := append(all[:0:0], all...)
	for i := range out {
		b := base(&out[i])
		switch {
		case b.ID != id:
		case b.Count > 1:
			b.Count--
		default:
			b.Retired = true
		}
	}
	return out
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
		switch h.Kind {
		case EyepieceMissing, AmplifierGone, DiagonalMissing, FilterMissing, SeeingWorse:
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
		return there(in.Kit.Eyepieces, h.EyepieceID, "eyepiece", func(x *kit.Eyepiece) *kit.Base { return &x.Base })
	case AmplifierGone:
		return there(in.Kit.Amplifiers, h.GearID, "Barlow lens, reducer or corrector", func(x *kit.Amplifier) *kit.Base { return &x.Base })
	case DiagonalMissing:
		return there(in.Kit.Diagonals, h.GearID, "diagonal", func(x *kit.Diagonal) *kit.Base { return &x.Base })
	case FilterMissing:
		return there(in.Kit.Filters, h.GearID, "filter", func(x *kit.Filter) *kit.Base { return &x.Base })
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

// there refuses a piece that is no part of the night.
func there[T any](all []T, id int64, what string, base func(*T) *kit.Base) error {
	for i := range all {
		if base(&all[i]).ID == id {
			return nil
		}
	}
	return fmt.Errorf("%s %d is not part of the night", what, id)
}
