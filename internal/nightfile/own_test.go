package nightfile_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
	"duskboard/internal/sky"
)

// The published one-line elements of a comet and two-line elements of a station
// that the tests of package sky check against other programs.
const (
	comet   = "    CJ95O010  1997 03 29.6333  0.916241  0.994928  130.6448  283.3593   88.9908  20200224  -2.0  4.0  C/1995 O1 (Hale-Bopp)                                    MPC106342"
	station = "STATION\n1 25544U 98067A   08264.51782528 -.00002182  00000-0 -11606-4 0  2927\n2 25544  51.6416 247.4627 0006703 130.5360 325.0288 15.72125391563537"
)

func ownPlan() night.Plan {
	p := plan()
	p.Targets = append(p.Targets, "own-7", "own-9")
	nan := math.NaN()
	p.Own = []night.OwnTarget{
		{Elements: comet, Target: catalog.Target{ID: "own-7", Name: "A comet", Kind: catalog.KindComet, Magnitude: nan, BV: nan, PositionAngle: nan, Brightness: nan, Own: true, Delight: 0.6}},
		{Target: catalog.Target{ID: "own-9", Name: "Our corner", Kind: catalog.KindDouble, Star: sky.Star{RA: 10.5, Dec: -20.25}, Magnitude: 5.5, BV: nan, PositionAngle: nan, Brightness: nan, Own: true,
			Double: &catalog.Double{Separation: 12, MagA: 5.6, MagB: 8, Count: 2}, Words: catalog.Words{Line: "Look", Facts: []string{"One"}}}},
		{Target: catalog.Target{ID: "own-11", Name: "Not named by the night", Kind: catalog.KindOther, Magnitude: nan, BV: nan, PositionAngle: nan, Brightness: nan}},
	}
	p.Satellites = []night.Satellite{{Name: "STATION", Elements: station}}
	return p
}

// TestOwnTargetsThereAndBack: comets by elements, fixed places and satellites
// go through a file unchanged, and a portable one leaves out what is not named.
func TestOwnTargetsThereAndBack(t *testing.T) {
	want := ownPlan()
	var b bytes.Buffer
	if err := nightfile.Write(&b, want); err != nil {
		t.Fatal(err)
	}
	got, err := nightfile.Read(&b)
	if err != nil {
		t.Fatal(err)
	}
	same := cmp.Options{cmpopts.EquateEmpty(), cmpopts.EquateNaNs(), cmpopts.EquateApprox(1e-9, 0)}
	want.Own[2].Own = true // whatever stands there is the club's own
	if d := cmp.Diff(want, got, same); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	p := nightfile.Portable(ownPlan())
	if len(p.Own) != 2 || p.Own[0].ID != "own-1" || p.Targets[2] != "own-1" || p.Volunteers[0].ID != 1 || p.Duties[0].VolunteerID != 1 || p.Showings[0].EyepieceID != 1 {
		t.Errorf("portable: %+v", p)
	}
	if err := nightfile.Keepable(p); err != nil {
		t.Error(err)
	}
}

// TestHostileFiles: each gets a clear fault at its place, and none a crash.
func TestHostileFiles(t *testing.T) {
	var b bytes.Buffer
	if err := nightfile.Write(&b, ownPlan()); err != nil {
		t.Fatal(err)
	}
	good := b.String()
	for _, c := range []struct{ name, file, path string }{
		{"10 MB", strings.Repeat(" ", 10<<20), "/"},
		{"deep", strings.Repeat("[", 1<<20), "/"},
		{"deep objects", strings.Repeat(`{"a":`, 1<<16), "/"},
		{"cut short", good[:len(good)/2], "/"},
		{"two documents", good + "{}", "/"},
		{"no UTF-8", strings.Replace(good, "Winter", "Win\xffter", 1), "/"},
		{"NaN", strings.Replace(good, `"guests": 80`, `"guests": NaN`, 1), "/"},
		{"1e309", strings.Replace(good, `"guests": 80`, `"guests": 1e309`, 1), "/night/guests"},
		{"a key twice", strings.Replace(good, `"guests": 80`, `"guests": 80, "guests": 90`, 1), "/night/guests"},
		{"a bell in a name", strings.Replace(good, "Winter night", `Winter\u0007night`, 1), "/night/name"},
		{"latitude 90.5", strings.Replace(good, `"latitude": 40`, `"latitude": 90.5`, 1), "/site/latitude"},
		{"year 0", strings.Replace(good, "2027-02-12", "0000-02-12", 1), "/night/date"},
		{"year 9999", strings.Replace(good, "2027-02-12", "9999-02-12", 1), "/night/date"},
		{"broken elements", strings.Replace(good, "0.994928", "0.99x928", 1), "/ownTargets/0/elements"},
		{"broken check digit", strings.Replace(good, "0  2927", "0  2928", 1), "/satellites/0/elements"},
		{"one id twice", strings.Replace(good, `"id": "own-9"`, `"id": "own-7"`, 1), "/ownTargets/1/id"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.file == good {
				t.Fatal("nothing was changed")
			}
			_, err := nightfile.Read(strings.NewReader(c.file))
			var fs fault.Fields
			if !errors.As(err, &fs) || fs.For(c.path) == "" {
				t.Errorf("no fault at %s: %v", c.path, err)
			}
		})
	}
	// The pole and odd but printable names are fine.
	for _, fine := range []string{
		strings.Replace(good, `"latitude": 40`, `"latitude": 90`, 1), "\xef\xbb\xbf" + good,
		strings.Replace(good, "Winter night", "שלום 夜 🌌 e\u0301", 1),
	} {
		if _, err := nightfile.Read(strings.NewReader(fine)); err != nil {
			t.Error(err)
		}
	}
}

// TestUnknownOwnTarget: a file that names another club's own-3 without saying
// what it is cannot be kept: here it might be another thing.
func TestUnknownOwnTarget(t *testing.T) {
	p := plan()
	p.Targets = append(p.Targets, "own-3")
	var fs fault.Fields
	if err := nightfile.Keepable(p); !errors.As(err, &fs) || fs.For("/targets/2") == "" {
		t.Errorf("got %v", err)
	}
}
