package sky

import (
	"math"
	"time"
)

// ShowerView is a meteor shower on a night.
type ShowerView struct {
	Shower
	DaysFromMaximum float64   // of the night's middle; negative: still to come
	MaximumTonight  bool      // between the night's noons,
	Maximum         time.Time // then at this instant (UTC); otherwise zero

	// While it is dark (Sun below -12 degrees) and the radiant is up, Seen is
	// true and Best the time at which most meteors are seen. Seen is false
	// where the radiant does not rise in the dark or there is no dark.
	Seen     bool
	Best     time.Time // UTC
	Altitude float64   // of the radiant then, degrees
	// Hourly is what one person sees in an hour then, under a sky that shows
	// stars of magnitude 6.5: divide by Ratio for each magnitude less. 0 when
	// the table has no rate. Meteors are few or many by chance: half to double.
	Hourly float64
}

// Showers returns the meteor showers that are active in the night, the richest
// first; none is an empty list.
func (n *Night) Showers() []ShowerView {
	middle := solarLongitude(n.middleTT)
	from, to := solarLongitude(ttOf(n.From)), solarLongitude(ttOf(n.To))
	dark := n.darkTimes()

	var out []ShowerView
	for _, s := range showers {
		length := positiveDegrees(s.End - s.Start)
		if positiveDegrees(to-s.Start) > length && positiveDegrees(from-s.Start) > length {
			continue
		}
		v := ShowerView{Shower: s, DaysFromMaximum: signedDegrees(middle-s.Peak) / sunRate}
		if ahead := positiveDegrees(s.Peak - from); ahead < positiveDegrees(to-from) {
			v.MaximumTonight = true
			v.Maximum = utcOfTT(whenSunAt(ttOf(n.From)+ahead/sunRate, s.Peak)).Round(time.Minute)
		}
		n.bestOf(&v, dark)
		out = append(out, v)
	}
	sortByRate(out)
	return out
}

func sortByRate(views []ShowerView) {
	// Insertion sort: a handful of showers, in the table's order when equal.
	for i := 1; i < len(views); i++ {
		for j := i; j > 0 && views[j].Hourly > views[j-1].Hourly; j-- {
			views[j], views[j-1] = views[j-1], views[j]
		}
	}
}

const sunRate = 0.98564736 // degrees a day, mean

func positiveDegrees(a float64) float64 { return positive(a*radian) * degree }
func signedDegrees(a float64) float64   { return halfTurn(a*radian) * degree }

// solarLongitude is the Sun's apparent ecliptic longitude counted from the
// equinox of J2000.0, degrees: what meteor calendars count by.
func solarLongitude(tt float64) float64 {
	_, velocity := earthHeliocentric(tt)
	v := aberrated(astrometric(Sun, tt), velocity)
	lon, _ := rotX(84381.406 * arcsecond).mul(v).spherical()
	return lon * degree
}

// whenSunAt refines the instant at which the Sun reaches a longitude: each round
// leaves a thirtieth of the error.
func whenSunAt(tt, longitude float64) float64 {
	for range 4 {
		tt += signedDegrees(longitude-solarLongitude(tt)) / sunRate
	}
	return tt
}

// darkTimes are the quarters of an hour of the night with the Sun below -12.
func (n *Night) darkTimes() []time.Time {
	var dark []time.Time
	for t := n.From; t.Before(n.To); t = t.Add(15 * time.Minute) {
		if n.At(Sun, t).Alt < -12 {
			dark = append(dark, t)
		}
	}
	return dark
}

// bestOf finds the quarter of an hour with most meteors.
func (n *Night) bestOf(v *ShowerView, dark []time.Time) {
	radiant := Star{RA: v.RA, Dec: v.Dec}
	score := 0.0
	for i, p := range n.Track(radiant, dark) {
		if p.Alt <= 0 {
			continue
		}
		// Zenithal rate by the distance from the maximum, times the sine of the
		// radiant's altitude (the definition of the zenithal hourly rate).
		off := math.Abs(signedDegrees(solarLongitude(ttOf(dark[i])) - v.Peak))
		share := math.Pow(10, -v.Slope*off) * math.Sin(p.Alt*radian)
		if share > score {
			score = share
			v.Seen, v.Best, v.Altitude = true, dark[i], p.Alt
			v.Hourly = v.Zenith * share
		}
	}
}
