package lineup_test

import (
	"context"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

const ordinary = "55-a-must-that-cannot-be"

// changed plans a reference night with something wrong about it.
func changed(t *testing.T, change func(*night.Plan)) *scenario {
	t.Helper()
	plan, want := readNight(t, ordinary)
	plan.MustShow, plan.Showings = nil, nil
	change(&plan)
	sh, err := night.Build(plan, catalog.Default())
	if err != nil {
		t.Fatal(err)
	}
	s := &scenario{T: t, sheet: sh, in: sh.Input, m: sh.Fits(), want: want}
	if s.r, err = lineup.Propose(context.Background(), s.in, s.m); err != nil {
		t.Fatal(err)
	}
	for _, c := range s.in.Check(s.m, s.r.Showings) {
		t.Errorf("breaks a rule: %s", c.Words)
	}
	if math.IsNaN(s.r.Score) || math.IsNaN(s.r.Bound) || s.r.Bound < s.r.Score-1e-6 {
		t.Errorf("score %v, bound %v", s.r.Score, s.r.Bound)
	}
	return s
}

// TestBadInput: whatever is missing or wrong, there is a line-up as far as
// possible, and every target that is not in it has its reason.
func TestBadInput(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name   string
		change func(*night.Plan)
		empty  bool
		says   string // of the first target
	}{
		{"no instruments", func(p *night.Plan) { p.Kit.Instruments = nil }, true, "no instruments"},
		{"no targets", func(p *night.Plan) { p.Targets = nil }, true, ""},
		{"no eyepieces", func(p *night.Plan) { p.Kit.Eyepieces = nil; p.Kit.Instruments = p.Kit.Instruments[:2] }, true, "no instrument of the night has an eyepiece"},
		{"binoculars only", func(p *night.Plan) { p.Kit.Instruments = p.Kit.Instruments[6:]; p.Kit.Eyepieces = nil }, false, ""},
		{"no block length", func(p *night.Plan) { p.Night.Block = 0 }, true, "no public hours"},
		{"no public hours", func(p *night.Plan) { p.Night.Public = 0 }, true, "no public hours"},
		{"shorter than a block", func(p *night.Plan) { p.Night.Public = 7 * time.Minute }, false, ""},
		{"blocks longer than the night", func(p *night.Plan) { p.Night.Block = 5 * time.Hour }, false, ""},
		{"one target", func(p *night.Plan) { p.Targets = []string{"m45"} }, false, ""},
		{"unknown target", func(p *night.Plan) { p.Targets = []string{"no-such-thing", "m45"} }, false, ""},
		{"an aperture of NaN", func(p *night.Plan) { p.Kit.Instruments[0].Aperture = nan }, false, ""},
		{"a focal length of nothing", func(p *night.Plan) { p.Kit.Instruments[0].FocalLength = 0 }, false, ""},
		{"an eyepiece of NaN", func(p *night.Plan) { p.Kit.Eyepieces[0].FocalLength, p.Kit.Eyepieces[1].FieldStop = nan, nan }, false, ""},
		{"a sky of NaN", func(p *night.Plan) { p.Site.Brightness = nan }, false, ""},
		{"a sky of 0", func(p *night.Plan) { p.Site.Brightness = 0 }, false, ""},
		{"seeing of NaN", func(p *night.Plan) { p.Night.Seeing = nan }, false, ""},
		{"guests by the million", func(p *night.Plan) { p.Night.Guests = 1e6 }, false, ""},
		{"fewer than no guests", func(p *night.Plan) { p.Night.Guests = -5 }, false, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := changed(t, c.change)
			if c.empty && len(s.r.Showings) > 0 {
				t.Errorf("%d showings", len(s.r.Showings))
			}
			for ti, x := range s.sheet.Targets {
				why := s.m.WhyNowhere(ti)
				if len(s.of(x.ID)) == 0 && why == "" {
					t.Errorf("%s is left out in silence", x.ID)
				}
				if ti == 0 && !strings.Contains(why, c.says) {
					t.Errorf("%q does not say %q", why, c.says)
				}
				for ii := range s.sheet.Kit.Instruments {
					_ = s.m.WhyShort(ii, ti)
					if len(s.m.Blocks) > 0 {
						if f := s.m.Why(ii, ti, 0).Fit; math.IsNaN(f.Value) || f.Value < 0 || f.Value > 1 {
							t.Errorf("%s in %s: a fit of %v", x.ID, s.sheet.Kit.Instruments[ii].Name, f.Value)
						}
					}
				}
			}
		})
	}
}

// TestForbiddenEverywhere: a target that no instrument may show is not shown.
func TestForbiddenEverywhere(t *testing.T) {
	s := changed(t, func(p *night.Plan) {
		for _, i := range p.Kit.Instruments {
			p.Forbidden = append(p.Forbidden, lineup.Pair{InstrumentID: i.ID, TargetID: "moon"})
		}
	})
	if len(s.of("moon")) > 0 {
		t.Error("the Moon is shown, though forbidden everywhere")
	}
}

// TestPinsThatCannotBe are left out with a reason each; the others stay.
func TestPinsThatCannotBe(t *testing.T) {
	plan, _ := readNight(t, ordinary)
	from := plan.Night.PublicFrom
	pin := func(inst int64, target string, eyepiece int64, after, length time.Duration) lineup.Showing {
		return lineup.Showing{InstrumentID: inst, TargetID: target, EyepieceID: eyepiece, From: from.Add(after), Length: length, Pinned: true}
	}
	for _, c := range []struct {
		name string
		s    lineup.Showing
		says string
	}{
		{"no such instrument", pin(999, "moon", 0, 0, time.Hour), "not part of the night"},
		{"no such target", pin(1, "m99999", 0, 0, time.Hour), "not among those of the night"},
		{"outside the hours", pin(1, "moon", 0, 50*time.Hour, time.Hour), "outside the public hours"},
		{"below the horizon", pin(1, "m13", 0, 0, time.Hour), "horizon"},
		{"too wide for the field", pin(1, "m31", 0, 0, time.Hour), "does not fit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := changed(t, func(p *night.Plan) { p.Showings = []lineup.Showing{c.s} })
			if len(s.r.Left) != 1 || !strings.Contains(s.r.Left[0].Reason, c.says) {
				t.Errorf("left out %+v, want %q", s.r.Left, c.says)
			}
			if len(s.r.Showings) < 8 {
				t.Errorf("only %d showings besides", len(s.r.Showings))
			}
		})
	}
}

// TestPinnedGearThatPruningDrops: a coordinator may want this very eyepiece.
func TestPinnedGearThatPruningDrops(t *testing.T) {
	s := changed(t, func(p *night.Plan) {
		basic := kit.Eyepiece{Base: kit.Base{ID: 900, Name: "old 25", Count: 1}, FocalLength: 25, ApparentField: 35, Barrel: kit.Barrel125, EyeRelief: 6, Class: kit.ClassBasic}
		p.Kit.Eyepieces = append(p.Kit.Eyepieces, basic)
		p.Showings = []lineup.Showing{{InstrumentID: 5, TargetID: "moon", EyepieceID: 900, From: p.Night.PublicFrom, Length: 30 * time.Minute, Pinned: true}}
	})
	for _, x := range s.of("moon") {
		if x.InstrumentID == 5 && x.EyepieceID == 900 && x.Pinned {
			return
		}
	}
	t.Errorf("the pinned eyepiece is not used: %+v, left %+v", s.of("moon"), s.r.Left)
}

// TestDeterministic: the same night gives the same line-up.
func TestDeterministic(t *testing.T) {
	a, b := planned(t, "05b-saturn-first-slots-only"), planned(t, "05b-saturn-first-slots-only")
	if d := cmp.Diff(a.r, b.r); d != "" {
		t.Errorf("two runs differ:\n%s", d)
	}
}

// TestStopped: with no time at all there is a plan all the same.
func TestStopped(t *testing.T) {
	s := planned(t, "05b-saturn-first-slots-only")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r, err := lineup.Propose(ctx, s.in, s.m)
	if err != nil || !r.Stopped {
		t.Errorf("stopped %t, %v", r.Stopped, err)
	}
	if c := s.in.Check(s.m, r.Showings); len(c) > 0 {
		t.Errorf("breaks a rule: %v", c)
	}
}

// TestManyReaders: pages of many visitors read one matrix at once (run with
// -race).
func TestManyReaders(t *testing.T) {
	s := planned(t, "15-one-wide-eyepiece-two-instruments")
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			s.m.Why(0, 0, 0)
			s.m.TrainOffers(1, 0, 0, 2)
			s.in.Worth(s.m, s.r.Showings)
			s.in.CrowdingOf(s.m, s.r.Showings)
		})
	}
	wait.Wait()
}

// TestFitIsTheProductOfItsFactors guards that a page's reasoning adds up to
// the fit that the plan rests on.
func TestFitIsTheProductOfItsFactors(t *testing.T) {
	s := planned(t, "32-new-moon-at-a-dark-site")
	for ii := range s.sheet.Kit.Instruments {
		for ti := range s.sheet.Targets {
			for _, tr := range s.m.Cell(ii, ti).Tracks {
				b := s.m.BestBlock(ii, ti)
				if tr.Fit[b] == 0 {
					continue
				}
				if f := s.m.Judge(ii, ti, tr.Train, b); math.Abs(f.Value-float64(tr.Fit[b])) > 0.03*f.Value {
					t.Errorf("%s in %s: fit %.3f, told as %.3f", s.sheet.Targets[ti].ID, s.sheet.Kit.Instruments[ii].Name, tr.Fit[b], f.Value)
				}
			}
		}
	}
}
