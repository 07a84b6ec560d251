package web

import (
	"fmt"
	"net/http"
	"strings"
	"time"
	"unicode/utf8"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/weather"
	"duskboard/web/views"
)

// judge weighs a night's weather against the club's thresholds.
func judge(sh *night.Sheet) field.Judgement {
	n := sh.Night
	return field.Judge(sh.Weather, n.PublicFrom, n.PublicTo(), sh.GoRules.Thresholds, field.Outlook{Seeing: n.Seeing, Dark: darkSpans(sh)}, sh.Zone)
}

// darkSpans are when it is dark enough, for a night that has nothing to show in
// twilight: neither the Moon nor a planet nor a double star. Any other night
// does not depend on the dark.
func darkSpans(sh *night.Sheet) []field.Span {
	if !needsDark(sh) {
		return nil
	}
	tw := sh.Twilights
	from, to := sh.Sky.From, sh.Sky.To
	switch {
	case tw.NauticalDusk.State == sky.AlwaysAbove:
		return []field.Span{{From: from, To: from}} // never dark: every hour is doubtful
	case tw.NauticalDusk.State == sky.AlwaysBelow:
		return []field.Span{{From: from, To: to}}
	}
	from = tw.NauticalDusk.Time
	if tw.NauticalDawn.State == sky.Happens && tw.NauticalDawn.Time.After(from) {
		to = tw.NauticalDawn.Time
	}
	return []field.Span{{From: from, To: to}}
}

func needsDark(sh *night.Sheet) bool {
	for _, t := range sh.Targets {
		if t.Moves || t.Kind == catalog.KindDouble {
			return false
		}
	}
	return len(sh.Targets) > 0
}

// decisionForm is what a coordinator typed.
type decisionForm struct{ word, who, words string }

func (s *server) showDecision(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	f := decisionForm{word: string(night.WordOf(judge(sh).Verdict))}
	return s.decisionPage(w, r, http.StatusOK, sh, f, nil, rulesFormOf(sh.GoRules), nil)
}

// nightOf computes the night of the address.
func (s *server) nightOf(r *http.Request) (*night.Sheet, error) {
	id, err := idParam(r, "night")
	if err != nil {
		return nil, err
	}
	return s.sheet(r.Context(), id)
}

// recordDecision keeps what the coordinator decided, with who and when.
func (s *server) recordDecision(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	f := decisionForm{word: r.PostFormValue("word"), who: strings.TrimSpace(r.PostFormValue("who")), words: strings.TrimSpace(r.PostFormValue("words"))}
	var faults fault.Fields
	if wordText[night.Word(f.word)] == "" {
		faults = append(faults, fault.Field{Name: "word", Message: "Say go, doubtful or off."})
	}
	if f.who == "" {
		faults = append(faults, fault.Field{Name: "who", Message: "Say who decides, so that the crew can ask."})
	} else if utf8.RuneCountInString(f.who) > 80 {
		faults = append(faults, fault.Field{Name: "who", Message: "At most 80 letters."})
	}
	if utf8.RuneCountInString(f.words) > 500 {
		faults = append(faults, fault.Field{Name: "words", Message: "At most 500 letters: the crew reads it on a phone."})
	}
	if len(faults) > 0 {
		return s.decisionPage(w, r, http.StatusUnprocessableEntity, sh, f, faults, rulesFormOf(sh.GoRules), nil)
	}
	d := night.Decision{At: s.now().UTC(), Who: f.who, Word: night.Word(f.word), Words: f.words}
	if err := s.store.AddDecision(night.By(r.Context(), f.who), sh.Night.ID, d); err != nil {
		return err
	}
	return redirect(w, r, nightPath(sh.Night.ID)+"/decision", views.Flash{Text: "Recorded: " + wordText[d.Word] + ". The crew sees it on the night's first page and on their departure check."})
}

func (s *server) decisionPage(w http.ResponseWriter, r *http.Request, status int, sh *night.Sheet, f decisionForm, faults fault.Fields, rules rulesForm, rulesFaults fault.Fields) error {
	j := judge(sh)
	base := nightPath(sh.Night.ID) + "/decision"
	word := s.wordOf(sh)
	word.Action = "" // it leads here
	m := views.DecisionModel{
		Over: overline(sh), Title: "Go or no-go", Tabs: nightTabs(sh.Night.ID, "decision"), Word: word, When: s.whenDecided(sh),
		Verdict: views.Word{Text: first(j.Verdict.String())}, Reasons: j.Reasons, HasWeather: !sh.Weather.Empty(),
		WeatherHref: nightPath(sh.Night.ID) + "/weather", Stale: sh.Weather.AgeWarning(s.now()), Action: base,
		Cautions:    cautions(field.PeopleWarnings(sh.Weather, sh.Night.PublicFrom, sh.Night.PublicTo(), field.DefaultPeopleLimits())),
		Attribution: sh.Weather.Attribution, Dark: darkWords(sh),
		Choice: views.Choice{Name: "word", Label: "The night is", Value: f.word, Error: faults.For("word"), Options: []views.Option{
			{Value: "go", Text: "Go"}, {Value: "doubtful", Text: "Doubtful", Hint: "say until when you wait"}, {Value: "off", Text: "Off", Hint: "say what becomes of it"},
		}},
		Words:  views.Field{Name: "words", Label: "Words to the crew", Value: f.words, Error: faults.For("words"), Hint: "shown as they are, such as: clear until eleven, wrap up warm", Rows: 3},
		Who:    views.Field{Name: "who", Label: "Decided by", Value: f.who, Error: faults.For("who"), Width: "mid", Required: true},
		Faults: fieldErrors(faults, map[string]string{"word": "The night is", "who": "Decided by", "words": "Words to the crew"}),

		Rules: rules.fields(rulesFaults), RulesAction: base + "/thresholds", RulesVersion: fmt.Sprint(rules.version),
		RulesFaults: fieldErrors(rulesFaults, rulesLabels()), RulesOpen: len(rulesFaults) > 0 || rules.stale, RulesConflict: rules.conflict(),
	}
	if m.HasWeather {
		m.Hours, m.Chart = hoursJudged(sh, j), string(skyWeatherChart(sh))
	}
	for i := len(sh.Decisions) - 1; i >= 0; i-- {
		d := sh.Decisions[i]
		m.Past = append(m.Past, views.Row{Label: dayClock(sh, d.At) + ", " + d.Who, Value: wordText[d.Word], Note: d.Words})
	}
	return s.show(w, r, status, views.Head{Title: "Go or no-go · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.Decision(m))
}

// fieldErrors names the fields of faults for the summary above a form.
func fieldErrors(faults fault.Fields, labels map[string]string) []views.FieldError {
	var out []views.FieldError
	for _, f := range faults {
		label := labels[f.Name]
		if label == "" {
			label = f.Name
		}
		out = append(out, views.FieldError{Name: f.Name, Label: label, Message: f.Message})
	}
	return out
}

// whenDecided says when the club decides, and how far away that is.
func (s *server) whenDecided(sh *night.Sheet) string {
	g, d := sh.GoRules, sh.Night.Date
	words := fmt.Sprintf("The club decides at %s on the day and posts it by %s, here.", clock(g.Decide), clock(g.Post))
	at := instants(d, g.Decide, sh.Zone)
	if len(at) == 0 {
		return words
	}
	switch left := at[0].Sub(s.now()); {
	case left > 48*time.Hour:
		words += fmt.Sprintf(" That is in %d days.", int(left.Hours()/24))
	case left > time.Hour:
		words += fmt.Sprintf(" That is in %d hours.", int(left.Hours()))
	case left > 0:
		words += fmt.Sprintf(" That is in %d minutes.", int(left.Minutes()))
	case s.now().Before(sh.Night.PublicTo()):
		if _, ok := sh.Decided(); !ok {
			words += " It is time to decide."
		}
	}
	return words
}

func darkWords(sh *night.Sheet) string {
	words := "Each value stands with the club's threshold where it passes one."
	if needsDark(sh) {
		return words + " This night shows nothing that stands twilight, so darkness counts."
	}
	return words + " Darkness is not counted: the Moon, a planet or a double star opens the evening in twilight."
}

// hoursJudged is the table of the hours with what speaks against each.
func hoursJudged(sh *night.Sheet, j field.Judgement) views.Table {
	t := views.Table{Caption: "The night's hours against the thresholds", Columns: []views.Column{
		{Label: "From"}, {Label: "Result"}, {Label: "Cloud", Number: true}, {Label: "Wind, gusts", Number: true}, {Label: "Rain chance", Number: true},
		{Label: "Air", Number: true}, {Label: "Above dew point", Number: true}, {Label: "Light"}, {Label: "Why"},
	}}
	for _, h := range j.Hours {
		if h.Verdict == field.Unknown {
			t.Rows = append(t.Rows, []views.Cell{{Text: siteClock(sh, h.Time)}, {Text: "no weather"}, {}, {}, {}, {}, {}, {Text: lightAt(sh, h.Time)}, {Text: "nobody knows this hour"}})
			continue
		}
		var why []string
		for _, i := range h.Items {
			why = append(why, i.Name+": "+i.Reason)
		}
		x := h.Weather
		t.Rows = append(t.Rows, []views.Cell{
			{Text: siteClock(sh, h.Time), Mark: estimatedMark(x)}, {Text: h.Verdict.String()}, {Text: cloudWords(x)}, {Text: windWords(x)}, {Text: rainWords(x)},
			{Text: celsius(x.Temp)}, {Text: fmt.Sprintf("%.1f K", x.Temp-x.DewPoint)}, {Text: lightAt(sh, h.Time)}, {Text: strings.Join(why, "; ")},
		})
	}
	return t
}

// lightAt is the kind of light at an instant.
func lightAt(sh *night.Sheet, t time.Time) string {
	for _, l := range night.LightOf(sh.Sky, t, t.Add(time.Minute)) {
		return map[string]string{"Sun": "Sun is up", "dark": "dark"}[l.Name] + map[bool]string{true: l.Name + " twilight"}[l.Level >= 1 && l.Level <= 3]
	}
	return ""
}

func estimatedMark(h weather.Hour) string {
	if h.Estimated {
		return "estimated"
	}
	return ""
}

func celsius(c float64) string { return strings.Replace(fmt.Sprintf("%.1f °C", c), "-", "−", 1) }

func cloudWords(h weather.Hour) string {
	if !h.Has(weather.Cloud) {
		return "not given"
	}
	return fmt.Sprintf("%.0f %%", h.Cloud)
}

func windWords(h weather.Hour) string {
	if !h.Has(weather.Wind) {
		return "not given"
	}
	words := fmt.Sprintf("%.1f m/s", h.Wind)
	if h.Has(weather.Gust) {
		words = fmt.Sprintf("%.1f, %.1f m/s", h.Wind, h.Gust)
	}
	return words
}

func rainWords(h weather.Hour) string {
	var parts []string
	if h.Thunder {
		parts = append(parts, "thunder")
	}
	if h.Has(weather.PrecipProb) {
		parts = append(parts, fmt.Sprintf("%.0f %%", h.PrecipProb))
	}
	if h.Has(weather.Precip) && h.Precip > 0 {
		parts = append(parts, fmt.Sprintf("%.1f mm", h.Precip))
	}
	return strings.Join(parts, ", ")
}
