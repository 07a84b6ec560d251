package field_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/weather"
)

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.5g, want %.5g within %g", what, got, want, tol)
	}
}

// gate is when the test nights begin.
var gate = time.Date(2027, 10, 9, 19, 0, 0, 0, time.UTC)

// steady is one weather for n hours from two hours before the gate.
func steady(n int, h weather.Hour) weather.Series {
	return ramp(n, h, 0)
}

// ramp is weather whose air falls by rate kelvin an hour; the dew point stays,
// under the air.
func ramp(n int, h weather.Hour, rate float64) weather.Series {
	s := weather.Series{Source: "test"}
	for i := range n {
		x := h
		x.Time = gate.Add(time.Duration(i-2) * time.Hour)
		x.Temp -= rate * float64(i)
		x.DewPoint = math.Min(x.DewPoint, x.Temp)
		x.RH = weather.RelativeHumidity(x.Temp, x.DewPoint)
		s.Hours = append(s.Hours, x)
	}
	return s
}

// humid is an hour of the given temperature and humidity.
func humid(temp, rh, cloud, wind float64) weather.Hour {
	return weather.Hour{Temp: temp, DewPoint: weather.DewPoint(temp, rh), RH: rh, Cloud: cloud, Wind: wind}
}

// wind10 is the wind at 10 m that makes v m/s at the instrument.
func wind10(v float64) float64 { return v / field.WindAt(1, 1.5) }

// evening is a night of four hours; the glass starts at start degrees C.
func evening(start float64) field.Options {
	return field.Options{From: gate, To: gate.Add(4 * time.Hour), PutOut: gate, StorageTemp: &start}
}

func forecast(t testing.TB, inst kit.Instrument, gear field.Gear, s weather.Series, o field.Options) field.Report {
	t.Helper()
	r, err := field.Forecast(inst, gear, s, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func surfaceOf(t testing.TB, r field.Report, k field.Kind) field.SurfaceReport {
	t.Helper()
	for _, s := range r.Surfaces {
		if s.Surface.Kind == k {
			return s
		}
	}
	t.Fatalf("%s has no %s", r.Name, k)
	return field.SurfaceReport{}
}

// A club's usual instruments.
var (
	plate8   = kit.Instrument{Base: kit.Base{ID: 1, Name: "8-inch Schmidt-Cassegrain"}, Design: kit.SchmidtCassegrain, Aperture: 203.2, FocalLength: 2032, ClosedTube: true, Obstruction: 0.34}
	plate14  = kit.Instrument{Base: kit.Base{ID: 2, Name: "14-inch Schmidt-Cassegrain"}, Design: kit.SchmidtCassegrain, Aperture: 356, FocalLength: 3910, ClosedTube: true}
	mak7     = kit.Instrument{Base: kit.Base{ID: 3, Name: "7-inch Maksutov"}, Design: kit.MaksutovCassegrain, Aperture: 178, FocalLength: 2670, Glass: kit.Crown, ClosedTube: true}
	lens4    = kit.Instrument{Base: kit.Base{ID: 4, Name: "4-inch refractor"}, Design: kit.Apochromat, Aperture: 100, FocalLength: 700, Thickness: 20, DewShield: 1.2, ClosedTube: true}
	newton6  = kit.Instrument{Base: kit.Base{ID: 5, Name: "6-inch Newtonian"}, Design: kit.Newtonian, Aperture: 152, FocalLength: 1200, Thickness: 25, Glass: kit.Borosilicate, Obstruction: 0.22}
	newton8  = kit.Instrument{Base: kit.Base{ID: 6, Name: "8-inch Newtonian"}, Design: kit.Newtonian, Aperture: 203, FocalLength: 1200, Thickness: 30, Glass: kit.PlateGlass, Obstruction: 0.25}
	newton10 = kit.Instrument{Base: kit.Base{ID: 7, Name: "10-inch Newtonian"}, Design: kit.Newtonian, Aperture: 254, FocalLength: 1200, Thickness: 37, Glass: kit.Borosilicate, Obstruction: 0.25}
	newton16 = kit.Instrument{Base: kit.Base{ID: 8, Name: "16-inch Newtonian"}, Design: kit.Newtonian, Aperture: 406, FocalLength: 1830, Thickness: 42, Glass: kit.Borosilicate, Obstruction: 0.2}
	thick16  = kit.Instrument{Base: kit.Base{ID: 9, Name: "16-inch Newtonian, thick"}, Design: kit.Newtonian, Aperture: 406, FocalLength: 1830, Thickness: 50, Glass: kit.Borosilicate, Obstruction: 0.2}
)

func withFan(i kit.Instrument) kit.Instrument {
	i.Fan = true
	return i
}
