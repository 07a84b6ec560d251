package sky

import (
	"math"
	"sort"
)

// shadowAt is the Moon against the Earth's shadow, radians as seen from the
// Earth's centre.
type shadowAt struct {
	distance        float64 // Moon's middle from the shadow's
	moon            float64 // Moon's semidiameter
	umbra, penumbra float64 // radii of the shadow at the Moon's distance
}

// earthShadow returns the shadow at a Julian date in TT, by Danjon's rule: the
// Earth's equatorial radius enlarged by 1.01, which is 1/85 for the atmosphere
// less 1/594 for the Earth's flattening (Espenak & Meeus 2009, section 1.3).
func earthShadow(tt float64) shadowAt {
	moon, sun := Moon.apparent(tt), Sun.apparent(tt)
	moonParallax := math.Asin(earthRadiusA / moon.dist)
	sunParallax := math.Asin(earthRadiusA / sun.dist)
	sunRadius := math.Asin(Sun.radiusKM() / (sun.dist * auKM))
	radius := 1.01 * moonParallax
	return shadowAt{
		distance: angleBetween(moon.dir, sun.dir.scale(-1)) * radian,
		// k = 0.2724880, the same book's radius of the Moon for eclipses.
		moon:     math.Asin(0.272488 * earthRadiusA / moon.dist),
		umbra:    radius + sunParallax - sunRadius,
		penumbra: radius + sunParallax + sunRadius,
	}
}

func (n *Night) lunarEclipse(full float64) (Eclipse, bool) {
	const reach = 5.0 / 24 // longest penumbral eclipse: 6.3 hours
	greatest := smallest(full-reach/2, full+reach/2, func(tt float64) float64 { return earthShadow(tt).distance })
	s := earthShadow(greatest)
	penumbral := (s.penumbra + s.moon - s.distance) / (2 * s.moon)
	if penumbral <= 0 {
		return Eclipse{}, false
	}
	e := Eclipse{Body: Moon, Kind: PenumbralEclipse, Penumbral: penumbral, Magnitude: (s.umbra + s.moon - s.distance) / (2 * s.moon)}
	e.Greatest = n.contact(Moon, "greatest", greatest)

	phase := func(name string, inside func(s shadowAt) bool) (begin, end float64) {
		begin, end = contactsOf(greatest, reach, func(tt float64) bool { return inside(earthShadow(tt)) })
		e.Contacts = append(e.Contacts, n.contact(Moon, name+" begins", begin), n.contact(Moon, name+" ends", end))
		return begin, end
	}
	begin, end := phase("penumbra", func(s shadowAt) bool { return s.distance < s.penumbra+s.moon })
	if e.Magnitude > 0 {
		e.Kind = PartialEclipse
		phase("partial", func(s shadowAt) bool { return s.distance < s.umbra+s.moon })
	}
	if e.Magnitude >= 1 {
		e.Kind = TotalEclipse
		phase("total", func(s shadowAt) bool { return s.distance < s.umbra-s.moon })
	}
	if !n.overlapsNight(begin, end) {
		return Eclipse{}, false
	}
	sort.SliceStable(e.Contacts, func(i, j int) bool { return e.Contacts[i].Time.Before(e.Contacts[j].Time) })
	e.Contacts = n.ofNight(e.Contacts)
	e.Visible = n.upBetween(Moon, begin, end)
	return e, true
}

// upBetween says whether the body is above the horizon at some time between two
// Julian dates in TT, looking every five minutes.
func (n *Night) upBetween(b Body, begin, end float64) bool {
	for tt := begin; ; tt += 5.0 / 1440 {
		tt = math.Min(tt, end)
		if t := utcOfTT(tt); n.Contains(t) && n.At(b, t).AltRefracted > 0 {
			return true
		}
		if tt == end {
			return false
		}
	}
}
