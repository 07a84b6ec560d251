package sky

import (
	"math"
	"time"
)

// EclipseKind is how far an eclipse goes: of the Moon anywhere, of the Sun as
// seen from the night's place.
type EclipseKind string

// The kinds of eclipse.
const (
	PenumbralEclipse EclipseKind = "penumbral"
	PartialEclipse   EclipseKind = "partial"
	AnnularEclipse   EclipseKind = "annular"
	TotalEclipse     EclipseKind = "total"
)

// Eclipse is an eclipse of the Moon or the Sun during a night.
type Eclipse struct {
	Body      Body // Moon or Sun: what is darkened
	Kind      EclipseKind
	Greatest  EclipseContact // may lie just outside the night when the eclipse spans a noon
	Magnitude float64        // part of the diameter in the umbra (Moon; negative when it misses) or covered (Sun)
	Covered   float64        // Sun: part of the disc's area covered at the greatest, 0 to 1
	Penumbral float64        // Moon: part of the diameter in the penumbra
	// Contacts are those between the night's noons, in order of time. For the
	// Moon: penumbra begins, partial begins, total begins, total ends, partial
	// ends, penumbra ends; the penumbra shows to the eye only near the umbra.
	Contacts []EclipseContact
	Visible  bool   // some of it above the horizon at the place
	Caution  string // for the Sun: to be printed wherever the eclipse is
}

// EclipseContact is an instant of an eclipse and where the body stands then.
type EclipseContact struct {
	Name     string
	Time     time.Time // UTC
	Altitude float64   // degrees, with refraction; negative: not visible
	Azimuth  float64   // degrees from north through east
}

const sunCaution = "Never look at the Sun without certified filters over the full aperture of eyes, binoculars and telescopes, finders capped; local rules and the people responsible on site decide."

// Eclipses returns the eclipses of the Moon and of the Sun between the night's
// noons. An eclipse of the Sun is returned only where it is one, at the night's
// place, with the Sun up for some of it; none is an empty list.
//
// Contacts of the Moon by Danjon's rule for the Earth's shadow (1.01 times its
// radius), as in Espenak & Meeus 2009, Five Millennium Canon of Lunar Eclipses;
// the atmosphere makes the shadow's edge uncertain by about a minute. Contacts
// of the Sun within 5 s, without the mountains of the Moon's edge.
func (n *Night) Eclipses() []Eclipse {
	middle := n.middleTT
	ahead := moonAhead(middle)
	var out []Eclipse
	// The night is 24 hours long, the Moon gains 15 degrees on the Sun in them
	// at most, and an eclipse reaches 4 hours to either side.
	const reach = 15.0/2 + 4*15.0/24
	if apartFrom(ahead, 180) < reach {
		if e, ok := n.lunarEclipse(syzygy(middle, 180)); ok {
			out = append(out, e)
		}
	}
	if apartFrom(ahead, 0) < reach {
		if e, ok := n.solarEclipse(syzygy(middle, 0)); ok {
			out = append(out, e)
		}
	}
	return out
}

func apartFrom(angle, other float64) float64 {
	return math.Abs(halfTurn((angle-other)*radian)) * degree
}

// syzygy returns when near tt the Moon is ahead of the Sun by an angle in
// degrees; see lastNewMoon for the convergence.
func syzygy(tt, ahead float64) float64 {
	for range 10 {
		tt -= halfTurn((moonAhead(tt)-ahead)*radian) * degree / moonRate
	}
	return tt
}

// smallest returns where f is smallest between from and to, given that it has
// one minimum there, to a tenth of a second (days).
func smallest(from, to float64, f func(float64) float64) float64 {
	for to-from > 2e-6 {
		a, b := from+(to-from)/3, to-(to-from)/3
		if f(a) < f(b) {
			to = b
		} else {
			from = a
		}
	}
	return (from + to) / 2
}

// contact fills in where the body stands.
func (n *Night) contact(b Body, name string, tt float64) EclipseContact {
	t := utcOfTT(tt).Round(time.Second)
	p := n.At(b, t)
	return EclipseContact{Name: name, Time: t, Altitude: p.AltRefracted, Azimuth: p.Az}
}

// contactsOf returns the two instants around greatest where a limit is crossed,
// looking as far as reach days. inside must hold at greatest.
func contactsOf(greatest, reach float64, inside func(tt float64) bool) (begin, end float64) {
	end = bisect(greatest, greatest+reach, func(tt float64) bool { return !inside(tt) })
	begin = bisect(greatest-reach, greatest, inside)
	return begin, end
}

// overlapsNight says whether the span from begin to end (TT) touches the night.
func (n *Night) overlapsNight(begin, end float64) bool {
	return utcOfTT(end).After(n.From) && utcOfTT(begin).Before(n.To)
}

// ofNight keeps the contacts between the night's noons.
func (n *Night) ofNight(contacts []EclipseContact) []EclipseContact {
	kept := contacts[:0]
	for _, c := range contacts {
		if n.Contains(c.Time) {
			kept = append(kept, c)
		}
	}
	return kept
}
