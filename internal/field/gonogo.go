package field

import (
	"fmt"
	"strings"
	"time"

	"duskboard/internal/weather"
)

// Verdict is what the weather says of an hour or of a night. The coordinator
// decides; this only argues.
type Verdict int

// Verdicts, best first.
const (
	Go Verdict = iota
	Doubtful
	Off
	Unknown // there is no weather to judge by
)

// String is "go", "doubtful", "off" or "no weather".
func (v Verdict) String() string { return [...]string{"go", "doubtful", "off", "no weather"}[v] }

// Limit is one threshold in two steps: from Doubt on an hour is doubtful, from
// Off on it is off.
type Limit struct{ Doubt, Off float64 }

// Thresholds are the club's own.
type Thresholds struct {
	Cloud     Limit   // per cent
	Wind      Limit   // m/s at 10 m, mean
	Gust      Limit   // m/s at 10 m
	Rain      Limit   // chance, per cent
	Seeing    Limit   // arcseconds, when given
	Chill     Limit   // what it feels like, degrees C; lower is worse
	DewMargin float64 // K of air above the dew point under which an hour is doubtful
	// MinHours is how many hours that are not off, in one stretch, make a night.
	MinHours float64
	// GoShare is the share of hours that must be good for a go, none being off.
	GoShare float64
}

// DefaultThresholds are common practice of clubs; every club sets its own.
func DefaultThresholds() Thresholds {
	return Thresholds{
		Cloud: Limit{40, 75}, Wind: Limit{7, 10}, Gust: Limit{10, 14}, Rain: Limit{20, 50},
		Seeing: Limit{3.5, 6}, Chill: Limit{-10, -27}, DewMargin: 3, MinHours: 1.5, GoShare: 2.0 / 3,
	}
}

// Outlook is what else bears on the hours. Seeing is in arcseconds, 0 when not
// given; Dark is when it is dark enough for what is to be shown, empty when
// the night does not depend on it.
type Outlook struct {
	Seeing float64
	Dark   []Span
}

// Item is one value of an hour against its threshold.
type Item struct {
	Name    string // "cloud", "wind", "gusts", "rain", "dew", "cold", "seeing", "dark", "thunder"
	Verdict Verdict
	Reason  string // a clause with the number and the threshold
}

// JudgedHour is one hour, with its items; Verdict is that of the worst.
type JudgedHour struct {
	Time    time.Time
	Weather weather.Hour // zero when Verdict is Unknown
	Verdict Verdict
	Items   []Item
}

// Judgement is the night's.
type Judgement struct {
	Verdict Verdict
	Reasons []string // sentences, the weightiest first
	Hours   []JudgedHour
	Usable  float64 // longest stretch of hours that are not off
}

// Judge weighs the hours from from to to against the thresholds. Any thunder
// is off for the whole night; without any weather the verdict is Unknown.
func Judge(s weather.Series, from, to time.Time, th Thresholds, out Outlook, zone *time.Location) Judgement {
	if zone == nil {
		zone = time.UTC
	}
	var j Judgement
	known := 0
	for t := from; t.Before(to); t = t.Add(time.Hour) {
		h := judgeHour(s, t, th, out)
		if h.Verdict != Unknown {
			known++
		}
		j.Hours = append(j.Hours, h)
	}
	if known == 0 {
		j.Verdict = Unknown
		j.Reasons = []string{"There is no weather for this night."}
		return j
	}
	j.Usable = longest(j.Hours, to)
	j.Verdict, j.Reasons = sum(j, th, to.Sub(from).Hours(), zone)
	return j
}

// sum draws the night's verdict from its hours.
func sum(j Judgement, th Thresholds, length float64, zone *time.Location) (Verdict, []string) {
	good, off, unknown, thunder := 0, 0, 0, false
	for _, h := range j.Hours {
		switch h.Verdict {
		case Go:
			good++
		case Off:
			off++
		case Unknown:
			unknown++
		}
		for _, i := range h.Items {
			thunder = thunder || i.Name == "thunder"
		}
	}
	need := min(th.MinHours, length)
	reasons := worstItems(j.Hours, zone)
	head := func(v Verdict, format string, args ...any) (Verdict, []string) {
		return v, append([]string{fmt.Sprintf(format, args...)}, reasons...)
	}
	switch {
	case thunder:
		return head(Off, "Thunder is forecast during the night; people cannot be kept safe on an open field.")
	case j.Usable < need:
		return head(Off, "Only %.1f hours in one stretch are usable; the club wants %.1f.", j.Usable, need)
	case unknown > 0:
		return head(Doubtful, "%d of %d hours have no weather.", unknown, len(j.Hours))
	case off > 0:
		return head(Doubtful, "%d of %d hours are off, but %.1f hours in one stretch are usable.", off, len(j.Hours), j.Usable)
	case float64(good) < th.GoShare*float64(len(j.Hours)):
		return head(Doubtful, "Only %d of %d hours are good.", good, len(j.Hours))
	default:
		return head(Go, "%d of %d hours are good and none is off.", good, len(j.Hours))
	}
}

// worstItems gives for each kind of item that is not good the hours it holds
// and its worst reason.
func worstItems(hours []JudgedHour, zone *time.Location) []string {
	type tally struct {
		worst Item
		at    []string
	}
	found := map[string]*tally{}
	var order []string
	for _, h := range hours {
		for _, i := range h.Items {
			t := found[i.Name]
			if t == nil {
				t = &tally{worst: i}
				found[i.Name] = t
				order = append(order, i.Name)
			}
			if i.Verdict > t.worst.Verdict {
				t.worst = i
			}
			t.at = append(t.at, h.Time.In(zone).Format("15:04"))
		}
	}
	var out []string
	for _, v := range []Verdict{Off, Doubtful} {
		for _, name := range order {
			if t := found[name]; t.worst.Verdict == v {
				out = append(out, fmt.Sprintf("%s at %s: %s.", strings.ToUpper(name[:1])+name[1:], strings.Join(t.at, ", "), t.worst.Reason))
			}
		}
	}
	return out
}

// longest is the longest stretch in hours without an hour that is off or
// unknown; the last hour ends with the night.
func longest(hours []JudgedHour, to time.Time) float64 {
	best, start := 0.0, time.Time{}
	for i, h := range hours {
		if h.Verdict == Off || h.Verdict == Unknown {
			start = time.Time{}
			continue
		}
		if start.IsZero() {
			start = h.Time
		}
		end := to
		if i+1 < len(hours) {
			end = hours[i+1].Time
		}
		best = max(best, end.Sub(start).Hours())
	}
	return best
}

// judgeHour looks at one hour.
func judgeHour(s weather.Series, t time.Time, th Thresholds, out Outlook) JudgedHour {
	h, ok := s.At(t)
	if !ok {
		return JudgedHour{Time: t, Verdict: Unknown}
	}
	j := JudgedHour{Time: t, Weather: h}
	add := func(name string, v Verdict, format string, args ...any) {
		j.Items = append(j.Items, Item{name, v, fmt.Sprintf(format, args...)})
		j.Verdict = max(j.Verdict, v)
	}
	over := func(name string, f weather.Fields, x float64, l Limit, unit string) {
		switch {
		case !h.Has(f):
			if f == weather.Cloud || f == weather.Wind {
				add(name, Doubtful, "nobody gave it")
			}
		case x >= l.Off:
			add(name, Off, "%.0f %s, off from %.0f", x, unit, l.Off)
		case x >= l.Doubt:
			add(name, Doubtful, "%.0f %s, doubtful from %.0f", x, unit, l.Doubt)
		}
	}
	if h.Thunder {
		add("thunder", Off, "a thunderstorm is forecast")
	}
	over("cloud", weather.Cloud, h.Cloud, th.Cloud, "per cent")
	over("rain", weather.PrecipProb, h.PrecipProb, th.Rain, "per cent")
	if h.Precip > 0 && (!h.Has(weather.PrecipProb) || h.PrecipProb < th.Rain.Doubt) {
		add("rain", Doubtful, "%.1f mm are forecast", h.Precip)
	}
	over("wind", weather.Wind, h.Wind, th.Wind, "m/s")
	over("gusts", weather.Gust, h.Gust, th.Gust, "m/s")
	if m := h.Temp - h.DewPoint; m < th.DewMargin {
		add("dew", Doubtful, "the air is only %.1f K above the dew point, doubtful under %.1f; glass needs shields and heaters", m, th.DewMargin)
	}
	if feels, _ := WindChill(h.Temp, h.Wind*3.6); feels <= th.Chill.Off {
		add("cold", Off, "it feels like %.0f degrees, off from %.0f", feels, th.Chill.Off)
	} else if feels <= th.Chill.Doubt {
		add("cold", Doubtful, "it feels like %.0f degrees, doubtful from %.0f", feels, th.Chill.Doubt)
	}
	if out.Seeing >= th.Seeing.Off && out.Seeing > 0 {
		add("seeing", Off, "%.1f arcseconds, off from %.1f", out.Seeing, th.Seeing.Off)
	} else if out.Seeing >= th.Seeing.Doubt && out.Seeing > 0 {
		add("seeing", Doubtful, "%.1f arcseconds, doubtful from %.1f", out.Seeing, th.Seeing.Doubt)
	}
	if len(out.Dark) > 0 && !within(out.Dark, t) {
		add("dark", Doubtful, "it is not dark yet or no longer")
	}
	return j
}

func within(spans []Span, t time.Time) bool {
	for _, s := range spans {
		if !t.Before(s.From) && t.Before(s.To) {
			return true
		}
	}
	return false
}
