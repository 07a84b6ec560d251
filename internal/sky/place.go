package sky

import (
	"math"

	"github.com/soniakeys/meeus/v3/base"
)

const (
	auKM         = 149597870.7           // IAU 2012
	lightDays    = 499.004783836 / 86400 // days for one au
	earthRadius  = 6378.1366             // km, IERS 2010
	earthRadiusA = earthRadius / auKM    // au
)

// geocentric is an apparent place as seen from the Earth's centre, referred
// to the true equator and equinox of date.
type geocentric struct {
	dir  vec3    // unit vector
	dist float64 // au; 0 for a Star, which has none
}

// equatorial returns right ascension (0..2pi) and declination in radians.
func (g geocentric) equatorial() (ra, dec float64) { return g.dir.spherical() }

// vsopIndex is the body's place in the file of series; Earth is 2.
func (b Body) vsopIndex() int {
	switch b {
	case Mercury:
		return 0
	case Venus:
		return 1
	}
	return int(b-Mars) + 3
}

const earthIndex = 2

// eclipticToICRS turns the ecliptic frame of VSOP87 and ELP into FK5, which is
// the ICRS to 0.02 arcseconds (Bretagnon & Francou 1988, the published file's
// README).
var eclipticToICRS = mat3{
	{1, 0.000000440360, -0.000000190919},
	{-0.000000479966, 0.917482137087, -0.397776982902},
	{0, 0.397776982902, 0.917482137087},
}

// heliocentric returns a planet's place (au) and velocity (au a day) in the
// ICRS, as seen from the Sun, without light time.
func heliocentric(b Body, tt float64) (place, velocity vec3) {
	if b == Sun {
		return vec3{}, vec3{}
	}
	return vsopVectors(b.vsopIndex(), tt)
}

// earthHeliocentric returns the Earth's place (au) and velocity (au a day).
func earthHeliocentric(tt float64) (place, velocity vec3) {
	return vsopVectors(earthIndex, tt)
}

func vsopVectors(index int, tt float64) (place, velocity vec3) {
	tau := julianCentury(tt) / 10
	th := &allSeries()[index]
	l, dl := th[0].at(tau)
	b, db := th[1].at(tau)
	r, dr := th[2].at(tau)
	sl, cl := math.Sincos(l)
	sb, cb := math.Sincos(b)
	p := vec3{r * cb * cl, r * cb * sl, r * sb}
	v := vec3{
		dr*cb*cl - r*sb*cl*db - r*cb*sl*dl,
		dr*cb*sl - r*sb*sl*db + r*cb*cl*dl,
		dr*sb + r*cb*db,
	}
	return eclipticToICRS.mul(p), eclipticToICRS.mul(v.scale(1 / (10 * daysPerCentury)))
}

// moonGeocentric returns the Moon's geometric place seen from the Earth's
// centre in the ICRS, in au: ELP/MPP02 (Chapront & Francou 2003). Meeus's
// chapter 47 is off by up to 10 arcseconds; this by less than 1.
func moonGeocentric(tt float64) vec3 {
	t := julianCentury(tt)
	e := elp()
	l := base.Horner(t, e.w1[:]...) + e.sum(0, t)*arcsecond
	b := e.sum(1, t) * arcsecond
	r := e.sum(2, t) / auKM
	v := direction(l, b).scale(r)

	// From the inertial mean ecliptic of date to that of J2000 (Laskar 1986,
	// as ELP uses it).
	p := base.Horner(t, 0, 0.10180391e-4, 0.47020439e-6, -0.5417367e-9, -0.2507948e-11, 0.463486e-14)
	q := base.Horner(t, 0, -0.113469002e-3, 0.12372674e-6, 0.12654170e-8, -0.1371808e-11, -0.320334e-14)
	w := 2 * math.Sqrt(1-p*p-q*q)
	return eclipticToICRS.mul(mat3{
		{1 - 2*p*p, 2 * p * q, p * w},
		{2 * p * q, 1 - 2*q*q, -q * w},
		{-p * w, q * w, 1 - 2*p*p - 2*q*q},
	}.mul(v))
}

// astrometric returns where a body's light comes from: the vector from the
// Earth's centre at tt to the body when the light left it, ICRS, au.
func astrometric(b Body, tt float64) vec3 {
	if b == Moon {
		return moonGeocentric(tt - 0.00257*lightDays)
	}
	earth, _ := earthHeliocentric(tt)
	return lightTimed(earth, tt, func(at float64) (vec3, vec3) { return heliocentric(b, at) })
}

// lightTimed solves the light time of anything that goes round the Sun. orbit
// gives its heliocentric place and velocity (ICRS; au, au a day).
func lightTimed(earth vec3, tt float64, orbit func(tt float64) (vec3, vec3)) vec3 {
	place, velocity := orbit(tt)
	v := place.sub(earth)
	// The body moves evenly enough while the light is on its way (Neptune: 4
	// hours of a year of 165 years; Mercury: 12 minutes), so that the series
	// need not be summed again; the second round settles the distance.
	for range 3 {
		v = place.sub(velocity.scale(v.norm() * lightDays)).sub(earth)
	}
	return v
}

// aberrated adds the annual aberration: light arriving along v at an observer
// moving with the given velocity (au a day).
func aberrated(v, velocity vec3) vec3 {
	d := v.norm()
	return v.add(velocity.scale(d * lightDays)).unit().scale(d)
}

// apparent implements Object.
func (b Body) apparent(tt float64) geocentric {
	f := frameOf(tt)
	if b == Moon {
		// The Moon goes with the Earth: its light time as seen from the moving
		// Earth already is the whole aberration.
		v := astrometric(Moon, tt)
		return geocentric{f.fromICRS.mul(v.unit()), v.norm()}
	}
	earth, velocity := earthHeliocentric(tt)
	return apparentPlace(f, earth, velocity, tt, func(at float64) (vec3, vec3) { return heliocentric(b, at) })
}

// apparentPlace takes anything that goes round the Sun to its apparent place.
func apparentPlace(f frame, earth, earthVelocity vec3, tt float64, orbit func(tt float64) (vec3, vec3)) geocentric {
	v := lightTimed(earth, tt, orbit)
	dist := v.norm()
	return geocentric{f.fromICRS.mul(aberrated(v, earthVelocity).unit()), dist}
}

// apparent implements Object: proper motion, aberration, precession, nutation.
// Parallax (under 0.8 arcseconds) and the bending of light by the Sun are left
// out.
func (s Star) apparent(tt float64) geocentric {
	_, velocity := earthHeliocentric(tt)
	return geocentric{s.direction(tt, velocity, frameOf(tt)), 0}
}

func (s Star) direction(tt float64, earthVelocity vec3, f frame) vec3 {
	years := (tt - base.J2000) / 365.25
	ra, dec := s.RA*radian, s.Dec*radian
	sa, ca := math.Sincos(ra)
	sd, cd := math.Sincos(dec)
	v := vec3{cd * ca, cd * sa, sd}
	if s.PMRA != 0 || s.PMDec != 0 {
		// Along the tangent, so that it works at the pole as well.
		east := s.PMRA * years / 1000 * arcsecond
		north := s.PMDec * years / 1000 * arcsecond
		v = v.add(vec3{-sa, ca, 0}.scale(east)).add(vec3{-sd * ca, -sd * sa, cd}.scale(north))
	}
	return f.fromICRS.mul(aberrated(v.unit(), earthVelocity))
}

// radiusKM is the equatorial radius: IAU Working Group on Cartographic
// Coordinates 2015; the Sun's 696,000 and the Moon's 1,737.4 are also what the
// almanacs' semidiameters of 959.63 arcseconds and 0.2725 earth radii mean.
func (b Body) radiusKM() float64 {
	return [...]float64{696000, 1737.4, 2440.5, 6051.8, 3396.19, 71492, 60268, 25559, 24764}[b]
}

// String names the body in English.
func (b Body) String() string {
	return [...]string{"Sun", "Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune"}[b]
}
