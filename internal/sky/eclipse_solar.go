package sky

import "math"

// discs are Sun and Moon as seen from the place, radians.
type discs struct{ distance, sun, moon float64 }

func (n *Night) discsAt(tt float64) discs {
	t := utcOfTT(tt)
	f := frameOf(tt)
	place := f.fromICRS.mul(n.placeICRS(t, tt, f))
	sun, moon := Sun.apparent(tt), Moon.apparent(tt)
	s := sun.dir.scale(sun.dist).sub(place)
	m := moon.dir.scale(moon.dist).sub(place)
	return discs{
		distance: angleBetween(s, m) * radian,
		sun:      math.Asin(Sun.radiusKM() / (s.norm() * auKM)),
		moon:     math.Asin(0.272488 * earthRadiusA / m.norm()),
	}
}

func (n *Night) solarEclipse(newMoon float64) (Eclipse, bool) {
	const reach = 4.0 / 24 // parallax moves the local eclipse by two hours at most
	gap := func(tt float64) float64 { return n.discsAt(tt).distance }
	// The distance has one minimum over these hours, but for places where the
	// rotation of the Earth bends the path; look coarsely first.
	best := newMoon
	for tt := newMoon - reach; tt <= newMoon+reach; tt += 10.0 / 1440 {
		if gap(tt) < gap(best) {
			best = tt
		}
	}
	greatest := smallest(best-10.0/1440, best+10.0/1440, gap)
	d := n.discsAt(greatest)
	if d.distance >= d.sun+d.moon {
		return Eclipse{}, false
	}
	e := Eclipse{Body: Sun, Kind: PartialEclipse, Caution: sunCaution, Covered: d.covered()}
	e.Magnitude = (d.sun + d.moon - d.distance) / (2 * d.sun)
	e.Greatest = n.contact(Sun, "greatest", greatest)

	begin, end := contactsOf(greatest, reach, func(tt float64) bool {
		d := n.discsAt(tt)
		return d.distance < d.sun+d.moon
	})
	if !n.overlapsNight(begin, end) || !n.upBetween(Sun, begin, end) {
		return Eclipse{}, false
	}
	e.Visible = true
	e.Contacts = append(e.Contacts, n.contact(Sun, "partial begins", begin))
	if d.distance < math.Abs(d.moon-d.sun) {
		e.Kind = AnnularEclipse
		if d.moon >= d.sun {
			e.Kind = TotalEclipse
		}
		e.Magnitude = d.moon / d.sun // by custom, of a central eclipse
		second, third := contactsOf(greatest, reach, func(tt float64) bool {
			d := n.discsAt(tt)
			return d.distance < math.Abs(d.moon-d.sun)
		})
		e.Contacts = append(e.Contacts, n.contact(Sun, string(e.Kind)+" begins", second), n.contact(Sun, string(e.Kind)+" ends", third))
	}
	e.Contacts = n.ofNight(append(e.Contacts, n.contact(Sun, "partial ends", end)))
	return e, true
}

// covered returns the part of the Sun's disc behind the Moon's: the area where
// two circles overlap.
func (d discs) covered() float64 {
	switch {
	case d.distance >= d.sun+d.moon:
		return 0
	case d.distance <= math.Abs(d.sun-d.moon):
		return math.Min(1, d.moon*d.moon/(d.sun*d.sun))
	}
	angle := func(r, other float64) float64 {
		return math.Acos((d.distance*d.distance + r*r - other*other) / (2 * d.distance * r))
	}
	a, b := angle(d.sun, d.moon), angle(d.moon, d.sun)
	area := d.sun*d.sun*(a-math.Sin(2*a)/2) + d.moon*d.moon*(b-math.Sin(2*b)/2)
	return area / (math.Pi * d.sun * d.sun)
}
