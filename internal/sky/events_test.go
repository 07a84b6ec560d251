package sky_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"
	"time"

	"duskboard/internal/sky"
)

// referenceCrossing is [time, slope in degrees an hour, +1 or -1].
type referenceCrossing struct {
	Time   time.Time
	Slope  float64
	Rising bool
}

func (c *referenceCrossing) UnmarshalJSON(data []byte) error {
	var sign float64
	parts := []any{&c.Time, &c.Slope, &sign}
	err := json.Unmarshal(data, &parts)
	c.Rising = sign > 0
	return err
}

type referenceEvents struct {
	Crossings []referenceCrossing
	Transits  []time.Time
	State     string
}

type eventsFile struct {
	Stars  map[string]referenceStar
	Nights []struct {
		What, Zone, Date string
		Lat, Lon         float64
		From, To         time.Time
		Objects          map[string]referenceEvents
		Sun              map[string]referenceEvents
	}
}

// eventTolerance is the promise of design.md, 10 seconds, wherever the altitude
// changes by at least 3 degrees an hour (at the equator a star rises at 15).
// On a shallower path the same small angle takes longer: the bound grows as
// the slope falls.
func eventTolerance(slope float64) time.Duration {
	seconds := 10.0
	if s := math.Abs(slope); s < 3 {
		seconds = 10 * 3 / s
	}
	return time.Duration(seconds * 1e9)
}

func stateName(s sky.EventState) string {
	return map[sky.EventState]string{sky.Happens: "happens", sky.AlwaysAbove: "always-above", sky.AlwaysBelow: "always-below"}[s]
}

func (f eventsFile) night(t testing.TB, i int) *sky.Night {
	t.Helper()
	n := f.Nights[i]
	zone, err := time.LoadLocation(n.Zone)
	if err != nil {
		t.Fatal(err)
	}
	date, err := sky.ParseDate(n.Date)
	if err != nil {
		t.Fatal(err)
	}
	night, err := sky.NewNight(sky.Place{Lat: n.Lat, Lon: n.Lon}, date, zone)
	if err != nil {
		t.Fatal(err)
	}
	return night
}

// TestEventsOfAwkwardNights compares every event of 30 nights with DE405 and
// ERFA: clock changes, leap day, polar day and night, odd zones, the date line,
// nights without moonrise.
func TestEventsOfAwkwardNights(t *testing.T) {
	var file eventsFile
	reference(t, "events.json", &file)
	if len(file.Nights) < 15 {
		t.Fatalf("%d nights, want at least 15", len(file.Nights))
	}
	all := objects(file.Stars)
	var worst, worstMoon, worstTransit time.Duration
	for i, want := range file.Nights {
		t.Run(want.What, func(t *testing.T) {
			n := file.night(t, i)
			if !n.From.Equal(want.From) || !n.To.Equal(want.To) {
				t.Fatalf("night %v to %v, want %v to %v", n.From, n.To, want.From, want.To)
			}
			for name, w := range want.Objects {
				got := n.Events(all[name])
				if stateName(got.State) != w.State {
					t.Errorf("%s: state %s, want %s", name, stateName(got.State), w.State)
				}
				var rises, sets []referenceCrossing
				for _, c := range w.Crossings {
					if c.Rising {
						rises = append(rises, c)
					} else {
						sets = append(sets, c)
					}
				}
				m := max(compareEvents(t, name+" rises", got.Rises, rises), compareEvents(t, name+" sets", got.Sets, sets))
				if name == "Moon" {
					worstMoon = max(worstMoon, m)
				} else {
					worst = max(worst, m)
				}
				if math.Abs(want.Lat) < 90 { // at a pole everything is always on the meridian
					var transits []referenceCrossing
					for _, at := range w.Transits {
						transits = append(transits, referenceCrossing{Time: at, Slope: 15})
					}
					worstTransit = max(worstTransit, compareEvents(t, name+" transits", got.Transits, transits))
				}
			}
		})
	}
	t.Logf("largest errors where the slope is over 3 degrees an hour: %v, Moon %v, transits %v", worst, worstMoon, worstTransit)
}

// compareEvents returns the largest difference among the steep crossings.
func compareEvents(t *testing.T, what string, got []time.Time, want []referenceCrossing) (worst time.Duration) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %v, want %v", what, got, want)
		return 0
	}
	for i := range got {
		d := got[i].Sub(want[i].Time).Abs()
		if limit := eventTolerance(want[i].Slope); d > limit {
			t.Errorf("%s: %v, want %v within %v", what, got[i], want[i].Time, limit)
		}
		if math.Abs(want[i].Slope) >= 3 {
			worst = max(worst, d)
		}
	}
	return worst
}

// TestTwilights compares sunset, sunrise and the three twilights of the same
// nights, with the two states of a level that is never crossed.
func TestTwilights(t *testing.T) {
	var file eventsFile
	reference(t, "events.json", &file)
	seen := map[string]int{}
	for i, want := range file.Nights {
		t.Run(want.What, func(t *testing.T) {
			got := file.night(t, i).Twilights()
			for level, pair := range map[string][2]sky.Event{
				"sunset":       {got.Sunset, got.Sunrise},
				"civil":        {got.CivilDusk, got.CivilDawn},
				"nautical":     {got.NauticalDusk, got.NauticalDawn},
				"astronomical": {got.AstronomicalDusk, got.AstronomicalDawn},
			} {
				w := want.Sun[level]
				seen[level+" "+w.State]++
				if w.State != "happens" {
					for _, e := range pair {
						if stateName(e.State) != w.State {
							t.Errorf("%s: %s at %v, want %s", level, stateName(e.State), e.Time, w.State)
						}
					}
					continue
				}
				dusk, dawn := expectedPair(w.Crossings)
				for j, c := range []*referenceCrossing{dusk, dawn} {
					what := fmt.Sprintf("%s %s", level, []string{"dusk", "dawn"}[j])
					switch {
					case c == nil && pair[j].State == sky.Happens:
						t.Errorf("%s: %v, want none", what, pair[j].Time)
					case c != nil && pair[j].State != sky.Happens:
						t.Errorf("%s: %s, want %v", what, stateName(pair[j].State), c.Time)
					case c != nil:
						compareEvents(t, what, []time.Time{pair[j].Time}, []referenceCrossing{*c})
					}
				}
			}
		})
	}
	for _, must := range []string{"sunset always-above", "sunset always-below", "civil always-above", "nautical always-above", "astronomical always-above"} {
		if seen[must] == 0 {
			t.Errorf("no night in the reference has %q", must)
		}
	}
}

// expectedPair picks the dusk and the dawn that Twilights documents: the first
// setting, and the first rising after it, or else the first rising.
func expectedPair(crossings []referenceCrossing) (dusk, dawn *referenceCrossing) {
	for i := range crossings {
		c := &crossings[i]
		if !c.Rising && dusk == nil {
			dusk = c
		}
		if c.Rising && dusk != nil && dawn == nil {
			dawn = c
		}
	}
	for i := range crossings {
		if crossings[i].Rising && dawn == nil {
			dawn = &crossings[i]
		}
	}
	return dusk, dawn
}
