package weather

import (
	"fmt"
	"sort"
	"time"
)

const (
	// MaxGap is the longest stretch between two given hours that [Series.At]
	// bridges. Cloud and wind have changed beyond recognition after it.
	MaxGap = 6 * time.Hour
	// EdgeHold is how far before the first and after the last hour their
	// values are held: equipment goes out before the first typed line.
	EdgeHold = 2 * time.Hour
	// StaleAfter is the age past which a forecast is warned about.
	StaleAfter = 6 * time.Hour

	// plainStep is the spacing up to which a value between two hours counts
	// as given rather than estimated.
	plainStep = 61 * time.Minute
)

// Rule says in one sentence how values between the given ones are found, for
// the page that shows them.
const Rule = "Between given times temperature and dew point go in straight lines, for at most 6 hours; the first and last values are held for at most 2 hours; values made so are marked."

// Series is the weather of a site over some hours, in rising time.
type Series struct {
	Hours       []Hour
	Source      string    // "typed in", "file" or a provider's name; empty with no hours
	Attribution string    // credit that must be shown with the values, empty for none
	IssuedAt    time.Time // when the values were made or fetched; zero when not known
	Notes       []string  // what was repaired or looks odd, in sentences
}

// Empty reports that there is no weather at all.
func (s Series) Empty() bool { return len(s.Hours) == 0 }

// From is the first instant for which [Series.At] has an answer.
func (s Series) From() time.Time {
	if s.Empty() {
		return time.Time{}
	}
	return s.Hours[0].Time.Add(-EdgeHold)
}

// To is the last instant for which [Series.At] has an answer.
func (s Series) To() time.Time {
	if s.Empty() {
		return time.Time{}
	}
	return s.Hours[len(s.Hours)-1].Time.Add(EdgeHold)
}

// At is the weather at t by the rule in [Rule], and false when it is not
// known: outside the series or inside a gap of more than [MaxGap].
func (s Series) At(t time.Time) (Hour, bool) {
	n := len(s.Hours)
	if n == 0 || t.Before(s.From()) || t.After(s.To()) {
		return Hour{}, false
	}
	i := sort.Search(n, func(i int) bool { return s.Hours[i].Time.After(t) })
	if i == 0 {
		return s.Hours[0].held(t), true
	}
	a := s.Hours[i-1]
	if a.Time.Equal(t) {
		return a, true
	}
	if i == n {
		return a.held(t), true
	}

	b := s.Hours[i]
	gap := b.Time.Sub(a.Time)
	if gap > MaxGap {
		return Hour{}, false
	}
	h := mix(a, b, t)
	if gap > plainStep {
		h.Estimated = true
	}
	return h, true
}

func (h Hour) held(t time.Time) Hour {
	h.Time, h.Estimated = t, true
	return h
}

// Sample is the weather at every step from from to to, both included when
// they fall on a step, and leaves out the instants at which it is not known.
func (s Series) Sample(from, to time.Time, step time.Duration) []Hour {
	if step <= 0 {
		return nil
	}
	var hs []Hour
	for t := from; !t.After(to); t = t.Add(step) {
		if h, ok := s.At(t); ok {
			hs = append(hs, h)
		}
	}
	return hs
}

// Age is how old the values are at now, and false when nobody knows.
func (s Series) Age(now time.Time) (time.Duration, bool) {
	if s.IssuedAt.IsZero() {
		return 0, false
	}
	return now.Sub(s.IssuedAt), true
}

// AgeWarning is a sentence when the forecast is older than [StaleAfter] or of
// unknown age, and empty when it is fresh or there is none.
func (s Series) AgeWarning(now time.Time) string {
	if s.Empty() {
		return ""
	}
	age, ok := s.Age(now)
	switch {
	case !ok:
		return "Nobody noted when this weather was made; check a fresh forecast."
	case age > StaleAfter:
		return fmt.Sprintf("This weather is %d hours old; fetch or type it again.", int(age/time.Hour))
	default:
		return ""
	}
}

// sortHours puts the hours into rising order and keeps equal times in the
// order in which they came.
func sortHours(hs []Hour) {
	sort.SliceStable(hs, func(i, j int) bool { return hs[i].Time.Before(hs[j].Time) })
}
