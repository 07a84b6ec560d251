package field_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/weather"
)

// An open corrector plate in weather nobody chose: the same balance written
// out once more here, with its own humidity formulas, radiation in full and
// steps of ten seconds, must find the same temperatures to 0.05 K and the same
// onset to one step.
func TestDewAgainstIndependentIntegration(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 2027))
	onsets := 0
	for n := range 40 {
		h := humid(rng.Float64()*30-8, 55+rng.Float64()*40, float64(rng.IntN(60)), rng.Float64()*4)
		rate := rng.Float64() * 1.5
		s := ramp(9, h, rate)
		start := h.Temp - 2*rate + rng.Float64()*12
		r := forecast(t, plate8, field.Gear{}, s, evening(start))
		got := surfaceOf(t, r, field.CorrectorPlate)

		es := func(c float64) float64 { return 6.112 * math.Exp(17.62*c/(243.12+c)) }
		dewOf := func(e float64) float64 { x := math.Log(e / 6.112); return 243.12 * x / (17.62 - x) }
		frostOf := func(e float64) float64 { y := math.Log(e / 6.112); return 272.62 * y / (22.46 - y) }
		const sigma = 5.670374419e-8
		temp, onset := start, math.NaN()
		for sec := 0; sec <= 4*3600; sec += 10 {
			x := float64(sec) / 3600
			i := int(x) + 2
			a, b := s.Hours[i], s.Hours[i+1]
			f := x - math.Floor(x)
			air, td := a.Temp+(b.Temp-a.Temp)*f, a.DewPoint+(b.DewPoint-a.DewPoint)*f
			point := td
			if e := es(td); td < 0 {
				point = frostOf(e)
			} else {
				point = dewOf(e)
			}
			if sec%300 == 0 {
				step := got.Steps[sec/300]
				near(t, fmt.Sprintf("night %d, %d s", n, sec), step.Surface, temp, 0.05)
				near(t, "wet point", step.Point, point, 0.001)
			}
			if temp <= point && math.IsNaN(onset) {
				onset = float64(sec)
			}
			eps := 0.711 + 0.56*td/100 + 0.73*td*td/1e4
			c := a.Cloud / 100
			eps = (1-0.84*c)*eps + 0.84*c
			ta, ts := air+273.15, temp+273.15
			v := a.Wind * math.Log(67.8*1.5-5.42) / math.Log(67.8*10-5.42)
			flow := 0.84*sigma*(eps*math.Pow(ta, 4)-math.Pow(ts, 4)) - (2.8+3*v+4)*(temp-air)
			// 203.2 mm lies a hair over 203, hence the thickness.
			temp += flow * 10 / (2.10e6 * (5 + 1.4*0.2/153) / 1000)
		}
		switch {
		case math.IsNaN(onset) != got.Onset.Likely.IsZero():
			t.Errorf("night %d: onset after %g s here, %v there", n, onset, got.Onset.Likely)
		case !math.IsNaN(onset):
			onsets++
			if d := got.Onset.Likely.Sub(gate).Seconds() - onset; d < -10 || d > 310 {
				t.Errorf("night %d: onset %g s later than here", n, d)
			}
		}
	}
	if onsets < 10 || onsets > 35 {
		t.Errorf("%d of 40 nights get wet: the sample proves little", onsets)
	}
}

// caseA is the reference sheet's night: 10 degrees, 80 per cent, clear, 1 m/s
// at the instrument.
func caseA() weather.Series { return steady(9, humid(10, 80, 0, wind10(1))) }

// The sheet's verdicts for 10 degrees and 80 per cent: an open plate dews, a
// plate in a shield stays dry in the likely case, a secondary deep in the tube
// gets wet only if exposed, the primary never.
func TestWorkedCasesThroughForecast(t *testing.T) {
	r := forecast(t, plate8, field.Gear{}, caseA(), evening(10))
	c := surfaceOf(t, r, field.CorrectorPlate)
	if c.Onset.Level != field.Likely || c.Onset.Deposit != field.Dew {
		t.Fatalf("open plate: %+v", c.Onset)
	}
	near(t, "onset, min (sheet: 11.7, steps of 5)", c.Onset.Likely.Sub(gate).Minutes(), 11.7, 5)
	last := c.Steps[len(c.Steps)-1]
	near(t, "settled", last.Surface-last.Air, -5.43, 0.02)
	near(t, "heater W (sheet: 4.7)", c.Advice.Watts, 4.7, 0.15)
	if !(c.Onset.Earliest.Before(c.Onset.Latest) || c.Onset.Latest.IsZero()) {
		t.Errorf("no band: %+v", c.Onset)
	}
	if c.Shielded.Level != field.Possible {
		t.Errorf("in a shield: %v, the sheet says possible", c.Shielded.Level)
	}

	n := forecast(t, newton10, field.Gear{Finders: []kit.Finder{{Kind: kit.UnitPower}}}, caseA(), evening(10))
	if p := surfaceOf(t, n, field.Primary); p.Onset.Level != field.NoDew {
		t.Errorf("primary at the bottom of a tube: %v", p.Onset.Level)
	}
	if w := surfaceOf(t, n, field.SightWindow); w.Onset.Level != field.Likely {
		t.Errorf("sight window: %v", w.Onset.Level)
	} else {
		near(t, "sight window settles (sheet: -3.4)", w.Steps[40].Surface-10, -3.4, 0.1)
	}
	e := surfaceOf(t, n, field.EyepieceLens)
	near(t, "eyepiece settles (sheet: -3.6 at half the wind)", e.Steps[47].Surface-10, -3.6, 0.1)
	s := surfaceOf(t, n, field.Secondary)
	near(t, "secondary settles (sheet: -2.7 calm)", s.Steps[47].Surface-10, -2.7, 0.1)
}

// More vectors of the sheet: temperature, humidity, and the likely verdict of
// an open plate and of one in a shield.
func TestVerdictsAtOtherTemperatures(t *testing.T) {
	for _, c := range []struct {
		temp, rh       float64
		open, shielded bool // wet in the likely case
		deposit        field.Deposit
	}{
		{20, 70, false, false, field.Dew},
		{0, 85, true, true, field.Frost},
		{25, 85, true, false, field.Dew},
	} {
		s := surfaceOf(t, forecast(t, plate8, field.Gear{}, steady(9, humid(c.temp, c.rh, 0, wind10(1))), evening(c.temp)), field.CorrectorPlate)
		if got := s.Bare.Level == field.Likely; got != c.open {
			t.Errorf("%g degrees, %g per cent, open: wet %v, want %v", c.temp, c.rh, got, c.open)
		}
		if got := s.Shielded.Level == field.Likely; got != c.shielded {
			t.Errorf("%g degrees, %g per cent, shield: wet %v, want %v", c.temp, c.rh, got, c.shielded)
		}
		if c.open && s.Bare.Deposit != c.deposit {
			t.Errorf("%g degrees: %s, want %s", c.temp, s.Bare.Deposit, c.deposit)
		}
	}
}

// later reports that b is not before a, where zero means never.
func later(a, b time.Time) bool { return b.IsZero() || !a.IsZero() && !b.Before(a) }

// Physical order that no choice of constants may break. Glass starts at the
// temperature of steady air.
func TestDewIsMonotonic(t *testing.T) {
	bare := func(rh, cloud, wind float64, inst kit.Instrument, gear field.Gear) field.SurfaceReport {
		return forecast(t, inst, gear, steady(9, humid(10, rh, cloud, wind)), evening(10)).Surfaces[0]
	}
	check := func(what string, runs []field.SurfaceReport) {
		t.Helper()
		for i := 1; i < len(runs); i++ {
			a, b := runs[i-1], runs[i]
			if !later(a.Onset.Earliest, b.Onset.Earliest) || !later(a.Onset.Likely, b.Onset.Likely) || !later(a.Onset.Latest, b.Onset.Latest) {
				t.Errorf("%s: step %d comes earlier: %+v after %+v", what, i, b.Onset, a.Onset)
			}
			for j := range a.Steps {
				if b.Steps[j].Surface < a.Steps[j].Surface-1e-6 {
					t.Errorf("%s: step %d is colder at %v", what, i, a.Steps[j].Time)
					break
				}
			}
		}
	}
	for _, inst := range []kit.Instrument{plate8, mak7, lens4, newton10} {
		var wind, cloud, dry, shield, heat []field.SurfaceReport
		for _, x := range []float64{0, 1, 2, 4, 7, 12} {
			wind = append(wind, bare(85, 0, x, inst, field.Gear{}))
		}
		for _, x := range []float64{0, 20, 50, 80, 100} {
			cloud = append(cloud, bare(90, x, 1.5, inst, field.Gear{}))
		}
		for _, x := range []float64{95, 90, 80, 70, 60, 40} {
			r := bare(x, 0, 1.5, inst, field.Gear{})
			dry = append(dry, r)
		}
		for _, x := range []float64{0, 0.5, 1, 1.5, 2.5} {
			i := inst
			i.DewShield = x
			shield = append(shield, bare(88, 0, 1.5, i, field.Gear{}))
		}
		for _, x := range []float64{0, 0.5, 2, 6} {
			i := inst
			i.Heater = x
			heat = append(heat, bare(88, 0, 1.5, i, field.Gear{}))
		}
		check(inst.Name+": more wind", wind)
		check(inst.Name+": more cloud", cloud)
		check(inst.Name+": longer shield", shield)
		check(inst.Name+": more heat", heat)
		for i := 1; i < len(dry); i++ {
			if !later(dry[i-1].Onset.Likely, dry[i].Onset.Likely) {
				t.Errorf("%s: drier air gets wet earlier", inst.Name)
			}
		}
	}
	// The samples must hold nights that get wet, or nothing was ordered.
	if bare(85, 0, 0, plate8, field.Gear{}).Onset.Level != field.Likely || bare(85, 0, 12, plate8, field.Gear{}).Onset.Level == field.Likely {
		t.Error("wind makes no difference to the open plate in the sample")
	}
}

// Common practice: a corrector plate dews before a mirror at the bottom of a
// tube; closed tubes take hours; a shield delays, a heater prevents; a longer
// mirror takes longer and a fan less.
func TestFactsOfTheTrade(t *testing.T) {
	night := ramp(12, humid(14, 75, 5, 1.5), 0.8)
	o := evening(14)
	plate := surfaceOf(t, forecast(t, plate8, field.Gear{}, night, o), field.CorrectorPlate)
	mirror := surfaceOf(t, forecast(t, newton10, field.Gear{}, night, o), field.Primary)
	if plate.Onset.Likely.IsZero() || !later(plate.Onset.Likely, mirror.Onset.Likely) {
		t.Errorf("plate at %v, mirror at %v", plate.Onset.Likely, mirror.Onset.Likely)
	}

	shield := field.Gear{DewGear: []kit.DewGear{{Kind: kit.Shield, Length: 300}}}
	s := surfaceOf(t, forecast(t, plate8, shield, night, o), field.CorrectorPlate)
	if !s.Onset.Likely.After(plate.Onset.Likely) && !s.Onset.Likely.IsZero() {
		t.Errorf("a shield does not delay: %v against %v", s.Onset.Likely, plate.Onset.Likely)
	}
	strip := field.Gear{DewGear: []kit.DewGear{{Kind: kit.HeaterStrip, Power: 12}}}
	if h := surfaceOf(t, forecast(t, plate8, strip, night, o), field.CorrectorPlate); h.Onset.Level != field.NoDew {
		t.Errorf("a heater of 12 W does not prevent: %+v", h.Onset)
	}

	warm := evening(20)
	cold := steady(12, humid(6, 60, 10, 2))
	tau := func(i kit.Instrument) float64 { return forecast(t, i, field.Gear{}, cold, warm).Cool.Tau }
	if !(tau(plate8) > 1 && tau(mak7) > 1) {
		t.Errorf("closed tubes cool in %g and %g h", tau(plate8), tau(mak7))
	}
	sizes := []kit.Instrument{newton6, newton10, newton16, thick16}
	for i := 1; i < len(sizes); i++ {
		if tau(sizes[i]) <= tau(sizes[i-1]) {
			t.Errorf("%s cools faster than %s", sizes[i].Name, sizes[i-1].Name)
		}
	}
	if tau(plate14) <= tau(plate8) {
		t.Error("the larger Schmidt-Cassegrain cools faster")
	}
	for _, i := range append(sizes, plate8, mak7) {
		if tau(withFan(i)) >= tau(i) {
			t.Errorf("a fan slows %s", i.Name)
		}
	}
	solid := newton10
	solid.ClosedTube = true
	if tau(solid) <= tau(newton10) {
		t.Error("a closed tube does not slow the mirror")
	}
}

// What to do, in words a volunteer can act on.
func TestAdvice(t *testing.T) {
	damp := steady(9, humid(10, 72, 0, wind10(1)))
	for _, c := range []struct {
		name   string
		inst   kit.Instrument
		gear   field.Gear
		s      weather.Series
		o      field.Options
		action field.Action
		have   bool
		say    string
	}{
		{"dry air", plate8, field.Gear{}, steady(9, humid(10, 45, 0, 2)), evening(10), field.DoNothing, true, "stays dry"},
		{"damp air and no gear", plate8, field.Gear{}, damp, evening(10), field.FitShield, false, "Fit a shield"},
		{"damp air and a shield", plate8, field.Gear{DewGear: []kit.DewGear{{Kind: kit.Shield, Length: 305}}}, damp, evening(10), field.FitShield, true, "Keep the shield"},
		{"wet air and no gear", plate8, field.Gear{}, steady(9, humid(10, 95, 0, wind10(1))), evening(10), field.RunHeater, false, "needs a heater of 7"},
		{"wet air and a weak strip", plate8, field.Gear{DewGear: []kit.DewGear{{Kind: kit.HeaterStrip, Power: 1}}}, steady(9, humid(10, 95, 0, wind10(1))), evening(10), field.RunHeater, false, "too weak"},
		{"wet air and a strip", plate8, field.Gear{DewGear: []kit.DewGear{{Kind: kit.HeaterStrip, Power: 15}}}, steady(9, humid(10, 95, 0, wind10(1))), evening(14), field.RunHeater, true, "Run the heater"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := forecast(t, c.inst, c.gear, c.s, c.o).Surfaces[0].Advice
			if a.Action != c.action || a.Have != c.have || !strings.Contains(a.Sentence, c.say) {
				t.Errorf("%s, have %v: %q; want %s, %v, %q", a.Action, a.Have, a.Sentence, c.action, c.have, c.say)
			}
		})
	}
	// A strip that keeps the glass dry is enough, if with less than 2 K to spare.
	inst, seen := plate8, false
	wet := steady(9, humid(10, 88, 0, wind10(1)))
	for inst.Heater = 1; inst.Heater < 12; inst.Heater += 0.25 {
		s := forecast(t, inst, field.Gear{}, wet, evening(13)).Surfaces[0]
		if s.Onset.Level != field.NoDew || inst.Heater >= s.Advice.Watts {
			continue
		}
		seen = true
		if !s.Advice.Have || !strings.Contains(s.Advice.Sentence, "Run the heater") {
			t.Errorf("a strip of %g W that keeps it dry: %q", inst.Heater, s.Advice.Sentence)
		}
	}
	if !seen {
		t.Error("no strip in the sample keeps the glass dry with little to spare")
	}

	off := evening(10)
	off.HeaterOff = true
	a := forecast(t, plate8, field.Gear{DewGear: []kit.DewGear{{Kind: kit.HeaterStrip, Power: 15}}}, steady(9, humid(10, 95, 0, wind10(1))), off).Surfaces[0].Advice
	if a.Have || !strings.Contains(a.Sentence, "switched off") {
		t.Errorf("heater off: %+v", a)
	}
}
