package web

import (
	"bytes"
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// RevisionStore tells whether anything was written since the last look.
type RevisionStore interface {
	// Revision is another number after every committed write, by this process
	// or by another one; equal numbers mean that nothing has changed.
	Revision(ctx context.Context) (int64, error)
}

const (
	// keptFor is how long an answer may be given again: pages also depend on the
	// clock, but none by less than a minute.
	keptFor = 10 * time.Second
	// keptBytes bounds what all kept answers hold together, and keptEach one.
	keptBytes = 16 << 20
	keptEach  = 1 << 20
)

// keptFrom are the pages that many people read at once: on the evening, forty
// phones open the same few.
var keptFrom = []string{"/nights/", "/n/", "/c/", "/kit", "/crew", "/targets", "/sites"}

// keptAnswers gives the same answer again while nothing in the database has
// changed. It stands behind authorise, so that rights are looked at each time,
// and in front of the compression, so that this is done once, too. What a page
// depends on is in the key: the address, the host, the person, the cookies (theme, paper)
// and whether htmx asks.
type keptAnswers struct {
	store RevisionStore
	now   func() time.Time

	mu       sync.Mutex
	revision int64
	bytes    int
	kept     map[string]*keptAnswer
}

// keptAnswer is written once, before ready is closed.
type keptAnswer struct {
	ready  chan struct{}
	at     time.Time
	header http.Header
	body   []byte // nil when the answer may not be given again
}

func (k *keptAnswers) serve(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !k.keepable(r) {
			next.ServeHTTP(w, r)
			return
		}
		revision, err := k.store.Revision(r.Context())
		if err != nil {
			next.ServeHTTP(w, r) // the page itself will say what is wrong
			return
		}
		a, mine := k.take(answerKey(r), revision)
		if !mine {
			select {
			case <-a.ready:
			case <-r.Context().Done():
			}
			if r.Context().Err() == nil && a.body != nil {
				a.give(w)
				return
			}
			next.ServeHTTP(w, r)
			return
		}
		k.fill(a, answerKey(r), revision, w, r, next)
	})
}

// keepable reports whether the answer to a request may be given to the next
// one: a page that is read, without a word (flash) that is said only once.
func (k *keptAnswers) keepable(r *http.Request) bool {
	if r.Method != http.MethodGet || r.Header.Get("Range") != "" {
		return false
	}
	if strings.HasSuffix(r.URL.Path, "/buy") {
		return false // tells how far a computation is, which no write announces
	}
	if _, err := r.Cookie(flashCookie); err == nil {
		return false
	}
	return slices.ContainsFunc(keptFrom, func(p string) bool { return strings.HasPrefix(r.URL.Path, p) })
}

func answerKey(r *http.Request) string {
	var b strings.Builder
	for _, part := range []string{reachedAt(r), r.URL.RequestURI(), r.Header.Get("HX-Request"), r.Header.Get("HX-Boosted"), r.Header.Get("Accept-Encoding")} {
		b.WriteString(part)
		b.WriteByte('\n')
	}
	b.WriteString(strconv.FormatInt(person(r).ID, 10))
	cookies := r.Cookies()
	slices.SortFunc(cookies, func(a, b *http.Cookie) int { return strings.Compare(a.Name, b.Name) })
	for _, c := range cookies {
		// Two sessions of one person see the same pages.
		if !strings.HasSuffix(c.Name, "session") {
			b.WriteString("\n" + c.Name + "=" + c.Value)
		}
	}
	return b.String()
}

// take returns the answer under a key. mine is true for the one who has to
// fill it; all others wait for it.
func (k *keptAnswers) take(key string, revision int64) (a *keptAnswer, mine bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil || k.revision != revision || k.bytes > keptBytes {
		k.kept, k.revision, k.bytes = map[string]*keptAnswer{}, revision, 0
	}
	if a, ok := k.kept[key]; ok && k.now().Sub(a.at).Abs() < keptFor {
		return a, false
	}
	a = &keptAnswer{ready: make(chan struct{}), at: k.now()}
	k.kept[key] = a
	return a, true
}

// fill answers the request and keeps the answer when it is a whole page.
func (k *keptAnswers) fill(a *keptAnswer, key string, revision int64, w http.ResponseWriter, r *http.Request, next http.Handler) {
	rec := &answerRecorder{header: http.Header{}}
	done := false
	defer func() {
		good := done && rec.status == http.StatusOK && len(rec.header["Set-Cookie"]) == 0 && rec.body.Len() <= keptEach &&
			strings.HasPrefix(rec.header.Get("Content-Type"), "text/html")
		if good {
			a.header, a.body = rec.header, rec.body.Bytes()
		}
		close(a.ready)
		k.mu.Lock()
		defer k.mu.Unlock()
		if k.kept[key] == a && k.revision == revision {
			if k.bytes += rec.body.Len() + len(key); !good {
				delete(k.kept, key)
			}
		}
	}()
	next.ServeHTTP(rec, r)
	done = true
	rec.WriteHeader(http.StatusOK) // for an answer without a word
	copyHeader(w.Header(), rec.header)
	w.WriteHeader(rec.status)
	_, _ = w.Write(rec.body.Bytes()) // the visitor has gone: nothing left to answer
}

func (a *keptAnswer) give(w http.ResponseWriter) {
	copyHeader(w.Header(), a.header)
	w.WriteHeader(http.StatusOK)
	_, _ = w.Write(a.body)
}

func copyHeader(to, from http.Header) {
	for name, values := range from {
		to[name] = slices.Clone(values)
	}
}

// answerRecorder takes an answer down.
type answerRecorder struct {
	header http.Header
	status int
	body   bytes.Buffer
}

func (a *answerRecorder) Header() http.Header { return a.header }

func (a *answerRecorder) WriteHeader(status int) {
	if a.status == 0 {
		a.status = status
	}
}

func (a *answerRecorder) Write(b []byte) (int, error) {
	a.WriteHeader(http.StatusOK)
	return a.body.Write(b)
}
