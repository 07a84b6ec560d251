package lineup_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"duskboard/internal/catalog"
	"duskboard/internal/lineup"
)

// replanned plans a running night again from a time of its clock.
func (s *scenario) replanned(clock string, hs ...lineup.Happening) lineup.Replanned {
	s.Helper()
	r, err := lineup.Replan(context.Background(), s.in, s.m, s.r.Showings, s.when(clock), hs)
	if err != nil {
		s.Fatal(err)
	}
	for _, c := range r.Night.Check(r.Fits, after(r.Showings, r.From)) {
		s.Errorf("breaks a rule: %s", c.Words)
	}
	for _, c := range r.Changes {
		if c.From.Before(r.From) || c.Words == "" {
			s.Errorf("a change at %s, before %s: %q", s.clock(c.From), s.clock(r.From), c.Words)
		}
	}
	if d := cmp.Diff(before(s.r.Showings, r.From), before(r.Showings, r.From)); d != "" {
		s.Errorf("the past changed (-was +is):\n%s", d)
	}
	return r
}

// before and after cut showings at an instant; what only planning knows is left
// out.
func before(shows []lineup.Showing, at time.Time) []lineup.Showing {
	var out []lineup.Showing
	for _, x := range shows {
		if x.From.Before(at) {
			x.Length = min(x.Length, at.Sub(x.From))
			x.BackupID, x.Pinned = "", false
			out = append(out, x)
		}
	}
	return out
}

func after(shows []lineup.Showing, at time.Time) []lineup.Showing {
	var out []lineup.Showing
	for _, x := range shows {
		if x.To().After(at) {
			if x.From.Before(at) {
				x.Length, x.From = x.To().Sub(at), at
			}
			out = append(out, x)
		}
	}
	return out
}

const running = "11-no-moonset-on-the-date"

// TestNothingHappened: planning again for no reason leaves the night alone.
func TestNothingHappened(t *testing.T) {
	s := planned(t, "05b-saturn-first-slots-only")
	r := s.replanned("19:00")
	moved := 0.0
	for _, c := range r.Changes {
		moved += c.To.Sub(c.From).Hours()
	}
	if all := 7 * 1.5; moved > 0.15*all {
		t.Errorf("%.1f of %.1f instrument hours changed for nothing: %v", moved, all, r.Changes)
	}
}

// TestCloudInTheWest: what cloud hides goes, everything else may stay, and the
// words say why.
func TestCloudInTheWest(t *testing.T) {
	s := planned(t, running)
	cloud := lineup.Sector{AzFrom: 200, AzTo: 330, AltTo: 70}
	r := s.replanned("20:00", lineup.Happening{Kind: lineup.Cloud, Sector: cloud})
	hidden := 0
	for _, x := range after(s.r.Showings, r.From) {
		if s.covered(x, cloud) {
			hidden++
		}
	}
	if hidden == 0 {
		t.Fatal("the cloud covers nothing of the plan: the test says nothing")
	}
	for _, x := range after(r.Showings, r.From) {
		if s.covered(x, cloud) {
			t.Errorf("%s at %s from %s stands behind the cloud", x.TargetID, s.in.InstrumentName(x.InstrumentID), s.clock(x.From))
		}
	}
	if !strings.Contains(words(r), "cloud hides it") {
		t.Errorf("no word of the cloud: %s", words(r))
	}
}

// covered reports whether a showing's target stands in a sector in the middle
// of any of its blocks.
func (s *scenario) covered(x lineup.Showing, sector lineup.Sector) bool {
	obj := catalog.ObjectOf(s.sheet.Targets[s.target(x.TargetID)])
	for _, slot := range s.m.Blocks {
		if !slot.Middle().Before(x.From) && slot.Middle().Before(x.To()) {
			if p := s.sheet.Sky.At(obj, slot.Middle()); sector.Has(p.Az, p.AltRefracted) {
				return true
			}
		}
	}
	return false
}

func words(r lineup.Replanned) string {
	var all []string
	for _, c := range r.Changes {
		all = append(all, c.Words)
	}
	return strings.Join(all, "\n")
}

// TestInstrumentOut: it shows nothing any more, and the rest goes on.
func TestInstrumentOut(t *testing.T) {
	for kind, reason := range map[lineup.HappeningKind]string{lineup.InstrumentOut: "out of service", lineup.OperatorGone: "no operator"} {
		t.Run(string(kind), func(t *testing.T) {
			s := planned(t, "05b-saturn-first-slots-only")
			id := s.sheet.Kit.Instruments[s.instrument("Stub 127")].ID
			r := s.replanned("19:00", lineup.Happening{Kind: kind, InstrumentID: id})
			for _, x := range after(r.Showings, r.From) {
				if x.InstrumentID == id {
					t.Errorf("it still shows %s", x.TargetID)
				}
			}
			if !strings.Contains(words(r), reason) {
				t.Errorf("no word of it: %s", words(r))
			}
			if !(r.Crowding.Looks < s.r.Crowding.Looks) {
				t.Errorf("%.0f looks with, %.0f without", s.r.Crowding.Looks, r.Crowding.Looks)
			}
		})
	}
}

// TestEyepieceMissing: nobody is told to use it any more.
func TestEyepieceMissing(t *testing.T) {
	s := planned(t, "15-one-wide-eyepiece-two-instruments")
	wide := s.sheet.Kit.Eyepieces[0]
	if wide.Name != "32 wide" {
		t.Fatal(wide.Name)
	}
	r := s.replanned("20:00", lineup.Happening{Kind: lineup.EyepieceMissing, EyepieceID: wide.ID})
	if len(r.Showings) == 0 {
		t.Error("nothing is shown")
	}
	for _, x := range after(r.Showings, r.From) {
		if x.EyepieceID == wide.ID {
			t.Errorf("%s still wants the eyepiece", x.TargetID)
		}
	}
}

// TestGearMissing: a Barlow lens, diagonal or filter that is gone is used no
// more, and the words say it was the reason where the target could not stay.
func TestGearMissing(t *testing.T) {
	kinds := []struct {
		kind lineup.HappeningKind
		id   func(lineup.Showing) int64
		have func(*scenario, int64) int
	}{
		{lineup.AmplifierGone, func(x lineup.Showing) int64 { return x.AmplifierID }, func(s *scenario, id int64) int {
			for _, g := range s.in.Kit.Amplifiers {
				if g.ID == id {
					return g.Count
				}
			}
			return 0
		}},
		{lineup.DiagonalMissing, func(x lineup.Showing) int64 { return x.DiagonalID }, func(s *scenario, id int64) int {
			for _, g := range s.in.Kit.Diagonals {
				if g.ID == id {
					return g.Count
				}
			}
			return 0
		}},
		{lineup.FilterMissing, func(x lineup.Showing) int64 { return x.FilterID }, func(s *scenario, id int64) int {
			for _, g := range s.in.Kit.Filters {
				if g.ID == id {
					return g.Count
				}
			}
			return 0
		}},
	}
	seen := map[lineup.HappeningKind]bool{}
	for _, name := range []string{"23a-four-instruments", running, "32-new-moon-at-a-dark-site", "33-southern-winter", "25-a-damp-evening", "49-quarter-hour-zone", "64-small-go-to-refractors"} {
		s := planned(t, name)
		for _, k := range kinds {
			id := int64(0)
			for _, x := range after(s.r.Showings, s.when("20:30")) {
				if id = k.id(x); id != 0 {
					break
				}
			}
			if id == 0 || seen[k.kind] {
				continue
			}
			seen[k.kind] = true
			var hs []lineup.Happening
			for range max(k.have(s, id), 1) {
				hs = append(hs, lineup.Happening{Kind: k.kind, GearID: id})
			}
			r := s.replanned("20:30", hs...)
			for _, x := range after(r.Showings, r.From) {
				if k.id(x) == id {
					t.Errorf("%s, %s: %s still wants it", name, k.kind, x.TargetID)
				}
			}
			if !strings.Contains(words(r), "is missing") {
				t.Errorf("%s, %s: no word of it: %s", name, k.kind, words(r))
			}
		}
	}
	if len(seen) < 2 {
		t.Errorf("only %v were tried", seen)
	}
}

// TestSeeingWorse: in bad air nobody shows what only high power shows.
func TestSeeingWorse(t *testing.T) {
	s := planned(t, running)
	r := s.replanned("20:00", lineup.Happening{Kind: lineup.SeeingWorse, Seeing: 6})
	for _, x := range after(r.Showings, r.From) {
		if v := r.Night.ViewOf(r.Fits, x); v.Optics.Magnification > 1.5*360/6 {
			t.Errorf("%s at %.0fx in air of 6 arcseconds", x.TargetID, v.Optics.Magnification)
		}
	}
}

// TestTwiceTheGuests: the flow is counted anew.
func TestTwiceTheGuests(t *testing.T) {
	s := planned(t, "23a-four-instruments")
	r := s.replanned("20:00", lineup.Happening{Kind: lineup.MoreGuests, Guests: 360})
	if r.Crowding.PerGuest > 0.6*s.r.Crowding.PerGuest {
		t.Errorf("%.2f looks per guest before, %.2f with twice the guests", s.r.Crowding.PerGuest, r.Crowding.PerGuest)
	}
}

// TestAllCloud: a sky covered all over gives an empty rest, and no crash.
func TestAllCloud(t *testing.T) {
	s := planned(t, "05b-saturn-first-slots-only")
	r := s.replanned("19:00", lineup.Happening{Kind: lineup.Cloud})
	if left := after(r.Showings, r.From); len(left) > 0 {
		t.Errorf("%d showings under a covered sky", len(left))
	}
}

// TestReplanAtTheEdges: before the night, in its last minute and after it.
func TestReplanAtTheEdges(t *testing.T) {
	s := planned(t, "05b-saturn-first-slots-only")
	for _, at := range []time.Time{s.in.PublicFrom.Add(-time.Hour), s.in.PublicTo.Add(-time.Minute), s.in.PublicTo.Add(time.Hour)} {
		r, err := lineup.Replan(context.Background(), s.in, s.m, s.r.Showings, at, []lineup.Happening{{Kind: lineup.Cloud}})
		if err != nil {
			t.Fatal(err)
		}
		if at.After(s.in.PublicFrom) && len(r.Changes) > 0 {
			t.Errorf("changes after the end: %s", words(r))
		}
		if at.Before(s.in.PublicFrom) && len(r.Showings) > 0 {
			t.Errorf("%d showings under a covered sky", len(r.Showings))
		}
	}
}

// TestHappeningsThatCannotBe guards that nonsense is refused with a word.
func TestHappeningsThatCannotBe(t *testing.T) {
	s := planned(t, "15-one-wide-eyepiece-two-instruments")
	for _, h := range []lineup.Happening{
		{Kind: "flood"}, {Kind: lineup.InstrumentOut, InstrumentID: 999}, {Kind: lineup.OperatorGone}, {Kind: lineup.EyepieceMissing, EyepieceID: -1},
		{Kind: lineup.AmplifierGone, GearID: 999}, {Kind: lineup.DiagonalMissing}, {Kind: lineup.FilterMissing, GearID: -1},
		{Kind: lineup.SeeingWorse}, {Kind: lineup.MoreGuests, Guests: -1}, {Kind: lineup.Cloud, Sector: lineup.Sector{AltFrom: 50, AltTo: 20}},
	} {
		if _, err := lineup.Replan(context.Background(), s.in, s.m, s.r.Showings, s.when("20:15"), []lineup.Happening{h}); err == nil {
			t.Errorf("%+v is accepted", h)
		}
	}
}

// TestSector guards the wrap at north.
func TestSector(t *testing.T) {
	for _, c := range []struct {
		s       lineup.Sector
		az, alt float64
		want    bool
	}{
		{lineup.Sector{AzFrom: 200, AzTo: 330, AltTo: 70}, 270, 30, true},
		{lineup.Sector{AzFrom: 200, AzTo: 330, AltTo: 70}, 190, 30, false},
		{lineup.Sector{AzFrom: 200, AzTo: 330, AltTo: 70}, 270, 71, false},
		{lineup.Sector{AzFrom: 330, AzTo: 20}, 355, 89, true},
		{lineup.Sector{AzFrom: 330, AzTo: 20}, 10, 5, true},
		{lineup.Sector{AzFrom: 330, AzTo: 20}, 180, 5, false},
		{lineup.Sector{AltFrom: 20}, 123, 10, false},
		{lineup.Sector{}, 123, 45, true},
	} {
		if got := c.s.Has(c.az, c.alt); got != c.want {
			t.Errorf("%+v has %v/%v: %t", c.s, c.az, c.alt, got)
		}
	}
}
