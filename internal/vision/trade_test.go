package vision_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/optics"
	"duskboard/internal/vision"
)

// The facts of the trade, as data: testdata/optics/trade.json says in its own
// words how it is read.

type tradeFile struct {
	About   []string
	Targets map[string]catalog.Target
	Pairs   map[string]catalog.Double
	Planets map[string]vision.Planet
	Pieces  struct {
		Telescopes map[string]kit.Instrument
		Eyepieces  map[string]kit.Eyepiece
		Amplifiers map[string]kit.Amplifier
		Diagonals  map[string]kit.Diagonal
		Filters    map[string]kit.Filter
	}
	Scenarios []struct {
		Name, Why, Source string
		Trains            map[string]string // "newton254 + corrector + e12"
		Expect            []string
	}
}

// TestTrade runs every scenario of the file.
func TestTrade(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/optics/trade.json")
	if err != nil {
		t.Fatal(err)
	}
	var file tradeFile
	read := json.NewDecoder(bytes.NewReader(raw))
	read.DisallowUnknownFields() // a misspelt field must not become a default
	if err := read.Decode(&file); err != nil {
		t.Fatal(err)
	}
	if len(file.Scenarios) < 40 {
		t.Errorf("%d scenarios, want at least 40", len(file.Scenarios))
	}
	seen := map[string]bool{}
	for _, s := range file.Scenarios {
		t.Run(s.Name, func(t *testing.T) {
			if seen[s.Name] || s.Why == "" || s.Source == "" || len(s.Expect) == 0 {
				t.Fatalf("a scenario needs a name of its own, a reason, a source and an expectation")
			}
			seen[s.Name] = true
			trains := map[string]*tradeTrain{}
			for letter, words := range s.Trains {
				trains[letter] = file.build(t, words)
			}
			for _, e := range s.Expect {
				if problem := file.check(trains, e); problem != "" {
					t.Errorf("%s\nexpected because: %s (%s)", problem, s.Why, s.Source)
				}
			}
		})
	}
}

// tradeTrain is a train, or the fact that its parts do not go together.
type tradeTrain struct {
	inst  kit.Instrument
	train *optics.Train
}

func (f *tradeFile) build(t *testing.T, words string) *tradeTrain {
	t.Helper()
	var k kit.Kit
	var inst kit.Instrument
	var filter *kit.Filter
	for _, w := range strings.Split(words, " + ") {
		if x, ok := f.Pieces.Telescopes[w]; ok {
			inst = x
		} else if x, ok := f.Pieces.Eyepieces[w]; ok {
			k.Eyepieces = append(k.Eyepieces, x)
		} else if x, ok := f.Pieces.Amplifiers[w]; ok {
			k.Amplifiers = append(k.Amplifiers, x)
		} else if x, ok := f.Pieces.Diagonals[w]; ok {
			k.Diagonals = append(k.Diagonals, x)
		} else if x, ok := f.Pieces.Filters[w]; ok {
			full := x.Fill()
			filter = &full
		} else {
			t.Fatalf("no piece called %q", w)
		}
	}
	out := &tradeTrain{inst: inst.Fill()}
	for _, tr := range optics.AllTrains(k, inst) {
		if (tr.Amplifier != nil) == (len(k.Amplifiers) > 0) {
			tr.Filter = filter
			out.train = &tr
		}
	}
	return out
}

// check returns "" when the expectation holds, else what was found.
func (f *tradeFile) check(trains map[string]*tradeTrain, expect string) string {
	parts := strings.Fields(expect)
	op := -1
	for n, p := range parts {
		switch p {
		case "=", "!=", "<", ">", "<=", ">=", "~":
			op = n
		}
	}
	if op < 0 {
		return fmt.Sprintf("cannot read %q", expect)
	}
	left, err := f.value(trains, strings.Join(parts[:op], " "))
	if err != nil {
		return fmt.Sprintf("%s: %v", expect, err)
	}
	want, tolerance, _ := strings.Cut(strings.Join(parts[op+1:], " "), " ± ")
	right, err := f.value(trains, want)
	if err != nil {
		return fmt.Sprintf("%s: %v", expect, err)
	}
	if !holds(parts[op], left, right, tolerance) {
		return fmt.Sprintf("%s: got %v and %v", expect, left, right)
	}
	return ""
}

func holds(op string, left, right any, tolerance string) bool {
	a, aIs := left.(float64)
	b, bIs := right.(float64)
	if !aIs || !bIs {
		same := fmt.Sprint(left) == fmt.Sprint(right)
		return op == "=" && same || op == "!=" && !same
	}
	switch op {
	case "<":
		return a < b
	case ">":
		return a > b
	case "<=":
		return a <= b
	case ">=":
		return a >= b
	case "~":
		within, err := strconv.ParseFloat(tolerance, 64)
		return err == nil && math.Abs(a-b) <= within
	}
	return op == "=" && a == b || op == "!=" && a != b
}

// value reads a number, a word, or "A.quantity(argument; argument)".
func (f *tradeFile) value(trains map[string]*tradeTrain, s string) (any, error) {
	if v, err := strconv.ParseFloat(s, 64); err == nil {
		return v, nil
	}
	letter, rest, dotted := strings.Cut(s, ".")
	tr, known := trains[letter]
	if !dotted || !known {
		return s, nil
	}
	name, list, _ := strings.Cut(strings.TrimSuffix(rest, ")"), "(")
	var args []string
	for _, a := range strings.Split(list, ";") {
		args = append(args, strings.TrimSpace(a))
	}
	return f.quantity(tr, name, args)
}

func num(args []string, n int) float64 {
	if n >= len(args) {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(args[n], 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func (f *tradeFile) quantity(tr *tradeTrain, name string, args []string) (any, error) {
	switch name {
	case "builds":
		return yes(tr.train != nil), nil
	case "height":
		return optics.EyepieceHeight(tr.inst, num(args, 0)), nil
	case "stand":
		return string(optics.ReachFor(optics.EyepieceHeight(tr.inst, num(args, 0)), num(args, 1)).Stand), nil
	case "wheelchair":
		v, _ := optics.Wheelchair(optics.EyepieceHeights(tr.inst, num(args, 0)))
		return string(v), nil
	case "altitude":
		v, _ := optics.AltitudeVerdict(tr.inst, num(args, 0))
		return string(v), nil
	case "airy":
		return optics.Obstructed(tr.inst.Obstruction).AiryEnergy, nil
	case "barrelpower":
		_, lowest := optics.WidestField(tr.inst)
		return lowest, nil
	case "colour":
		return string(optics.ColourOf(tr.inst).Verdict), nil
	}
	if tr.train == nil {
		return nil, fmt.Errorf("the parts do not go together")
	}
	o := tr.train.Static()
	if v, ok := opticsQuantity(tr, o, name, args); ok {
		return v, nil
	}
	return f.visionQuantity(tr, o, name, args)
}

func opticsQuantity(tr *tradeTrain, o optics.Optics, name string, args []string) (any, bool) {
	low := func(spare bool) optics.LowPower { return optics.LowPowerLimits(o, tr.inst, num(args, 0), spare) }
	high := func() optics.HighPower { return optics.HighPowerLimits(o, num(args, 0)) }
	edge, _ := o.Edge()
	relief, _ := o.Relief()
	orientation := tr.train.Orientation(0)
	switch name {
	case "power":
		return o.Magnification, true
	case "field": // degrees
		return o.TrueField, true
	case "minutes": // of arc
		return o.TrueField * 60, true
	case "lit": // degrees
		return o.LitField, true
	case "exit": // mm
		return o.ExitPupil, true
	case "fits": // a size in arcminutes
		return yes(o.TrueField*60 >= num(args, 0)), true
	case "drift": // seconds, at a declination
		return optics.DriftSeconds(o.TrueField, num(args, 0)), true
	case "edge":
		return o.EdgeQuality, true
	case "edgeverdict":
		return string(edge), true
	case "coma": // arcminutes as seen
		return o.ComaEdge, true
	case "glasses":
		return yes(o.Glasses), true
	case "relief":
		return string(relief), true
	case "mirrored":
		return yes(orientation.Mirrored), true
	case "turn":
		return orientation.Turn, true
	case "light":
		return string(low(false).Light.Verdict), true
	case "lightmoon":
		return string(low(true).Light.Verdict), true
	case "shadow":
		return string(low(true).Shadow.Verdict), true
	case "shadowbound": // times
		return low(true).Shadow.Bound, true
	case "lowestmoon": // times, on the Moon: shadow and barrel only
		return low(true).Lowest, true
	case "stop":
		return string(low(true).FieldStop.Verdict), true
	case "aperturelimit":
		return string(high().Aperture.Verdict), true
	case "seeinglimit":
		return string(high().Seeing.Verdict), true
	case "rests": // on a default of the kit
		for _, a := range o.Assumed {
			if strings.Contains(a, args[0]) {
				return "yes", true
			}
		}
		return "no", true
	}
	return nil, false
}

func (f *tradeFile) visionQuantity(tr *tradeTrain, o optics.Optics, name string, args []string) (any, error) {
	obs := vision.ObserverFor("adults")
	switch name {
	case "margin", "grade": // target; sky in mag per square arcsecond
		target, ok := f.Targets[args[0]]
		if !ok {
			return nil, fmt.Errorf("no target %q", args[0])
		}
		subject, mu := vision.SubjectOf(target), num(args, 1)
		sight := vision.NewSight(o, obs, tr.train.Filter, mu)
		m := sight.Margin(&subject, mu, vision.DefaultExtinction)
		if name == "margin" {
			return m, nil
		}
		return string(vision.GradeOf(m)), nil
	case "starlimit": // magnitude, under a sky
		sight := vision.NewSight(o, obs, nil, num(args, 0))
		return sight.StarLimit(), nil
	case "split", "splitlimit": // pair; seeing in arcseconds
		pair, ok := f.Pairs[args[0]]
		if !ok {
			return nil, fmt.Errorf("no pair %q", args[0])
		}
		sight := vision.NewSight(o, obs, nil, 19.5)
		s := vision.Split(pair, o, num(args, 1), sight.Star(pair.MagB, vision.DefaultExtinction))
		if name == "split" {
			return string(s.Grade), nil
		}
		return s.Limit, nil
	case "detail": // planet; detail; seeing
		for _, d := range vision.Details(f.Planets[args[0]], o, num(args, 2)) {
			if d.Name == args[1] {
				return string(d.Grade), nil
			}
		}
		return "none", nil
	case "looks": // a disc of so many arcseconds, arcminutes as seen
		return 31.1 * o.Magnification / vision.MoonLikePower(num(args, 0)), nil
	}
	return nil, fmt.Errorf("no quantity %q", name)
}
