package web

import (
	"errors"
	"net/http"
	"strconv"
	"strings"

	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// rule is one threshold of the club as a form shows it.
type rule struct {
	name, label, unit, hint string
	least, most             float64
	ptr                     func(*field.Thresholds) *float64
	times                   float64 // what is shown over what is kept; 0 is 1
}

var rules = []rule{
	{"cloud-doubt", "Cloud: doubtful from", "%", "", 0, 100, func(t *field.Thresholds) *float64 { return &t.Cloud.Doubt }, 0},
	{"cloud-off", "Cloud: off from", "%", "", 0, 100, func(t *field.Thresholds) *float64 { return &t.Cloud.Off }, 0},
	{"wind-doubt", "Wind: doubtful from", "m/s", "mean, at 10 m", 0, 60, func(t *field.Thresholds) *float64 { return &t.Wind.Doubt }, 0},
	{"wind-off", "Wind: off from", "m/s", "", 0, 60, func(t *field.Thresholds) *float64 { return &t.Wind.Off }, 0},
	{"gust-doubt", "Gusts: doubtful from", "m/s", "", 0, 80, func(t *field.Thresholds) *float64 { return &t.Gust.Doubt }, 0},
	{"gust-off", "Gusts: off from", "m/s", "", 0, 80, func(t *field.Thresholds) *float64 { return &t.Gust.Off }, 0},
	{"rain-doubt", "Rain chance: doubtful from", "%", "", 0, 100, func(t *field.Thresholds) *float64 { return &t.Rain.Doubt }, 0},
	{"rain-off", "Rain chance: off from", "%", "", 0, 100, func(t *field.Thresholds) *float64 { return &t.Rain.Off }, 0},
	{"seeing-doubt", "Seeing: doubtful from", "″", "when it is given", 0.1, 30, func(t *field.Thresholds) *float64 { return &t.Seeing.Doubt }, 0},
	{"seeing-off", "Seeing: off from", "″", "", 0.1, 30, func(t *field.Thresholds) *float64 { return &t.Seeing.Off }, 0},
	{"chill-doubt", "Cold: doubtful from", "°C", "what it feels like in the wind", -60, 30, func(t *field.Thresholds) *float64 { return &t.Chill.Doubt }, 0},
	{"chill-off", "Cold: off from", "°C", "", -70, 30, func(t *field.Thresholds) *float64 { return &t.Chill.Off }, 0},
	{"dew-margin", "Dew: doubtful under", "K", "air above the dew point", 0, 20, func(t *field.Thresholds) *float64 { return &t.DewMargin }, 0},
	{"min-hours", "A night is worth it from", "hours", "in one stretch, none of them off", 0, 12, func(t *field.Thresholds) *float64 { return &t.MinHours }, 0},
	{"go-share", "Go from", "% of hours", "that are good, none being off", 0, 100, func(t *field.Thresholds) *float64 { return &t.GoShare }, 100},
}

func (x rule) factor() float64 {
	if x.times == 0 {
		return 1
	}
	return x.times
}

// rulesForm is the page of thresholds as typed.
type rulesForm struct {
	version int64
	typed   map[string]string
	stale   bool
}

func rulesFormOf(g night.GoRules) rulesForm {
	f := rulesForm{version: g.Version, typed: map[string]string{"decide": clock(g.Decide), "post": clock(g.Post)}}
	for _, x := range rules {
		f.typed[x.name] = number(*x.ptr(&g.Thresholds)*x.factor(), 2)
	}
	return f
}

func rulesLabels() map[string]string {
	out := map[string]string{"decide": "The club decides at", "post": "and posts it by"}
	for _, x := range rules {
		out[x.name] = x.label
	}
	return out
}

func (f rulesForm) fields(faults fault.Fields) []views.Field {
	out := []views.Field{
		{Name: "decide", Label: "The club decides at", Value: f.typed["decide"], Error: faults.For("decide"), Width: "mid", Hint: "on the day, on the site's clock"},
		{Name: "post", Label: "and posts it by", Value: f.typed["post"], Error: faults.For("post"), Width: "mid"},
	}
	for _, x := range rules {
		out = append(out, views.Field{Name: x.name, Label: x.label, Unit: x.unit, Hint: x.hint, Value: f.typed[x.name], Error: faults.For(x.name), Width: "mid", Mode: "decimal"})
	}
	return out
}

func (f rulesForm) conflict() string {
	if !f.stale {
		return ""
	}
	return "Somebody else has changed the thresholds since you opened this page. What you typed stands below; save again to put it in their place."
}

// parseRules reads the thresholds; every fault stands beside its field.
func parseRules(r *http.Request) (night.GoRules, rulesForm, fault.Fields) {
	f := rulesForm{typed: map[string]string{}}
	f.version, _ = strconv.ParseInt(r.PostFormValue("version"), 10, 64) // 0 is nobody's version
	g := night.GoRules{Version: f.version}
	var faults fault.Fields
	bad := func(name, message string) { faults = append(faults, fault.Field{Name: name, Message: message}) }
	for name, into := range map[string]*int{"decide": &g.Decide, "post": &g.Post} {
		f.typed[name] = r.PostFormValue(name)
		m, err := parseClock(f.typed[name])
		if err != nil {
			bad(name, first(err.Error())+".")
		}
		*into = m
	}
	for _, x := range rules {
		f.typed[x.name] = r.PostFormValue(x.name)
		v, err := kit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(f.typed[x.name], x.unit)))
		if err != nil || v < x.least || v > x.most {
			bad(x.name, "Write a number from "+number(x.least, 1)+" to "+number(x.most, 1)+" "+x.unit+".")
			continue
		}
		*x.ptr(&g.Thresholds) = v / x.factor()
	}
	t := g.Thresholds
	for name, l := range map[string]field.Limit{"cloud-off": t.Cloud, "wind-off": t.Wind, "gust-off": t.Gust, "rain-off": t.Rain, "seeing-off": t.Seeing, "chill-off": {Doubt: -t.Chill.Doubt, Off: -t.Chill.Off}} {
		if l.Off < l.Doubt && faults.For(name) == "" && faults.For(strings.TrimSuffix(name, "off")+"doubt") == "" {
			bad(name, "Off cannot come before doubtful.")
		}
	}
	if g.Post < g.Decide && faults.For("post") == "" && faults.For("decide") == "" {
		bad("post", "It cannot be posted before it is decided.")
	}
	return g, f, faults
}

// updateRules saves the club's thresholds and decision time.
func (s *server) updateRules(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	g, f, faults := parseRules(r)
	d := decisionForm{word: string(night.WordOf(judge(sh).Verdict))}
	if len(faults) > 0 {
		return s.decisionPage(w, r, http.StatusUnprocessableEntity, sh, d, nil, f, faults)
	}
	err = s.store.SaveGoRules(r.Context(), &g)
	var own *fault.Error
	if errors.As(err, &own) && own.Kind == fault.Conflict {
		f.stale, f.version = true, sh.GoRules.Version
		return s.decisionPage(w, r, http.StatusConflict, sh, d, nil, f, nil)
	}
	if err != nil {
		return err
	}
	return redirect(w, r, nightPath(sh.Night.ID)+"/decision", views.Flash{Text: "The thresholds are saved; every night is judged by them."})
}
