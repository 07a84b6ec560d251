package field

import (
	"fmt"
	"strings"
	"time"

	"duskboard/internal/weather"
)

// PeopleLimits is when people are warned. Bands differ between services and
// clubs, so they are settings.
type PeopleLimits struct {
	Chill      float64 // wind chill from which to warn of cold, degrees C
	Frostbite  float64 // wind chill at which skin freezes in long exposure, degrees C
	HeatFrom   float64 // heat index from which to warn, degrees C
	HeatDanger float64 // heat index at which to think of calling off, degrees C
	Wind       float64 // mean or gust at which tripods come down and ladders go, m/s
	RainChance float64 // per cent from which covers are kept at hand
}

// DefaultPeopleLimits are published bands where there are any: -27 degrees C
// for frostbite (Environment Canada), 90 and 103 degrees F of heat index (US
// National Weather Service); 10 m/s is common practice.
func DefaultPeopleLimits() PeopleLimits {
	return PeopleLimits{Chill: 0, Frostbite: -27, HeatFrom: 32.2, HeatDanger: 39.4, Wind: 10, RainChance: 30}
}

// Cautions. They defer to whoever decides on the ground.
const (
	Defer = "Local law, the owner of the site, the insurer and people licensed for the task decide; this is a caution, not a permission."

	LightningCaution = "Thunder is forecast. Hear thunder, go in: into a substantial building or a closed metal car, not under tents or trees. Leave telescopes and tripods standing. Stop at the latest when thunder follows a flash within 30 seconds, and wait 30 minutes after the last thunder; a large field takes longer to clear, so decide early. " + Defer

	DarkAdaptation = "Eyes need 20 to 30 minutes of darkness to see faint things, and one white lamp or bright screen undoes it. Use dim red light pointing down, and keep one white lamp for emergencies."

	SunCaution = "While the Sun is up no instrument points near it without a purpose-made filter over the whole front, fixed against wind and children's hands and inspected for holes before each use. Never a filter at the eyepiece, never eclipse glasses behind optics. Finders are off, capped or filtered. A volunteer stands at every instrument; capped when unattended. " + Defer

	SunsetCaution = "The last half hour before sunset: set up with caps on and pointing away from the Sun, and remove no cap until the Sun is below the real horizon. " + Defer
)

// PeopleWarnings are the night's warnings for everybody from the weather
// between from and to. Without weather there are none; the state of the
// series says so elsewhere.
func PeopleWarnings(s weather.Series, from, to time.Time, l PeopleLimits) []Warning {
	var ws []Warning
	first := map[string]bool{}
	add := func(key string, i Importance, at time.Time, format string, args ...any) {
		if !first[key] {
			first[key] = true
			ws = append(ws, Warning{Importance: i, Subject: "people", At: at, Sentence: fmt.Sprintf(format, args...)})
		}
	}
	worst, worstAt := 100.0, time.Time{}
	hottest, hottestAt := -100.0, time.Time{}
	for _, h := range s.Sample(from, to, 15*time.Minute) {
		if h.Thunder {
			add("thunder", Danger, h.Time, "%s", LightningCaution)
		}
		gust := max(h.Wind, h.Gust)
		if gust >= l.Wind {
			add("wind", Danger, h.Time, "Wind of %.0f m/s: lower the tripods, take down light tubes, awnings and signs, and use no ladder. %s", gust, Defer)
		}
		if h.Precip > 0 || h.PrecipProb >= l.RainChance {
			add("rain", Caution, h.Time, "Rain is possible (chance %.0f per cent): keep a cover at every instrument and electrics off the ground.", h.PrecipProb)
		}
		if w, ok := WindChill(h.Temp, h.Wind*3.6); ok && w < worst {
			worst, worstAt = w, h.Time
		}
		if !h.Has(weather.Wind) && h.Temp <= 5 && h.Temp < worst {
			worst, worstAt = h.Temp, h.Time
		}
		if x, ok := HeatIndexC(h.Temp, h.RH); ok && x > hottest {
			hottest, hottestAt = x, h.Time
		}
	}
	switch {
	case worst <= l.Frostbite:
		add("cold", Danger, worstAt, "It will feel like %.0f degrees: bare skin can freeze. Keep the night short and a warm room open. %s", worst, Defer)
	case worst <= l.Chill:
		add("cold", Caution, worstAt, "It will feel like %.0f degrees, and colder to those who stand still: one layer more than you think, hat, dry shoes, something hot.", worst)
	}
	switch {
	case hottest >= l.HeatDanger:
		add("heat", Danger, hottestAt, "It will feel like %.0f degrees in the shade and more in the Sun: think of calling it off; shade, water, and someone who watches people. %s", hottest, Defer)
	case hottest >= l.HeatFrom:
		add("heat", Caution, hottestAt, "It will feel like %.0f degrees in the shade: offer shade and water.", hottest)
	}
	return SortWarnings(ws)
}

// sunsetLead is how long before sunset the caution begins.
const sunsetLead = 30 * time.Minute

// SunWarning is the caution for a crew that is on the field from onField,
// while instruments can still see the Sun, which sets at sunset; false when
// they come after it. A zero sunset means that the Sun does not set, or does
// not rise when sunUp is false.
func SunWarning(onField, sunset time.Time, sunUp bool) (Warning, bool) {
	switch {
	case sunset.IsZero() && !sunUp, !sunset.IsZero() && !onField.Before(sunset):
		return Warning{}, false
	case sunset.IsZero():
		return Warning{Importance: Danger, Subject: "Sun", Sentence: SunCaution}, true
	case sunset.Sub(onField) <= sunsetLead:
		return Warning{Importance: Danger, Subject: "Sun", At: onField, Sentence: SunsetCaution}, true
	}
	return Warning{Importance: Danger, Subject: "Sun", At: onField, Sentence: strings.TrimSuffix(SunCaution, Defer) + SunsetCaution}, true
}
