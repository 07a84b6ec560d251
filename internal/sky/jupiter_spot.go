package sky

import (
	"math"
	"time"
)

// systemTwo is the rotation of Jupiter's middle latitudes, degrees a day, and
// its prime meridian at J2000.0: IAU 2015 (as since 1970: 43.3 + 870.270 d).
const (
	systemTwoRate = 870.270
	systemTwoZero = 43.3
)

// CentralMeridian returns the System II longitude (degrees, 0 to 360) of the
// middle of Jupiter's lit disc at t, as the eye judges it: the middle of the
// whole disc lies up to 0.6 degrees (1 minute) off. Within 0.1 degrees.
func (n *Night) CentralMeridian(t time.Time) float64 {
	tt := ttOf(t)
	return jupiterSceneAt(tt).centralMeridian(tt)
}

func (s jupiterScene) centralMeridian(tt float64) float64 {
	// Angles in Jupiter's equator count from where it rises through the
	// Earth's equator of J2000, as the IAU's prime meridians do.
	node := vec3{0, 0, 1}.cross(s.pole).unit()
	ahead := s.pole.cross(node)
	around := func(v vec3) float64 { return math.Atan2(-v.dot(ahead), -v.dot(node)) * degree }

	earth, sun := around(s.fromEarth), around(s.fromSun)
	days := tt - s.fromEarth.norm()*lightDays - 2451545
	longitude := systemTwoZero + systemTwoRate*days - earth

	// The lit disc's middle is pulled towards the Sun (Meeus, Astronomical
	// Algorithms, 2nd ed., chapter 43, step 14).
	phase := angleBetween(s.fromEarth, s.fromSun) * radian
	pull := math.Pow(math.Sin(phase/2), 2) * degree
	if halfTurn((sun-earth)*radian) > 0 {
		pull = -pull // the Sun stands over smaller western longitudes
	}
	return positive((longitude+pull)*radian) * degree
}

// SpotPassage is a passage of the red spot through the central meridian.
type SpotPassage struct {
	Time     time.Time // UTC
	Altitude float64   // of Jupiter at the site, degrees, geometric
}

// SpotPassages returns when a System II longitude (degrees; the red spot drifts
// by some 20 a year, so the club sets it) crosses the middle of Jupiter's disc
// between the night's noons: two or three times. The spot is well placed for
// 50 minutes before and after (common practice).
func (n *Night) SpotPassages(longitude float64) []SpotPassage {
	const turn = 360 / systemTwoRate
	from, to := ttOf(n.From), ttOf(n.To)

	behind := math.Mod(longitude-jupiterSceneAt(from).centralMeridian(from)+720, 360)
	var passages []SpotPassage
	for tt := from + behind/systemTwoRate; tt < to; tt += turn {
		// The guess is off by the change of light time and phase: seconds. One
		// step of Newton's makes it exact, and keeps the next guess good.
		tt += halfTurn((longitude-jupiterSceneAt(tt).centralMeridian(tt))*radian) * degree / systemTwoRate
		if tt < from || tt >= to {
			continue
		}
		at := utcOfTT(tt).Round(time.Second)
		passages = append(passages, SpotPassage{at, n.At(Jupiter, at).Alt})
	}
	return passages
}
