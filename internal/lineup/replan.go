package lineup

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"duskboard/internal/assign"
)

// ReplanRequest is what happened, and from when the rest of the night is to be
// planned again. Everything but From may be empty.
type ReplanRequest struct {
	From    time.Time        // what runs before stays; on whole blocks, a block that has begun stays
	Clouds  []Sector         // parts of the sky that are hidden
	Out     map[int64]string // instruments that show nothing any more, with the reason
	Away    map[int64][]Span // further stretches without an operator, by instrument
	Missing []Piece          // gear that is not there any more
	Seeing  float64          // FWHM, arcseconds; 0: as planned
	Guests  int              // 0: as planned
}

// Sector is a part of the sky hidden by cloud: azimuths from From eastwards to
// To, and everything below an altitude. All degrees; From = To is all round.
type Sector struct {
	From, To, Below float64
}

// hides reports whether the sector covers a direction.
func (s Sector) hides(az, alt float64) bool {
	if alt >= s.Below {
		return false
	}
	width := math.Mod(s.To-s.From+720, 360)
	return width == 0 || math.Mod(az-s.From+720, 360) <= width
}

// Piece is one kind of loose gear: an eyepiece, a Barlow lens or a filter.
type Piece struct {
	Kind PieceKind
	ID   int64
}

// PieceKind tells the kinds of loose gear apart.
type PieceKind byte

// Kinds of pieces.
const (
	EyepiecePiece  PieceKind = 'e'
	AmplifierPiece PieceKind = 'a'
	FilterPiece    PieceKind = 'f'
)

// ReplanResult is the rest of the night planned again.
type ReplanResult struct {
	Result           // the new line-up, what is past included
	From   time.Time // the block from which it may differ
	// Unchanged is the worth of the line-up if nobody changes it after what
	// happened: what is not possible any more counts nothing.
	Unchanged float64
	Lost      []Lost // showings that cannot go on as planned
}

// Lost is a showing that what happened makes impossible, from an instant on.
type Lost struct {
	Showing Showing
	From    time.Time
	Reason  string
}

// keepPrice is the gain in good looks for which one block of one instrument
// may be changed: operators have cards in their hands, guests were told what
// comes. A changed showing of two blocks must so bring about ten guests more.
const keepPrice = 5

// Replan plans again from a moment on. It keeps what is past, departs from the
// current line-up only where that is needed or worth it, and keeps pinned
// showings that are still possible; those that are not are in Left. in and m
// are those of the night as planned and stay as they are.
func Replan(ctx context.Context, in *Input, m *Matrix, current []Showing, r ReplanRequest) (ReplanResult, error) {
	now, fits := r.apply(in, m)
	mo := build(now, fits)
	from := firstFree(fits, r.From)
	choice := mo.choiceOf(current)
	out := ReplanResult{From: blockStart(fits, from)}
	out.Lost = mo.lost(r, current, from)
	mo.hide(r, from)
	for _, s := range current {
		if s.Pinned {
			now.Pinned = append(now.Pinned, afterwards(fits, s, from))
		}
	}
	now.Pinned = slices.DeleteFunc(now.Pinned, func(s Showing) bool { return s.Length <= 0 })
	mo.pins()
	for ii := range mo.problem.Agents {
		mo.finishAgent(ii)
	}
	out.Unchanged = assign.Evaluate(mo.problem, possible(mo, choice)).Score
	plan, err := assign.Reoptimise(ctx, *mo.problem, assign.Replan{Current: choice, From: from, Keep: keepPrice}, assign.Options{})
	if err != nil {
		return out, fmt.Errorf("plan again: %w", err)
	}
	out.Score, out.Bound, out.Stopped, out.Left = assign.Evaluate(mo.problem, plan.Choice).Score, plan.Bound, plan.Stopped, mo.left
	for ii := range now.Kit.Instruments {
		for _, run := range assign.Runs(ii, plan.Choice[ii]) {
			out.Showings = append(out.Showings, mo.showing(ii, run))
		}
	}
	mo.backups(out.Showings)
	keepIDs(out.Showings, current)
	mo.missedMusts(&out.Result)
	out.Parked = now.Parked(fits, out.Showings)
	out.Crowding = now.CrowdingOf(fits, out.Showings)
	return out, nil
}

// apply is the night as it is after what happened.
func (r ReplanRequest) apply(in *Input, m *Matrix) (*Input, *Matrix) {
	now := *in
	now.Pinned = nil
	now.Away = map[int64][]Span{}
	for id, spans := range in.Away {
		now.Away[id] = slices.Clone(spans)
	}
	for id, spans := range r.Away {
		now.Away[id] = append(now.Away[id], spans...)
	}
	for id, reason := range r.Out {
		now.Away[id] = append(now.Away[id], Span{From: r.From, To: in.PublicTo, Reason: reason})
	}
	if r.Guests > 0 {
		now.Guests = r.Guests
	}
	if r.Seeing > 0 && r.Seeing != in.Seeing {
		now.Seeing = r.Seeing
		return &now, now.Fits()
	}
	fits := *m // the fits are the same; only what surrounds them changed
	fits.in = &now
	return &now, &fits
}

// hide takes away what is not possible any more from a block on: targets
// behind cloud, trains with a missing piece.
func (mo *model) hide(r ReplanRequest, from int) {
	for ii := range mo.options {
		for oi, o := range mo.options[ii] {
			for b := from; b < len(mo.m.Blocks); b++ {
				if mo.why(r, ii, o, b) != "" {
					mo.problem.Agents[ii].Options[oi].Value[b] = math.Inf(-1)
				}
			}
		}
	}
}

// why says what stands in the way of an option in a block after what
// happened, or "".
func (mo *model) why(r ReplanRequest, ii int, o option, b int) string {
	t := mo.in.Targets[o.target]
	s := mo.m.scenes[o.target][b]
	for _, c := range r.Clouds {
		if c.hides(s.az, s.alt) {
			return fmt.Sprintf("%s stands %.0f° high at azimuth %.0f°, behind the cloud", t.Name, s.alt, s.az)
		}
	}
	tr := mo.m.Trains[ii][o.train]
	for _, p := range r.Missing {
		switch {
		case p.Kind == EyepiecePiece && tr.Eyepiece != nil && tr.Eyepiece.ID == p.ID:
			return tr.Eyepiece.Name + " is missing"
		case p.Kind == AmplifierPiece && tr.Amplifier != nil && tr.Amplifier.ID == p.ID:
			return tr.Amplifier.Name + " is missing"
		case p.Kind == FilterPiece && tr.Filter != nil && tr.Filter.ID == p.ID:
			return tr.Filter.Name + " is missing"
		}
	}
	for _, a := range mo.in.Away[mo.in.Kit.Instruments[ii].ID] {
		if a.From.Before(mo.m.Blocks[b].To) && a.To.After(mo.m.Blocks[b].From) {
			return a.Reason
		}
	}
	return ""
}

// lost lists the showings that cannot go on, each with the first reason.
func (mo *model) lost(r ReplanRequest, current []Showing, from int) []Lost {
	var out []Lost
	for _, s := range current {
		ii := mo.in.instrument(s.InstrumentID)
		ti := mo.in.target(s.TargetID)
		if ii < 0 || ti < 0 {
			continue
		}
		tr := mo.m.train(ii, s)
		if tr < 0 {
			continue
		}
		a, z := mo.m.span(s)
		for b := max(a, from); b < z; b++ {
			why := mo.why(r, ii, option{target: ti, train: tr}, b)
			if f, vetoed := mo.m.Judge(ii, ti, tr, b).Vetoed(); why == "" && vetoed {
				why = f.Sentence
			}
			if why != "" {
				out = append(out, Lost{s, mo.m.Blocks[b].From, why})
				break
			}
		}
	}
	return out
}

// firstFree is the first block that has not begun at an instant.
func firstFree(m *Matrix, t time.Time) int {
	b := 0
	for b < len(m.Blocks) && m.Blocks[b].From.Before(t) {
		b++
	}
	return b
}

func blockStart(m *Matrix, b int) time.Time {
	if b < len(m.Blocks) {
		return m.Blocks[b].From
	}
	if n := len(m.Blocks); n > 0 {
		return m.Blocks[n-1].To
	}
	return time.Time{}
}

// afterwards is the part of a showing from a block on; without length when
// there is none.
func afterwards(m *Matrix, s Showing, from int) Showing {
	if at := blockStart(m, from); s.From.Before(at) {
		s.Length -= at.Sub(s.From)
		s.From = at
	}
	return s
}

// possible is a plan without the blocks that the problem does not allow.
func possible(mo *model, choice [][]int) [][]int {
	out := make([][]int, len(choice))
	for ii := range choice {
		out[ii] = slices.Clone(choice[ii])
		for b, o := range out[ii] {
			if o != assign.Idle && !mo.problem.Agents[ii].Options[o].Allowed(b) {
				out[ii][b] = assign.Idle
			}
		}
	}
	return out
}

// keepIDs gives a showing that goes on the id, the pin and the backup that it
// had, so that links and cards still lead to it.
func keepIDs(shows, current []Showing) {
	used := map[int64]bool{}
	for i := range shows {
		for _, c := range current {
			s := &shows[i]
			if !used[c.ID] && c.InstrumentID == s.InstrumentID && c.TargetID == s.TargetID && c.EyepieceID == s.EyepieceID &&
				c.AmplifierID == s.AmplifierID && c.FilterID == s.FilterID && c.From.Before(s.To()) && s.From.Before(c.To()) {
				s.ID, s.Pinned, s.BackupID = c.ID, c.Pinned, c.BackupID
				used[c.ID] = true
				break
			}
		}
	}
}
