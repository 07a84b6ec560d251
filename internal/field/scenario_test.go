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

// Scenario 25 of the references, an experienced coordinator's expectation: 12
// degrees and 85 per cent (dew point 9.6, margin 2.4) calls for a heater;
// at 55 per cent (dew point 3.2, margin 8.8) there is no warning.
func TestScenarioDewByHumidity(t *testing.T) {
	near(t, "dew point", weather.DewPoint(12, 85), 9.6, 0.05)
	near(t, "dew point", weather.DewPoint(12, 55), 3.2, 0.05)
	gear := field.Gear{Finders: []kit.Finder{{Kind: kit.UnitPower}, {Kind: kit.StraightFinder, Aperture: 50}}}

	wet := surfaceOf(t, forecast(t, plate8, gear, steady(9, humid(12, 85, 10, 2)), evening(12)), field.CorrectorPlate)
	if wet.Onset.Level != field.Likely || wet.Advice.Action != field.RunHeater || wet.Advice.Watts <= 0 {
		t.Errorf("85 per cent: %+v, %+v; want a heater", wet.Onset, wet.Advice)
	}
	for _, inst := range []kit.Instrument{plate8, mak7, lens4, newton10} {
		for _, w := range forecast(t, inst, gear, steady(9, humid(12, 55, 10, 2)), evening(12)).Warnings {
			if w.Subject == "dew" {
				t.Errorf("55 per cent: %s: %s", inst.Name, w.Sentence)
			}
		}
	}
}

// The scenario's evening: the dew point stays at 6.0 while the air falls from
// 12 at 19:00 over 9 at 21:00 to 7.5 at 22:30. The rule of thumb "glass 3 K
// under the air" gets wet at 21:00, corrector and lens first, the open
// Newtonian's primary last.
func TestScenarioDewOrderThroughTheEvening(t *testing.T) {
	s := weather.Series{}
	for _, p := range []struct{ hours, temp, rh float64 }{{0, 12, 67}, {2, 9, 81}, {3.5, 7.5, 90}} {
		near(t, "humidity", weather.RelativeHumidity(p.temp, 6), p.rh, 1)
		s.Hours = append(s.Hours, weather.Hour{Time: gate.Add(time.Duration(p.hours * float64(time.Hour))), Temp: p.temp, DewPoint: 6, Cloud: 0, Wind: 1.5})
	}
	rule := s.Sample(gate, gate.Add(3*time.Hour), 5*time.Minute)
	for _, h := range rule {
		if h.Temp-3 <= h.DewPoint {
			near(t, "rule of thumb, hours", h.Time.Sub(gate).Hours(), 2, 0.01)
			break
		}
	}

	o := evening(12)
	finder := field.Gear{Finders: []kit.Finder{{Kind: kit.StraightFinder, Aperture: 50}}}
	tube := forecast(t, plate8, finder, s, o)
	plate := surfaceOf(t, tube, field.CorrectorPlate).Onset
	open := surfaceOf(t, tube, field.FinderObjective).Onset
	lens := surfaceOf(t, forecast(t, lens4, field.Gear{}, s, o), field.Objective).Onset
	mirror := surfaceOf(t, forecast(t, newton10, field.Gear{}, s, o), field.Primary).Onset
	if plate.Likely.IsZero() || lens.Likely.IsZero() || !plate.Likely.Before(lens.Likely) || !later(lens.Likely, mirror.Likely) {
		t.Errorf("corrector %v, lens %v, primary %v: wrong order", plate.Likely, lens.Likely, mirror.Likely)
	}
	// The rule's time lies between the bare plate, which sits more than 3 K
	// under the air, and the thick lens in its shield, which sits less and
	// follows slowly; a small open lens has it inside its band.
	nine := gate.Add(2 * time.Hour)
	if plate.Likely.After(nine) || lens.Likely.Before(nine) {
		t.Errorf("21:00 is not between the corrector's %v and the lens's %v", plate.Likely, lens.Likely)
	}
	if open.Earliest.After(nine) || !open.Latest.IsZero() && open.Latest.Before(nine) {
		t.Errorf("21:00 is not in the open lens's band %v to %v", open.Earliest, open.Latest)
	}
}

// Scenario 27: drive 0.6 A and heaters 1.0 A for 4 h at freezing. The scenario
// derates lead-acid by 0.8, which lies inside our band: 7 Ah give 2.8 Ah and
// last 1 h 45, 17 Ah give 6.8 and are just enough, the drive alone runs 4 h 40
// on 7 Ah.
func TestScenarioPowerAtFreezing(t *testing.T) {
	const volts = 12
	drive := field.Consumer{Name: "drive", Watts: 0.6 * volts, Duty: 1}
	heaters := field.Consumer{Name: "heaters", Watts: 1.0 * volts, Duty: 1}
	lead := func(ah float64) []kit.Battery {
		return []kit.Battery{{Kind: kit.LeadAcid, Capacity: ah, Voltage: volts}}
	}
	end := gate.Add(4 * time.Hour)
	holds := func(what string, p field.Power, want time.Duration) {
		t.Helper()
		at := gate.Add(want)
		if at.Before(p.UntilLow) || at.After(p.UntilHigh) {
			t.Errorf("%s: %v is not between %v and %v", what, at, p.UntilLow, p.UntilHigh)
		}
		if d := p.Until.Sub(at); d.Abs() > want/20 {
			t.Errorf("%s: likely until %v, %v from %v", what, p.Until, d, at)
		}
	}

	small := field.Supply(lead(7), []field.Consumer{drive, heaters}, gate, end, 0, nil)
	near(t, "need, Ah", small.Need/volts, 6.4, 1e-6)
	near(t, "usable, Ah", small.Usable.Likely/volts, 2.8, 0.1)
	holds("7 Ah", small, 105*time.Minute)
	w, warned := field.PowerWarning(1, small)
	if small.Result != field.Short || !warned || w.Importance != field.Spoils || !strings.Contains(w.Sentence, "bring") {
		t.Errorf("7 Ah: %v, warning %+v", small.Result, w)
	}

	big := field.Supply(lead(17), []field.Consumer{drive, heaters}, gate, end, 0, nil)
	near(t, "usable, Ah", big.Usable.Likely/volts, 6.8, 0.25)
	if big.Result != field.Tight || big.Until.Before(end) {
		t.Errorf("17 Ah: %v until %v, want just enough", big.Result, big.Until)
	}
	holds("drive alone", field.Supply(lead(7), []field.Consumer{drive}, gate, end, 0, nil), 280*time.Minute)

	// What it says to bring makes it enough.
	more := append(lead(7), lead(math.Ceil(small.MoreLead))...)
	if p := field.Supply(more, []field.Consumer{drive, heaters}, gate, end, 0, nil); p.Result != field.Enough {
		t.Errorf("with %g Ah more: %v", math.Ceil(small.MoreLead), p.Result)
	}
}
