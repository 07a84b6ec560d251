package sky

import (
	"sort"
	"time"
)

// JupiterEventKind is what happens to one of the large moons.
type JupiterEventKind int

// The kinds of event.
const (
	MoonTransit     JupiterEventKind = iota // the moon passes before the disc
	ShadowTransit                           // its shadow passes over the disc
	MoonOccultation                         // the moon is behind the disc
	MoonEclipse                             // the moon is in Jupiter's shadow
)

// String names the kind as a guest is told.
func (k JupiterEventKind) String() string {
	return [...]string{"transit", "shadow transit", "occultation", "eclipse"}[k]
}

// JupiterEvent is the beginning or the end of a passage.
type JupiterEvent struct {
	Time  time.Time // UTC, as seen from the Earth
	Moon  string
	Kind  JupiterEventKind
	Begin bool
	// Seen is false when the change cannot be seen from the Earth whatever the
	// site: the moon is behind the disc or in the shadow for another reason.
	Seen     bool
	Altitude float64 // of Jupiter at the site, degrees, geometric
}

// JupiterEvents returns what Jupiter's large moons do between the night's noons,
// in order of time; none is an empty list. It is up to the reader of Altitude
// whether Jupiter is up.
//
// Times are of the moon's middle (or its shadow's) on the limb; for an eclipse
// of the Sun's middle on Jupiter's limb as the moon sees it, half way through
// the fading. The moon itself takes 4 to 10 minutes to cross the limb. Two
// theories of the moons differ by half a minute at most until 2030 (Europa 1.3,
// Callisto 2 minutes); two programs with the same theory by 4 s. Passages
// shorter than two minutes are not listed.
func (n *Night) JupiterEvents() []JupiterEvent {
	events := jupiterEvents(ttOf(n.From), ttOf(n.To))
	for i := range events {
		events[i].Altitude = n.At(Jupiter, events[i].Time).Alt
	}
	return events
}

// passages are the flags of MoonPlace by kind.
func (m MoonPlace) passages() [4]bool {
	return [4]bool{MoonTransit: m.InFront, ShadowTransit: m.ShadowOn, MoonOccultation: m.Hidden, MoonEclipse: m.Eclipsed}
}

func jupiterEvents(from, to float64) []JupiterEvent {
	const step = 2.0 / 1440
	track := newJupiterTrack(from, to)
	at := func(tt float64) [4]MoonPlace { return moonPlaces(tt, track.at(tt)) }

	var events []JupiterEvent
	before := at(from)
	for tt := from; tt < to; tt += step {
		next := min(tt+step, to)
		after := at(next)
		for moon := range after {
			was, is := before[moon].passages(), after[moon].passages()
			for kind := range is {
				if was[kind] == is[kind] {
					continue
				}
				instant := bisect(tt, next, func(x float64) bool { return at(x)[moon].passages()[kind] == is[kind] })
				events = append(events, JupiterEvent{
					Time:  utcOfTT(instant).Round(time.Second),
					Moon:  galileanNames[moon],
					Kind:  JupiterEventKind(kind),
					Begin: is[kind],
					Seen:  changeSeen(JupiterEventKind(kind), at(instant)[moon]),
				})
			}
		}
		before = after
	}
	sort.SliceStable(events, func(i, j int) bool { return events[i].Time.Before(events[j].Time) })
	return events
}

// changeSeen says whether a change of one kind shows, with the other states of
// the moon at that instant.
func changeSeen(kind JupiterEventKind, m MoonPlace) bool {
	switch kind {
	case MoonOccultation:
		return !m.Eclipsed
	case MoonEclipse:
		return !m.Hidden
	}
	return true // before the disc nothing hides a moon or its shadow
}

// bisect returns where is turns from false to true between from and to (days),
// to a tenth of a second.
func bisect(from, to float64, is func(float64) bool) float64 {
	for to-from > 1e-6 {
		mid := (from + to) / 2
		if is(mid) {
			to = mid
		} else {
			from = mid
		}
	}
	return (from + to) / 2
}

// jupiterTrack carries the scene through a night: parabolas through three
// instants, off by under 30 km (of 600 million) over a day.
type jupiterTrack struct {
	middle, half float64
	scenes       [3]jupiterScene
}

func newJupiterTrack(from, to float64) jupiterTrack {
	t := jupiterTrack{middle: (from + to) / 2, half: (to - from) / 2}
	for i := range t.scenes {
		t.scenes[i] = jupiterSceneAt(t.middle + float64(i-1)*t.half)
	}
	return t
}

func (t jupiterTrack) at(tt float64) jupiterScene {
	x := (tt - t.middle) / t.half
	curve := func(a, b, c vec3) vec3 {
		return b.add(c.sub(a).scale(x / 2)).add(a.add(c).sub(b.scale(2)).scale(x * x / 2))
	}
	s := t.scenes[1] // the pole hardly moves in a day
	s.fromEarth = curve(t.scenes[0].fromEarth, s.fromEarth, t.scenes[2].fromEarth)
	s.fromSun = curve(t.scenes[0].fromSun, s.fromSun, t.scenes[2].fromSun)
	return s
}
