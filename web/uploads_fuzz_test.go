package web_test

import (
	"context"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"duskboard/internal/store"
	"duskboard/web"
)

// FuzzUploads sends any body that says it is a form with a file to each page
// that reads one: the answer is a page or a refusal with words, never an
// internal error, and nothing is kept without the word to keep it.
func FuzzUploads(f *testing.F) {
	st, err := store.Open(context.Background(), filepath.Join(f.TempDir(), "club.db"))
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { st.Close() })
	fill(visitWith(f, st, st))
	h, err := web.New(web.Config{Store: st, Clock: func() time.Time { return now }, Logger: slog.New(slog.DiscardHandler)})
	if err != nil {
		f.Fatal(err)
	}
	part := func(disposition, content string) string {
		return "--xyz\r\nContent-Disposition: form-data; " + disposition + "\r\n\r\n" + content + "\r\n"
	}
	for i, u := range uploads {
		f.Add(uint8(i), "xyz", part(`name="file"; filename="a.csv"`, u.good)+part(`name="do"`, "look")+"--xyz--\r\n")
		f.Add(uint8(i), "xyz", part(`name="`+u.field+`"`, "\x89PNG\r\n\x1a\n")+"--xyz--\r\n")
	}
	f.Add(uint8(0), "xyz", part(`name="file"; filename="../../x"`, "\xff\xfek\x00i\x00")+part(`name="file"; filename="b"`, "kind,name\n"))
	f.Add(uint8(5), "", "--\r\n\r\n")
	f.Add(uint8(7), "a b\"", "--a b\"\r\nContent-Type: multipart/mixed; boundary=c\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n=ZZ")
	before, err := st.Rows(context.Background())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, which uint8, boundary, body string) {
		if strings.Contains(body, "keep") || strings.Contains(body, "save") {
			t.Skip()
		}
		u := uploads[int(which)%len(uploads)]
		if u.path == "/words/file" && strings.Contains(body, "code") {
			t.Skip() // a language file has no preview: it is kept at once, with an undo
		}
		r := httptest.NewRequest(http.MethodPost, u.path, strings.NewReader(body))
		r.Header.Set("Content-Type", "multipart/form-data; boundary="+boundary)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code >= 500 || w.Code != http.StatusOK && w.Body.Len() == 0 {
			t.Errorf("%s: status %d", u.path, w.Code)
		}
		if strings.ContainsRune(w.Body.String(), 0) {
			t.Errorf("%s: the page holds a zero byte", u.path)
		}
		if after, err := st.Rows(t.Context()); err != nil || after != before {
			t.Errorf("%s: %d rows, before %d: %v", u.path, after, before, err)
		}
	})
}
