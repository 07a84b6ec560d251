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

// A primary gets wet when warm moist air reaches a mirror that is still cold:
// its temperature is that of the cool-down, and waiting is all that helps.
func TestPrimaryGetsWetInWarmMoistAir(t *testing.T) {
	s := weather.Series{}
	for i := range 9 {
		temp := 2.0
		if i > 3 {
			temp = math.Min(10, 2+4*float64(i-3))
		}
		s.Hours = append(s.Hours, weather.Hour{Time: gate.Add(time.Duration(i-2) * time.Hour), Temp: temp, DewPoint: temp - 0.8, Cloud: 90, Wind: 3})
	}
	r := forecast(t, thick16, field.Gear{}, s, evening(2))
	p := surfaceOf(t, r, field.Primary)
	if p.Onset.Level != field.Likely || p.Onset.Likely.Before(gate.Add(time.Hour)) || p.Advice.Action != field.CoverWait {
		t.Errorf("%+v, %+v", p.Onset, p.Advice)
	}
	for _, step := range p.Steps {
		c, _ := r.CoolState(step.Time)
		near(t, "mirror", step.Surface-step.Air, c.Delta, 0.15) // what the tube's mouth takes
	}
	for _, x := range r.Surfaces {
		o := x.Onset
		if !later(o.Earliest, o.Likely) || !later(o.Likely, o.Latest) {
			t.Errorf("%s: onset runs backwards: %+v", x.Surface.Name, o)
		}
	}
}

// Put out by the safe time, even slow glass is ready.
func TestSafePutOut(t *testing.T) {
	start := 18.0
	o := field.Options{From: gate.Add(5 * time.Hour), To: gate.Add(7 * time.Hour), PutOut: gate.Add(5 * time.Hour), StorageTemp: &start, HighPower: 100}
	s := ramp(12, humid(12, 60, 20, 2), 0.2)
	by := forecast(t, newton8, field.Gear{}, s, o).Cool.HighPower.PutOutBy
	if by.Safe.IsZero() || !by.Safe.Before(by.Likely) {
		t.Fatalf("%+v", by)
	}
	o.PutOut = by.Safe
	r := forecast(t, newton8, field.Gear{}, s, o)
	if c, _ := r.CoolState(o.From); c.High > r.Cool.HighPower.Limit {
		t.Errorf("slow glass is %.2f K warm, the limit is %.2f", c.High, r.Cool.HighPower.Limit)
	}
	o.PutOut = by.Safe.Add(field.Step)
	r = forecast(t, newton8, field.Gear{}, s, o)
	if c, _ := r.CoolState(o.From); c.High <= r.Cool.HighPower.Limit {
		t.Error("five minutes later would do too")
	}
}

// A large mirror from a hot room: not even low power for the first hours.
func TestCoolDownWarnings(t *testing.T) {
	s := ramp(12, humid(8, 60, 20, 2), 1.5)
	say := func(o field.Options, i kit.Instrument) string {
		var all []string
		for _, w := range forecast(t, i, field.Gear{}, s, o).Warnings {
			if w.Subject == "cool-down" {
				all = append(all, w.Sentence)
			}
		}
		return strings.Join(all, "\n")
	}
	short := evening(28)
	short.To = gate.Add(time.Hour)
	if got := say(short, thick16); !strings.Contains(got, "too warm even for 50x all night") || !strings.Contains(got, "put a fan behind the mirror") {
		t.Errorf("an hour: %q", got)
	}
	if got := say(evening(20), newton10); !strings.Contains(got, "Even for 50x the primary mirror is ready only between") {
		t.Errorf("four hours: %q", got)
	}
	fan := withFan(thick16)
	o := evening(28)
	o.FanOff = true
	if got := say(o, fan); !strings.Contains(got, "switch its fan on") {
		t.Errorf("fan off: %q", got)
	}
	steadyAir := steady(12, humid(8, 60, 20, 2))
	o = evening(20)
	if s = steadyAir; !strings.Contains(say(o, thick16), "before the night ends") {
		t.Errorf("steady air: %q", say(o, thick16))
	}
	s = ramp(12, humid(8, 60, 20, 2), 1.5)
	long := evening(20)
	long.To = gate.Add(8 * time.Hour)
	if got := say(long, thick16); !strings.Contains(got, "the air falls faster than the glass follows") {
		t.Errorf("falling air: %q", got)
	}
	if got := say(evening(5), newton6); got != "" {
		t.Errorf("glass as cold as the air: %q", got)
	}
}

// Gear counts where it fits.
func TestGearFitsBySize(t *testing.T) {
	damp := steady(9, humid(10, 88, 0, wind10(1)))
	front := func(inst kit.Instrument, g ...kit.DewGear) field.SurfaceReport {
		return forecast(t, inst, field.Gear{DewGear: g}, damp, evening(10)).Surfaces[0]
	}
	fits := kit.DewGear{Kind: kit.Shield, Length: 300, MinDiameter: 220, MaxDiameter: 240}
	small := kit.DewGear{Kind: kit.Shield, Length: 300, MinDiameter: 100, MaxDiameter: 130}
	large := kit.DewGear{Kind: kit.Shield, Length: 300, MinDiameter: 300, MaxDiameter: 380}
	tied := kit.DewGear{Kind: kit.Shield, Length: 300, MinDiameter: 300, MaxDiameter: 380, ForID: plate8.ID}
	bare := front(plate8).Onset
	for _, c := range []struct {
		name string
		gear kit.DewGear
		fits bool
	}{{"fits", fits, true}, {"too small", small, false}, {"too large", large, false}, {"kept with it", tied, true}} {
		if got := front(plate8, c.gear).Onset != bare; got != c.fits {
			t.Errorf("a shield that is %s changes the onset: %v", c.name, got)
		}
	}
	if s := front(plate8, kit.DewGear{Kind: kit.HeaterStrip, Power: 9, MinDiameter: 40, MaxDiameter: 60}); s.Surface.Heater != 0 {
		t.Errorf("a finder's strip heats the corrector with %g W", s.Surface.Heater)
	}
	r := forecast(t, plate8, field.Gear{
		Finders: []kit.Finder{{Kind: kit.StraightFinder, Aperture: 50}},
		DewGear: []kit.DewGear{{Kind: kit.HeaterStrip, Power: 2, MinDiameter: 40, MaxDiameter: 60}},
	}, damp, evening(10))
	if s := surfaceOf(t, r, field.FinderObjective); s.Surface.Heater != 2 || s.Onset.Level >= s.Bare.Level {
		t.Errorf("the finder's strip: %g W, %v against %v", s.Surface.Heater, s.Onset.Level, s.Bare.Level)
	}

	// A shroud on the mouth of an open tube takes sky from the secondary.
	shroud := newton10
	shroud.DewShield = 1
	open, shrouded := front(newton10), front(shroud)
	if shrouded.Steps[30].Surface < open.Steps[30].Surface+0.5 {
		t.Errorf("secondary %.2f with a shroud, %.2f without", shrouded.Steps[30].Surface, open.Steps[30].Surface)
	}
}

// Heaters run at what they need, and a heater sized with the shield at home is
// larger.
func TestDutyAndHeaterWithoutShield(t *testing.T) {
	wet := steady(9, humid(10, 95, 0, wind10(1)))
	inst := withFan(plate8)
	inst.Heater = 16
	r := forecast(t, inst, field.Gear{}, wet, evening(14))
	cs := r.Consumers(inst)
	if len(cs) != 2 || cs[0].Name != "fan" || cs[0].Watts <= 0 {
		t.Fatalf("consumers %+v", cs)
	}
	near(t, "duty", cs[1].Duty, surfaceOf(t, r, field.CorrectorPlate).Advice.Watts/16, 1e-9)

	shielded := plate8
	shielded.DewShield = 1.5
	with := forecast(t, shielded, field.Gear{}, wet, evening(10)).Surfaces[0].Advice
	o := evening(10)
	o.NoShield = true
	without := forecast(t, shielded, field.Gear{}, wet, o).Surfaces[0].Advice
	if with.Watts <= 0 || without.Watts < 1.5*with.Watts {
		t.Errorf("%.1f W with the shield, %.1f without", with.Watts, without.Watts)
	}
	near(t, "what a shield would save", without.ShieldWatts, with.Watts, 1e-9)
}
