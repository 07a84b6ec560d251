package weather_test

import (
	"math"
	"testing"

	"duskboard/internal/weather"
)

// near fails when got is not within tol of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.5g, want %.5g within %g", what, got, want, tol)
	}
}

// The pressures are those of the vapour-pressure table of water in the CRC
// Handbook of Chemistry and Physics (0, 10, 20, 30 degrees C) and of a
// hygrometer table over ice, converted from mmHg. The Magnus form of WMO-No. 8
// is stated to lie within 0.3 per cent of such tables.
func TestSaturationPressureAgreesWithPublishedTables(t *testing.T) {
	for _, c := range []struct{ t, want float64 }{{0, 6.113}, {10, 12.281}, {20, 23.388}, {30, 42.455}} {
		near(t, "water", weather.SaturationPressure(c.t), c.want, 0.003*c.want)
	}
	for _, c := range []struct{ t, want float64 }{{-20, 1.0346}, {-10, 2.5998}, {-5, 4.0170}} {
		near(t, "ice", weather.SaturationPressureIce(c.t), c.want, 0.003*c.want)
	}
}

// 19.029 degrees C for 22 hPa is the worked example in the documentation of
// MetPy's dewpoint function, by Bolton's 1980 formula, which lies 0.04 K from ours.
func TestDewPointOfAgreesWithMetPyExample(t *testing.T) {
	near(t, "dew point", weather.DewPointOf(22), 19.0291, 0.05)
}

// Worked with the WMO formulas by an independent script; 9.3 for 20 degrees
// and 50 per cent and 59.7 degrees F for 80 F and 50 per cent also stand on
// common psychrometric charts.
func TestDewAndFrostPoint(t *testing.T) {
	for _, c := range []struct{ t, rh, dew, frost float64 }{
		{10, 80, 6.71, 6.71}, {20, 50, 9.26, 9.26}, {26.667, 50, 15.38, 15.38}, {0, 90, -1.45, -1.27}, {-5, 80, -7.92, -7.01},
	} {
		d := weather.DewPoint(c.t, c.rh)
		near(t, "dew point", d, c.dew, 0.01)
		near(t, "frost point", weather.FrostPoint(d), c.frost, 0.01)
	}
}

func TestDewPointUnknownForNoHumidity(t *testing.T) {
	for _, rh := range []float64{0, -3, math.NaN()} {
		if d := weather.DewPoint(10, rh); !math.IsNaN(d) {
			t.Errorf("dew point at %g per cent = %g, want NaN", rh, d)
		}
	}
}

// Round trips and order: guards against a swapped constant, which a single
// worked value could hide.
func TestHumidityRoundTripAndOrder(t *testing.T) {
	for temp := -40.0; temp <= 45; temp += 5 {
		prev := math.Inf(-1)
		for rh := 5.0; rh <= 100; rh += 5 {
			d := weather.DewPoint(temp, rh)
			near(t, "humidity back", weather.RelativeHumidity(temp, d), rh, 1e-9)
			if d <= prev || d > temp+1e-9 {
				t.Fatalf("dew point %g at %g degrees, %g per cent: not rising or above the air", d, temp, rh)
			}
			if f := weather.FrostPoint(d); d < 0 && !(f > d && f <= 0) || d >= 0 && f != d {
				t.Fatalf("frost point %g of dew point %g", f, d)
			}
			// Ice at the frost point is in balance with the same vapour.
			if d < 0 {
				near(t, "vapour", weather.SaturationPressureIce(weather.FrostPoint(d)), weather.SaturationPressure(d), 1e-9)
			}
			prev = d
		}
	}
}
