package sky_test

import (
	"testing"
	"time"

	"duskboard/internal/sky"
)

// TestSecondOpinion compares places, next rising, setting and transit with
// astronomy-engine, an engine of another make. Its planets are good to an
// arcminute by its own word (measured against DE405: up to 13 arcseconds), its
// delta-T runs ahead, so the places are held to 30 arcseconds and the events to
// 10 seconds only where the path is steep.
func TestSecondOpinion(t *testing.T) {
	type place struct {
		RA, Dec, Alt, Az   float64
		Rise, Set, Transit *time.Time
	}
	var file struct {
		Cases []struct {
			Name           string
			Lat, Lon, Elev float64
			UTC            time.Time
			Objects        map[string]place
		}
	}
	reference(t, "engine.json", &file)
	checked := 0
	for _, c := range file.Cases {
		// The day from the instant on, in two nights of a zone whose noon it is.
		offset := 12*3600 - (c.UTC.Hour()*3600 + c.UTC.Minute()*60 + c.UTC.Second())
		z := time.FixedZone("noon at the instant", offset)
		date := sky.DateOf(c.UTC.Truncate(time.Second), z)
		n, err := sky.NewNight(sky.Place{Lat: c.Lat, Lon: c.Lon, Elev: c.Elev}, date, z)
		if err != nil {
			t.Fatal(err)
		}
		level, err := sky.NewNight(sky.Place{Lat: c.Lat, Lon: c.Lon}, date, z)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range bodies {
			want := c.Objects[b.String()]
			p := n.At(b, c.UTC)
			if d := sky.Separation(p.RA, p.Dec, want.RA, want.Dec) * 3600; d > 30 {
				t.Errorf("%s %v, %v: %.1f arcseconds apart", c.Name, c.UTC, b, d)
			}
			e := level.Events(b)
			for what, pair := range map[string]struct {
				got  []time.Time
				want *time.Time
			}{"rise": {e.Rises, want.Rise}, "set": {e.Sets, want.Set}, "transit": {e.Transits, want.Transit}} {
				if pair.want == nil || !level.Contains(*pair.want) || len(pair.got) == 0 {
					continue
				}
				before, after := level.At(b, pair.want.Add(-5*time.Minute)).Alt, level.At(b, pair.want.Add(5*time.Minute)).Alt
				if slope := (after - before) * 6; what != "transit" && slope > -3 && slope < 3 {
					continue
				}
				checked++
				if d := pair.got[0].Sub(*pair.want).Abs(); d > 10*time.Second {
					t.Errorf("%s %v, %v: %s at %v, the engine says %v", c.Name, c.UTC, b, what, pair.got[0], *pair.want)
				}
			}
		}
	}
	if checked < 500 {
		t.Errorf("only %d events could be compared", checked)
	}
}
