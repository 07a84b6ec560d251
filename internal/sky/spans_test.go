package sky_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/sky"
)

func TestHorizonAltAt(t *testing.T) {
	// A slope across north, given out of order and with azimuths to be reduced.
	slope := sky.Horizon{{Az: 10, Alt: 20}, {Az: 350, Alt: 0}, {Az: 180, Alt: 4}}
	wall := sky.Horizon{{Az: 205, Alt: 0}, {Az: 205, Alt: 25}, {Az: 290, Alt: 25}, {Az: 290, Alt: 0}}
	for _, c := range []struct {
		what    string
		outline sky.Horizon
		az, alt float64
	}{
		{"level", nil, 123, 0},
		{"one corner", sky.Horizon{{Az: 77, Alt: 12}}, 300, 12},
		{"at a corner", slope, 10, 20},
		{"across north", slope, 0, 10},
		{"across north, other side", slope, 355, 5},
		{"across north, from below 0", slope, -5, 5},
		{"across north, a turn further", slope, 720, 10},
		{"between", slope, 95, 12},
		{"down to the last", slope, 265, 2},
		{"wall", wall, 250, 25},
		{"at the wall's edge", wall, 205, 25},
		{"at its other edge", wall, 290, 25},
		{"just before the wall", wall, 204.999, 0},
		{"behind the wall", wall, 100, 0},
		{"azimuth over 360", sky.Horizon{{Az: 370, Alt: 20}, {Az: -10, Alt: 0}}, 0, 10},
	} {
		if got := c.outline.AltAt(c.az); math.Abs(got-c.alt) > 1e-9 {
			t.Errorf("%s: %g at azimuth %g, want %g", c.what, got, c.az, c.alt)
		}
	}
}

// TestSpansAgreeWithPositions: inside a span the condition holds, outside it
// does not, checked minute by minute.
func TestSpansAgreeWithPositions(t *testing.T) {
	trees := sky.Horizon{{Az: 0, Alt: 10}, {Az: 90, Alt: 35}, {Az: 120, Alt: 5}, {Az: 200, Alt: 40}, {Az: 201, Alt: 0}, {Az: 270, Alt: 20}}
	for _, lat := range []float64{-37.81, 0, 40, 69.65} {
		n := newNight(t, lat, -105, "America/Denver", "2027-02-13")
		for _, obj := range []sky.Object{sky.Moon, sky.Jupiter, m45, m42, polaris} {
			checkSpans(t, n, n.ClearOf(obj, trees, n.From, n.To), func(p sky.Position) float64 {
				return p.AltRefracted - trees.AltAt(p.Az)
			}, obj)
			checkSpans(t, n, n.Above(obj, 20, n.From, n.To), func(p sky.Position) float64 { return p.AltRefracted - 20 }, obj)
			checkSpans(t, n, n.InZenithZone(obj, 25, n.From, n.To), func(p sky.Position) float64 { return p.AltRefracted - 65 }, obj)
		}
		checkSpans(t, n, n.DarkerThan(-12, n.From, n.To), func(p sky.Position) float64 { return -12 - p.Alt }, sky.Sun)
	}
}

func checkSpans(t *testing.T, n *sky.Night, spans []sky.Span, condition func(sky.Position) float64, obj sky.Object) {
	t.Helper()
	for at := n.From; at.Before(n.To); at = at.Add(time.Minute) {
		inside := false
		for _, s := range spans {
			inside = inside || !at.Before(s.From) && at.Before(s.To)
		}
		if value := condition(n.At(obj, at)); inside != (value >= 0) && math.Abs(value) > 1e-3 {
			t.Errorf("latitude %g, %v at %v: inside %v, but the margin is %.4f degrees", n.Place.Lat, obj, at, inside, value)
			return
		}
	}
}

// TestSpansAreCutToTheNight: whatever stretch is asked for.
func TestSpansAreCutToTheNight(t *testing.T) {
	n := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	spans := n.Above(polaris, 10, n.From.Add(-48*time.Hour), n.To.Add(48*time.Hour))
	if len(spans) != 1 || !spans[0].From.Equal(n.From) || !spans[0].To.Equal(n.To) {
		t.Errorf("%v, want the whole night", spans)
	}
	if got := n.Above(polaris, 10, n.To, n.From); len(got) != 0 {
		t.Errorf("backwards: %v", got)
	}
	if got := n.Above(polaris, 10, n.To.Add(time.Hour), n.To.Add(2*time.Hour)); len(got) != 0 {
		t.Errorf("after the night: %v", got)
	}
}

// TestBestTime: the transit when it lies inside, else the nearer end.
func TestBestTime(t *testing.T) {
	n := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	transit := n.Events(m42).Transits[0]
	for _, c := range []struct {
		what           string
		from, to, want time.Time
	}{
		{"transit inside", transit.Add(-2 * time.Hour), transit.Add(3 * time.Hour), transit},
		{"already sinking", transit.Add(time.Hour), transit.Add(4 * time.Hour), transit.Add(time.Hour)},
		{"still climbing", transit.Add(-4 * time.Hour), transit.Add(-time.Hour), transit.Add(-time.Hour)},
		{"transit just inside the end", transit.Add(-4 * time.Hour), transit.Add(time.Minute), transit},
	} {
		got, p := n.BestTime(m42, c.from, c.to)
		if got.Sub(c.want).Abs() > time.Second {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
		if p != n.At(m42, got) {
			t.Errorf("%s: position %+v is not that of %v", c.what, p, got)
		}
	}
}

// TestCrossings: the same altitude, geometric and refracted.
func TestCrossings(t *testing.T) {
	n := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	geometric, state := n.Crossings(sky.Jupiter, 20, false)
	if state != sky.Happens || len(geometric) != 2 || !geometric[0].Rising || geometric[1].Rising {
		t.Fatalf("%v, %v", geometric, state)
	}
	for _, c := range geometric {
		if alt := n.At(sky.Jupiter, c.Time).Alt; math.Abs(alt-20) > 1e-4 {
			t.Errorf("altitude at the crossing: %.6f", alt)
		}
	}
	refracted, _ := n.Crossings(sky.Jupiter, 20, true)
	for i, c := range refracted {
		if alt := n.At(sky.Jupiter, c.Time).AltRefracted; math.Abs(alt-20) > 1e-4 {
			t.Errorf("refracted altitude at the crossing: %.6f", alt)
		}
		if earlier := c.Time.Before(geometric[i].Time); earlier != c.Rising {
			t.Errorf("refraction must make it rise earlier and sink later: %v and %v", c, geometric[i])
		}
	}
	for _, c := range []struct {
		alt  float64
		want sky.EventState
	}{{-89, sky.AlwaysAbove}, {89, sky.AlwaysBelow}} {
		if got, state := n.Crossings(sky.Jupiter, c.alt, false); state != c.want || len(got) != 0 {
			t.Errorf("%g degrees: %v, %v", c.alt, got, state)
		}
	}
}

// TestNightIsSafeForManyAtOnce: the race detector looks on.
func TestNightIsSafeForManyAtOnce(t *testing.T) {
	n := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	want := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	done := make(chan bool)
	for i := range 8 {
		go func() {
			defer func() { done <- true }()
			for _, b := range bodies {
				at := n.From.Add(time.Duration(i) * time.Hour)
				if got := n.Track(b, []time.Time{at})[0]; got != want.At(b, at) {
					t.Errorf("%v at %v: %+v", b, at, got)
				}
			}
		}()
	}
	for range 8 {
		<-done
	}
}

// TestAtOutsideTheNight: slower, but the same sky.
func TestAtOutsideTheNight(t *testing.T) {
	n := newNight(t, 40, -105, "America/Denver", "2027-02-13")
	next := newNight(t, 40, -105, "America/Denver", "2027-02-15")
	at := next.Middle()
	for _, obj := range []sky.Object{sky.Sun, sky.Moon, sky.Mars, m45} {
		for _, got := range []sky.Position{n.At(obj, at), n.Track(obj, []time.Time{at})[0]} {
			want := next.At(obj, at)
			if d := sky.Separation(got.Az, got.Alt, want.Az, want.Alt) * 3600; d > 0.1 {
				t.Errorf("%v: %.2f arcseconds from the night's own", obj, d)
			}
		}
	}
}
