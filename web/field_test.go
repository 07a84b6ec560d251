package web_test

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskboard/internal/weather"
	"duskboard/web"
)

// line is one typed line of the weather form.
func line(n, when, temp, dew string) []string {
	return []string{"line-" + n + "-time", when, "line-" + n + "-temp", temp, "line-" + n + "-dew_point", dew, "line-" + n + "-cloud", "10", "line-" + n + "-wind", "2"}
}

func threeLines() []string {
	return append(append(line("1", "sunset", "12", "8"), line("2", "midnight", "8", "6")...), line("3", "dawn", "6", "5,5")...)
}

// TestThreeTypedLinesMakeTheNightsWeather carries weather from three lines to
// every page that rests on it, and away again.
func TestThreeTypedLinesMakeTheNightsWeather(t *testing.T) {
	v := visit(t)
	fill(v)
	v.save("/nights/1/choose", choose(v)...)
	for _, path := range []string{"/nights/1/weather", "/nights/1/glass", "/nights/1/decision"} {
		if p := v.get(path).wants(http.StatusOK); !strings.Contains(strings.ToLower(p.body), "no weather") {
			t.Errorf("%s does not say that there is no weather", path)
		}
	}
	v.save("/nights/1/weather/lines", threeLines()...)
	p := v.get("/nights/1/weather").wants(http.StatusOK)
	if s := p.testid("source"); !strings.Contains(s, "Typed in") || !strings.Contains(s, "just now") {
		t.Errorf("source %q", s)
	}
	if row := p.row("Sun 20 Sep 00:00"); !strings.Contains(row, "8.0 °C") {
		t.Errorf("midnight is %q", row)
	}
	if !strings.Contains(p.body, "estimated") {
		t.Error("what was made between the lines is not marked")
	}
	if g := v.get("/nights/1/glass").wants(http.StatusOK).testid("overview"); !strings.Contains(g, "The Barrel") {
		t.Errorf("the glass page says %q", g)
	}
	if d := v.get("/nights/1/decision").wants(http.StatusOK).testid("verdict"); !strings.Contains(d, "hours") {
		t.Errorf("the verdict says %q", d)
	}
	v.save("/nights/1/weather/clear")
	if p := v.get("/nights/1/weather").wants(http.StatusOK); p.testid("source") != "" {
		t.Error("the weather is still there")
	}
}

// choose takes all the kit, the Moon, and Noor.
func choose(v *visitor) []string {
	n, err := v.store.Night(context.Background(), 1)
	if err != nil {
		v.t.Fatal(err)
	}
	k, err := v.store.Kit(context.Background(), false)
	if err != nil {
		v.t.Fatal(err)
	}
	id := func(x int64) string { return strconv.FormatInt(x, 10) }
	return []string{"Version", id(n.Version), "instruments", id(k.Instruments[0].ID), "eyepieces", id(k.Eyepieces[0].ID), "batteries", id(k.Batteries[0].ID),
		"dew-gear", id(k.DewGear[0].ID), "finders", id(k.Finders[0].ID), "show", "moon", "answer-1", "yes"}
}

// TestSecondWeatherIsTold guards that whoever enters weather over that of
// somebody else is told so, beside what they typed, which stays; sent once more
// it counts. Clearing what one has not seen is refused.
func TestSecondWeatherIsTold(t *testing.T) {
	v := visit(t)
	fill(v)
	const path = "/nights/1/weather"
	old := v.get(path).value("version")
	v.save(path+"/lines", append(threeLines(), "version", old)...)
	first := v.plan().Weather
	p := v.post(path+"/file", "csv", goodCSV, "do", "save", "version", old).wants(http.StatusConflict)
	if !strings.Contains(p.body, "omebody else saved weather") || !strings.Contains(p.value("csv"), "14,9,20") {
		t.Errorf("the second is not told, or loses the file: %q, %q", p.faults(), p.value("csv"))
	}
	typed := append(append(line("1", "sunset", "13", "7"), line("2", "midnight", "8", "6")...), line("3", "dawn", "6", "5,5")...)
	q := v.post(path+"/lines", append(typed, "version", old)...).wants(http.StatusConflict)
	if !strings.Contains(q.body, "omebody else saved weather") || q.value("line-1-temp") != "13" {
		t.Errorf("typed lines: %q, %q", q.faults(), q.value("line-1-temp"))
	}
	v.post(path+"/clear", "version", old).wants(http.StatusConflict)
	if got := v.plan().Weather; got.Mark() != first.Mark() {
		t.Errorf("the first weather is gone: %+v", got)
	}
	v.save(path+"/file", "csv", goodCSV, "do", "save", "version", p.value("version"))
	if got := v.plan().Weather; got.Mark() == first.Mark() || got.Empty() {
		t.Errorf("sent once more it does not count: %+v", got)
	}
}

// TestImpossibleWeatherIsRefusedBesideTheField: a dew point above the air,
// humidity of 130 and two lines are refused, what was typed stays, nothing is
// saved.
func TestImpossibleWeatherIsRefusedBesideTheField(t *testing.T) {
	v := visit(t)
	fill(v)
	typed := append(append(line("1", "sunset", "12", "15"), line("2", "midnight", "8", "")...), line("3", "dawn", "six", "5")...)
	typed = append(typed, "line-2-humidity", "130")
	p := v.post("/nights/1/weather/lines", typed...).wants(http.StatusUnprocessableEntity)
	if p.fault("line-1-dew_point") == "" && p.fault("line-1-temp") == "" || p.fault("line-2-humidity") == "" || p.fault("line-3-temp") == "" {
		t.Errorf("faults: %q", p.faults())
	}
	if p.value("line-1-dew_point") != "15" || p.value("line-3-temp") != "six" || p.value("line-2-humidity") != "130" {
		t.Error("what was typed is lost")
	}
	v.post("/nights/1/weather/lines", line("1", "sunset", "12", "8")...).wants(http.StatusUnprocessableEntity)
	if plan, err := v.store.Plan(context.Background(), 1); err != nil || !plan.Weather.Empty() {
		t.Errorf("refused weather was saved: %v, %v", plan.Weather, err)
	}
}

const goodCSV = "time,temp,dew point,cloud\n2026-09-19 19:00,14,9,20\n2026-09-19 22:00,10,8,30\n2026-09-20 01:00,8,7,40\n"

// TestFilesAreLookedAtFirst shows a file before it is kept, names each bad row,
// keeps what was pasted, and refuses a file of another night.
func TestFilesAreLookedAtFirst(t *testing.T) {
	v := visit(t)
	fill(v)
	p := v.post("/nights/1/weather/file", "csv", goodCSV, "zone", "site", "do", "look").wants(http.StatusOK)
	if s := p.testid("preview"); !strings.Contains(s, "Read without a fault") || !strings.Contains(s, "14.0 °C") {
		t.Errorf("preview %q", s)
	}
	if plan, _ := v.store.Plan(context.Background(), 1); !plan.Weather.Empty() {
		t.Error("looking saved it")
	}
	bad := strings.Replace(goodCSV, "10,8,30", "10,18,130", 1)
	p = v.post("/nights/1/weather/file", "csv", bad, "do", "save").wants(http.StatusUnprocessableEntity)
	if row := p.row("3 2026-09-19 22:00"); !strings.Contains(row, "10,18,130") {
		t.Errorf("the bad row is not shown with what is wrong: %q", p.testid("preview"))
	}
	if !strings.Contains(p.value("csv"), "10,18,130") {
		t.Error("what was pasted is lost")
	}
	other := strings.ReplaceAll(goodCSV, "2026-09", "2025-03")
	p = v.post("/nights/1/weather/file", "csv", other, "do", "save").wants(http.StatusUnprocessableEntity)
	if !strings.Contains(p.testid("preview"), "does not touch the public hours") {
		t.Errorf("a file of another night: %q", p.testid("preview"))
	}
	v.post("/nights/1/weather/file", "csv", "  ", "do", "look").wants(http.StatusUnprocessableEntity)
	v.post("/nights/1/weather/file", "csv", goodCSV, "made", "half past", "do", "save").wants(http.StatusUnprocessableEntity)

	// Uploaded rather than pasted, and made seven hours before: old.
	var b bytes.Buffer
	form := multipart.NewWriter(&b)
	file, err := form.CreateFormFile("file", "w.csv")
	if err != nil {
		t.Fatal(err)
	}
	_, _ = file.Write([]byte(goodCSV))
	_ = form.WriteField("made", "06:00") // it is 13:00 in Berlin
	_ = form.WriteField("do", "save")
	_ = form.Close()
	req, err := http.NewRequest(http.MethodPost, v.base+"/nights/1/weather/file", &b)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", form.FormDataContentType())
	v.do(req).wants(http.StatusSeeOther)
	if s := v.get("/nights/1/weather").wants(http.StatusOK).testid("source"); !strings.Contains(s, "7 hours old") {
		t.Errorf("old weather is not told of: %q", s)
	}
}

// service is a forecast service that answers as told.
type service struct {
	series weather.Series
	err    error
	asked  []weather.Query
}

func (s *service) Name() string { return "Cloud Post" }
func (s *service) Fetch(_ context.Context, q weather.Query) (weather.Series, error) {
	s.asked = append(s.asked, q)
	return s.series, s.err
}

// TestForecastOnRequest asks only when the button is pressed, keeps the credit,
// and keeps the old weather when the service fails.
func TestForecastOnRequest(t *testing.T) {
	v := visit(t)
	fill(v)
	if p := v.get("/nights/1/weather").wants(http.StatusOK); strings.Contains(p.body, "/weather/fetch") {
		t.Error("a forecast is offered although no service is switched on")
	}
	v.post("/nights/1/weather/fetch").wants(http.StatusForbidden)

	post := &service{series: weather.Series{Source: "Cloud Post", Attribution: "Data by Cloud Post", IssuedAt: now.Add(-time.Hour)}}
	for h := range 12 {
		post.series.Hours = append(post.series.Hours, weather.Hour{Time: time.Date(2026, 9, 19, 14+h, 0, 0, 0, time.UTC), Temp: 12, DewPoint: 6, RH: 67})
	}
	h, err := web.New(web.Config{Store: v.store, Clock: func() time.Time { return now }, Logger: slog.New(slog.DiscardHandler), Forecast: post})
	if err != nil {
		t.Fatal(err)
	}
	srv := httptest.NewServer(h)
	t.Cleanup(srv.Close)
	v.base = srv.URL
	v.http.Jar, _ = cookiejar.New(nil)

	v.get("/nights/1/weather").wants(http.StatusOK)
	if len(post.asked) != 0 {
		t.Error("looking at the page asked the service")
	}
	v.save("/nights/1/weather/fetch")
	if q := post.asked; len(q) != 1 || q[0].Latitude < 52.5 || q[0].Latitude > 52.6 || q[0].Longitude < 13 || !q[0].From.Before(time.Date(2026, 9, 19, 12, 0, 0, 0, time.UTC)) {
		t.Errorf("asked %+v", q)
	}
	if s := v.get("/nights/1/weather").wants(http.StatusOK).testid("credit"); s != "Data by Cloud Post" {
		t.Errorf("credit %q", s)
	}
	for _, c := range []struct {
		err  error
		want string
	}{
		{&weather.FetchError{Provider: "Cloud Post", Kind: weather.Busy, Reason: "asks to come back in an hour", Err: errors.New("429")}, "come back in an hour"},
		{context.DeadlineExceeded, "did not answer in time"},
	} {
		post.err = c.err
		p := v.post("/nights/1/weather/fetch").wants(http.StatusBadGateway)
		if s := p.testid("fetch-fault"); !strings.Contains(s, c.want) {
			t.Errorf("%v: the page says %q", c.err, s)
		}
	}
	if plan, _ := v.store.Plan(context.Background(), 1); len(plan.Weather.Hours) != 12 {
		t.Error("a failed fetch touched the weather")
	}
}

// TestDecisionIsRecordedAndShown to the crew: who, when, the words; all of them
// stay.
func TestDecisionIsRecordedAndShown(t *testing.T) {
	v := visit(t)
	fill(v)
	if s := v.get("/nights/1").wants(http.StatusOK).testid("word"); !strings.Contains(s, "Not decided") {
		t.Errorf("before: %q", s)
	}
	p := v.post("/nights/1/decision", "word", "maybe", "words", "Wrap up warm.").wants(http.StatusUnprocessableEntity)
	if p.fault("who") == "" || !strings.Contains(p.faults(), "2 fields") || !strings.Contains(p.value("words"), "Wrap up") {
		t.Errorf("faults %q", p.faults())
	}
	v.save("/nights/1/decision", "word", "doubtful", "who", "Priya", "words", "We wait for two o'clock.")
	v.save("/nights/1/decision", "word", "go", "who", "Priya", "words", "Clear until eleven.")
	for _, path := range []string{"/nights/1", "/nights/1/decision", "/nights/1/departure"} {
		if s := v.get(path).wants(http.StatusOK).testid("word"); !strings.HasPrefix(s, "Go") || !strings.Contains(s, "Priya") || !strings.Contains(s, "Clear until eleven.") {
			t.Errorf("%s shows %q", path, s)
		}
	}
	if p := v.get("/nights/1/decision"); !strings.Contains(p.body, "We wait for two") {
		t.Error("the earlier decision is gone")
	}
}

// TestThresholdsAreTheClubsOwn change the verdict; nonsense is refused beside
// the field; two people do not overwrite each other.
func TestThresholdsAreTheClubsOwn(t *testing.T) {
	v := visit(t)
	fill(v)
	v.save("/nights/1/weather/lines", threeLines()...) // 10 % cloud
	form := func(version, doubt, off string) []string {
		return []string{"version", version, "decide", "11:30", "post", "12:15", "cloud-doubt", doubt, "cloud-off", off, "wind-doubt", "7", "wind-off", "10", "gust-doubt", "10", "gust-off", "14",
			"rain-doubt", "20", "rain-off", "50", "seeing-doubt", "3.5", "seeing-off", "6", "chill-doubt", "-10", "chill-off", "-27", "dew-margin", "1", "min-hours", "1.5", "go-share", "67"}
	}
	p := v.post("/nights/1/decision/thresholds", form("1", "60", "40")...).wants(http.StatusUnprocessableEntity)
	if p.fault("cloud-off") == "" || p.value("cloud-doubt") != "60" {
		t.Errorf("faults %q", p.faults())
	}
	v.save("/nights/1/decision/thresholds", form("1", "5", "8")...)
	p = v.get("/nights/1/decision").wants(http.StatusOK)
	if s := p.testid("verdict"); !strings.Contains(s, "Off") || !strings.Contains(s, "off from 8") {
		t.Errorf("10 %% of cloud against 8: %q", s)
	}
	if !strings.Contains(p.body, "11:30") {
		t.Error("the club's own decision time is not shown")
	}
	if p := v.post("/nights/1/decision/thresholds", form("1", "30", "60")...).wants(http.StatusConflict); p.value("cloud-doubt") != "30" {
		t.Error("what was typed is lost in the clash")
	}
}

// TestGlassForms keep when an instrument goes out and how fast it cools.
func TestGlassForms(t *testing.T) {
	v := visit(t)
	fill(v)
	v.save("/nights/1/choose", choose(v)...)
	v.save("/nights/1/weather/lines", threeLines()...)
	id := func(box string) string { return "i1-" + box }
	p := v.post("/nights/1/glass/1/put-out", id("put-out"), "23:50", id("storage"), "hot").wants(http.StatusUnprocessableEntity)
	if p.fault(id("put-out")) == "" || p.fault(id("storage")) == "" || p.value(id("storage")) != "hot" {
		t.Errorf("faults %q", p.faults())
	}
	v.save("/nights/1/glass/1/put-out", id("put-out"), "17:40", id("storage"), "25")
	if s := v.get("/nights/1/glass").wants(http.StatusOK).testid("glass-1"); !strings.Contains(s, "Put it out by 17:40.") || !strings.Contains(s, "It comes from 25 °C") {
		t.Errorf("the page does not reckon with what was said: %.300q", s)
	}
	// 10 K above steady air falls to 5 K in an hour: tau is 1 h / ln 2 = 1.443 h
	// (textbook: exponential cooling).
	v.save("/nights/1/glass/1/measure", id("at-1"), "20:00", id("glass-1"), "20", id("air-1"), "10", id("at-2"), "21:00", id("glass-2"), "15", id("air-2"), "10")
	inst, err := v.store.Instrument(context.Background(), 1)
	if err != nil || inst.TimeConstant < 1.442 || inst.TimeConstant > 1.444 {
		t.Errorf("time constant %v, want 1.443; %v", inst.TimeConstant, err)
	}
	if s := v.get("/nights/1/glass").testid("glass-1"); !strings.Contains(s, "as measured") {
		t.Error("the page does not say that it was measured")
	}
	p = v.post("/nights/1/glass/1/measure", id("at-1"), "20:00", id("glass-1"), "12", id("air-1"), "10", id("at-2"), "21:00", id("glass-2"), "14", id("air-2"), "10").wants(http.StatusUnprocessableEntity)
	if p.faults() == "" {
		t.Error("glass that warms is taken for cooling")
	}
	v.save("/nights/1/glass/1/measure")
	if inst, _ := v.store.Instrument(context.Background(), 1); inst.TimeConstant != 0 {
		t.Error("an emptied time constant is kept")
	}
	v.get("/nights/1/glass?extra=20").wants(http.StatusOK)
	v.post("/nights/1/glass/99/measure").wants(http.StatusNotFound)
}

// TestDeparturePages lead from the club's list to one person's page, and let
// them decline and take a thing.
func TestDeparturePages(t *testing.T) {
	v := visit(t)
	fill(v)
	v.save("/crew", "Name", "Wim", "Roles", "operator", "skill-mount-rocker-box", "alone")
	v.save("/nights/1/choose", append(choose(v), "answer-2", "yes")...)
	p := v.get("/nights/1/departure").wants(http.StatusOK)
	if row := p.row("Wim"); !strings.Contains(row, "The Barrel") {
		t.Errorf("Wim's row %q", row)
	}
	p = v.get("/nights/1/departure/2").wants(http.StatusOK)
	if p.testid("leave") == "" || !strings.Contains(p.testid("times"), "The gate opens") || !strings.Contains(p.testid("warnings"), "no weather") {
		t.Errorf("Wim's page: leave %q, times %q, warnings %q", p.testid("leave"), p.testid("times"), p.testid("warnings"))
	}
	boxes := 0
	for _, n := range p.all(tag("input")) {
		if attr(n, "data-tick") != "" {
			boxes++
		}
	}
	if boxes < 10 {
		t.Errorf("%d things to tick off", boxes)
	}
	v.save("/nights/1/departure/2/packing", "item", "gear-1")
	if s := v.get("/nights/1/departure").testid("troubles"); !strings.Contains(s, "Nobody brings The Barrel") {
		t.Errorf("what nobody brings: %q", s)
	}
	v.save("/nights/1/departure/2/packing", "item", "gear-1", "brings", "1")
	v.save("/nights/1/departure/packing", "item", "signs", "volunteer", "2")
	v.post("/nights/1/departure/packing", "item", "signs", "volunteer", "77").wants(http.StatusUnprocessableEntity)
	v.post("/nights/1/departure/packing", "item", "no-such-thing").wants(http.StatusNotFound)
	v.save("/nights/1/departure/packing", "item", "signs")
	if plan, _ := v.store.Plan(context.Background(), 1); len(plan.Packing) != 1 {
		t.Errorf("packing %+v, want Wim's word on gear-1 only", plan.Packing)
	}
	v.get("/nights/1/departure/99").wants(http.StatusNotFound)
	v.get("/nights/9/departure").wants(http.StatusNotFound)
}

// TestWorkerIsServed at the root, fresh each time, as a script.
func TestWorkerIsServed(t *testing.T) {
	v := visit(t)
	p := v.get("/worker.js").wants(http.StatusOK)
	if !strings.HasPrefix(p.header.Get("Content-Type"), "text/javascript") || p.header.Get("Cache-Control") != "no-cache" || !strings.Contains(p.body, "addEventListener(\"fetch\"") {
		t.Errorf("header %v", p.header)
	}
}
