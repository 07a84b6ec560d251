package lineup

import (
	"context"
	"fmt"
	"math"
	"sort"
	"time"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// Buy is one more eyepiece and what it would do for the night.
type Buy struct {
	Eyepiece kit.Eyepiece
	Gain     float64  // looks by which the night's score would rise
	Share    float64  // the same as a share of the score
	For      []string // instruments that would use it
	Words    string
}

// Ladder is the steps of magnification that an instrument has, and what is
// missing between them.
type Ladder struct {
	InstrumentID int64
	Steps        []Step // by magnification
	Gaps         []string
}

// Step is one rung.
type Step struct {
	Power, ExitPupil, Field float64 // times, mm, degrees
	Train                   optics.Train
}

// Counsel is what a club could buy or borrow.
type Counsel struct {
	Ladders []Ladder
	Buys    []Buy // most useful first; none that would change nothing
	Tried   int   // eyepieces that were tried
}

// candidates are generic eyepieces of the trade: the common focal lengths with
// a comfortable eye relief. Field stops are focal length times apparent field,
// as far as the barrel passes (common practice).
var candidates = []struct {
	focal, apparent float64
	barrel          kit.Barrel
}{
	{40, 65, kit.Barrel2}, {30, 80, kit.Barrel2}, {24, 66, kit.Barrel125}, {17, 65, kit.Barrel125},
	{12, 60, kit.Barrel125}, {9, 60, kit.Barrel125}, {7, 60, kit.Barrel125}, {5, 60, kit.Barrel125},
}

// Advice computes what one more eyepiece would do: the night is planned again
// with each candidate in turn, as often as time allows, and the rise of the
// score is its worth. Candidates that no instrument takes, or that come within
// 7 per cent of what nobody wants twice, are left out before.
func Advice(ctx context.Context, in *Input, m *Matrix) (Counsel, error) {
	var c Counsel
	for ii := range in.Kit.Instruments {
		if l, ok := m.ladder(ii); ok {
			c.Ladders = append(c.Ladders, l)
		}
	}
	base, err := Propose(ctx, in, m)
	if err != nil {
		return c, fmt.Errorf("what to buy: %w", err)
	}
	for n, x := range candidates {
		if ctx.Err() != nil {
			break
		}
		e := generic(x.focal, x.apparent, x.barrel, int64(-1-n))
		if in.spare(e) {
			continue
		}
		c.Tried++
		more := *in
		more.Kit.Eyepieces = append(append([]kit.Eyepiece(nil), in.Kit.Eyepieces...), e)
		r, err := Propose(ctx, &more, more.Fits())
		if err != nil {
			return c, fmt.Errorf("what to buy: %w", err)
		}
		if b, ok := buy(&more, base, r, e); ok {
			c.Buys = append(c.Buys, b)
		}
	}
	sort.SliceStable(c.Buys, func(i, j int) bool { return c.Buys[i].Gain > c.Buys[j].Gain })
	return c, nil
}

func generic(focal, apparent float64, b kit.Barrel, id int64) kit.Eyepiece {
	stop := math.Min(focal*apparent/57.3, b.WidestStop())
	return kit.Eyepiece{
		Base:        kit.Base{ID: id, Name: fmt.Sprintf("%.0f mm, %.0f degrees", focal, apparent), Count: 1},
		FocalLength: focal, ApparentField: apparent, FieldStop: stop, Barrel: b, EyeRelief: 18, Class: kit.ClassCorrected,
	}.Fill()
}

// sameEyepiece is how near two focal lengths are for one to stand in for the
// other.
const sameEyepiece = 1.07

// spare reports whether an eyepiece would bring nothing: no instrument takes
// its barrel, or there are already as many like it as instruments.
func (in *Input) spare(e kit.Eyepiece) bool {
	takes, have := 0, 0
	for _, i := range in.Kit.Instruments {
		if i.Focuser == kit.Barrel2 || i.Focuser == e.Barrel {
			takes++
		}
	}
	for _, x := range in.Kit.Eyepieces {
		r := x.FocalLength / e.FocalLength
		if !x.Retired && r < sameEyepiece && r > 1/sameEyepiece && x.FieldStop >= 0.95*e.FieldStop {
			have += max(x.Count, 1)
		}
	}
	return takes == 0 || have >= takes
}

// noise is the rise of the score that two searches may differ by for no
// reason.
const noise = 0.003

func buy(in *Input, base, with Result, e kit.Eyepiece) (Buy, bool) {
	b := Buy{Eyepiece: e, Gain: with.Score - base.Score}
	if base.Score > 0 {
		b.Share = b.Gain / base.Score
	}
	seen := map[int64]bool{}
	minutes := time.Duration(0)
	for _, s := range with.Showings {
		if s.EyepieceID == e.ID {
			minutes += s.Length
			if !seen[s.InstrumentID] {
				seen[s.InstrumentID] = true
				b.For = append(b.For, in.instrumentName(s.InstrumentID))
			}
		}
	}
	if len(b.For) == 0 || base.Score > 0 && b.Share < noise || b.Gain <= 0 {
		return b, false
	}
	b.Words = fmt.Sprintf("One more eyepiece of %s would bring about %.0f more good looks (%.1f %%): %.0f minutes at %s.", e.Name, b.Gain, 100*b.Share, minutes.Minutes(), list(b.For))
	return b, true
}

func list(names []string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	s := names[0]
	for _, n := range names[1 : len(names)-1] {
		s += ", " + n
	}
	return s + " and " + names[len(names)-1]
}
