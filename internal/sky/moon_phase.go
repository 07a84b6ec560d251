package sky

import "math"

// moonPhase fills in what phase and age need. moon and sun are geocentric
// vectors in au.
func moonPhase(tt float64, moon, sun vec3) MoonView {
	v := MoonView{PhaseAngle: angleBetween(moon, moon.sub(sun))}
	v.Illuminated = litPart(v.PhaseAngle)
	ahead := moonAhead(tt)
	v.Waxing = ahead < 180
	v.PhaseName = phaseName(ahead)
	v.AgeDays = tt - lastNewMoon(tt, ahead)
	// Allen, Astrophysical Quantities, 3rd ed., section 66: mean distances.
	a := v.PhaseAngle
	v.Magnitude = -12.73 + 0.026*a + 4e-9*a*a*a*a + 5*math.Log10(moon.norm()*auKM/384400*sun.norm())
	return v
}

// moonAhead is how far the Moon is east of the Sun in apparent ecliptic
// longitude, degrees, 0 to 360: the phases are defined by it.
func moonAhead(tt float64) float64 {
	f := frameOf(tt)
	moon, _ := f.eclipticOfDate(Moon.apparent(tt).dir)
	sun, _ := f.eclipticOfDate(Sun.apparent(tt).dir)
	return positive(moon-sun) * degree
}

const moonRate = 12.190749 // mean degrees a day from the Sun

// lastNewMoon returns the Julian date (TT) of the new Moon before tt, at which
// the Moon is ahead degrees from the Sun; to a second or so.
func lastNewMoon(tt, ahead float64) float64 {
	at := tt - ahead/moonRate
	// The true rate is within a quarter of the mean one, so each round leaves a
	// quarter of the error at most: from a day to under a second in nine.
	for range 10 {
		step := halfTurn(moonAhead(at)*radian) * degree / moonRate
		at -= step
		if math.Abs(step) < 1e-5 { // days: the next step would be under a second
			break
		}
	}
	if at > tt { // a moment before the new Moon, found from the wrong side
		return lastNewMoon(at-29.530589, moonAhead(at-29.530589))
	}
	return at
}

// phaseName names the phase by how far the Moon is ahead of the Sun. A principal
// phase lasts from about 12 hours before its instant to 12 hours after. The
// words say nothing of left and right and so hold in both hemispheres; which
// side is lit is MoonView.LitSide.
func phaseName(ahead float64) string {
	const halfDay = moonRate / 2
	principal := [...]string{"new moon", "first quarter", "full moon", "last quarter"}
	between := [...]string{"waxing crescent", "waxing gibbous", "waning gibbous", "waning crescent"}
	nearest := math.Round(ahead / 90)
	if math.Abs(ahead-nearest*90) <= halfDay {
		return principal[int(nearest)%4]
	}
	return between[int(ahead/90)%4]
}
