package sky

import (
	"math"

	"github.com/soniakeys/meeus/v3/base"
	"github.com/soniakeys/meeus/v3/nutation"
)

const (
	radian    = math.Pi / 180
	degree    = 180 / math.Pi
	arcsecond = math.Pi / (180 * 3600) // radians
)

// frame holds what the orientation of the Earth's axis needs at one instant.
type frame struct {
	fromICRS  mat3    // ICRS (J2000) to true equator and equinox of date
	obliquity float64 // true obliquity of the ecliptic, radians
	nutLon    float64 // nutation in longitude, radians
	nutObl    float64 // nutation in obliquity, radians
}

// frameOf returns the frame at a Julian date in TT.
//
// Precession and frame bias: IAU 2006, four angles of Fukushima and Williams
// (Hilton et al. 2006, Celest. Mech. Dyn. Astron. 94, 351; the constants of
// Capitaine & Wallace 2006). Meeus's own precession (IAU 1976) drifts from it
// by 0.3 arcseconds a century. Nutation: IAU 1980 by meeus (chapter 22), within
// 0.06 arcseconds of IAU 2000A in this century.
func frameOf(tt float64) frame {
	gamma, phi, psi, eps := precessionAngles(tt)
	dpsi, deps := nutation.Nutation(tt)
	f := frame{
		obliquity: eps + deps.Rad(),
		nutLon:    dpsi.Rad(),
		nutObl:    deps.Rad(),
	}
	f.fromICRS = fukushimaWilliams(gamma, phi, psi+f.nutLon, f.obliquity)
	return f
}

// precessionAngles returns the four angles of frame bias and precession in
// radians; eps is the mean obliquity.
func precessionAngles(tt float64) (gamma, phi, psi, eps float64) {
	t := julianCentury(tt)
	gamma = base.Horner(t, -0.052928, 10.556378, 0.4932044, -0.00031238, -0.000002788, 0.0000000260)
	phi = base.Horner(t, 84381.412819, -46.811016, 0.0511268, 0.00053289, -0.000000440, -0.0000000176)
	psi = base.Horner(t, -0.041775, 5038.481484, 1.5584175, -0.00018522, -0.000026452, -0.0000000148)
	eps = base.Horner(t, 84381.406, -46.836769, -0.0001831, 0.00200340, -0.000000576, -0.0000000434)
	return gamma * arcsecond, phi * arcsecond, psi * arcsecond, eps * arcsecond
}

func fukushimaWilliams(gamma, phi, psi, eps float64) mat3 {
	return rotX(-eps).times(rotZ(-psi)).times(rotX(phi)).times(rotZ(gamma))
}

// precession returns the matrix ICRS to mean equator and equinox of date.
func precession(tt float64) mat3 { return fukushimaWilliams(precessionAngles(tt)) }

// siderealTime returns Greenwich apparent sidereal time in radians (0..2pi)
// at a Julian date in UT and the same instant in TT, with the frame of tt.
//
// Earth rotation angle and polynomial: IAU 2006 (Capitaine, Wallace &
// Chapront 2003; A&A 412, 567, with the 2006 coefficients), consistent with the
// precession above; the equation of the equinoxes lacks its complementary
// terms (0.003 arcseconds).
func siderealTime(jd, tt float64, f frame) float64 {
	t := julianCentury(tt)
	days := jd - base.J2000
	// The whole turns are taken off before multiplying, or they would eat the
	// precision of the rest.
	era := 2 * math.Pi * math.Mod(math.Mod(days, 1)+0.7790572732640+0.00273781191135448*days, 1)
	poly := base.Horner(t, 0.014506, 4612.156534, 1.3915817, -0.00000044, -0.000029956, -0.0000000368)
	return positive(era + poly*arcsecond + f.nutLon*math.Cos(f.obliquity))
}

// eclipticOfDate turns a direction of the true equator of date into apparent
// ecliptic longitude (0..2pi) and latitude, radians.
func (f frame) eclipticOfDate(v vec3) (lon, lat float64) {
	return rotX(f.obliquity).mul(v).spherical()
}

// positive reduces an angle in radians to 0..2pi.
func positive(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}

// halfTurn reduces an angle in radians to -pi..pi.
func halfTurn(a float64) float64 {
	return math.Remainder(a, 2*math.Pi)
}
