package vision

import "math"

// NightPupil returns the diameter in mm of the eye's pupil under a sky of
// luminance cd/m^2 at an age in years, by Garstang (2000, Mem. S.A.It. 71,
// 83): 10 (0.534 - 0.00211 age - (0.236 - 0.00127 age) tanh(0.4 log B - 2.2)),
// B in nL. Within 0.35 mm of the measured dark-adapted means (Bradley et al.
// 2011) from 30 years up, 0.7 low in the twenties; people differ by 1 to 1.5.
func NightPupil(age, luminance float64) float64 {
	age = math.Min(math.Max(age, 10), 90)
	nl := math.Max(luminance, 1e-8) / Nanolambert
	return 10 * (0.534 - 0.00211*age - (0.236-0.00127*age)*math.Tanh(0.4*math.Log10(nl)-2.2))
}

// DayPupil returns the diameter in mm of the eye's pupil looking at a field
// of luminance cd/m^2 and area in square degrees at an age in years, with one
// eye or both, by the unified formula of Watson & Yellott (2012, J. Vision
// 12(10):12). Right from darkness to daylight; ages below 20, where the
// formula runs away, are taken as 20, above 83 as 83.
func DayPupil(age, luminance, area float64, bothEyes bool) float64 {
	age = math.Min(math.Max(age, 20), 83)
	flux := luminance * area
	if !bothEyes {
		flux *= 0.1 // one eye alone opens as for a tenth of the light
	}
	x := math.Pow(math.Max(flux, 0)/846, 0.41)
	d := 7.75 - 5.75*x/(x+2) // Stanley & Davies (1995)
	return d + (age-28.58)*(0.021323-0.0095623*d)
}

// MoonLuminance returns the mean luminance in cd/m^2 of the lit part of the
// Moon's disc above the atmosphere at phase angle degrees (0 full, 180 new),
// from the phase law of Krisciunas & Schaefer (1991, eq. 20) over a disc of
// 31.1 arcminutes: 4880 full, 1920 gibbous at 45, 890 at the quarter.
func MoonLuminance(phaseAngle float64) float64 {
	return Illuminance(moonMagnitude(phaseAngle)) / (ellipse(moonDisc, moonDisc) * moonLit(phaseAngle))
}

// moonLit is the lit share of the disc, kept above zero at new Moon.
func moonLit(phaseAngle float64) float64 {
	return math.Max(1e-3, (1+math.Cos(phaseAngle/degree))/2)
}

// moonDisc is the mean diameter of the Moon in arcminutes.
const moonDisc = 31.1

// widestView is the diameter in degrees of the apparent field that counts
// for the pupil: an ordinary eyepiece's.
const widestView = 52.0

// MoonPupil returns the pupil in mm of an eye at the eyepiece of aperture and
// magnification, looking at the Moon. passes is the share of the light that
// atmosphere and optics let through. The lit part, magnified, fills at most a
// circle of 52 degrees; a exit pupil smaller than the eye's dims it.
func MoonPupil(age, aperture, magnification, phaseAngle, passes float64) float64 {
	side := moonDisc / 60 * magnification
	area := math.Pi / 4 * math.Min(moonLit(phaseAngle)*side*side, widestView*widestView)
	luminance := MoonLuminance(phaseAngle) * passes
	exit := aperture / magnification
	p := 4.0
	for range 40 {
		g := 1.0
		if exit < p {
			g = (exit / p) * (exit / p)
		}
		// Damped, since a wider pupil lets in more light, which narrows it.
		p = (p + DayPupil(age, luminance*g, area, false)) / 2
	}
	return p
}

// Scene is what the eye at the eyepiece looks at, as far as its pupil minds.
type Scene struct {
	Luminance   float64 // of the sky, cd/m^2
	SunAltitude float64 // degrees
	OnMoon      bool    // the target is the Moon
	PhaseAngle  float64 // of the Moon, degrees: 0 full, 90 quarter; used when OnMoon
}

// Pupils that plan the low-power limit, mm. Common practice after DayPupil's
// values for 20 to 60 years (3.6 to 2.7 on the full Moon, 5.0 to 3.5 at the
// quarter, 4.9 to 3.5 in bright twilight).
const (
	PupilFullMoon    = 3.0 // full and gibbous
	PupilQuarterMoon = 4.0 // quarter and crescent
	PupilTwilight    = 4.0 // while the Sun is less than 6 degrees down
	PupilDaylight    = 2.5 // Sun up
)

// PlanningPupil returns the pupil in mm to plan a train's lowest power with.
// The full Moon's sky hardly narrows the pupil; the Moon's disc seen in the
// eyepiece does, and so does twilight.
func PlanningPupil(age float64, s Scene) float64 {
	p := NightPupil(age, s.Luminance)
	limit := math.Inf(1)
	switch {
	case s.SunAltitude > 0:
		limit = PupilDaylight
	case s.SunAltitude > -6:
		limit = PupilTwilight
	}
	if s.OnMoon {
		// Gibbous from a phase angle of 80, a little past the quarter.
		if s.PhaseAngle < 80 {
			limit = math.Min(limit, PupilFullMoon)
		} else {
			limit = math.Min(limit, PupilQuarterMoon)
		}
	}
	return math.Min(p, limit)
}
