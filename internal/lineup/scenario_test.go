package lineup_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
)

const nightsFolder = "../../testdata/nights"

// scenario is a reference night, planned.
type scenario struct {
	*testing.T
	sheet *night.Sheet
	in    *lineup.Input
	m     *lineup.Matrix
	r     lineup.Result
	want  expected
}

// TestReferenceNights plans every night of testdata/nights and holds the
// line-up against what an experienced coordinator expects of it: the facts of
// the numbered scenarios (positions by astronomy-engine 2.1.19) and common
// practice, as the file beside each night says.
func TestReferenceNights(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(nightsFolder, "*.night.json"))
	if err != nil || len(files) < 25 {
		t.Fatalf("%d reference nights, %v: at least 25 are promised", len(files), err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".night.json")
		t.Run(name, func(t *testing.T) {
			s := planned(t, name)
			if testing.Verbose() {
				s.print()
			}
			s.rules()
			s.showings()
			s.vetoes()
			s.optics()
			s.numbers()
			s.conditions()
		})
	}
}

func readNight(t testing.TB, name string) (night.Plan, expected) {
	t.Helper()
	f, err := os.Open(filepath.Join(nightsFolder, name+".night.json"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	plan, err := nightfile.Read(f)
	if err != nil {
		t.Fatalf("%v", err)
	}
	data, err := os.ReadFile(filepath.Join(nightsFolder, name+".expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	var want expected
	d := json.NewDecoder(strings.NewReader(string(data)))
	d.DisallowUnknownFields()
	if err := d.Decode(&want); err != nil {
		t.Fatal(err)
	}
	if want.Why == "" || want.Basis == "" {
		t.Error("an expectation says why and on what it rests")
	}
	return plan, want
}

func planned(t *testing.T, name string) *scenario {
	t.Helper()
	plan, want := readNight(t, name)
	sh, err := night.Build(plan, catalog.Default())
	if err != nil {
		t.Fatal(err)
	}
	s := &scenario{T: t, sheet: sh, in: sh.Input, m: sh.Fits(), want: want}
	if s.r, err = lineup.Propose(context.Background(), s.in, s.m); err != nil {
		t.Fatal(err)
	}
	return s
}

// clock is an instant as the site's clock shows it.
func (s *scenario) clock(t time.Time) string { return t.In(s.sheet.Zone).Format("15:04") }

// when is the instant at which the site's clock shows a time; the first of two.
func (s *scenario) when(clock string) time.Time {
	for _, slot := range s.m.Blocks {
		for x := slot.From; !x.After(slot.To); x = x.Add(time.Minute) {
			if s.clock(x) == clock {
				return x
			}
		}
	}
	s.Fatalf("the public hours have no %s", clock)
	return time.Time{}
}

func (s *scenario) block(clock string) int {
	b := s.m.BlockAt(s.when(clock))
	if b < 0 {
		b = len(s.m.Blocks) - 1
	}
	return b
}

func (s *scenario) instrument(name string) int {
	for i, x := range s.sheet.Kit.Instruments {
		if x.Name == name {
			return i
		}
	}
	s.Fatalf("no instrument %q", name)
	return -1
}

func (s *scenario) target(id string) int {
	ti := s.in.TargetIndex(id)
	if ti < 0 {
		s.Fatalf("no target %q", id)
	}
	return ti
}

func (s *scenario) of(target string) []lineup.Showing {
	var out []lineup.Showing
	for _, x := range s.r.Showings {
		if x.TargetID == target {
			out = append(out, x)
		}
	}
	return out
}

// rules checks what holds for every line-up: nothing breaks a rule, the bound
// is near, nothing is too short, each showing has a way out under cloud.
func (s *scenario) rules() {
	for _, c := range s.in.Check(s.m, s.r.Showings) {
		s.Errorf("breaks a rule: %s", c.Words)
	}
	if g := s.r.Gap(); g > 0.01 {
		s.Errorf("gap %.2f %%: score %.1f, bound %.1f", 100*g, s.r.Score, s.r.Bound)
	}
	if w := s.in.Worth(s.m, s.r.Showings); math.Abs(w-s.r.Score) > 1e-6*max(1, s.r.Score) {
		s.Errorf("the showings are worth %.4f, the plan said %.4f", w, s.r.Score)
	}
	least := min(20*time.Minute, s.in.PublicTo.Sub(s.in.PublicFrom))
	without := 0
	for _, x := range s.r.Showings {
		if x.Length < least {
			s.Errorf("%s at %s for %v only", x.TargetID, s.in.InstrumentName(x.InstrumentID), x.Length)
		}
		if x.BackupID == "" {
			without++
		}
	}
	if without > 0 && len(s.sheet.Targets) > 25 && 4*without > len(s.r.Showings) {
		s.Errorf("%d of %d showings have no target in another part of the sky to go to", without, len(s.r.Showings))
	}
	for _, p := range s.r.Parked {
		if p.Reason == "" {
			s.Errorf("%s is parked in silence", s.in.InstrumentName(p.InstrumentID))
		}
	}
}

func (s *scenario) showings() {
	w := s.want
	for _, x := range w.Shown {
		s.shown(x)
	}
	for _, x := range w.NotShown {
		if len(s.of(x.Target)) > 0 {
			s.Errorf("%s is shown, though %s", x.Target, x.Because)
		}
		s.says("why "+x.Target+" is not shown", s.m.WhyNowhere(s.target(x.Target)), x.Words)
	}
	kinds := map[catalog.Kind]bool{}
	for _, x := range s.r.Showings {
		t := s.sheet.Targets[s.target(x.TargetID)]
		kinds[t.Kind] = true
		if slices.Contains(w.KindsNotShown, string(t.Kind)) {
			s.Errorf("%s, a %s, is shown at %s", t.Name, t.Kind, s.in.InstrumentName(x.InstrumentID))
		}
		for _, k := range w.AtKindOf {
			if slices.Contains(k.Kinds, string(t.Kind)) && !slices.Contains(k.At, s.in.InstrumentName(x.InstrumentID)) {
				s.Errorf("%s is shown at %s: %s", t.Name, s.in.InstrumentName(x.InstrumentID), k.Because)
			}
		}
		for _, p := range w.NeverAt {
			if p.Target == x.TargetID && p.Instrument == s.in.InstrumentName(x.InstrumentID) {
				s.Errorf("%s is shown at %s, which was forbidden", x.TargetID, p.Instrument)
			}
		}
	}
	for _, k := range w.AnyKindShown {
		if !kinds[catalog.Kind(k)] {
			s.Errorf("no %s is shown", k)
		}
	}
	for _, id := range w.LeftOut {
		if !slices.ContainsFunc(s.r.Left, func(l lineup.Left) bool { return l.TargetID == id && l.Reason != "" }) {
			s.Errorf("nothing says that %s was left out and why: %v", id, s.r.Left)
		}
	}
	if len(w.LeftOut) == 0 && len(s.r.Left) > 0 {
		s.Errorf("left out: %v", s.r.Left)
	}
	for _, p := range w.Pinned {
		if !slices.ContainsFunc(s.r.Showings, func(x lineup.Showing) bool {
			return x.Pinned && s.in.InstrumentName(x.InstrumentID) == p.Instrument && x.TargetID == p.Target && !x.From.After(s.when(p.From)) && x.To().Sub(s.when(p.From)).Minutes() >= p.Minutes
		}) {
			s.Errorf("the pinned %s is not at %s at %s", p.Target, p.Instrument, p.From)
		}
	}
}

func (s *scenario) shown(x shown) {
	all := s.of(x.Target)
	if len(all) == 0 {
		s.Errorf("%s is not shown, though %s; the page says: %s", x.Target, x.Because, s.m.WhyNowhere(s.target(x.Target)))
		return
	}
	good := false
	for _, y := range all {
		v := s.in.ViewOf(s.m, y)
		p := v.Optics.Magnification
		at := len(x.At) == 0 || slices.Contains(x.At, s.in.InstrumentName(y.InstrumentID))
		power := len(x.Power) == 0 || p >= x.Power[0] && p <= x.Power[1]
		if x.Before != "" && y.From.After(s.when(x.Before)) {
			s.Errorf("%s is shown from %s, after %s", x.Target, s.clock(y.From), x.Before)
		}
		good = good || at && power && (!x.First || y.From.Equal(s.m.Blocks[0].From))
	}
	if !good {
		for _, y := range all {
			s.Errorf("%s is shown at %s with %s from %s, expected at %v, power %v: %s", x.Target, s.in.InstrumentName(y.InstrumentID), s.in.ViewOf(s.m, y).Short(), s.clock(y.From), x.At, x.Power, x.Because)
		}
	}
}

func (s *scenario) says(what, got string, words []string) {
	for _, w := range words {
		if !strings.Contains(got, w) {
			s.Errorf("%s: %q does not say %q", what, got, w)
		}
	}
}

// print writes the line-up for the eyes of whoever tunes the model.
func (s *scenario) print() {
	var b strings.Builder
	fmt.Fprintf(&b, "score %.1f, bound %.1f, gap %.2f %%, %.1f looks per guest, mean wait %v %v\n", s.r.Score, s.r.Bound, 100*s.r.Gap(), s.r.Crowding.PerGuest, s.r.Crowding.MeanWait.Round(time.Minute), s.r.Crowding.Proposals)
	for _, x := range s.r.Showings {
		v := s.in.ViewOf(s.m, x)
		fmt.Fprintf(&b, "%s-%s %-11s %-20s %-34s %.2f  %s\n", s.clock(x.From), s.clock(x.To()), s.in.InstrumentName(x.InstrumentID), s.sheet.Targets[s.target(x.TargetID)].Name, v.Short(), v.Fit, v.Weakest.Sentence)
	}
	for _, p := range s.r.Parked {
		fmt.Fprintf(&b, "parked %s %s-%s %s\n", s.in.InstrumentName(p.InstrumentID), s.clock(p.From), s.clock(p.To), p.Reason)
	}
	for _, l := range s.r.Left {
		fmt.Fprintf(&b, "left out %s: %s\n", l.TargetID, l.Reason)
	}
	for ti, t := range s.sheet.Targets {
		if len(s.of(t.ID)) == 0 {
			fmt.Fprintf(&b, "not shown %s: %s\n", t.ID, s.m.WhyNowhere(ti))
		}
	}
	s.Log("\n" + b.String())
}
