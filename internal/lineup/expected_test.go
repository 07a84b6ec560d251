package lineup_test

import (
	"math"
	"slices"
	"strings"
	"time"

	"duskboard/internal/field"
	"duskboard/internal/lineup"
	"duskboard/internal/optics"
)

// expected is the file beside a reference night.
type expected struct {
	Why, Basis string

	Shown         []shown
	NotShown      []notShown
	KindsNotShown []string
	AnyKindShown  []string
	AtKindOf      []atKind
	NeverAt       []place
	Pinned        []place
	LeftOut       []string

	Vetoed []vetoed
	Cells  []cell
	Trains []trainFit
	Better []leads
	Views  []view

	Heights      []height
	Blocks       int
	NoClock      []string
	Showings     []int
	AtLeast      int
	Nothing      bool
	Busy         float64
	BusyAtMost   float64
	ParkedAny    bool
	Parked       []parked
	Seated       bool
	NoLadder     bool
	NoDriftUnder int
	PerGuest     []float64
	Short        bool
	Says         []string
	FirstKinds   []string

	DewFirst []string
	DewLast  string
	Cool     struct {
		Instrument  string
		WarmAtStart float64
	}
	Power struct{ Short string }
}

type shown struct {
	Target  string
	At      []string
	Power   []float64
	Before  string
	First   bool
	Because string
}

type notShown struct {
	Target  string
	Words   []string
	Because string
}

type atKind struct {
	Kinds, At []string
	Because   string
}

type place struct {
	Target, Instrument, From string
	Minutes                  float64
}

type vetoed struct {
	Target, Instrument, By, At string
	Words                      []string
	Because                    string
}

type cell struct {
	Target, Instrument, At string
	Possible               bool
	Words                  string
	Because                string
}

type trainFit struct {
	Target, Instrument, Eyepiece string
	Veto                         string
	Least                        float64
	Says                         string
	Because                      string
}

type leads struct{ Target, First, Second, Because string }

type view struct {
	Instrument, Eyepiece string
	FieldMinutes, Power  []float64
}

type height struct {
	Target, Instrument, At string
	M                      []float64
	Words                  string
}

type parked struct{ Instrument, From, Words string }

// vetoes checks what is refused and the words of it.
func (s *scenario) vetoes() {
	for _, x := range s.want.Vetoed {
		ii, ti := s.instrument(x.Instrument), s.target(x.Target)
		b := s.m.HighestBlock(ti)
		if x.At != "" {
			b = s.block(x.At)
		}
		why := s.m.Why(ii, ti, b)
		v, ok := why.Fit.Vetoed()
		if !ok || v.Key.String() != x.By {
			s.Errorf("%s at %s is not refused by %q but %v: %s", x.Target, x.Instrument, x.By, v, x.Because)
			continue
		}
		s.says("the veto on "+x.Target, v.Sentence, x.Words)
	}
	for _, x := range s.want.Cells {
		ti, b := s.target(x.Target), s.block(x.At)
		for ii, inst := range s.sheet.Kit.Instruments {
			if x.Instrument != "" && inst.Name != x.Instrument {
				continue
			}
			got := s.m.Cell(ii, ti).Best(b) > 0
			if got && !x.Possible {
				s.Errorf("%s at %s in %s is possible (%.2f), though %s", x.Target, x.At, inst.Name, s.m.Cell(ii, ti).Best(b), x.Because)
			}
			if f, ok := s.m.Why(ii, ti, b).Fit.Vetoed(); x.Words != "" && (!ok || !strings.Contains(f.Sentence, x.Words)) {
				s.Errorf("%s at %s in %s: %q does not say %q", x.Target, x.At, inst.Name, f.Sentence, x.Words)
			}
		}
		if x.Possible && !s.anywhere(ti, b) {
			s.Errorf("%s is nowhere possible at %s, though %s", x.Target, x.At, x.Because)
		}
	}
}

func (s *scenario) anywhere(ti, b int) bool {
	for ii := range s.sheet.Kit.Instruments {
		if s.m.Cell(ii, ti).Best(b) > 0 {
			return true
		}
	}
	return false
}

// optics checks single trains and who leads on what.
func (s *scenario) optics() {
	for _, x := range s.want.Trains {
		ii, ti := s.instrument(x.Instrument), s.target(x.Target)
		if x.Veto == lineup.Power.String() && s.pruned(ii, x.Eyepiece) {
			continue // beyond every limit for any target: not even listed
		}
		r := s.train(ii, x.Eyepiece)
		f := s.m.Judge(ii, ti, r, s.m.HighestBlock(ti))
		v, refused := f.Vetoed()
		if x.Veto != "" && (!refused || v.Key.String() != x.Veto) {
			s.Errorf("%s in %s with %s: want a veto by %s (%s), got %+v", x.Target, x.Instrument, x.Eyepiece, x.Veto, x.Because, f)
		}
		if x.Veto == "" && f.Value < x.Least {
			s.Errorf("%s in %s with %s: fit %.3f under %.2f (%s): %+v", x.Target, x.Instrument, x.Eyepiece, f.Value, x.Least, x.Because, f)
		}
		if x.Says != "" && !slices.ContainsFunc(f.Factors[:], func(f lineup.Factor) bool { return strings.Contains(f.Sentence, x.Says) }) {
			s.Errorf("%s in %s with %s: nothing says %q", x.Target, x.Instrument, x.Eyepiece, x.Says)
		}
	}
	for _, x := range s.want.Better {
		ti := s.target(x.Target)
		a, b := s.best(s.instrument(x.First), ti), s.best(s.instrument(x.Second), ti)
		if !(a > b) {
			s.Errorf("%s: %s %.3f does not lead %s %.3f: %s", x.Target, x.First, a, x.Second, b, x.Because)
		}
	}
	for _, x := range s.want.Views {
		ii := s.instrument(x.Instrument)
		o := s.m.Trains[ii][s.train(ii, x.Eyepiece)].Static()
		if f := o.TrueField * 60; f < x.FieldMinutes[0] || f > x.FieldMinutes[1] {
			s.Errorf("%s with %s: field %.1f', want %v", x.Instrument, x.Eyepiece, f, x.FieldMinutes)
		}
		if p := o.Magnification; p < x.Power[0] || p > x.Power[1] {
			s.Errorf("%s with %s: %.1fx, want %v", x.Instrument, x.Eyepiece, p, x.Power)
		}
	}
}

// pruned tells that a train can be put together and was still left out.
func (s *scenario) pruned(ii int, eyepiece string) bool {
	is := func(t optics.Train) bool {
		return t.Eyepiece != nil && t.Eyepiece.Name == eyepiece && t.Amplifier == nil && t.Filter == nil
	}
	return slices.ContainsFunc(optics.AllTrains(s.sheet.Kit, s.sheet.Kit.Instruments[ii]), is) && !slices.ContainsFunc(s.m.Trains[ii], is)
}

func (s *scenario) train(ii int, eyepiece string) int {
	r := slices.IndexFunc(s.m.Trains[ii], func(t optics.Train) bool {
		return t.Eyepiece != nil && t.Eyepiece.Name == eyepiece && t.Amplifier == nil && t.Filter == nil
	})
	if r < 0 {
		s.Fatalf("%s has no train with %q", s.sheet.Kit.Instruments[ii].Name, eyepiece)
	}
	return r
}

func (s *scenario) best(ii, ti int) float64 {
	best := 0.0
	for b := range s.m.Blocks {
		best = max(best, s.m.Cell(ii, ti).Best(b))
	}
	return best
}

// numbers checks counts, the clock, heights and the guests.
func (s *scenario) numbers() {
	w := s.want
	n := len(s.r.Showings)
	if w.Blocks > 0 && len(s.m.Blocks) != w.Blocks {
		s.Errorf("%d blocks, want %d", len(s.m.Blocks), w.Blocks)
	}
	for _, slot := range s.m.Blocks {
		if slices.Contains(w.NoClock, s.clock(slot.From)) {
			s.Errorf("a block begins at %s, which the clock does not show", s.clock(slot.From))
		}
	}
	if len(w.Showings) == 2 && (n < w.Showings[0] || n > w.Showings[1]) {
		s.Errorf("%d showings, want %v", n, w.Showings)
	}
	if n < w.AtLeast || w.Nothing && n > 0 {
		s.Errorf("%d showings, want at least %d, nothing: %t", n, w.AtLeast, w.Nothing)
	}
	for _, x := range w.Heights {
		ii, ti := s.instrument(x.Instrument), s.target(x.Target)
		f := s.m.Judge(ii, ti, 0, s.block(x.At)).Factors[lineup.EyePlace]
		if f.Number < x.M[0] || f.Number > x.M[1] || !strings.Contains(f.Sentence, x.Words) {
			s.Errorf("eyepiece at %.2f m, want %v and %q: %s", f.Number, x.M, x.Words, f.Sentence)
		}
	}
	s.crowd()
	s.use()
	for _, x := range s.r.Showings {
		t := s.sheet.Targets[s.target(x.TargetID)]
		if len(w.FirstKinds) > 0 && x.From.Equal(s.m.Blocks[0].From) && !slices.Contains(w.FirstKinds, string(t.Kind)) {
			s.Errorf("the night begins with %s, a %s", t.Name, t.Kind)
		}
		v := s.in.ViewOf(s.m, x)
		if w.NoDriftUnder > 0 && !v.Train.Instrument.Tracking && v.Nudge < w.NoDriftUnder {
			s.Errorf("%s in %s has to be nudged for every guest", t.Name, v.Train.Instrument.Name)
		}
		if reach := s.in.ReachWords(v.HeightTop); w.NoLadder && strings.Contains(reach, "ladder") {
			s.Errorf("%s in %s needs a ladder: %.2f m", t.Name, v.Train.Instrument.Name, v.HeightTop)
		}
	}
}

func (s *scenario) crowd() {
	w, c := s.want, s.r.Crowding
	if len(w.PerGuest) == 2 && (c.PerGuest < w.PerGuest[0] || c.PerGuest > w.PerGuest[1]) {
		s.Errorf("%.2f looks per guest, want %v", c.PerGuest, w.PerGuest)
	}
	if w.Short && !c.Short {
		s.Errorf("not said to be short: %+v", c)
	}
	s.says("the guests' flow", strings.Join(c.Proposals, " "), w.Says)
}

// use checks how much of the instruments' time is used, and seated guests.
func (s *scenario) use() {
	w := s.want
	var used time.Duration
	for _, x := range s.r.Showings {
		used += x.Length
	}
	share := used.Hours() / math.Max(1e-9, s.in.PublicTo.Sub(s.in.PublicFrom).Hours()*float64(len(s.sheet.Kit.Instruments)))
	if share < w.Busy || w.BusyAtMost > 0 && share > w.BusyAtMost {
		s.Errorf("instruments are used %.0f %% of the time", 100*share)
	}
	if w.ParkedAny && len(s.r.Parked) == 0 {
		s.Error("nothing is said to be parked")
	}
	for _, p := range w.Parked {
		if !slices.ContainsFunc(s.r.Parked, func(x lineup.Parked) bool {
			return s.in.InstrumentName(x.InstrumentID) == p.Instrument && strings.Contains(x.Reason, p.Words) && s.clock(x.From) == p.From
		}) {
			s.Errorf("%s is not parked from %s with %q: %v", p.Instrument, p.From, p.Words, s.r.Parked)
		}
	}
	for _, slot := range s.m.Blocks {
		if w.Seated && !slices.ContainsFunc(s.r.Showings, func(x lineup.Showing) bool {
			v := s.in.ViewOf(s.m, x)
			return !x.From.After(slot.From) && x.To().After(slot.From) && s.in.Seated((v.HeightLow+v.HeightTop)/2)
		}) {
			s.Errorf("at %s nobody who sits sees anything", s.clock(slot.From))
		}
	}
}

// conditions checks dew, cool-down and power.
func (s *scenario) conditions() {
	onset := func(name string) time.Time {
		first := s.in.PublicTo.Add(24 * time.Hour)
		for _, x := range s.sheet.Forecasts[s.sheet.Kit.Instruments[s.instrument(name)].ID].Surfaces {
			if t := x.Bare.Earliest; !t.IsZero() && t.Before(first) && (x.Surface.Kind == field.CorrectorPlate || x.Surface.Kind == field.Objective || x.Surface.Kind == field.Primary) {
				first = t
			}
		}
		return first
	}
	for _, name := range s.want.DewFirst {
		if a, b := onset(name), onset(s.want.DewLast); !a.Before(b) {
			s.Errorf("%s dews at %s, not before %s at %s", name, a, s.want.DewLast, b)
		}
	}
	if name := s.want.Power.Short; name != "" {
		for _, p := range s.sheet.Power.Instruments {
			if short := p.Supply.Result == field.Short; short != (p.Instrument.Name == name) {
				s.Errorf("%s: short of power: %t: %s", p.Instrument.Name, short, p.Supply.Sentence)
			}
		}
	}
	if c := s.want.Cool; c.Instrument != "" {
		inst := s.sheet.Kit.Instruments[s.instrument(c.Instrument)]
		if x, ok := s.sheet.Forecasts[inst.ID].CoolState(s.in.PublicFrom); !ok || x.Delta < c.WarmAtStart {
			s.Errorf("%s is %.1f K warmer than the air at the start, want %.1f", inst.Name, x.Delta, c.WarmAtStart)
		}
	}
}
