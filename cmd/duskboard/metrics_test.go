package main

import (
	"net/http"
	"net/http/httptest"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// The grammar of the text exposition format, version 0.0.4, as its description
// has it: names, labels in quotes, a number, nothing behind it.
var (
	helpLine   = regexp.MustCompile(`^# HELP ([a-zA-Z_:][a-zA-Z0-9_:]*) (([^\\]|\\\\|\\n)+)$`)
	typeLine   = regexp.MustCompile(`^# TYPE ([a-zA-Z_:][a-zA-Z0-9_:]*) (counter|gauge|histogram|summary|untyped)$`)
	sampleLine = regexp.MustCompile(`^([a-zA-Z_:][a-zA-Z0-9_:]*)((?:\{[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\n]|\\["\\n])*"\})?) (\S+)$`)
)

// TestMetricsLines reads every line by the grammar: HELP and TYPE once before
// the samples of each metric, its lines together, no sample twice, and counters
// that are named as such. The counts are those of the requests sent.
func TestMetricsLines(t *testing.T) {
	m := &meter{since: time.Now().Add(-90 * time.Second)}
	h := m.count(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if code, _ := strconv.Atoi(r.URL.Path[1:]); code != 0 {
			w.WriteHeader(code)
		}
	}))
	for _, path := range []string{"/", "/204", "/303", "/404", "/422", "/500"} {
		h.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest(http.MethodGet, path, nil))
	}
	w := httptest.NewRecorder()
	m.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/metrics", nil))
	if got := w.Header().Get("Content-Type"); got != "text/plain; version=0.0.4; charset=utf-8" {
		t.Errorf("content type %q", got)
	}
	body, whole := strings.CutSuffix(w.Body.String(), "\n")
	if !whole {
		t.Error("the last line has no end")
	}
	helps, kinds, values, last := map[string]bool{}, map[string]string{}, map[string]float64{}, ""
	for _, line := range strings.Split(body, "\n") {
		if g := helpLine.FindStringSubmatch(line); g != nil {
			if helps[g[1]] {
				t.Errorf("a second HELP of %s", g[1])
			}
			helps[g[1]], last = true, g[1]
			continue
		}
		if g := typeLine.FindStringSubmatch(line); g != nil {
			if kinds[g[1]] != "" || g[1] != last {
				t.Errorf("%q stands twice or apart from its HELP", line)
			}
			kinds[g[1]] = g[2]
			if (g[2] == "counter") != strings.HasSuffix(g[1], "_total") {
				t.Errorf("%s is a %s", g[1], g[2])
			}
			continue
		}
		g := sampleLine.FindStringSubmatch(line)
		if g == nil {
			t.Errorf("%q is no line of the format", line)
			continue
		}
		if g[1] != last || kinds[g[1]] == "" {
			t.Errorf("%q stands apart from its HELP and TYPE", line)
		}
		v, err := strconv.ParseFloat(g[3], 64)
		if _, twice := values[g[1]+g[2]]; twice || err != nil || v < 0 {
			t.Errorf("%q: twice %t, %v", line, twice, err)
		}
		values[g[1]+g[2]] = v
	}
	for name, want := range map[string]float64{
		`duskboard_answers_total{class="1xx"}`: 0, `duskboard_answers_total{class="2xx"}`: 2, `duskboard_answers_total{class="3xx"}`: 1,
		`duskboard_answers_total{class="4xx"}`: 2, `duskboard_answers_total{class="5xx"}`: 1, "duskboard_requests_open": 0,
	} {
		if got, ok := values[name]; !ok || got != want {
			t.Errorf("%s is %g (%t), want %g", name, got, ok, want)
		}
	}
	if up := values["duskboard_up_seconds"]; up < 90 {
		t.Errorf("up for %g s, want 90 or more", up)
	}
	if len(kinds) != 7 || len(values) != 11 {
		t.Errorf("%d metrics with %d samples, want 7 with 11: %v", len(kinds), len(values), values)
	}
	w = httptest.NewRecorder()
	if m.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/", nil)); w.Code != http.StatusNotFound {
		t.Errorf("another address answers %d", w.Code)
	}
}
