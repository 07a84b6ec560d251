package chart_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"sort"
	"testing"
	"time"

	"duskboard/internal/chart"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// reference reads values of another library, kept with the script that made
// them: astronomy-engine (MIT), see testdata/reference.
func reference(t *testing.T, file string, into any) {
	t.Helper()
	b, err := os.ReadFile("../../testdata/reference/" + file)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		t.Fatal(err)
	}
}

// atTT is the instant of a day count of terrestrial time from J2000.
func atTT(tt float64) time.Time {
	seconds := tt*86400 - sky.DeltaT(2000+tt/365.25)
	return time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC).Add(time.Duration(seconds * float64(time.Second)))
}

// upright is a close-up with north at the top and east to the left, as the
// naked eye sees the meridian from the north.
func upright(t *testing.T, n *sky.Night, id string, at time.Time, o optics.Orientation) (chart.CloseUp, []element) {
	t.Helper()
	m := target(t, id)
	v := chart.Eyepiece{Subject: chart.SubjectOf(n, m, at), Orientation: o, Field: 0.5}
	u, ok := chart.CloseUpOf(n, m, at, v)
	if !ok {
		t.Fatalf("no close-up of %s", id)
	}
	u.ID, u.W, u.H, u.Labels = "u", 400, 300, labels()
	return u, drawn(t, chart.DrawCloseUp(u))
}

// TestSaturnsRing: the drawn ring's narrow axis over its wide one is the sine
// of the tilt of the reference, and its direction that of the pole, through
// two turns and a half of Saturn round the Sun.
func TestSaturnsRing(t *testing.T) {
	var ref struct {
		Rows []struct {
			Body      string   `json:"body"`
			TT        float64  `json:"tt"`
			RingTilt  *float64 `json:"ringTilt"`
			PoleAngle float64  `json:"poleAngle"`
		} `json:"rows"`
	}
	reference(t, "planets/planets.json", &ref)
	n := nightAt(t, north, 2026, time.December, 18)
	checked := 0
	for _, r := range ref.Rows {
		if r.Body != "Saturn" {
			continue
		}
		_, es := upright(t, n, "saturn", atTT(r.TT), optics.NakedEye.Orientation(0))
		wide, narrow, direction := 0.0, 0.0, 0.0
		var ring [][2]float64
		for _, e := range classed(es, "ring") {
			ring = append(ring, points(e)...)
		}
		for _, p := range ring {
			if d := math.Hypot(p[0]-200, p[1]-150); d > wide {
				wide, direction = d, angle(p[0]-200, p[1]-150)
			}
		}
		sin, cos := math.Sincos(direction * math.Pi / 180)
		for _, p := range ring {
			narrow = max(narrow, math.Abs((p[0]-200)*cos+(p[1]-150)*sin))
		}
		if got, want := math.Asin(narrow/wide)*180/math.Pi, math.Abs(*r.RingTilt); math.Abs(got-want) > 0.15 {
			t.Errorf("tt %.0f: the ring is drawn tilted by %.2f degrees, want %.2f", r.TT, got, want)
		}
		// North up and east left: position angles grow anticlockwise, and the
		// wide axis stands across the pole.
		if off := math.Abs(math.Remainder(direction+r.PoleAngle-90, 180)); off > 0.5 {
			t.Errorf("tt %.0f: the ring lies at %.1f degrees, the pole at %.1f", r.TT, direction, r.PoleAngle)
		}
		checked++
	}
	if checked < 14 {
		t.Errorf("only %d dates", checked)
	}
}

// TestJupitersAxis: the pole's position angle against the reference.
func TestJupitersAxis(t *testing.T) {
	var ref struct {
		Rows []struct {
			Body      string  `json:"body"`
			TT        float64 `json:"tt"`
			PoleAngle float64 `json:"poleAngle"`
		} `json:"rows"`
	}
	reference(t, "planets/planets.json", &ref)
	n := nightAt(t, north, 2026, time.December, 18)
	for _, r := range ref.Rows {
		if r.Body == "Jupiter" {
			if got := chart.SubjectOf(n, target(t, "jupiter"), atTT(r.TT)).Disc.Axis; turned(got, r.PoleAngle) > 0.1 {
				t.Errorf("tt %.0f: pole at %.2f, want %.2f", r.TT, got, r.PoleAngle)
			}
		}
	}
}

// TestOrderOfJupitersMoons: with north up and upright, west is on the right,
// so the moons stand from left to right as their X grows; a mirror diagonal
// turns the order round.
func TestOrderOfJupitersMoons(t *testing.T) {
	var ref struct {
		Places []struct {
			TT    float64       `json:"tt"`
			Moons [4][3]float64 `json:"moons"`
		} `json:"places"`
	}
	reference(t, "jupiter/moons.json", &ref)
	names := [4]string{"Io", "Europa", "Ganymede", "Callisto"}
	n := nightAt(t, north, 2026, time.December, 18)
	checked := 0
	for _, r := range ref.Places {
		at := atTT(r.TT)
		for _, o := range []optics.Orientation{optics.NakedEye.Orientation(0), optics.PlainDiagonal.Orientation(0)} {
			_, es := upright(t, n, "jupiter", at, o)
			type seen struct {
				name string
				x    float64
			}
			var got []seen
			for _, e := range classed(es, "moon") {
				got = append(got, seen{e.attrs["data-name"], e.n("cx")})
			}
			sort.Slice(got, func(i, j int) bool { return got[i].x < got[j].x })
			var want []seen
			for i, m := range r.Moons {
				if slices.ContainsFunc(got, func(s seen) bool { return s.name == names[i] }) {
					want = append(want, seen{names[i], m[0]})
				} else if math.Hypot(m[0], m[1]) > 1.1 && m[2] < 0 {
					t.Errorf("tt %.1f: %s is missing, %.2f radii off on the near side", r.TT, names[i], m[0])
				}
			}
			sort.Slice(want, func(i, j int) bool { return (want[i].x < want[j].x) != o.Mirrored })
			tight := false // moons nearly above one another: their order hangs on the axis
			for i := 1; i < len(want); i++ {
				tight = tight || math.Abs(want[i].x-want[i-1].x) < 1
			}
			if tight {
				continue
			}
			checked++
			for i := range want {
				if got[i].name != want[i].name {
					t.Errorf("tt %.1f, mirrored %v: %v from the left, want %v", r.TT, o.Mirrored, got, want)
					break
				}
			}
		}
	}
	if checked < 60 {
		t.Errorf("only %d arrangements", checked)
	}
}

// TestMoonsLight: the middle of the lit edge as drawn against the reference's
// position angle, for places from 69 north to 55 south; both are topocentric.
func TestMoonsLight(t *testing.T) {
	var ref struct {
		Rows []struct {
			TT          float64 `json:"tt"`
			Lat         float64 `json:"lat"`
			Lon         float64 `json:"lon"`
			BrightLimb  float64 `json:"brightLimb"`
			Illuminated float64 `json:"illuminated"`
		} `json:"rows"`
	}
	reference(t, "moon/moon.json", &ref)
	checked := 0
	for _, r := range ref.Rows {
		if r.Illuminated < 0.04 || r.Illuminated > 0.96 {
			continue // the lit edge of a full or new Moon has no middle to speak of
		}
		at := atTT(r.TT)
		place := sky.Place{Lat: r.Lat, Lon: r.Lon}
		n := nightAt(t, place, at.Year(), at.Month(), at.Day())
		m := target(t, "moon")
		s := chart.SubjectOf(n, m, at)
		if off := turned(s.Disc.BrightLimb, r.BrightLimb); off > 1 {
			t.Errorf("tt %.1f: lit edge at %.1f, want %.1f", r.TT, s.Disc.BrightLimb, r.BrightLimb)
		}
		// The dark part's middle lies across from it on the drawing: north up,
		// position angles anticlockwise.
		_, es := upright(t, n, "moon", at, optics.NakedEye.Orientation(0))
		x, y, k := 0.0, 0.0, 0.0
		for _, p := range points(classed(es, "dark")[0]) {
			x, y, k = x+p[0]-200, y+p[1]-150, k+1
		}
		if off := turned(angle(x/k, y/k), 180-r.BrightLimb); off > 3 {
			t.Errorf("tt %.1f: the dark side lies at %.0f, the light comes from %.0f", r.TT, angle(x/k, y/k), r.BrightLimb)
		}
		checked++
	}
	if checked < 25 {
		t.Errorf("only %d Moons", checked)
	}
}

// TestSeaOfCrises: from the north the naked eye has it on the right of the
// Moon high in the sky, from the south on the left and upside down.
func TestSeaOfCrises(t *testing.T) {
	for _, c := range []struct {
		site  sky.Place
		right bool
	}{{north, true}, {south, false}} {
		n := nightAt(t, c.site, 2026, time.December, 21)
		transits := n.Events(sky.Moon).Transits
		if len(transits) == 0 {
			t.Fatal("the Moon does not culminate")
		}
		at := transits[0]
		p := n.At(sky.Moon, at)
		o := optics.NakedEye.Orientation(sky.ParallacticAngle(c.site.Lat, p.Dec, p.HourAngle))
		_, es := upright(t, n, "moon", at, o)
		x, k := 0.0, 0.0
		seas := classed(es, "edge")
		// Mare Crisium is the first sea of the table.
		for _, q := range points(seas[0]) {
			x, k = x+q[0]-200, k+1
		}
		if (x/k > 0) != c.right {
			t.Errorf("latitude %.0f: the Sea of Crises lies %.0f pt to the right", c.site.Lat, x/k)
		}
	}
}
