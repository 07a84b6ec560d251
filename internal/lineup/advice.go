package lineup

import (
	"context"
	"fmt"
	"math"
	"sort"
	"time"

	"duskboard/internal/kit"
)

// Buy is one more eyepiece and what it would do for the night.
type Buy struct {
	Eyepiece kit.Eyepiece
	Gain     float64  // looks by which the night's score would rise
	Share    float64  // the same as a share of the score
	For      []string // instruments that would use it
	Use      string   // how long at which: "150 minutes at Long Tom and Stovepipe"
	Words    string
}

// Counsel is what a club could buy or borrow.
type Counsel struct {
	Score   float64 // of the night as it is, good looks
	Buys    []Buy   // most useful first; none that would change nothing
	Others  []Other // candidates that bring nothing, with the reason
	Tried   int     // eyepieces with which the night was planned again
	Stopped bool    // time ran out before all were tried
}

// Other is a candidate that would bring nothing.
type Other struct {
	Eyepiece kit.Eyepiece
	Reason   string
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

// Candidates are the eyepieces that [Advice] weighs.
func Candidates() []kit.Eyepiece {
	var out []kit.Eyepiece
	for n, x := range candidates {
		out = append(out, generic(x.focal, x.apparent, x.barrel, int64(-1-n)))
	}
	return out
}

// Advice computes what one more eyepiece would do: the night is planned again
// with each candidate in turn, as often as time allows, and the rise of the
// score is its worth. Candidates that no instrument takes, or that come within
// 7 per cent of what nobody wants twice, are left out before and said.
// progress, which may be nil, is told how many of them are done.
func Advice(ctx context.Context, in *Input, m *Matrix, progress func(done, all int)) (Counsel, error) {
	var c Counsel
	base, err := Propose(ctx, in, m)
	if err != nil {
		return c, fmt.Errorf("what to buy: %w", err)
	}
	c.Score = base.Score
	all := Candidates()
	for n, e := range all {
		if progress != nil {
			progress(n, len(all))
		}
		if ctx.Err() != nil {
			c.Stopped = true
			c.Others = append(c.Others, Other{e, "not tried: there was no time left"})
			continue
		}
		if reason := in.spare(e); reason != "" {
			c.Others = append(c.Others, Other{e, reason})
			continue
		}
		b, reason, err := in.with(ctx, base, e)
		if err != nil {
			return c, fmt.Errorf("what to buy: %w", err)
		}
		c.Tried++
		if reason != "" {
			c.Others = append(c.Others, Other{e, reason})
		} else {
			c.Buys = append(c.Buys, b)
		}
	}
	sort.SliceStable(c.Buys, func(i, j int) bool { return c.Buys[i].Gain > c.Buys[j].Gain })
	return c, nil
}

// with plans the night with one more eyepiece. The second result says why it
// would not be worth having.
func (in *Input) with(ctx context.Context, base Result, e kit.Eyepiece) (Buy, string, error) {
	more := *in
	more.Kit.Eyepieces = append(append([]kit.Eyepiece(nil), in.Kit.Eyepieces...), e)
	r, err := Propose(ctx, &more, more.Fits())
	if err != nil {
		return Buy{}, "", err
	}
	b, reason := buy(&more, base, r, e)
	return b, reason, nil
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

// spare says why an eyepiece need not be tried: no instrument takes its barrel,
// or there are already as many like it as instruments; "" when it is worth it.
func (in *Input) spare(e kit.Eyepiece) string {
	takes, have := 0, 0
	for _, i := range in.Kit.Instruments {
		if i.Design != kit.Binoculars && (i.Focuser == kit.Barrel2 || i.Focuser == e.Barrel) {
			takes++
		}
	}
	for _, x := range in.Kit.Eyepieces {
		r := x.FocalLength / e.FocalLength
		if !x.Retired && r < sameEyepiece && r > 1/sameEyepiece && x.FieldStop >= 0.95*e.FieldStop {
			have += max(x.Count, 1)
		}
	}
	switch {
	case takes == 0:
		return fmt.Sprintf("no instrument of the night takes a barrel of %.4g inches", e.Barrel.Bore()/25.4)
	case have >= takes:
		return "the night has as many like it as instruments that take one"
	}
	return ""
}

// noise is the rise of the score that two searches may differ by for no
// reason.
const noise = 0.003

func buy(in *Input, base, with Result, e kit.Eyepiece) (Buy, string) {
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
	switch {
	case len(b.For) == 0:
		return b, "tried: no instrument would use it"
	case b.Gain <= 0 || base.Score > 0 && b.Share < noise:
		return b, fmt.Sprintf("tried: %s would use it, for less than %.1f %% more", list(b.For), 100*noise)
	}
	b.Use = fmt.Sprintf("%.0f minutes at %s", minutes.Minutes(), list(b.For))
	b.Words = fmt.Sprintf("One more eyepiece of %s would bring about %.0f more good looks (%.1f %%): %s.", e.Name, b.Gain, 100*b.Share, b.Use)
	return b, ""
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
