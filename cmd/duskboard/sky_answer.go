package main

import (
	"fmt"
	"io"
	"math"
	"text/tabwriter"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

var nan = math.NaN()

// instant is a time that JSON shows in whole seconds of UTC, or null.
type instant struct{ t *time.Time }

func (i instant) MarshalJSON() ([]byte, error) {
	if i.t == nil {
		return []byte("null"), nil
	}
	return []byte(`"` + i.String() + `"`), nil
}

func (i instant) String() string {
	if i.t == nil {
		return "-"
	}
	return i.t.UTC().Round(time.Second).Format(time.RFC3339)
}

func at(t time.Time) instant { return instant{&t} }

func first(times []time.Time) instant {
	if len(times) == 0 {
		return instant{}
	}
	return at(times[0])
}

func eventTime(e sky.Event) instant {
	if e.State != sky.Happens {
		return instant{}
	}
	return at(e.Time)
}

// number is a figure with a fixed count of decimals, null when it is unknown.
type number struct {
	value    float64
	decimals int
}

func (n number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(n.value) || math.IsInf(n.value, 0) {
		return []byte("null"), nil
	}
	return fmt.Appendf(nil, "%.*f", n.decimals, n.value), nil
}

// degrees have six decimals: 0.004 arcseconds, less than the program promises.
func degrees(v float64) number { return number{v, 6} }

// azimuth is degrees that never round up to 360.
func azimuth(v float64) number {
	if v = math.Round(v*1e6) / 1e6; v >= 360 {
		v -= 360
	}
	return degrees(v)
}

// skyAnswer is the contract of "duskboard sky --json": names and meaning stay.
type skyAnswer struct {
	Night   spanAnswer     `json:"night"`
	At      instant        `json:"at"`
	Sun     sunAnswer      `json:"sun"`
	Moon    moonAnswer     `json:"moon"`
	Targets []targetAnswer `json:"targets"`
}

type spanAnswer struct {
	From instant `json:"from"`
	To   instant `json:"to"`
}

type sunAnswer struct {
	Set              instant `json:"set"`
	Rise             instant `json:"rise"`
	CivilDusk        instant `json:"civilDusk"`
	CivilDawn        instant `json:"civilDawn"`
	NauticalDusk     instant `json:"nauticalDusk"`
	NauticalDawn     instant `json:"nauticalDawn"`
	AstronomicalDusk instant `json:"astronomicalDusk"`
	AstronomicalDawn instant `json:"astronomicalDawn"`
	// State has an entry for each of horizon, civil, nautical and astronomical
	// of which an event is null.
	State map[string]string `json:"state,omitempty"`
}

type moonAnswer struct {
	Rise        instant `json:"rise"`
	Set         instant `json:"set"`
	State       string  `json:"state,omitempty"` // when it neither rises nor sets
	Illuminated number  `json:"illuminated"`
	AgeDays     number  `json:"ageDays"`
	Phase       string  `json:"phase"`
}

type targetAnswer struct {
	ID              string  `json:"id"`
	Name            string  `json:"name"`
	RADeg           number  `json:"raDeg"`
	DecDeg          number  `json:"decDeg"`
	AltDeg          number  `json:"altDeg"`
	AltRefractedDeg number  `json:"altRefractedDeg"`
	AzDeg           number  `json:"azDeg"`
	Rise            instant `json:"rise"`
	Transit         instant `json:"transit"`
	Set             instant `json:"set"`
	State           string  `json:"state,omitempty"` // when it neither rises nor sets
	Mag             number  `json:"mag"`
	Illuminated     number  `json:"illuminated"`
	Constellation   string  `json:"constellation"`
}

func newSkyAnswer(n *sky.Night, t time.Time, targets []catalog.Target) skyAnswer {
	a := skyAnswer{
		Night:   spanAnswer{at(n.From), at(n.To)},
		At:      at(t),
		Sun:     newSunAnswer(n.Twilights()),
		Targets: make([]targetAnswer, len(targets)),
	}
	events, view := n.Events(sky.Moon), n.Moon(t)
	a.Moon = moonAnswer{
		Rise: first(events.Rises), Set: first(events.Sets), State: stateWord(events.State),
		Illuminated: number{view.Illuminated, 4}, AgeDays: number{view.AgeDays, 2}, Phase: view.PhaseName,
	}
	for i, target := range targets {
		a.Targets[i] = newTargetAnswer(n, t, target)
	}
	return a
}

func newSunAnswer(t sky.Twilights) sunAnswer {
	a := sunAnswer{
		Set: eventTime(t.Sunset), Rise: eventTime(t.Sunrise),
		CivilDusk: eventTime(t.CivilDusk), CivilDawn: eventTime(t.CivilDawn),
		NauticalDusk: eventTime(t.NauticalDusk), NauticalDawn: eventTime(t.NauticalDawn),
		AstronomicalDusk: eventTime(t.AstronomicalDusk), AstronomicalDawn: eventTime(t.AstronomicalDawn),
		State: map[string]string{},
	}
	for name, pair := range map[string][2]sky.Event{
		"horizon": {t.Sunset, t.Sunrise}, "civil": {t.CivilDusk, t.CivilDawn},
		"nautical": {t.NauticalDusk, t.NauticalDawn}, "astronomical": {t.AstronomicalDusk, t.AstronomicalDawn},
	} {
		for _, e := range pair {
			if e.State != sky.Happens {
				a.State[name] = stateWord(e.State)
			}
		}
	}
	return a
}

func newTargetAnswer(n *sky.Night, t time.Time, target catalog.Target) targetAnswer {
	object := catalog.ObjectOf(target)
	p, events := n.At(object, t), n.Events(object)
	a := targetAnswer{
		ID: target.ID, Name: target.Name,
		RADeg: azimuth(p.RA), DecDeg: degrees(p.Dec),
		AltDeg: degrees(p.Alt), AltRefractedDeg: degrees(p.AltRefracted), AzDeg: azimuth(p.Az),
		Rise: first(events.Rises), Transit: first(events.Transits), Set: first(events.Sets),
		State: stateWord(events.State),
		Mag:   number{target.Magnitude, 2}, Illuminated: number{nan, 4},
		Constellation: n.ConstellationOf(p),
	}
	switch body, moves := object.(sky.Body); {
	case moves && body == sky.Moon:
		view := n.Moon(t)
		a.Mag, a.Illuminated = number{view.Magnitude, 2}, number{view.Illuminated, 4}
	case moves:
		view := n.Planet(body, t)
		a.Mag, a.Illuminated = number{view.Magnitude, 2}, number{view.Illuminated, 4}
	}
	return a
}

// stateWord is the contract's word; "" for what happens.
func stateWord(s sky.EventState) string {
	return map[sky.EventState]string{sky.AlwaysAbove: "always-above", sky.AlwaysBelow: "always-below"}[s]
}

// print writes the answer as a short table for people.
func (a skyAnswer) print(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "night\t%s\tto %s\n", a.Night.From, a.Night.To)
	fmt.Fprintf(t, "sun\tset %s\trise %s\n", a.Sun.Set, a.Sun.Rise)
	fmt.Fprintf(t, "civil\tdusk %s\tdawn %s\n", a.Sun.CivilDusk, a.Sun.CivilDawn)
	fmt.Fprintf(t, "nautical\tdusk %s\tdawn %s\n", a.Sun.NauticalDusk, a.Sun.NauticalDawn)
	fmt.Fprintf(t, "astronomical\tdusk %s\tdawn %s\n", a.Sun.AstronomicalDusk, a.Sun.AstronomicalDawn)
	fmt.Fprintf(t, "moon\trise %s\tset %s\t%s, %.0f %% lit\n", a.Moon.Rise, a.Moon.Set, a.Moon.Phase, a.Moon.Illuminated.value*100)
	if len(a.Targets) > 0 {
		fmt.Fprintf(t, "\nat %s\n", a.At)
		fmt.Fprintln(t, "target\taltitude\tazimuth\trise\ttransit\tset")
	}
	for _, x := range a.Targets {
		fmt.Fprintf(t, "%s\t%.1f°\t%.1f°\t%s\t%s\t%s %s\n", x.Name, x.AltRefractedDeg.value, x.AzDeg.value, x.Rise, x.Transit, x.Set, x.State)
	}
	return t.Flush()
}
