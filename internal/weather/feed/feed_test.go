package feed_test

import (
	"context"
	"errors"
	"math"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"duskboard/internal/weather"
	"duskboard/internal/weather/feed"
)

var now = time.Date(2027, 10, 30, 12, 20, 0, 0, time.UTC)

// londonNight is the night in which London's clocks go back.
var londonNight = weather.Query{
	Latitude: 51.5, Longitude: -0.12, Elevation: 20,
	From: time.Date(2027, 10, 30, 18, 0, 0, 0, time.UTC), To: time.Date(2027, 10, 31, 3, 0, 0, 0, time.UTC),
}

// rig is a client with a clock that stands where the test puts it, and pauses
// that cost no time and are written down.
type rig struct {
	client *feed.Client
	clock  time.Time
	pauses []time.Duration
}

func newRig() *rig {
	r := &rig{clock: now}
	r.client = &feed.Client{
		UserAgent: "duskboard-test/1 (crew@example.org)",
		Timeout:   2 * time.Second,
		Now:       func() time.Time { return r.clock },
		Pause: func(ctx context.Context, d time.Duration) error {
			r.pauses = append(r.pauses, d)
			return ctx.Err()
		},
	}
	return r
}

// replay serves the handlers in turn, the last one for good, and counts.
func replay(t *testing.T, handlers ...http.HandlerFunc) (*httptest.Server, *int) {
	t.Helper()
	n := 0
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := handlers[min(n, len(handlers)-1)]
		n++
		h(w, r)
	}))
	t.Cleanup(s.Close)
	return s, &n
}

func body(text string) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json; charset=utf-8")
		_, _ = w.Write([]byte(text))
	}
}

func status(code int, header ...string) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		for i := 0; i+1 < len(header); i += 2 {
			w.Header().Set(header[i], header[i+1])
		}
		w.WriteHeader(code)
	}
}

// halfBody announces more than it sends and hangs up.
func halfBody(text string) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Length", "100000")
		_, _ = w.Write([]byte(text[:len(text)/2]))
	}
}

func wantTrouble(t *testing.T, err error, kind weather.Trouble) *weather.FetchError {
	t.Helper()
	var fe *weather.FetchError
	if !errors.As(err, &fe) {
		t.Fatalf("got %v, want a FetchError", err)
	}
	if fe.Kind != kind || fe.Reason == "" {
		t.Fatalf("trouble %d %q, want kind %d", fe.Kind, fe.Reason, kind)
	}
	return fe
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.5g, want %.5g within %g", what, got, want, tol)
	}
}

// Time-outs, 429, 5xx and half a body are worth another attempt; the next
// answer is then used as if nothing had happened.
func TestRetriesThenSucceeds(t *testing.T) {
	good := openMeteoBody(londonNight.From.Add(-2*time.Hour), 14, nil)
	for name, bad := range map[string]http.HandlerFunc{
		"429":      status(429, "Retry-After", "3"),
		"503":      status(503),
		"half":     halfBody(good),
		"time-out": func(_ http.ResponseWriter, r *http.Request) { <-r.Context().Done() },
		"hung up":  func(http.ResponseWriter, *http.Request) { panic(http.ErrAbortHandler) },
	} {
		t.Run(name, func(t *testing.T) {
			srv, n := replay(t, bad, body(good))
			rig := newRig()
			rig.client.Timeout = 300 * time.Millisecond
			o := &feed.OpenMeteo{Client: rig.client, BaseURL: srv.URL}
			s, err := o.Fetch(t.Context(), londonNight)
			if err != nil || s.Empty() {
				t.Fatalf("%d hours, %v", len(s.Hours), err)
			}
			if *n != 2 || len(rig.pauses) != 1 {
				t.Errorf("%d questions and %d pauses, want 2 and 1", *n, len(rig.pauses))
			}
			if name == "429" && rig.pauses[0] != 3*time.Second {
				t.Errorf("paused %v, the service asked for 3 s", rig.pauses[0])
			}
		})
	}
}

func TestGivesUp(t *testing.T) {
	for _, c := range []struct {
		name      string
		handler   http.HandlerFunc
		kind      weather.Trouble
		questions int
	}{
		{"always 429", status(429), weather.Busy, 3},
		{"429 for an hour", status(429, "Retry-After", "3600"), weather.Busy, 1},
		{"always 500", status(500), weather.Unreachable, 3},
		{"always half", halfBody(strings.Repeat("x", 100)), weather.Unreadable, 3},
		{"404", status(404), weather.Refused, 1},
		{"not JSON", body("<html>sorry</html>"), weather.Unreadable, 1},
		{"nothing", body(""), weather.Unreadable, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			srv, n := replay(t, c.handler)
			rig := newRig()
			_, err := (&feed.OpenMeteo{Client: rig.client, BaseURL: srv.URL}).Fetch(t.Context(), londonNight)
			wantTrouble(t, err, c.kind)
			if *n != c.questions {
				t.Errorf("%d questions, want %d", *n, c.questions)
			}
			for i := 1; i < len(rig.pauses); i++ {
				if rig.pauses[i] <= rig.pauses[i-1] {
					t.Errorf("pauses %v do not grow", rig.pauses)
				}
			}
		})
	}
}

func TestNobodyThere(t *testing.T) {
	srv, _ := replay(t, status(200))
	srv.Close()
	_, err := (&feed.OpenMeteo{Client: newRig().client, BaseURL: srv.URL}).Fetch(t.Context(), londonNight)
	wantTrouble(t, err, weather.Unreachable)
}

func TestTooLarge(t *testing.T) {
	good := openMeteoBody(londonNight.From, 12, nil)
	srv, n := replay(t, body(good))
	rig := newRig()
	rig.client.MaxBody = int64(len(good)) - 1
	_, err := (&feed.OpenMeteo{Client: rig.client, BaseURL: srv.URL}).Fetch(t.Context(), londonNight)
	wantTrouble(t, err, weather.Unreadable)
	if *n != 1 {
		t.Errorf("asked %d times for what is too large", *n)
	}
}

func TestCancelledWhileWaiting(t *testing.T) {
	srv, _ := replay(t, status(503))
	ctx, cancel := context.WithCancel(t.Context())
	rig := newRig()
	rig.client.Pause = func(ctx context.Context, _ time.Duration) error { cancel(); return ctx.Err() }
	_, err := (&feed.OpenMeteo{Client: rig.client, BaseURL: srv.URL}).Fetch(ctx, londonNight)
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want the context's error", err)
	}
}

func TestRefusesNonsense(t *testing.T) {
	srv, n := replay(t, body("{}"))
	o := &feed.OpenMeteo{Client: newRig().client, BaseURL: srv.URL}
	for _, q := range []weather.Query{
		{Latitude: 91, From: now, To: now.Add(time.Hour)},
		{Latitude: math.NaN(), From: now, To: now.Add(time.Hour)},
		{Longitude: 200, From: now, To: now.Add(time.Hour)},
		{From: now, To: now},
	} {
		_, err := o.Fetch(t.Context(), q)
		wantTrouble(t, err, weather.Refused)
	}
	_, err := o.Fetch(t.Context(), weather.Query{From: now.AddDate(0, 0, 20), To: now.AddDate(0, 0, 20).Add(time.Hour)})
	wantTrouble(t, err, weather.NotCovered)
	if *n != 0 {
		t.Errorf("%d questions went out", *n)
	}
}

// An answer is reused until it expires; an expired one stands in for a service
// that fails, and says so, until it is a day old.
func TestCache(t *testing.T) {
	good := openMeteoBody(londonNight.From.Add(-2*time.Hour), 14, func(m map[string]any) {
		hourly(m, "temperature_2m")[13] = nil // makes a note
	})
	fail := false
	srv, n := replay(t, func(w http.ResponseWriter, r *http.Request) {
		if fail {
			w.WriteHeader(500)
			return
		}
		w.Header().Set("Expires", now.Add(2*time.Hour).Format(http.TimeFormat))
		body(good)(w, r)
	})
	rig := newRig()
	o := &feed.OpenMeteo{Client: rig.client, BaseURL: srv.URL}
	get := func() (weather.Series, error) { return o.Fetch(t.Context(), londonNight) }

	first, err := get()
	if err != nil {
		t.Fatal(err)
	}
	first.Hours[0].Temp, first.Notes[0] = 99, "scribble" // a caller's copy must not reach the cache
	rig.clock = now.Add(119 * time.Minute)
	again, err := get()
	if err != nil || *n != 1 || again.Hours[0].Temp == 99 || again.Notes[0] == "scribble" {
		t.Fatalf("after 119 minutes: %d questions, first hour %g, %v; want the cached answer", *n, again.Hours[0].Temp, err)
	}
	rig.clock = now.Add(121 * time.Minute)
	if _, err = get(); err != nil || *n != 2 {
		t.Fatalf("after it expired: %d questions, %v; want a second", *n, err)
	}
	fail = true
	rig.clock = now.Add(6 * time.Hour)
	old, err := get()
	if err != nil || len(old.Notes) == 0 || !old.IssuedAt.Equal(now.Add(121*time.Minute)) {
		t.Fatalf("while the service fails: issued %v, notes %q, %v; want the old answer with a note", old.IssuedAt, old.Notes, err)
	}
	rig.clock = now.Add(30 * time.Hour)
	if _, err = get(); err == nil {
		t.Fatal("an answer of yesterday was served")
	}
	other := londonNight
	other.Latitude = 52
	fail = false
	before := *n
	if _, err = o.Fetch(t.Context(), other); err != nil || *n != before+1 {
		t.Errorf("another place: %d more questions, %v; want 1", *n-before, err)
	}
}

// The cache holds a bounded number of places and forgets the oldest first.
func TestCacheForgetsTheOldest(t *testing.T) {
	srv, n := replay(t, body(openMeteoBody(londonNight.From, 12, nil)))
	rig := newRig()
	o := &feed.OpenMeteo{Client: rig.client, BaseURL: srv.URL}
	ask := func(i int) {
		t.Helper()
		q := londonNight
		q.Latitude = float64(i) / 10
		rig.clock = rig.clock.Add(time.Second)
		if _, err := o.Fetch(t.Context(), q); err != nil {
			t.Fatal(err)
		}
	}
	for i := range 129 {
		ask(i)
	}
	ask(128)
	if *n != 129 {
		t.Errorf("%d questions for 129 places", *n)
	}
	if ask(0); *n != 130 {
		t.Errorf("%d questions, the oldest place should have been forgotten", *n)
	}
}
