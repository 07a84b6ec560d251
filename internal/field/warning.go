package field

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"duskboard/internal/kit"
)

// Importance orders warnings.
type Importance int

// Degrees of importance, the most important first.
const (
	Danger  Importance = iota // someone may be hurt
	Spoils                    // an instrument will not work without action
	Caution                   // it may not
	Note                      // worth knowing
)

// Warning is one thing to tell a volunteer before leaving home.
type Warning struct {
	Importance Importance
	Subject    string    // "dew", "cool-down", "power", "weather", "people", "Sun"
	Instrument int64     // its ID; 0 for the whole club
	At         time.Time // when it begins; zero when it does not matter
	Sentence   string
}

// SortWarnings orders warnings by importance, then by time (those without
// last), keeping equal ones as they come. It sorts in place and returns ws.
func SortWarnings(ws []Warning) []Warning {
	sort.SliceStable(ws, func(i, j int) bool {
		a, b := ws[i], ws[j]
		switch {
		case a.Importance != b.Importance:
			return a.Importance < b.Importance
		case a.At.IsZero() || b.At.IsZero():
			return !a.At.IsZero() && b.At.IsZero()
		}
		return a.At.Before(b.At)
	})
	return ws
}

func noWeather(inst kit.Instrument) Warning {
	return Warning{Importance: Caution, Subject: "weather", Instrument: inst.ID,
		Sentence: "There is no weather for this night, so nothing is said about dew and cool-down: expect both."}
}

// warn makes the instrument's warnings of its report.
func (f *forecast) warn(r Report) []Warning {
	var ws []Warning
	for _, s := range r.Surfaces {
		if w, ok := f.dewWarning(s); ok {
			ws = append(ws, w)
		}
	}
	ws = append(ws, f.coolWarnings(r.Cool)...)
	if r.State == PartWeather {
		ws = append(ws, Warning{Importance: Note, Subject: "weather", Instrument: f.inst.ID,
			Sentence: "Part of the night has no weather; dew and cool-down are known for the rest only."})
	}
	if w, ok := f.frostWarning(r); ok {
		ws = append(ws, w)
	}
	return SortWarnings(ws)
}

func (f *forecast) dewWarning(s SurfaceReport) (Warning, bool) {
	if s.Onset.Level == NoDew && s.Bare.Level == NoDew {
		return Warning{}, false
	}
	w := Warning{Subject: "dew", Instrument: f.inst.ID, At: s.Onset.Earliest}
	switch {
	case s.Onset.Level == NoDew:
		// The gear at hand holds it, so it must be packed.
		w.Importance, w.Sentence = Note, s.Advice.Sentence
		return w, true
	case s.Onset.Level == Likely && s.Surface.vital():
		w.Importance = Spoils
	default:
		w.Importance = Caution
	}
	onset := s.Onset.phrase(f.opts.Zone)
	w.Sentence = fmt.Sprintf("On the %s %s. %s", s.Surface.Name, onset, s.Advice.Sentence)
	return w, true
}

// vital reports whether the instrument shows nothing when the surface is wet;
// finders and eyepieces can be wiped, warmed or swapped.
func (s Surface) vital() bool {
	switch s.Kind {
	case CorrectorPlate, Objective, Secondary, Primary:
		return true
	}
	return false
}

func (f *forecast) coolWarnings(c CoolReport) []Warning {
	var ws []Warning
	add := func(i Importance, at time.Time, format string, args ...any) {
		ws = append(ws, Warning{i, "cool-down", f.inst.ID, at, fmt.Sprintf(format, args...)})
	}
	helps := ""
	if len(c.Helps) > 0 {
		helps = " What helps: " + strings.Join(c.Helps, "; ") + "."
	}
	hi, lo := c.HighPower, c.LowPower
	switch {
	case lo.State == Never || lo.State == TooLate:
		add(Spoils, time.Time{}, "The %s stays too warm even for %.0fx all night.%s", c.What, lo.Magnification, helps)
	case hi.State == Never:
		add(Caution, time.Time{}, "The %s will not be ready for %.0fx tonight: the air falls faster than the glass follows, which stays %.1f K behind.%s", c.What, hi.Magnification, hi.Lag, helps)
	case hi.State == TooLate:
		add(Caution, time.Time{}, "The %s will not be ready for %.0fx before the night ends.%s", c.What, hi.Magnification, helps)
	case hi.Likely.After(f.opts.From):
		add(Caution, hi.Likely, "The %s is ready for %.0fx %s.%s", c.What, hi.Magnification, hi.between(f.opts), helps)
	}
	if lo.State == Reached && lo.Likely.After(f.opts.From) {
		add(Caution, lo.Likely, "Even for %.0fx the %s is ready only %s.", lo.Magnification, c.What, lo.between(f.opts))
	}
	return ws
}

// between is the band of a reach as part of a sentence.
func (x Reach) between(o Options) string {
	switch {
	case x.Latest.IsZero():
		return "from about " + o.clock(x.Likely) + ", perhaps not before the end"
	case x.Earliest.Equal(x.Latest):
		return "from " + o.clock(x.Likely)
	default:
		return "between " + o.clock(x.Earliest) + " and " + o.clock(x.Latest)
	}
}

// frostWarning is for what frost does besides the glass.
func (f *forecast) frostWarning(r Report) (Warning, bool) {
	for _, s := range r.Surfaces {
		for _, o := range []Onset{s.Onset, s.Bare} {
			if o.Level != NoDew && o.Deposit == Frost {
				return Warning{Importance: Note, Subject: "dew", Instrument: f.inst.ID, At: o.Earliest,
					Sentence: "Frost instead of dew: displays of hand controllers turn slow and batteries weak; keep a spare one warm, and never scrape glass."}, true
			}
		}
	}
	return Warning{}, false
}
