package feed

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"time"

	"duskboard/internal/weather"
)

// source is what differs between services.
type source struct {
	name   string
	ask    func(q weather.Query, now time.Time) (*url.URL, error)
	read   func(body []byte, now time.Time) (weather.Series, error)
	reason func(a answer) string // what a refusal says, empty when it says nothing
}

// fetch answers from the cache while that is fresh, else from the service,
// else from an older answer with a note. The series is cut to the query.
func (s source) fetch(ctx context.Context, c *Client, memory *cache, q weather.Query) (weather.Series, error) {
	if !(q.Latitude >= -90 && q.Latitude <= 90) || !(q.Longitude >= -180 && q.Longitude <= 180) || !q.From.Before(q.To) {
		return weather.Series{}, &weather.FetchError{Provider: s.name, Kind: weather.Refused, Reason: "The place or the time asked for is not valid."}
	}
	now := c.now()
	key := cacheKey(q)
	old, known, fresh := memory.look(key, now)
	if fresh {
		return cut(s.name, old.series, q)
	}

	got, err := s.load(ctx, c, q, now, old)
	if err != nil {
		if known && now.Sub(old.fetched) < keptFor && ctx.Err() == nil {
			stale := old.series
			stale.Notes = append([]string{"The service gave no new forecast; this is the one fetched before."}, stale.Notes...)
			return cut(s.name, stale, q)
		}
		return weather.Series{}, err
	}
	memory.put(key, got)
	return cut(s.name, got.series, q)
}

func (s source) load(ctx context.Context, c *Client, q weather.Query, now time.Time, old entry) (entry, error) {
	u, err := s.ask(q, now)
	if err != nil {
		return entry{}, &weather.FetchError{Provider: s.name, Kind: weather.NotCovered, Reason: "The forecast does not reach this night.", Err: err}
	}
	a, err := c.get(ctx, s.name, u, old.lastModified)
	if err != nil {
		return entry{}, err
	}
	switch {
	case a.status == http.StatusNotModified && old.lastModified != "":
		old.expires = expiry(a, now)
		return old, nil
	// 203 is how one service marks a product that will go away; the data are good.
	case a.status != http.StatusOK && a.status != http.StatusNonAuthoritativeInfo:
		reason := "The service refused the question."
		if r := s.reason(a); r != "" {
			reason = "The service refused the question: " + r
		}
		return entry{}, &weather.FetchError{Provider: s.name, Kind: weather.Refused, Reason: reason, Err: fmt.Errorf("status %d", a.status)}
	}
	series, err := s.read(a.body, now)
	if err != nil {
		return entry{}, &weather.FetchError{Provider: s.name, Kind: weather.Unreadable, Reason: "The answer could not be used.", Err: err}
	}
	return entry{series: series, fetched: now, expires: expiry(a, now), lastModified: a.lastModified}, nil
}

// cut keeps the hours of the query and one to either side, in a copy that the
// caller may change.
func cut(name string, s weather.Series, q weather.Query) (weather.Series, error) {
	out := s
	out.Hours = nil
	out.Notes = append([]string(nil), s.Notes...)
	for i, h := range s.Hours {
		nextIn := i+1 < len(s.Hours) && !s.Hours[i+1].Time.Before(q.From)
		prevIn := i > 0 && !s.Hours[i-1].Time.After(q.To)
		if (!h.Time.Before(q.From) || nextIn) && (!h.Time.After(q.To) || prevIn) {
			out.Hours = append(out.Hours, h)
		}
	}
	if out.Empty() || out.Hours[0].Time.After(q.To) || out.Hours[len(out.Hours)-1].Time.Before(q.From) {
		return weather.Series{}, &weather.FetchError{Provider: name, Kind: weather.NotCovered, Reason: "The forecast does not reach this night."}
	}
	return out, nil
}
