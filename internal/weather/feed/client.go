package feed

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"duskboard/internal/weather"
)

const (
	// DefaultTimeout bounds one attempt, connection and body together.
	DefaultTimeout = 10 * time.Second
	// DefaultAttempts is how often a question is put before giving up.
	DefaultAttempts = 3
	// DefaultMaxBody is far above the 100 KiB of a documented answer.
	DefaultMaxBody = 4 << 20

	firstWait = 500 * time.Millisecond
	// maxWait is the longest pause a service may ask for while a person waits.
	maxWait = 10 * time.Second
)

// Client puts questions to a service. The zero value works; every field may be
// replaced, the clock and the pauses for tests.
type Client struct {
	HTTP      *http.Client
	UserAgent string // names the program and a contact; services refuse a missing one
	Timeout   time.Duration
	Attempts  int
	MaxBody   int64
	Now       func() time.Time
	Pause     func(ctx context.Context, d time.Duration) error
}

func (c *Client) now() time.Time {
	if c.Now != nil {
		return c.Now()
	}
	return time.Now()
}

func (c *Client) pause(ctx context.Context, d time.Duration) error {
	if c.Pause != nil {
		return c.Pause(ctx, d)
	}
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-t.C:
		return nil
	}
}

// answer is what a service sent.
type answer struct {
	status       int
	body         []byte
	expires      time.Time // zero when the service did not say
	lastModified string
}

// retryable is an outcome worth another attempt, after wait if positive.
type retryable struct {
	kind weather.Trouble
	err  error
	wait time.Duration
}

func (r *retryable) Error() string { return r.err.Error() }
func (r *retryable) Unwrap() error { return r.err }

// get asks until there is an answer with a status below 500 other than 429,
// at most Attempts times, waiting four times as long each time. Pauses are spread
// by up to half, so that many installations do not come back together.
func (c *Client) get(ctx context.Context, name string, u *url.URL, since string) (answer, error) {
	attempts := c.Attempts
	if attempts <= 0 {
		attempts = DefaultAttempts
	}
	var last *retryable
	for i := range attempts {
		if i > 0 {
			wait := firstWait << (2 * (i - 1))
			wait += time.Duration(rand.Int64N(int64(wait)/2 + 1))
			if last.wait > wait {
				wait = last.wait
			}
			if wait > maxWait {
				break
			}
			if err := c.pause(ctx, wait); err != nil {
				return answer{}, err
			}
		}
		a, err := c.once(ctx, u, since)
		if err == nil {
			return a, nil
		}
		if ctx.Err() != nil {
			return answer{}, ctx.Err()
		}
		if !errors.As(err, &last) {
			return answer{}, &weather.FetchError{Provider: name, Kind: weather.Unreadable, Reason: "The answer could not be used.", Err: err}
		}
	}
	reason := "The service did not answer; try again later or type the weather in."
	if last.kind == weather.Busy {
		reason = "The service asks us to come back later; type the weather in meanwhile."
	}
	return answer{}, &weather.FetchError{Provider: name, Kind: last.kind, Reason: reason, Err: last.err}
}

var errTooLarge = errors.New("the answer is larger than we read")

// once puts the question one time.
func (c *Client) once(ctx context.Context, u *url.URL, since string) (answer, error) {
	timeout := c.Timeout
	if timeout <= 0 {
		timeout = DefaultTimeout
	}
	ctx, cancel := context.WithTimeout(ctx, timeout)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, u.String(), nil)
	if err != nil {
		return answer{}, err
	}
	agent := c.UserAgent
	if agent == "" {
		agent = "duskboard (club astronomy nights)"
	}
	req.Header.Set("User-Agent", agent)
	req.Header.Set("Accept", "application/json")
	if since != "" {
		req.Header.Set("If-Modified-Since", since)
	}
	client := c.HTTP
	if client == nil {
		client = http.DefaultClient
	}
	resp, err := client.Do(req)
	if err != nil {
		return answer{}, &retryable{kind: weather.Unreachable, err: err}
	}
	defer resp.Body.Close()

	switch {
	case resp.StatusCode == http.StatusTooManyRequests:
		return answer{}, &retryable{weather.Busy, errors.New(resp.Status), c.retryAfter(resp.Header)}
	case resp.StatusCode >= 500:
		return answer{}, &retryable{weather.Unreachable, errors.New(resp.Status), c.retryAfter(resp.Header)}
	}
	limit := c.MaxBody
	if limit <= 0 {
		limit = DefaultMaxBody
	}
	// A body shorter than announced makes ReadAll fail, which is worth a repeat.
	body, err := io.ReadAll(io.LimitReader(resp.Body, limit+1))
	if err != nil {
		return answer{}, &retryable{kind: weather.Unreadable, err: fmt.Errorf("reading the answer: %w", err)}
	}
	if int64(len(body)) > limit {
		return answer{}, errTooLarge
	}
	a := answer{status: resp.StatusCode, body: body, lastModified: resp.Header.Get("Last-Modified")}
	if t, err := http.ParseTime(resp.Header.Get("Expires")); err == nil {
		a.expires = t.UTC()
	}
	return a, nil
}

// retryAfter reads the pause a service asks for, in seconds or as a date.
func (c *Client) retryAfter(h http.Header) time.Duration {
	v := h.Get("Retry-After")
	if n, err := strconv.Atoi(v); err == nil && n >= 0 && n < 1<<20 {
		return time.Duration(n) * time.Second
	}
	if t, err := http.ParseTime(v); err == nil {
		return t.Sub(c.now())
	}
	return 0
}
