package field

import (
	"fmt"
	"math"
	"time"
)

// Action is what keeps a surface usable.
type Action string

// Actions, from the least to the most trouble.
const (
	DoNothing  Action = "nothing"
	FitShield  Action = "shield"
	RunHeater  Action = "heater"
	CoverWait  Action = "cover" // a mirror that only dries when the air does
	KeepWarm   Action = "keep warm"
	AskWeather Action = "weather" // nothing can be said without it
)

// Advice is what one surface takes tonight.
type Advice struct {
	Action Action
	// Power of a strip on the surface as it stands, with 2 K to spare, W; 0
	// when the advice is not to heat.
	Watts       float64 // likely
	WattsHigh   float64 // in the cold, moist, calm case
	Glass       float64 // of Watts, what must reach the glass itself
	ShieldWatts float64 // likely, behind a shield that it has not; 0 when none can be had
	Have        bool    // the gear that goes with the instrument does it
	Sentence    string
}

// advise weighs a surface's runs. unheated is the level as it will stand with
// its heater off.
func (f *forecast) advise(s Surface, r SurfaceReport, unheated Level) Advice {
	bare, shielded := r.Bare, r.Shielded
	switch {
	case bare.Level == NoDew:
		return Advice{Action: DoNothing, Have: true, Sentence: fmt.Sprintf("The %s stays dry by itself.", s.Name)}
	case s.Kind == Primary:
		return Advice{Action: CoverWait, Sentence: "Moist air is about to be warmer than the mirror: keep the tube covered until it is used, and wait rather than wipe."}
	}

	shieldHelps := s.Shieldable && shielded.Level == NoDew
	if shieldHelps {
		have := s.Plate.Shield >= 1 && !f.opts.NoShield
		verb := "Fit a shield one and a half times as long as the " + s.Name + " is wide"
		if have {
			verb = "Keep the shield on the " + s.Name
		}
		return Advice{Action: FitShield, Have: have, Sentence: verb + ": with it the glass stays dry, without it " + bare.phrase(f.opts.Zone) + "."}
	}

	a := f.heaterAdvice(s, unheated)
	if s.Heater > 0 && !f.opts.HeaterOff && r.Onset.Level == NoDew {
		// The strip holds it, if perhaps with less than 2 K to spare.
		a.Have = true
		if a.Action == RunHeater {
			a.Sentence = fmt.Sprintf("Run the heater on the %s from the start, at %s; off, %s.", s.Name, runAt(math.Min(a.Watts, s.Heater)), bare.phrase(f.opts.Zone))
		}
	}
	return a
}

// heaterAdvice sizes a heater over the time from put-out to the end: on the
// surface as it stands, and behind a shield where one can be had.
func (f *forecast) heaterAdvice(s Surface, level Level) Advice {
	stands := s
	if f.opts.NoShield && s.Kind != Secondary {
		stands.Plate.Shield = 0
	}
	a := Advice{Action: RunHeater}
	a.Watts, a.WattsHigh = f.power(stands)
	a.Glass = a.Watts * StripEfficiency
	a.Have = s.Heater >= a.Watts && !f.opts.HeaterOff
	if s.Kind == EyepieceLens {
		a.Action = KeepWarm
		a.Sentence = fmt.Sprintf("Keep spare eyepieces in a pocket and swap them, or run a strip of %s; breath fogs a cold eye lens at any humidity.", WattRange(a.Watts, a.WattsHigh))
		return a
	}
	shield := ""
	if s.Shieldable && stands.Plate.Shield < 1 {
		behind := stands
		behind.Plate.Shield = defaultShield
		lo, hi := f.power(behind)
		a.ShieldWatts = lo
		shield = ", or of " + WattRange(lo, hi) + " behind a shield"
	}
	have := ""
	switch {
	case s.Heater > 0 && f.opts.HeaterOff:
		have = " It has one, which is switched off."
	case a.Have:
		have = fmt.Sprintf(" Its own strip of %s does it.", watts(s.Heater))
	case s.Heater > 0:
		have = fmt.Sprintf(" Its own strip of %s is too weak.", watts(s.Heater))
	}
	form := "The %s needs a heater of %s%s, started before the dew comes: a wet one takes far more.%s"
	if level < Likely {
		form = "Have a heater for the %s at hand, of %s%s; started before the dew comes it takes far less than on wet glass.%s"
	}
	a.Sentence = fmt.Sprintf(form, s.Name, WattRange(a.Watts, a.WattsHigh), shield, have)
	return a
}

// power is what a strip on the surface must draw, W: likely, and in the cold,
// moist, calm case. A tenth of a watt is the least that a strip is sold with.
func (f *forecast) power(s Surface) (lo, hi float64) {
	lo = math.Max(s.need(f.night, f.first, likely, DewMargin), 0.1)
	return lo, math.Max(s.need(f.night, f.first, cold, DewMargin), lo)
}

func runAt(w float64) string {
	if w < 1 {
		return underOne
	}
	return "about " + watts(w)
}

func watts(w float64) string {
	if w < 9.95 {
		return fmt.Sprintf("%.1f W", w)
	}
	return fmt.Sprintf("%.0f W", w)
}

// underOne is what is said of less than a watt: no strip is sold or set finer.
const underOne = "under 1 W"

// WattRange is a need for power in words, from likely to the cold, moist, calm
// case, W: "under 1 W", "up to 2.3 W", "3.0 to 4.5 W".
func WattRange(lo, hi float64) string {
	switch a, b := watts(lo), watts(hi); {
	case hi < 1:
		return underOne
	case lo < 1:
		return "up to " + b
	case a == b:
		return a
	default:
		return a[:len(a)-2] + " to " + b
	}
}

// phrase is the onset as part of a sentence: "dew comes between 19:50 and
// 20:40".
func (o Onset) phrase(zone *time.Location) string {
	clock := func(t time.Time) string { return t.In(zone).Format("15:04") }
	d := string(o.Deposit)
	switch {
	case o.Level == NoDew:
		return "no " + d + " is to be expected"
	case o.Likely.IsZero() && o.Earliest.IsZero():
		return d + " comes close but is not likely"
	case o.Likely.IsZero():
		return d + " is possible from " + clock(o.Earliest)
	case o.Latest.IsZero():
		return fmt.Sprintf("%s comes from about %s, at the earliest at %s", d, clock(o.Likely), clock(o.Earliest))
	case o.Earliest.Equal(o.Latest):
		return d + " comes at " + clock(o.Earliest)
	default:
		return fmt.Sprintf("%s comes between %s and %s", d, clock(o.Earliest), clock(o.Latest))
	}
}

// Sentence is the onset as a sentence, with times in zone.
func (o Onset) Sentence(zone *time.Location) string {
	s := o.phrase(zone)
	return string(s[0]-'a'+'A') + s[1:] + "."
}
