package field_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/weather"
)

// The band is the stated spread and nothing else: Brunt's sky, 3 points more
// humidity and 0.6 of the wind on one side, the refitted sky, 3 points less
// and 1.4 of the wind on the other.
func TestBandIsTheStatedSpread(t *testing.T) {
	r := forecast(t, plate8, field.Gear{}, steady(9, humid(10, 80, 20, wind10(1))), evening(10))
	c := surfaceOf(t, r, field.CorrectorPlate)
	last := c.Steps[len(c.Steps)-1]
	side := func(m field.SkyModel, rh, wind float64) (temp, margin float64) {
		td := weather.DewPoint(10, rh)
		eps := field.CloudySky(m.Emissivity(10, td), 0.2)
		temp = 10 + corrector.Rest(field.Exposure{Air: 10, Loss: field.SkyLoss(eps, 10), Wind: wind}).Surface
		return temp, temp - td
	}
	low, marginLow := side(field.Brunt, 83, 0.6)
	high, marginHigh := side(field.BerdahlLi, 77, 1.4)
	near(t, "cold edge", last.Low, low, 0.005)
	near(t, "warm edge", last.High, high, 0.005)
	near(t, "margin of the cold, moist case", last.MarginLow, marginLow, 0.005)
	near(t, "margin of the warm, dry case", last.MarginHigh, marginHigh, 0.005)
}

// A step is likely from the dew point down, possible within 1.5 K or when the
// cold case is wet, frost below freezing. Each kind must occur.
func TestLevelsAndDeposits(t *testing.T) {
	seen := map[field.Level]int{}
	byColdCase, frost := 0, 0
	for _, temp := range []float64{-6, 2, 3, 12} {
		for rh := 40.0; rh <= 98; rh += 2 {
			r := forecast(t, plate8, field.Gear{}, steady(9, humid(temp, rh, 0, 2)), evening(temp))
			for _, s := range surfaceOf(t, r, field.CorrectorPlate).Steps {
				want := field.NoDew
				switch {
				case s.Margin <= 0:
					want = field.Likely
				case s.Margin <= 1.5:
					want = field.Possible
				case s.MarginLow <= 0:
					want = field.Possible
					byColdCase++
				}
				if s.Level != want {
					t.Fatalf("%+v: want %v", s, want)
				}
				if (s.Deposit == field.Frost) != (s.Point < 0) {
					t.Fatalf("%+v", s)
				}
				if s.Deposit == field.Frost && s.Point > -1 {
					frost++
				}
				seen[s.Level]++
			}
		}
	}
	if seen[field.NoDew] == 0 || seen[field.Possible] == 0 || seen[field.Likely] == 0 || byColdCase == 0 || frost == 0 {
		t.Errorf("seen %v, %d by the cold case alone, %d just under freezing: the sample proves little", seen, byColdCase, frost)
	}
}

// A modelled time constant is good to 40 per cent, a measured one to 15.
func TestCoolingBand(t *testing.T) {
	s := steady(10, humid(5, 60, 20, 2))
	check := func(inst kit.Instrument, spread float64) {
		t.Helper()
		r := forecast(t, inst, field.Gear{}, s, evening(20))
		near(t, "fast", r.Cool.TauLow, (1-spread)*r.Cool.Tau, 1e-9)
		near(t, "slow", r.Cool.TauHigh, (1+spread)*r.Cool.Tau, 1e-9)
		c, _ := r.CoolState(gate.Add(2 * time.Hour))
		if inst.TimeConstant > 0 {
			near(t, "fast edge of the band", c.Low, 15*math.Exp(-2/r.Cool.TauLow), 1e-6)
			near(t, "slow edge of the band", c.High, 15*math.Exp(-2/r.Cool.TauHigh), 1e-6)
		}
	}
	check(newton10, 0.40)
	measured := newton10
	measured.TimeConstant = 1.2
	check(measured, 0.15)
}

// A lens is forgiven half as much again as a mirror, in what it is ready for
// and in its blur.
func TestLensesAreForgivenMore(t *testing.T) {
	s := steady(10, humid(5, 60, 20, 2))
	lens, mirror := forecast(t, lens4, field.Gear{}, s, evening(20)), forecast(t, newton10, field.Gear{}, s, evening(20))
	near(t, "mirror", mirror.Cool.HighPower.Limit, field.Tolerance(150), 1e-9)
	near(t, "lens", lens.Cool.HighPower.Limit, 1.5*field.Tolerance(150), 1e-9)
	at := gate.Add(time.Hour)
	for _, c := range []struct {
		r       field.Report
		forgive float64
	}{{lens, 1.5}, {mirror, 1}} {
		cool, _ := c.r.CoolState(at)
		got, ok := c.r.Seeing(2, at)
		if !ok {
			t.Fatal("no seeing")
		}
		near(t, "seeing", got, field.CombineSeeing(2, field.MirrorSeeing(cool.Delta/c.forgive)), 1e-9)
	}
}

// What a club did not say about storage is assumed aloud.
func TestStorageDefaults(t *testing.T) {
	s := steady(10, humid(5, 60, 20, 2))
	for _, c := range []struct {
		storage kit.Storage
		want    float64
		say     string
	}{{kit.House, 20, "house"}, {kit.Shed, 8, "shed"}, {kit.Car, 10, "car"}, {"", 20, "nobody noted"}} {
		inst := newton10
		inst.Storage = c.storage
		r := forecast(t, inst, field.Gear{}, s, field.Options{From: gate, To: gate.Add(time.Hour), PutOut: gate})
		near(t, c.say, r.Storage, c.want, 1e-9)
		if !strings.Contains(strings.Join(r.Assumed, "; "), c.say) {
			t.Errorf("assumed %q does not say %q", r.Assumed, c.say)
		}
	}
	r := forecast(t, newton10, field.Gear{}, s, evening(13))
	near(t, "given", r.Storage, 13, 0)
	if strings.Contains(strings.Join(r.Assumed, "; "), "kept") {
		t.Errorf("a given temperature counts as assumed: %q", r.Assumed)
	}
	late := forecast(t, newton10, field.Gear{}, s, field.Options{From: gate, To: gate.Add(time.Hour)})
	if !late.PutOut.Equal(gate.Add(-time.Hour)) || !strings.Contains(strings.Join(late.Assumed, "; "), "put out one hour before") {
		t.Errorf("put out at %v, assumed %q", late.PutOut, late.Assumed)
	}
}

// Leaving the shield at home is the bare tube, and what it means is forecast
// beside what stands.
func TestGearLeftAtHome(t *testing.T) {
	damp := steady(9, humid(10, 80, 0, wind10(1)))
	with := surfaceOf(t, forecast(t, lens4, field.Gear{}, damp, evening(10)), field.Objective)
	o := evening(10)
	o.NoShield = true
	without := surfaceOf(t, forecast(t, lens4, field.Gear{}, damp, o), field.Objective)
	if with.Onset.Level == field.Likely || without.Onset.Level != field.Likely {
		t.Errorf("with shield %v, without %v", with.Onset.Level, without.Onset.Level)
	}
	if with.Bare != without.Onset || without.Bare != without.Onset {
		t.Errorf("bare %+v, shield left at home %+v", with.Bare, without.Onset)
	}
}

// Where the sky is seen more, glass is colder: an open truss more than a tube,
// a front plate more than a recessed lens, that more than a secondary.
func TestMoreSkyIsColder(t *testing.T) {
	night := steady(9, humid(10, 70, 0, 0))
	rest := func(inst kit.Instrument) float64 {
		s := forecast(t, inst, field.Gear{}, night, evening(10)).Surfaces[0]
		return s.Steps[len(s.Steps)-1].Surface
	}
	solid := newton16
	solid.ClosedTube = true
	twin := kit.Instrument{Design: kit.Binoculars, Aperture: 100, Power: 25}
	bare := lens4
	bare.DewShield = 0
	order := []float64{rest(bare), rest(twin), rest(newton16), rest(solid)}
	for i := 1; i < len(order); i++ {
		if order[i] <= order[i-1]+0.2 {
			t.Errorf("temperatures %.2f do not rise clearly", order)
		}
	}
	near(t, "tube secondary, calm (sheet: -2.7)", rest(solid)-10, -2.8, 0.2)
}

// A shield helps the more the longer it is, in wind too; a mere rim must not
// count as still air.
func TestRimIsNotAShield(t *testing.T) {
	night := steady(9, humid(10, 70, 0, wind10(3)))
	rest := func(ratio float64) float64 {
		inst := plate8
		inst.DewShield = ratio
		s := forecast(t, inst, field.Gear{}, night, evening(10)).Surfaces[0]
		return s.Steps[len(s.Steps)-1].Surface
	}
	if open, rim := rest(0), rest(0.05); math.Abs(rim-open) > 0.5 {
		t.Errorf("a rim of a twentieth moves the plate from %.2f to %.2f", open, rim)
	}
}

// The front element comes before what can be wiped or swapped.
func TestWarningsByImportance(t *testing.T) {
	gear := field.Gear{Finders: []kit.Finder{{Kind: kit.UnitPower}, {Kind: kit.RightAngleFinder, Aperture: 50, Base: kit.Base{Name: "right-angle finder"}}}}
	ws := forecast(t, plate8, gear, steady(9, humid(6, 95, 0, 1)), evening(6)).Warnings
	rank := map[string]field.Importance{}
	for _, w := range ws {
		for _, name := range []string{"On the corrector plate", "On the finder window", "On the right-angle finder", "On the eyepiece"} {
			if strings.HasPrefix(w.Sentence, name) {
				rank[name] = w.Importance
			}
		}
	}
	if len(rank) != 4 || rank["On the corrector plate"] != field.Spoils || rank["On the finder window"] != field.Caution || rank["On the eyepiece"] != field.Caution {
		t.Errorf("ranks %v", rank)
	}
	if !strings.HasPrefix(ws[0].Sentence, "On the corrector plate") {
		t.Errorf("first is %q", ws[0].Sentence)
	}
}
