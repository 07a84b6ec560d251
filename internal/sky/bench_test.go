package sky_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/sky"
)

// The benchmarks of design.md's promises; testdata/reference/speed/run.sh puts
// them beside other libraries in one run.

const benchTargets = 200

func benchNight(b *testing.B) (*sky.Night, []time.Time) {
	b.Helper()
	zone, err := time.LoadLocation("America/Denver")
	if err != nil {
		b.Fatal(err)
	}
	n, err := sky.NewNight(sky.Place{Lat: 40, Lon: -105, Elev: 1600}, sky.Date{Year: 2027, Month: 2, Day: 13}, zone)
	if err != nil {
		b.Fatal(err)
	}
	times := make([]time.Time, 97)
	for i := range times {
		times[i] = n.From.Add(time.Duration(i) * 15 * time.Minute)
	}
	return n, times
}

// benchStars are spread evenly over the sphere.
func benchStars() []sky.Star {
	stars := make([]sky.Star, benchTargets)
	for i := range stars {
		stars[i].RA = math.Mod(float64(i)*137.50776, 360)
		stars[i].Dec = math.Asin(2*(float64(i)+0.5)/benchTargets-1) * 180 / math.Pi
	}
	return stars
}

// BenchmarkTrackFixedTargets: 200 fixed targets x 97 times, promised in 2 ms.
func BenchmarkTrackFixedTargets(b *testing.B) {
	n, times := benchNight(b)
	stars := benchStars()
	for b.Loop() {
		for _, s := range stars {
			n.Track(s, times)
		}
	}
}

// BenchmarkAppendTrackFixedTargets is the same into one buffer.
func BenchmarkAppendTrackFixedTargets(b *testing.B) {
	n, times := benchNight(b)
	stars := benchStars()
	var buffer []sky.Position
	for b.Loop() {
		for _, s := range stars {
			buffer = n.AppendTrack(buffer[:0], s, times)
		}
	}
}

// BenchmarkTrackBodies: Sun, Moon and 7 planets x 97 times in a new night, the
// night's curves built anew every time; promised in 4 ms.
func BenchmarkTrackBodies(b *testing.B) {
	n, times := benchNight(b)
	for b.Loop() {
		fresh, _ := sky.NewNight(n.Place, n.Date, n.Zone)
		for _, body := range bodies {
			fresh.Track(body, times)
		}
	}
}

// BenchmarkTrackBodiesAgain is the same in a night whose curves exist.
func BenchmarkTrackBodiesAgain(b *testing.B) {
	n, times := benchNight(b)
	for _, body := range bodies {
		n.Track(body, times)
	}
	for b.Loop() {
		for _, body := range bodies {
			n.Track(body, times)
		}
	}
}

// BenchmarkEventsOfTargets: rise, set and transit of 200 targets, promised in
// 10 ms.
func BenchmarkEventsOfTargets(b *testing.B) {
	n, _ := benchNight(b)
	stars := benchStars()
	for b.Loop() {
		for _, s := range stars {
			n.Events(s)
		}
	}
}

// BenchmarkEventsOfBodies: the same for Sun, Moon and planets, with twilights,
// in a new night.
func BenchmarkEventsOfBodies(b *testing.B) {
	n, _ := benchNight(b)
	for b.Loop() {
		fresh, _ := sky.NewNight(n.Place, n.Date, n.Zone)
		for _, body := range bodies {
			fresh.Events(body)
		}
		fresh.Twilights()
	}
}
