package lineup

import (
	"fmt"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

// wish is the range of magnification, or of exit pupil, in which a target
// looks best.
type wish struct {
	low, high  float64 // magnification; 0 when the exit pupil decides
	pupilLow   float64 // mm
	pupilHigh  float64 // mm
	width      float64 // how forgiving, in octaves
	lightSpare bool    // bright enough that lost light does not matter
	widest     float64 // exit pupil that a bright star should not exceed, mm; 0 none
}

// wishes gives the range for a target. diameter is the apparent diameter of a
// planet in arcseconds. Common practice for the public, checked against the
// resolving rules of internal/vision.
func wishes(t catalog.Target, diameter float64) wish {
	switch t.Kind {
	case catalog.KindMoon, catalog.KindSun:
		return wish{low: 35, high: 110, width: 1, lightSpare: true}
	case catalog.KindPlanet:
		return planetWish(t.Body, diameter)
	case catalog.KindDouble:
		if t.Double == nil {
			break
		}
		// 4 arcminutes apart is comfortable for the public, 12 is prettiest
		// (science sheet of optics, 1.8); 6 is where it is liked. Wide exit
		// pupils show the eye's own faults on a bright star: 0.7 to 1.5 mm is
		// the practice, up to 3 still pleases.
		s := t.Double.Separation
		return wish{low: min(max(360/s, 15), 220), high: max(min(900/s, 250), 40), width: 0.8, lightSpare: t.Double.MagB < 7, widest: 3}
	case catalog.KindStar, catalog.KindCarbon, catalog.KindVariable:
		// A star stays a point at any power; what spoils it is a wide exit pupil,
		// as with doubles.
		return wish{low: 30, high: 100, width: 1.5, lightSpare: t.Magnitude < 3, widest: 3}
	case catalog.KindGlobular:
		return wish{pupilLow: 1.2, pupilHigh: 2.4, width: 0.9}
	case catalog.KindPlanetary:
		return wish{pupilLow: 1, pupilHigh: 2.2, width: 0.9}
	case catalog.KindOpen:
		return wish{pupilLow: 1.8, pupilHigh: 5, width: 1.2}
	case catalog.KindAsterism, catalog.KindCloud:
		return wish{pupilLow: 2.5, pupilHigh: 6, width: 1.2}
	}
	return wish{pupilLow: 2, pupilHigh: 5, width: 1}
}

// planetWish: practice magnifications of the science sheet of optics, 8.1
// (from memory there).
func planetWish(b sky.Body, diameter float64) wish {
	w := wish{low: 100, high: 180, width: 0.9, lightSpare: true}
	switch b {
	case sky.Saturn:
		w.low, w.high = 110, 200
	case sky.Jupiter:
		w.low, w.high = 100, 190
	case sky.Mars:
		w.low, w.high = 150, 250
	case sky.Venus, sky.Mercury:
		// The phase is seen once the disc looks as large as 20 arcminutes.
		w.low = min(max(1200/max(diameter, 5), 40), 180)
		w.high, w.width = max(w.low*2.5, 120), 1
	case sky.Uranus, sky.Neptune:
		w.low, w.high, w.lightSpare = 150, 300, false
	}
	return w
}

// powerInput is what the magnification is judged by.
type powerInput struct {
	power, exitPupil float64 // times; mm
	eyePupil         float64 // mm, of the audience on this target
	topAperture      float64 // twice the aperture in mm
	topSeeing        float64 // where the seeing disc looks 4 arcminutes wide, with the glass as warm as it is; half as much again is the limit
	shadow           float64 // effective obstruction at the eye, 0 to 1
	wish             wish
}

// lightVeto is the share of the light that even the widest pupil of 7 mm must
// catch: below half, a longer eyepiece only wastes the mirror.
const (
	widestPupil = 7.0
	lightVeto   = 0.5
)

// powerFactor judges the magnification: the low limits (light and shadow), the
// high ones (aperture and seeing) and the range that the target wants.
func powerFactor(in powerInput, say bool) Factor {
	f := Factor{Key: Power, Number: in.power, Unit: "×", Value: 1}
	note := ""
	tell := func(format string, args ...any) {
		if say {
			note = fmt.Sprintf(format, args...)
		}
	}
	light := 1.0
	if in.exitPupil > in.eyePupil {
		light = in.eyePupil * in.eyePupil / (in.exitPupil * in.exitPupil)
	}
	widest := min(1, widestPupil*widestPupil/(in.exitPupil*in.exitPupil))
	switch {
	case in.power > in.topAperture*1.02:
		f.Veto = true
		tell("Above %.0f×, the most that this aperture bears.", in.topAperture)
	case in.power > seeingVeto*in.topSeeing:
		f.Veto = true
		tell("Tonight's air, with the glass as warm as it is, carries about %.0f×, not %.0f×.", seeingLimit*in.topSeeing, in.power)
	case widest < lightVeto && !in.wish.lightSpare:
		f.Veto = true
		tell("The exit pupil of %.1f mm is far wider than any eye: over half the light is lost.", in.exitPupil)
	case in.shadow >= shadowRefuse:
		f.Veto = true
		tell("The shadow of the secondary covers %.0f %% of the eye's pupil: a black spot. More power is needed.", in.shadow*100)
	}
	if f.Veto {
		f.Value = 0
		f.Sentence = note
		return f
	}
	if in.wish.low > 0 {
		f.Value = plateau(in.power, in.wish.low, in.wish.high, in.wish.width)
	} else {
		f.Value = plateau(in.exitPupil, in.wish.pupilLow, in.wish.pupilHigh, in.wish.width)
	}
	if w := in.wish.widest; w > 0 && in.exitPupil > w {
		f.Value *= plateau(in.exitPupil, 0, w, 1.3)
		tell(" An exit pupil of %.1f mm shows the eye's own faults on a bright star.", in.exitPupil)
	}
	if light < 1 && !in.wish.lightSpare {
		f.Value *= ramp(light, 0.3, 1, 0.5, 1)
		tell(" The exit pupil of %.1f mm is wider than the eye's %.1f mm: %.0f %% of the light is lost.", in.exitPupil, in.eyePupil, 100*(1-light))
	}
	if in.shadow >= shadowWarn {
		f.Value *= ramp(in.shadow, shadowWarn, shadowRefuse, 0.8, 0.3)
		tell(" The secondary's shadow covers %.0f %% of the eye's pupil and comes and goes as the head moves.", in.shadow*100)
	}
	if x := in.power / in.topSeeing; x > 1 {
		f.Value *= ramp(x, 1, seeingLimit, 1, 0.85) * ramp(x, seeingLimit, seeingVeto, 1, 0.4)
		if x > seeingLimit {
			tell(" Above about %.0f× tonight's air blurs it.", seeingLimit*in.topSeeing)
		}
	}
	if say {
		f.Wanted = wantedPower(in.wish, in.power*in.exitPupil)
		f.Sentence = powerSentence(in) + note
	}
	return f
}

// Shares of topSeeing: a disc of 6 arcminutes is the limit, and of 9 a blob
// (package optics, high-power limits).
const (
	seeingLimit = 1.5
	seeingVeto  = 2.25
)

// The three steps of the shadow's share: from 0.4 it is noted, from 0.5 a
// quarter of the light is gone, from 0.7 half of it.
const (
	shadowNote   = 0.4
	shadowWarn   = 0.5
	shadowRefuse = 0.7
)

func wantedPower(w wish, aperture float64) string {
	if w.low > 0 {
		return fmt.Sprintf("%.0f to %.0f×", w.low, w.high)
	}
	return fmt.Sprintf("%.0f to %.0f×", aperture/w.pupilHigh, aperture/w.pupilLow)
}

func powerSentence(in powerInput) string {
	low, high := in.wish.low, in.wish.high
	if low == 0 {
		d := in.power * in.exitPupil
		low, high = d/in.wish.pupilHigh, d/in.wish.pupilLow
	}
	switch {
	case in.power < low*0.75:
		return fmt.Sprintf("%.0f× is low for it; %.0f× and more shows it better.", in.power, low)
	case in.power > high*1.33:
		return fmt.Sprintf("%.0f× is much for it; %.0f× is enough.", in.power, high)
	}
	return fmt.Sprintf("%.0f× suits it, with an exit pupil of %.1f mm.", in.power, in.exitPupil)
}
