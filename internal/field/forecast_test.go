package field_test

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/weather"
)

// No weather is a state with a name: no numbers, no false calm, no error.
func TestNoWeather(t *testing.T) {
	for name, s := range map[string]weather.Series{
		"none at all":  {},
		"another week": {Hours: []weather.Hour{{Time: gate.AddDate(0, 0, 7), Temp: 10, DewPoint: 5}}},
	} {
		r := forecast(t, plate8, field.Gear{}, s, evening(20))
		if r.State != field.NoWeather || len(r.Surfaces) != 0 || len(r.Warnings) != 1 || r.Warnings[0].Subject != "weather" {
			t.Errorf("%s: %+v", name, r)
		}
		if _, ok := r.CoolState(gate.Add(time.Hour)); ok {
			t.Errorf("%s: a cool-down is known", name)
		}
		if _, ok := r.DewState(field.CorrectorPlate, gate.Add(time.Hour)); ok {
			t.Errorf("%s: dew is known", name)
		}
		if _, _, ok := r.WorstDew(gate); ok {
			t.Errorf("%s: a worst surface is known", name)
		}
		if x, ok := r.Seeing(2, gate); ok || x != 2 {
			t.Errorf("%s: seeing %g, %v", name, x, ok)
		}
	}
}

func TestWeatherEndsBeforeTheNight(t *testing.T) {
	s := steady(9, humid(10, 80, 0, 2))
	s.Hours = s.Hours[:3] // until the gate, held two hours longer
	r := forecast(t, plate8, field.Gear{}, s, evening(20))
	if r.State != field.PartWeather || !r.Estimated {
		t.Errorf("state %v, estimated %v", r.State, r.Estimated)
	}
	if _, ok := r.CoolState(gate.Add(time.Hour)); !ok {
		t.Error("the held hours are not used")
	}
	if _, ok := r.CoolState(gate.Add(3 * time.Hour)); ok {
		t.Error("weather is made up past the hold")
	}
	cold := forecast(t, newton6, field.Gear{}, s, evening(10))
	for _, g := range cold.Cool.LowPower.Good {
		if g.To.After(s.To()) {
			t.Errorf("good until %v, the weather ends at %v", g.To, s.To())
		}
	}
}

// What is not given stands as such in the report, and widens the band.
func TestMissingCloudAndWindAreSaid(t *testing.T) {
	full := steady(9, humid(10, 85, 0, 2))
	r := forecast(t, plate8, field.Gear{}, full, evening(10))
	for i := range full.Hours {
		full.Hours[i].Missing = weather.Cloud | weather.Wind
	}
	bare := forecast(t, plate8, field.Gear{}, full, evening(10))
	said := strings.Join(bare.Assumed, "; ")
	if !strings.Contains(said, "no cloud") || !strings.Contains(said, "no wind") {
		t.Errorf("assumed %q", said)
	}
	width := func(r field.Report) float64 {
		d := surfaceOf(t, r, field.CorrectorPlate).Steps[24]
		return d.High - d.Low
	}
	if width(bare) <= width(r) {
		t.Errorf("band %g with less known, %g with more", width(bare), width(r))
	}
}

func TestForecastRefuses(t *testing.T) {
	s := steady(9, humid(10, 80, 0, 2))
	for name, c := range map[string]struct {
		inst kit.Instrument
		o    field.Options
		want error
	}{
		"no aperture":   {kit.Instrument{Design: kit.Newtonian}, evening(20), field.ErrAperture},
		"no times":      {plate8, field.Options{}, field.ErrNoTimes},
		"backwards":     {plate8, field.Options{From: gate, To: gate.Add(-time.Hour)}, field.ErrNoTimes},
		"a week":        {plate8, field.Options{From: gate, To: gate.AddDate(0, 0, 7)}, field.ErrTooLong},
		"put out after": {plate8, field.Options{From: gate, To: gate.Add(time.Hour), PutOut: gate.Add(2 * time.Hour)}, field.ErrPutOut},
	} {
		if _, err := field.Forecast(c.inst, field.Gear{}, s, c.o); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	_, err := field.ForecastAll([]kit.Instrument{plate8, {Base: kit.Base{ID: 77, Name: "broken"}}}, nil, nil, s, evening(20))
	var ie *field.InstrumentError
	if !errors.As(err, &ie) || ie.ID != 77 || !errors.Is(err, field.ErrAperture) {
		t.Errorf("got %v, want an error that names the instrument", err)
	}
}

func TestReportsByInstrument(t *testing.T) {
	insts := []kit.Instrument{plate8, newton10, lens4}
	rs, err := field.ForecastAll(insts, nil, func(i kit.Instrument) time.Time { return gate.Add(-time.Duration(i.ID) * 10 * time.Minute) }, steady(9, humid(8, 92, 0, 1)), evening(20))
	if err != nil || len(rs) != 3 {
		t.Fatalf("%d reports, %v", len(rs), err)
	}
	if got := rs[newton10.ID].PutOut; !got.Equal(gate.Add(-70 * time.Minute)) {
		t.Errorf("put out at %v", got)
	}
	for _, i := range insts {
		c, ok := rs.CoolState(i.ID, gate.Add(90*time.Minute))
		if !ok || !(c.Low <= c.Delta && c.Delta <= c.High) || c.Delta <= 0 {
			t.Errorf("%s: %+v, %v", i.Name, c, ok)
		}
	}
	// Sharing the weather between instruments changes nothing.
	o := evening(20)
	o.PutOut = gate.Add(-time.Duration(lens4.ID) * 10 * time.Minute)
	if alone := forecast(t, lens4, field.Gear{}, steady(9, humid(8, 92, 0, 1)), o); !reflect.DeepEqual(alone, rs[lens4.ID]) {
		t.Error("an instrument alone has another forecast than among others")
	}
	if d, ok := rs.DewState(plate8.ID, field.CorrectorPlate, gate.Add(3*time.Hour)); !ok || d.Level != field.Likely || d.Margin >= 0 {
		t.Errorf("corrector in 92 per cent: %+v, %v", d, ok)
	}
	if _, ok := rs.DewState(plate8.ID, field.Secondary, gate.Add(time.Hour)); ok {
		t.Error("a Schmidt-Cassegrain has an exposed secondary")
	}
	if _, ok := rs.CoolState(999, gate); ok {
		t.Error("an unknown instrument has a state")
	}
	ws := rs.Warnings()
	for i := 1; i < len(ws); i++ {
		if ws[i].Importance < ws[i-1].Importance {
			t.Errorf("warning %d is out of order", i)
		}
	}
	if len(ws) == 0 || ws[0].Sentence == "" {
		t.Error("92 per cent and nobody is warned")
	}
	if s, ok := rs[plate8.ID].Seeing(2, gate.Add(time.Hour)); !ok || s <= 2 {
		t.Errorf("seeing with a warm mirror: %g, %v", s, ok)
	}
}

// The times in sentences are the site's, whatever zone the machine is in.
func TestSentencesUseTheSitesZone(t *testing.T) {
	z := time.FixedZone("site", 10*3600+1800)
	o := evening(10)
	o.Zone = z
	r := forecast(t, plate8, field.Gear{}, caseA(), o)
	c := surfaceOf(t, r, field.CorrectorPlate)
	want := c.Onset.Earliest.In(z).Format("15:04")
	if s := c.Onset.Sentence(z); !strings.HasPrefix(s, "Dew comes between "+want) {
		t.Errorf("%q does not begin with %s", s, want)
	}
	found := false
	for _, w := range r.Warnings {
		found = found || strings.Contains(w.Sentence, want)
	}
	if !found {
		t.Errorf("no warning names %s", want)
	}
}

// Every design the club may own gets surfaces, a body and finite numbers, in
// hard weather too.
func TestEveryDesign(t *testing.T) {
	for _, d := range kit.Designs {
		for _, temp := range []float64{-35, 0, 38} {
			inst := kit.Instrument{Base: kit.Base{Name: string(d)}, Design: d, Aperture: 150, FocalLength: 1000}
			r := forecast(t, inst, field.Gear{}, steady(12, humid(temp, 99, 50, 0)), evening(temp+15))
			if len(r.Surfaces) < 2 || !(r.Cool.Tau > 0 && r.Cool.Tau < 10) {
				t.Errorf("%s at %g: %d surfaces, tau %g", d, temp, len(r.Surfaces), r.Cool.Tau)
			}
			for _, s := range r.Surfaces {
				for _, x := range s.Steps {
					if !(x.Surface > temp-25 && x.Surface < temp+20) || !(x.Low <= x.Surface && x.Surface <= x.High) {
						t.Fatalf("%s, %s: %+v", d, s.Surface.Name, x)
					}
				}
				if s.Advice.Sentence == "" {
					t.Errorf("%s, %s: no advice", d, s.Surface.Name)
				}
			}
		}
	}
}

// A capped front sees no sky, so it cannot get wet before the cap comes off,
// and binoculars are asked for the one magnification they have.
func TestCapsAndFixedPower(t *testing.T) {
	o := evening(12)
	o.Uncap = gate.Add(90 * time.Minute)
	c := surfaceOf(t, forecast(t, plate8, field.Gear{}, caseA(), o), field.CorrectorPlate)
	open := surfaceOf(t, forecast(t, plate8, field.Gear{}, caseA(), evening(12)), field.CorrectorPlate)
	if !open.Onset.Earliest.Before(o.Uncap) || c.Onset.Earliest.Before(o.Uncap) || c.Onset.Level != field.Likely {
		t.Errorf("open from %v, capped until %v from %v", open.Onset.Earliest, o.Uncap, c.Onset.Earliest)
	}

	r := forecast(t, kit.Instrument{Design: kit.Binoculars, Aperture: 80, Power: 20}, field.Gear{}, caseA(), evening(12))
	if r.Cool.LowPower.Magnification != 20 || r.Cool.HighPower.Magnification != 20 {
		t.Errorf("binoculars asked for %g and %g", r.Cool.LowPower.Magnification, r.Cool.HighPower.Magnification)
	}
}

// Offsets of a hollow: colder and no drier air makes dew earlier.
func TestHollow(t *testing.T) {
	plain := surfaceOf(t, forecast(t, plate8, field.Gear{}, steady(9, humid(10, 70, 20, 2)), evening(12)), field.CorrectorPlate)
	o := evening(12)
	o.AirOffset, o.Shelter = -3, field.Walled
	hollow := surfaceOf(t, forecast(t, plate8, field.Gear{}, steady(9, humid(10, 70, 20, 2)), o), field.CorrectorPlate)
	if !(hollow.Onset.Level > plain.Onset.Level || hollow.Onset.Likely.Before(plain.Onset.Likely)) {
		t.Errorf("hollow %+v, open field %+v", hollow.Onset, plain.Onset)
	}
}

func BenchmarkForecastNight(b *testing.B) {
	base := []kit.Instrument{plate8, plate14, mak7, lens4, newton6, newton8, newton10, newton16, thick16, withFan(newton10), withFan(plate8), lens4}
	insts := make([]kit.Instrument, len(base))
	for i, x := range base {
		x.ID, x.Name = int64(i), fmt.Sprint(i)
		insts[i] = x
	}
	gear := func(kit.Instrument) field.Gear {
		return field.Gear{Finders: []kit.Finder{{Kind: kit.UnitPower}, {Kind: kit.StraightFinder, Aperture: 50}}}
	}
	s := ramp(14, humid(12, 75, 20, 2), 0.6)
	o := field.Options{From: gate, To: gate.Add(5 * time.Hour), PutOut: gate.Add(-2 * time.Hour)}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := field.ForecastAll(insts, gear, nil, s, o); err != nil {
			b.Fatal(err)
		}
	}
}
