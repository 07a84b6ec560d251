package feed

import (
	"fmt"
	"sync"
	"time"

	"duskboard/internal/weather"
)

const (
	// freshFor is how long an answer is reused when the service does not say.
	freshFor = time.Hour
	// keptFor is how long an old answer may stand in for a service that fails.
	keptFor = 24 * time.Hour
	// cacheSize bounds the places remembered; a club has a handful of sites.
	cacheSize = 128
)

// entry is a remembered answer.
type entry struct {
	series       weather.Series
	fetched      time.Time
	expires      time.Time
	lastModified string
}

// cache remembers answers by place, rounded to the 3 decimals that are sent,
// and by the days asked for. The zero value is empty and ready.
type cache struct {
	mu      sync.Mutex
	entries map[string]entry
}

// cacheKey names a question. The hours of a night all lie in one answer, so
// the days are enough.
func cacheKey(q weather.Query) string {
	return fmt.Sprintf("%.3f/%.3f/%.0f/%s/%s", q.Latitude, q.Longitude, q.Elevation,
		q.From.UTC().Format(time.DateOnly), q.To.UTC().Format(time.DateOnly))
}

// look returns the entry, whether there is one, and whether it is still fresh.
func (c *cache) look(key string, now time.Time) (e entry, known, fresh bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	e, known = c.entries[key]
	return e, known, known && now.Before(e.expires)
}

func (c *cache) put(key string, e entry) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.entries == nil {
		c.entries = map[string]entry{}
	}
	if _, known := c.entries[key]; !known && len(c.entries) >= cacheSize {
		oldest := ""
		for k, o := range c.entries {
			if oldest == "" || o.fetched.Before(c.entries[oldest].fetched) {
				oldest = k
			}
		}
		delete(c.entries, oldest)
	}
	c.entries[key] = e
}

// expiry is when an answer may be asked for again: what the service says,
// within one day, or an hour.
func expiry(a answer, now time.Time) time.Time {
	if a.expires.After(now) && a.expires.Before(now.Add(keptFor)) {
		return a.expires
	}
	return now.Add(freshFor)
}
